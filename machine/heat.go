package machine

import (
	"math"

	"gridswing/geom"
	"gridswing/machine/fits"

	"github.com/golang/geo/r3"
)

// Drawings hold at 20 degrees Celsius (ISO 1).
const drawnAt = 20.0

// warmer is by how many kelvin a place is warmer than drawings are; what the setup
// says of all holds for a place that says nothing, and for the machine (nil).
func (b *builder) warmer(t *placeTable) float64 {
	switch {
	case t != nil && t.Temperature != nil:
		return *t.Temperature - drawnAt
	case b.file.Temperature != nil:
		return *b.file.Temperature - drawnAt
	}
	return 0
}

// expansion returns the coefficient of thermal expansion, 1/K, of a part; a material
// that is not known is a fault of the temperature.
func (b *builder) expansion(t *placeTable, p *placed, part int) float64 {
	material := p.materialOf(part)
	a, err := fits.Expansion(material)
	if err != nil {
		key := "temperature"
		if t != nil && t.Temperature != nil {
			key = t.Path + ".temperature"
		}
		what := "none is stated"
		if material != "" {
			what = quoted(material)
		}
		b.src.fault(key, "the material of "+p.unit+"/"+p.parts[part].name+": "+what, "a material whose thermal expansion is known: steel, aluminium, cast iron ...")
	}
	return a
}

// heat is by how much the distance of a component's locators and that of their holes
// come to differ with temperature, mm.
func (b *builder) heat(t *placeTable, p, under *placed, carrier int, distance float64) float64 {
	warm, underWarm := b.warmer(t), b.warmer(b.tables[under.unit])
	if warm == 0 && underWarm == 0 || len(p.seat.solids) == 0 {
		return 0
	}
	a := b.expansion(t, p, p.seat.solids[0]) * warm
	return distance * math.Abs(a-b.expansion(b.tables[under.unit], under, carrier)*underWarm)
}

// grows returns how far a point of a component can be moved by its being warmer
// than drawn, along each axis of its own frame, mm: what lies between its anchor and
// its farthest corner.
func (b *builder) grows(t *placeTable, p *placed, anchor r3.Vector) (mm r3.Vector) {
	warm := b.warmer(t)
	if warm == 0 {
		return mm
	}
	box, most := geom.EmptyBox(), 0.0
	for i, part := range p.parts {
		if part.solid == nil {
			continue
		}
		most = max(most, b.expansion(t, p, i))
		box = box.Union(part.solid.Audit.Bounds)
	}
	if box.Empty() {
		return mm
	}
	lo, hi := anchor.Sub(box.Min).Abs(), box.Max.Sub(anchor).Abs()
	return r3.Vector{X: max(lo.X, hi.X), Y: max(lo.Y, hi.Y), Z: max(lo.Z, hi.Z)}.Mul(most * math.Abs(warm))
}

// materialOf is the material of a part; "" if none is stated.
func (a *assembly) materialOf(part int) string {
	if part < 0 || part >= len(a.parts) {
		return ""
	}
	return a.parts[part].material
}
