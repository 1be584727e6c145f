// Package material holds what is left of a solid while it is cut.
//
// A Model is never less than what is really left: it takes away only what cutters surely take
// away. So what keeps clear of it keeps clear of the workpiece.
//
// Space is cut into cubic cells. A cell is empty, full, or holds planes: what is left in it is in
// front of none of them. A cutter's envelope over a straight stretch is convex, so the part of a cell
// behind a plane is all cut away if its corners are; the plane that takes most is kept. A smooth surface
// is told to the second order of the cell's size that way, in any direction.
package material
