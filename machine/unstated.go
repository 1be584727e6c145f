package machine

import (
	"fmt"
	"slices"
	"strings"
)

// unstated says which tolerances the files leave out, of everything that
// counts in this setup: every axis, and every grid and seat that pins are in.
// Each key makes one line.
func (b *builder) unstated() (lines []string) {
	var grids, seats, heights, parallels []string
	for i := range b.file.Places {
		t := &b.file.Places[i]
		under, p := b.support(t), b.done[t.Name]
		// Play that is stated has the pins' positions in it.
		if (t.Pins != nil || t.Keyed != nil) && !p.seat.playing && !p.src.states(p.seat.path+".position_tolerance") {
			seats = append(seats, t.Name)
		}
		if t.Keyed != nil {
			if !p.src.states(p.seat.path + ".height_tolerance") {
				heights = append(heights, t.Name)
			}
			continue
		}
		if t.Pins == nil {
			continue
		}
		g := b.gridOf(t, under)
		if name := under.on.unit + "/" + g.name; !under.on.src.states(g.path+".position_tolerance") && !slices.Contains(grids, name) {
			grids = append(grids, name)
		}
		if !p.src.states(p.seat.path + ".height_tolerance") {
			heights = append(heights, t.Name)
		}
		if !p.src.states(p.seat.path + ".parallelism") {
			parallels = append(parallels, t.Name)
		}
	}
	line := func(key, of string, names []string) {
		if len(names) > 0 {
			lines = append(lines, fmt.Sprintf("no %s stated for %s%s: taken as 0", key, of, strings.Join(names, ", ")))
		}
	}
	line("accuracy", "", b.withoutAccuracy())
	line("position_tolerance", "the holes of ", grids)
	line("position_tolerance", "the locators of ", seats)
	line("height_tolerance", "the seat of ", heights)
	line("parallelism", "the seat of ", parallels)
	line("within", "the measured line of ", b.measuredWithout())
	line("within", "the length of ", b.toolsWithout())
	return lines
}

// measuredWithout lists the measured axes without one.
func (b *builder) measuredWithout() (names []string) {
	for i := range b.file.Measured {
		if t := &b.file.Measured[i]; !b.src.states(t.Path + ".within") {
			names = append(names, t.Axis)
		}
	}
	return names
}

// toolsWithout lists the tools that operations use and whose length is taken as
// exact.
func (b *builder) toolsWithout() (names []string) {
	for _, l := range b.libraries {
		for _, t := range l.tools {
			if b.tools[t.Number].used && !l.src.states(t.path+".within") {
				names = append(names, fmt.Sprintf("T%d", t.Number))
			}
		}
	}
	return names
}

// withoutAccuracy lists the axes without one: the programmed ones by letter as
// seated, setting axes by name and unit.
func (b *builder) withoutAccuracy() (names []string) {
	for _, p := range b.inOrder() {
		for i, a := range p.axes {
			switch {
			case a.free:
			case p.src.states(a.path + ".accuracy"):
			case a.setting:
				names = append(names, a.id+" of "+p.unit)
			default:
				names = append(names, b.setup.Axes[p.params[i]].Letter)
			}
		}
	}
	return names
}
