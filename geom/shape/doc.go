// Package shape builds closed, outward-oriented solids: boxes, extrusions of
// polygons with holes, stacks of such layers (counterbores, pockets, chamfers),
// revolved profiles, and a few larger bodies to measure with.
//
// Everything is computed in float64 as a Surface; Surface.Mesh rounds to stored
// vertices at the very end. A builder gives equal vertices equal bits, so that
// the mesh closes without welding by distance. There are no boolean operations:
// a solid is one or more closed shells that do not cross each other.
//
// Curves become polygons; Round says how finely and on which side of the true
// curve they lie.
package shape
