// Package choose answers what fits best: which riser or stack of risers, which holes,
// which stick-out, which of the two rotary solutions. A candidate is a variant of a
// setup; it is looked at by the same rooms as any setup, briefly, and what was proven for
// one candidate is kept for the next where it holds there too.
//
// Start with Look, which judges one candidate, then Seats and Risers. Sides chooses
// between the two rotary solutions.
package choose
