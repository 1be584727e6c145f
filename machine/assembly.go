package machine

import (
	"fmt"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// assembly is a machine or a component as its file describes it: parts on
// axes, in its own frame.
type assembly struct {
	src      *source
	name     string
	unit     scale
	axes     []*axis
	parts    []*part
	grids    []*grid
	slots    []*slots
	seat     *seat // nil: it has no pins
	grips    []*grip
	screws   []*fastener
	ratings  *ratings // nil: none are stated
	mass     float64  // of the whole, kg; 0: by density
	warnings []string
	loaded   bool // its parts have their solids, or the file has the faults
	spacer   bool // two bodies that stand for a block of any height: see Spacer
}

// opens returns where a part moves as its linear setting axis goes up; zero
// for a part without one.
func (a *assembly) opens(p *part) r3.Vector {
	if p.carriedBy < 0 {
		return r3.Vector{}
	}
	x := a.axes[p.carriedBy]
	switch {
	case !x.setting || x.kind == motion.Rotary:
		return r3.Vector{}
	case p.opposite:
		return x.direction.Mul(-1)
	}
	return x.direction
}

// readAxes reads the axes of an assembly and what carries them.
func (a *assembly) readAxes(tables []axisTable, base string, ofMachine bool) (carriers []string) {
	carriers = []string{base}
	for i := range tables {
		x := a.src.axis(&tables[i], a.unit, ofMachine)
		a.axes = append(a.axes, x)
		carriers = append(carriers, x.id)
	}
	a.src.carriers(a.axes, tables, base)
	return carriers
}

func (a *assembly) readGrids(tables []gridTable, carriers []string) {
	seen := make(map[string]bool)
	for i := range tables {
		t := &tables[i]
		if seen[t.Name] {
			a.src.fault(t.Path+".name", quoted(t.Name)+" a second time", "each grid under its own name")
		}
		seen[t.Name] = true
		g := a.src.grid(t, a.unit, a.parts, carriers)
		if i := slices.IndexFunc(a.parts, func(p *part) bool { return p.name == pinsOf(g) }); i >= 0 && g.retractable != nil {
			a.src.fault(a.parts[i].path+".name", quoted(pinsOf(g)), "another name: the retractable pins of grid %q are called so", g.name)
		}
		a.grids = append(a.grids, g)
	}
}

// pinsOf is what the retractable pins of a grid are called as a body.
func pinsOf(g *grid) string { return g.name + " pins" }

func (a *assembly) readSlots(tables []slotsTable) {
	for i := range tables {
		t := &tables[i]
		if slices.ContainsFunc(a.grids, func(g *grid) bool { return g.name == t.Name }) ||
			slices.ContainsFunc(a.slots, func(g *slots) bool { return g.name == t.Name }) {
			a.src.fault(t.Path+".name", quoted(t.Name)+" a second time", "a name that no grid and no other slots have")
		}
		a.slots = append(a.slots, a.src.slots(t, a.unit, a.parts))
	}
}

// component turns a component file into an assembly.
func component(src *source) *assembly {
	var f componentFile
	if !src.is("component") {
		return nil
	}
	src.decode(&f)
	if src.any() {
		return nil // what is built on wrong values would only add confusion
	}
	a := &assembly{src: src, name: f.Name, unit: src.unit(f.Units)}
	src.role("role", f.Role, slices.Concat(Roles, moreRoles))
	carriers := a.readAxes(f.Axes, "", false)
	for i := range f.Solids {
		t := &f.Solids[i]
		p := src.solid(&t.solidTable, a.unit)
		p.role, p.opposite, p.size = f.Role, t.Opposite, componentSize
		p.carriedBy = src.carrier(t.Path, t.CarriedBy, "", carriers)
		if t.Opposite && (p.carriedBy < 0 || !a.axes[p.carriedBy].setting) {
			src.fault(t.Path+".opposite", "a solid on no setting axis", "carried_by = a setting axis")
		}
		a.parts = append(a.parts, p)
	}
	src.uniqueParts(a.parts)
	if len(f.Solids) == 0 {
		src.fault("solid", "no solid", "one or more")
	}
	a.readMass(&f)
	a.readGrids(f.Grids, carriers)
	a.readSlots(f.Slots)
	if f.Seat != nil {
		a.seat = src.seat(f.Seat, a.unit, a.parts)
	}
	a.ratings = a.readRatings(f.Ratings, false)
	a.readFasteners(f.Fasteners)
	for i := range f.Grips {
		a.grips = append(a.grips, src.grip(&f.Grips[i], a))
	}
	return a
}

// readMass reads the mass of a component, or its material, which holds for each
// solid that states none of its own. Neither may be known.
func (a *assembly) readMass(f *componentFile) {
	src := a.src
	switch {
	case f.Mass != nil && f.Material != "":
		src.fault("mass", "mass and material", "one of the two")
	case f.Mass != nil:
		a.mass = src.positive("mass", *f.Mass)
	case f.Material != "":
		d := src.density("material", f.Material)
		for _, p := range a.parts {
			if p.density == 0 {
				p.density, p.material = d, f.Material
			}
		}
	}
}

// is checks the kind of a file, before anything else of it is believed.
func (s *source) is(kind string) bool {
	if s.values == nil {
		return false
	}
	if found, stated := s.values["kind"]; found != kind {
		if !stated {
			s.fault("", "no kind", "kind = %q", kind)
		} else {
			s.fault("kind", fmt.Sprintf("%#v", found), "%q", kind)
		}
		return false
	}
	return true
}
