// Package stack looks whether a setup goes together: whether each component's
// locators go into their holes, no set pin is in its way, its screws find threads that
// hold, jaws hold what they grip; and how precisely all that lets the part stand,
// through the whole stack, before anything is probed.
//
// Whether solids sink into each other, and whether jaws touch what they grip, is for
// package swing, which lifts every component off its seat.
//
// Start with Check.
package stack
