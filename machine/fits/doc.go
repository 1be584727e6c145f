// Package fits holds the ISO code system of limits and fits (ISO 286) for bores and
// pins to 120 mm, and what follows from it for a component on two locating pins: how
// far it can be off, and whether it goes on at all.
//
// Start with Parse, which reads "16 H7/g6". Between gives the clearance of a hole and a
// shaft, Seat what two pins allow. The package knows neither files nor setups. Lengths
// are in mm, angles in radians, temperatures in kelvin.
package fits
