package chart

// spacer returns an invented strip of five stretches.
func spacer() *HeightStrip {
	return &HeightStrip{Title: "Height of the spacer under the trunnion", Name: "height of the spacer", Unit: "mm", Decimals: 1,
		Caption: []string{"What is clear is clear at every height in it. Demanded clearance 2 mm."},
		Stretches: []Stretch{
			{40, 52.34, Contact, "At 52.3 mm T3 holder meets trunnion/faceplate at A +90, C 0."},
			{52.34, 52.52, Unproven, "What is narrower than 0.1 mm was not looked into."},
			{52.52, 78.08, Clear, ""},
			{78.08, 84, Tight, "At 84 mm 1.2 mm between trunnion/cradle and spindle nose."},
			{84, 110, OverTravel, "At 84.1 mm Z at retract would have to go 0.1 mm beyond its travel with T7."},
		},
		Stock:   []Height{{45, "riser 45"}, {50, "riser 50"}, {62, "riser 50 + plate 12"}, {63, "riser 63"}, {75, "riser 75"}, {100, "riser 100"}},
		Present: &Height{50, "riser 50"}, Best: &Height{62, "riser 50 + plate 12"}}
}
