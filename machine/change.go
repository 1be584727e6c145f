package machine

import (
	"fmt"
	"maps"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// magazine reads what the machine's magazine takes.
func (s *source) magazine(t *magazineTable, unit scale) *Magazine {
	length := func(key string, v *float64) float64 { return s.stated(t.Path+"."+key, v, unit) }
	m := &Magazine{
		Longest: length("longest", t.Longest), Diameter: length("diameter", t.Diameter), Alone: length("alone", t.Alone),
		Heaviest: s.stated(t.Path+".heaviest", t.Heaviest, kilograms),
	}
	if m.Alone > 0 && m.Alone < m.Diameter {
		s.fault(t.Path+".alone", fmt.Sprint(*t.Alone), "at least diameter, %g, which has tools beside it", *t.Diameter)
	}
	return m
}

// readChanger reads the zones that the tool changer sweeps, as an assembly of
// its own: they are in the way only while tools are changed.
func (m *machineModel) readChanger(t *toolChangeTable, carriers []string) {
	m.changer = &assembly{src: m.src, name: m.name, unit: m.unit, axes: m.axes}
	for i := range t.Zones {
		z := &t.Zones[i]
		m.src.checkName(z.Path, z.Name)
		p := &part{path: z.Path, name: z.Name, role: "changer", unit: m.unit, carriedBy: -1, size: machineSize}
		if z.CarriedBy != "" {
			p.carriedBy = m.src.carrier(z.Path, z.CarriedBy, bed, carriers)
		}
		m.readZone(z, p)
		m.changer.parts = append(m.changer.parts, p)
		for _, other := range slices.Concat(m.parts, m.changer.parts[:i]) {
			if other.name == p.name {
				m.src.fault(z.Path+".name", quoted(p.name)+" a second time", "each solid and zone under its own name")
			}
		}
	}
}

// readZone reads a zone's solid: a file, or a box with its sides along the
// machine's coordinates.
func (m *machineModel) readZone(z *zoneTable, p *part) {
	boxed := z.From != nil || z.To != nil
	switch file := m.src.states(z.Path + ".file"); {
	case file && boxed:
		m.src.fault(z.Path+".file", "a file and a box", "one of the two")
	case file:
		p.file = z.File
		if z.At != nil {
			p.at = m.unit.point(*z.At)
		}
		if z.ChordError == nil {
			m.src.fault(z.Path, "no chord_error", "%s", examples["solid.chord_error"])
			return
		}
		p.chordError = m.unit.mm(m.src.notNegative(z.Path+".chord_error", *z.ChordError))
	case z.From == nil || z.To == nil:
		m.src.fault(z.Path, "neither file nor box", `file = "file.stl" with chord_error, or from = [x, y, z] and to = [x, y, z], opposite corners of a box`)
	case z.ChordError != nil || z.At != nil:
		m.src.fault(z.Path, "a box with at or chord_error", "neither: a box is where from and to say")
	default:
		m.boxZone(z, p)
	}
}

func (m *machineModel) boxZone(z *zoneTable, p *part) {
	a, b := m.unit.point(*z.From), m.unit.point(*z.To)
	lo := r3.Vector{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}
	hi := r3.Vector{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)}
	size := hi.Sub(lo)
	largest := max(hi.X, hi.Y, hi.Z, -lo.X, -lo.Y, -lo.Z)
	if largest > largestSolid {
		m.src.fault(z.Path, fmt.Sprintf("a coordinate of %g mm", largest), "at most %g", float64(largestSolid))
		return
	}
	if min(size.X, size.Y, size.Z) <= 0 {
		m.src.fault(z.Path+".to", "a box that is flat", "a corner that differs from the other one in x, y and z")
		return
	}
	mesh := shape.Box(lo, hi).Mesh()
	// A vertex is a float32: half of its last digit can be lost, and more than
	// that is added, so that the true box is not larger.
	p.solid = &Solid{Mesh: mesh, Audit: geom.AuditOf(mesh), ChordError: largest / (1 << 23)}
}

// addChange lists where tools are changed and what must be free then.
func (b *builder) addChange() {
	m := b.machine
	if m.changer == nil {
		return
	}
	c := &ToolChange{}
	for _, letter := range slices.Sorted(maps.Keys(m.changeAt)) {
		key := "tool_change.at." + letter
		i := slices.IndexFunc(b.setup.Axes, func(a Axis) bool {
			return a.Letter == letter && a.Kind == motion.Linear && a.Unit == ""
		})
		if i < 0 {
			m.src.fault(key, quoted(letter), "a linear axis of the machine")
			continue
		}
		a := &b.setup.Axes[i]
		v := m.assembly.unit.mm(m.changeAt[letter])
		if !span(a.Travel).holds(v) {
			m.src.fault(key, fmt.Sprint(m.changeAt[letter]), "a position within the travel of %s, %g to %g",
				letter, showPosition(a.Kind, a.Travel[0], m.assembly.unit), showPosition(a.Kind, a.Travel[1], m.assembly.unit))
		}
		c.At = append(c.At, AxisPosition{Axis: i, Value: v})
	}
	slices.SortFunc(c.At, func(a, b AxisPosition) int { return a.Axis - b.Axis })
	zones := &placed{assembly: m.changer, unit: machineUnit, base: b.base.base, set: b.base.set, params: b.base.params}
	for i := range zones.parts {
		c.Zones = append(c.Zones, zones.body(i))
	}
	b.setup.ToolChange = c
}
