package machine

import (
	"fmt"
	"strings"
)

// support is what the key `on` names: an assembly, and perhaps one part or one
// grid of it.
type support struct {
	on    *placed
	part  int    // -1: none was named
	grid  *grid  // nil: none was named
	slots *slots // nil: none were named
	bed   bool   // the bed itself
}

// frame returns the frame for direct placement: of a grid that was named, the
// centre of hole A1 on the face, with u, v and the face's normal as X, Y and Z;
// otherwise the assembly's own, as it moves with the part that was named.
func (u *support) frame() frame {
	switch {
	case u.bed:
		return bedFrame()
	case u.grid != nil:
		return u.on.carrierFrame(u.part).at(u.grid.pose())
	case u.part >= 0:
		return u.on.carrierFrame(u.part)
	}
	return u.on.base
}

// parts lists what carries the component: the part named, or all that are
// fixed in the assembly.
func (u *support) parts() []int {
	switch {
	case u.bed:
		return nil
	case u.part >= 0:
		return []int{u.part}
	}
	return fixedParts(u.on.parts)
}

// support resolves `on`: "bed", a grid or a solid of the machine, a place, or
// a grid or a solid of a place. nil if there is none, or if it could not be
// placed itself.
func (b *builder) support(t *placeTable) *support {
	return b.supportNamed(t.Path+".on", t.On)
}

// supportNamed resolves a name that stands at a key.
func (b *builder) supportNamed(key, name string) *support {
	unit, inner, divided := strings.Cut(name, "/")
	if name == bed {
		return &support{on: b.base, part: -1, bed: true}
	}
	if _, known := b.tables[unit]; known {
		on := b.place(unit)
		if on == nil {
			return nil
		}
		if !divided {
			return &support{on: on, part: -1}
		}
		return b.inside(key, name, on, inner)
	}
	if unit == machineUnit && divided {
		return b.inside(key, name, b.base, inner)
	}
	if u := b.base.find(name); u != nil {
		return u
	}
	known := []string{bed}
	for i := range b.file.Places {
		known = append(known, b.file.Places[i].Name)
	}
	known = append(known, b.base.names()...)
	b.src.fault(key, quoted(name), "%s", oneOf(name, known))
	return nil
}

// inside resolves the name of a grid or a solid of an assembly.
func (b *builder) inside(key, whole string, on *placed, name string) *support {
	u := on.find(name)
	if u == nil {
		b.src.fault(key, quoted(whole), "a grid or a solid of %s: %s", on.unit, oneOf(name, on.names()))
	}
	return u
}

// find looks a name up among the grids first, then among the solids.
func (p *placed) find(name string) *support {
	for _, g := range p.grids {
		if g.name == name {
			return &support{on: p, part: g.solid, grid: g}
		}
	}
	for _, g := range p.slots {
		if g.name == name {
			return &support{on: p, part: g.solid, slots: g}
		}
	}
	for i, s := range p.parts {
		if s.name == name {
			return &support{on: p, part: i}
		}
	}
	return nil
}

func (p *placed) names() []string {
	var names []string
	for _, g := range p.grids {
		names = append(names, g.name)
	}
	for _, g := range p.slots {
		names = append(names, g.name)
	}
	for _, s := range p.parts {
		names = append(names, s.name)
	}
	return names
}

// gridOf returns the grid for two pins: the one named, or the only one there is.
func (b *builder) gridOf(t *placeTable, u *support) *grid {
	if u.grid != nil {
		return u.grid
	}
	var found []*grid
	var names []string
	if !u.bed {
		for _, g := range u.on.grids {
			if u.part < 0 || g.solid == u.part {
				found = append(found, g)
				names = append(names, u.on.unit+"/"+g.name)
			}
		}
	}
	switch len(found) {
	case 0:
		b.src.fault(t.Path+".on", quoted(t.On)+", which has no grid", "something with a grid, or at with within instead of pins")
		return nil
	case 1:
		return found[0]
	}
	b.src.fault(t.Path+".on", quoted(t.On)+", which has several grids", "one of them: %s", strings.Join(names, ", "))
	return nil
}

// slotsOf returns the T-slots for two keys: those named, or the only ones there are.
func (b *builder) slotsOf(t *placeTable, u *support) *slots {
	if u.slots != nil {
		return u.slots
	}
	var found []*slots
	if !u.bed && u.grid == nil {
		for _, g := range u.on.slots {
			if u.part < 0 || g.solid == u.part {
				found = append(found, g)
			}
		}
	}
	if len(found) == 1 {
		return found[0]
	}
	b.src.fault(t.Path+".on", fmt.Sprintf("%q, which has %s", t.On, count(len(found), "table of slots", "tables of slots")),
		"one table [[slots]]")
	return nil
}
