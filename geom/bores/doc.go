// Package bores finds round holes and bosses in a mesh, and the patterns in which
// holes are arranged: what a drawing would have said, had it come with the STL.
//
// Start with Find. It works in four steps, a file or two each:
//
//   - facets that lie in one plane become faces, and neighbouring faces that turn
//     little against each other meet at a seam (surface.go, mend.go, faces.go);
//   - parallel seams at which the surface bends alike are the sides of one prism,
//     which stands for a cylinder (strips.go); where facets run askew, the normals
//     of a neighbourhood give the axis instead (askew.go); a cylinder is fitted to
//     each such patch and its edge is moved to where the surface leaves it (fit.go,
//     patch.go);
//   - full cylinders on one axis that follow each other are one stepped hole; what
//     lies beyond its ends says whether it is through, how deep, and whether a
//     chamfer or the point of a drill ends it (ends.go, hole.go, boss.go);
//   - holes of one size in one face are put on lattices and circles (grid.go,
//     circle.go).
//
// Coordinates and lengths are those of the mesh: mm. Directions are unit vectors,
// angles radians.
package bores
