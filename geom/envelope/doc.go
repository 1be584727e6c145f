// Package envelope finds the space that solids sweep while a tilt and a rotary axis go
// over their ranges, as a closed mesh round it: for pictures, and for whoever wants to know
// how much room a load takes.
//
// The mesh is never smaller than that space. First the solids become the outline that they
// sweep in a full turn about the rotary axis, whatever range of it is commanded; then that
// outline is carried over the range of the tilt axis. Start with Of.
package envelope
