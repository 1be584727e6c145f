package tooling

import "gridswing/geom"

// Holder stands in the spindle and holds a cutter.
type Holder struct {
	Name   string
	Taper  string  // one of Tapers; "" if it is not stated
	Length float64 // gauge line to face, mm
	Bore   float64 // the largest shank it takes, mm; 0 if it is not stated
	Grip   float64 // how much of the shank must be in it at least, mm; 0: as is common practice
	Mass   float64 // kg; 0 if it is not known
	// Profile is its outline from the gauge line on: distance from it towards
	// the tip, and diameter, mm. Distances do not decrease, equal ones make a step, the
	// last is the face. nil if Mesh gives the solid.
	Profile [][2]float64
	Mesh    *geom.Mesh // origin on the gauge line, Z from tip to spindle; nil: of the profile
	// ChordError is how far Mesh can be inside the true solid, mm.
	ChordError float64
}
