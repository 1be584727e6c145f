// Package loads asks whether a unit with rotary axes, and the machine's table, can
// carry what stands on them: mass, the moments that weight and acceleration make
// about the axes, and what would balance the rotary one.
//
// Start with Check. It weighs the bodies (weigh), lays out what they do about the axes
// (stand), and finds the largest moments over the whole commanded range in closed
// form (surface, trig): a largest moment is mostly inside the range and at neither end of
// it, and none is missed between two samples.
package loads
