package tooling

import "gridswing/geom"

// Cutter is what is clamped in a holder. Lengths in mm from the foremost point
// unless said otherwise, named by their ISO 13399 symbols; 0 where not stated.
type Cutter struct {
	Name string
	Kind string
	DC   float64 // cutting diameter
	RE   float64 // corner radius; DC/2 of a ball
	SIG  float64 // point angle, rad; 0 or pi: flat
	APMX float64 // largest depth of cut: the cutting zone
	LU   float64 // usable length: where the neck ends
	DN   float64 // neck diameter
	DMM  float64 // shank diameter
	OAL  float64 // overall length
	Mass float64 // kg; 0 if it is not known
}

// Holder stands in the spindle and holds a cutter.
type Holder struct {
	Name   string
	Taper  string
	Length float64 // gauge line to face, mm
	Bore   float64 // the largest shank it takes, mm; 0 if it is not stated
	Grip   float64 // how much of the shank must be in it at least, mm
	Mass   float64 // kg; 0 if it is not known
	// Profile is its outline from the gauge line on: distance from it towards
	// the tip, and diameter, mm. nil if Mesh gives the solid.
	Profile [][2]float64
	Mesh    *geom.Mesh // origin on the gauge line, Z from tip to spindle; nil: of the profile
}
