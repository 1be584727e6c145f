// Package render draws pictures of solids for people who have to decide
// something: where bodies stand, which of them meet, and how close they get.
//
// Start with Picture: a title, items with their poses, a view; Draw returns the
// image and EncodePNG writes it. Prepare a mesh once and share the Shape among
// pictures. Points are in mm in the bed frame: X to the right as seen by the
// operator in front of the machine; Picture.Up says which way is up, and so, with
// View, from where the picture is looked at.
//
// Colours come from the colour-blind-safe set of Okabe and Ito, "Color Universal
// Design", 2008, and never stand alone: whatever a colour says, a pattern or a
// line says too, so that a black-and-white print can be read.
//
// A picture can be cut by a plane, show bodies as veils, number what it shows, dimension the
// gap between two points, and stand on a light or a dark ground (ink.Theme).
//
// Sub-packages: raster turns facets and edges into pixels, ink draws type,
// lines and patterns, chart draws the swing chart, apng stores pictures that move. None of
// them knows a machine.
package render
