package machine

import (
	"fmt"
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

// farOff is how many times heavier or lighter than its solids a stated mass can be before
// it is warned of: aluminium weighs a third of steel, lead one and a half times as much, and
// castings are drawn fuller than they are. Common practice, no source.
const farOff = 5

// weighsFarOff warns of a stated mass that its solids, whose volumes are known, cannot well
// have: one in grams or pounds, or of another part. They are of the material that is
// stated, or else of steel.
func (a *assembly) weighsFarOff() {
	volume, drawn, material := 0.0, 0.0, "the materials stated"
	for _, p := range a.parts {
		density := p.density
		if density == 0 {
			density, material = densities["steel"], "steel"
		}
		volume += p.volume
		drawn += density * p.volume * 1e-9 // kg/m3 and mm3
	}
	if a.mass == 0 || drawn == 0 || a.mass <= drawn*farOff && a.mass >= drawn/farOff {
		return
	}
	a.warnings = append(a.warnings, fmt.Sprintf("%s: mass = %g kg, but %.4g cm3, as drawn, weigh %.3g kg of %s",
		a.src.name, a.mass, volume/1000, drawn, material))
}
