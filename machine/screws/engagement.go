package screws

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// engagements are the lengths of thread that a screw of class 8.8, 10.9 and 12.9 needs, in
// diameters. Coarse thread, without countersink. Weaker classes are given that of the next
// stronger one here.
var engagements = map[string][3]float64{
	// Fastener makers' tables from trials with M6 to M16, structural steel over 360 MPa.
	"steel":      {1, 1.25, 1.4},
	"tool steel": {1, 1.25, 1.4}, // as steel: its name does not say that it is hardened
	// Grey iron: the same tables say 1, 1.25, 1.4; common practice is 1.25 and more, and
	// the greater of both is taken.
	"cast iron": {1.25, 1.25, 1.4},
	// Soft aluminium over 180 MPa by the same tables, which have none for 12.9: common
	// practice, no source. Common practice for wrought alloys is 1.5 to 2.
	"aluminium":      {2, 2.5, 3},
	"aluminium 6061": {2, 2.5, 3},
	"aluminium 7075": {1.5, 2, 2},      // common practice, no source
	"brass":          {1.5, 2, 2},      // common practice, no source
	"titanium":       {1.25, 1.5, 1.6}, // common practice, no source
}

// Engagement returns the length of thread that a screw must have in a material to bear what
// its class does, mm. The error names the materials that it is known for: in plastics, for
// one, the thread gives way first.
func Engagement(material string, c Class, s Size) (float64, error) {
	row, known := engagements[material]
	if !known || c.Name == "" {
		return 0, fmt.Errorf("thread in %q with a screw of class %q, expected a class of this package in %s",
			material, c.Name, strings.Join(slices.Sorted(maps.Keys(engagements)), ", "))
	}
	return row[c.strength] * s.Diameter, nil
}
