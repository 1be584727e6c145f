package tooling

import "math"

// Tool is a cutter in a holder, as it stands in the magazine.
type Tool struct {
	Number   int // as the program calls it
	Name     string
	Cutter   *Cutter
	Holder   *Holder
	StickOut float64 // holder face to foremost point, mm
	Mass     float64 // kg; 0 if it is not known
	// Within is how far the foremost point can be off along the tool, either
	// way, in mm: what the length measured and keyed in can be wrong by.
	Within float64
}

// LPR is the protruding length: gauge line to foremost point, mm (ISO 13399).
// It is what stands in the control's tool table.
func (t *Tool) LPR() float64 { return t.Holder.Length + t.StickOut }

// At returns the same tool with another stick-out.
func (t *Tool) At(stickOut float64) *Tool {
	other := *t
	other.StickOut = stickOut
	return &other
}

// Widest returns the largest diameter that turns below the gauge line, mm: the
// number to hold against the magazine's places.
func (t *Tool) Widest() float64 {
	r := 0.0
	for _, z := range Zones() {
		for _, p := range t.zone(z) {
			r = max(r, p.X)
		}
	}
	if m := t.Holder.Mesh; m != nil {
		for i := range m.Facets {
			for _, v := range &m.Facets[i] {
				r = max(r, math.Hypot(float64(v[0]), float64(v[1]))+t.Holder.ChordError)
			}
		}
	}
	return 2 * r
}

// TotalMass returns the mass in kg: that of the tool, or else of cutter and
// holder together; 0 if it is not known.
func (t *Tool) TotalMass() float64 {
	if t.Mass == 0 && t.Cutter.Mass > 0 && t.Holder.Mass > 0 {
		return t.Cutter.Mass + t.Holder.Mass
	}
	return t.Mass
}
