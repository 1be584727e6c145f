// Package material holds what is left of a solid while it is cut.
//
// A Model is never less than what is really left: it takes away only what cutters surely take
// away. So what keeps clear of it keeps clear of the workpiece.
//
// Space is cut into cubic cells. A cell is empty, full, or holds planes: what is left in it is in
// front of none of them, or, along an inner edge, not in front of both of two. A cutter's envelope over a straight
// stretch is convex, so the part of a cell in front of a plane is all cut away if its corners are; the plane that
// takes most is kept. A smooth surface is told to the second order of the cell's size that way, in any direction.
//
// A solid that may stand a little off is held wherever it may stand, its play. What is told of volumes and pictures is of
// the solid as drawn.
//
// Start with New, Model.Cut and Model.Keeps; Surface is for what a cutter must stay out of.
package material
