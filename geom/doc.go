// Package geom holds the solids of a setup: facets read from STL files, where
// they stand (Pose), and what can be said of one solid on its own.
//
// Start with Mesh; AuditOf says whether it is a solid at all and what is wrong
// with it, MassOf what it weighs, EdgesOf what to draw of it. Coordinates are millimetres, angles radians, frames
// right-handed. Vertices are kept as float32, the precision in which STL
// delivers them; everything computed from them is float64.
//
// Sub-packages: stl reads and writes solids, shape builds them, motion says
// how one frame moves as seen from another. Nothing here knows of a machine.
package geom
