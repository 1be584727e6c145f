// Package collide answers how close two bodies get: at one relative pose
// (Distance, Apart) or, with proof, over a whole range of a motion (Sweep).
//
// Start with NewTree, which arranges a mesh for fast queries, and Sweep. The
// promise: a sweep that says "at least d" has shown it for every position in
// the range, by comparing the gap between parts of the bodies with how far the
// motion can carry those parts (Schwarzer, Saha, Latombe, "Adaptive dynamic
// collision checking", IEEE Trans. Robotics 21(3), 2005). Such a conclusion is
// drawn only from a direction that separates the parts, verified by support
// functions; nearest points, which overestimate if anything slips, serve as
// witnesses and upper bounds only.
//
// Surfaces are closed sets: touching is contact. Distances are in mm. The
// package knows meshes and motions, no machine.
package collide
