// Package screws holds tables of metric threads (ISO 261 coarse), socket head cap screws
// (ISO 4762), their holes (ISO 273), T-slots (ISO 299) and property classes (ISO 898-1),
// how far a screw must be screwed in, and what it is tightened with.
//
// Start with Find, which gives a size by its name ("M12"). The package knows neither
// files nor setups. Lengths are in mm, forces in N, torques in N m, stresses in MPa.
package screws
