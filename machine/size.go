package machine

import (
	"slices"

	"gridswing/geom"
)

// What is plausible as the largest extent of a solid, in mm, common practice
// without a source. A solid drawn in inch and read in mm is 25.4 times too
// small: a part of 100 is 3.94 then, a table of 2 m is 79.
var (
	componentSize = geom.SizeRange{Small: 10, Large: 1500}
	machineSize   = geom.SizeRange{Small: 20, Large: 6000}
	frameSize     = geom.SizeRange{Small: 100, Large: 6000}
)

// frames are the roles of what a machine is built of.
var frames = []string{"head", "column", "table", "bed"}

// sizeOf returns the range for a solid of a machine.
func sizeOf(role string) geom.SizeRange {
	if slices.Contains(frames, role) {
		return frameSize
	}
	return machineSize
}
