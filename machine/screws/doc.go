// Package screws holds tables of metric threads M4 to M24 (ISO 261, 262), of socket head
// cap screws (ISO 4762), their holes (ISO 273), T-slots with their nuts (ISO 299) and
// property classes (ISO 898-1); how far a screw must be screwed in, and what it is
// tightened with (VDI 2230).
//
// Start with Find, which gives a size by its name ("M12"), ClassOf and SlotOf. What a
// screw holds when something pulls at the part is not here: it depends on more than
// its size. The package knows neither files nor setups. Lengths are in mm, forces in N,
// torques in N m, stresses in MPa.
package screws
