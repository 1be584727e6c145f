package machine

import (
	"fmt"
	"maps"
	"slices"

	"gridswing/geom/motion"
)

// command reads the ranges that the setup commands.
func (b *builder) command() {
	for _, letter := range slices.Sorted(maps.Keys(b.file.Commanded)) {
		key := join("commanded", letter)
		a := b.lookUp(key, letter)
		if a == nil {
			continue
		}
		stated := b.file.Commanded[letter]
		for i, v := range stated {
			a.Commanded[i] = b.position(a, v)
		}
		if !span(a.Travel).holds(a.Commanded[0]) || !span(a.Travel).holds(a.Commanded[1]) {
			b.src.fault(key, fmt.Sprintf("%g to %g", stated[0], stated[1]),
				"a range within the travel of %s, %s", letter, b.travelOf(a))
		}
	}
}

// index reads where linear axes stand while rotary ones index. The setup's
// table stands in for the machine's as a whole.
func (b *builder) index() {
	src, unit, positions := b.machine.src, b.machine.assembly.unit, b.machine.index
	if b.file.Index != nil {
		src, unit, positions = b.src, b.unit, b.file.Index
	}
	for _, letter := range slices.Sorted(maps.Keys(positions)) {
		key := join("index", letter)
		i := slices.IndexFunc(b.setup.Axes, func(a Axis) bool {
			return a.Letter == letter && a.Kind == motion.Linear
		})
		if i < 0 {
			src.fault(key, quoted(letter), "a linear axis")
			continue
		}
		a := &b.setup.Axes[i]
		mm := unit.mm(positions[letter])
		if !span(a.Travel).holds(mm) {
			src.fault(key, fmt.Sprint(positions[letter]), "a position within the travel of %s, %g to %g",
				letter, showPosition(a.Kind, a.Travel[0], unit), showPosition(a.Kind, a.Travel[1], unit))
		}
		a.Index = &mm
	}
}

// position turns a number of the setup file into mm or radians.
func (b *builder) position(a *Axis, v float64) float64 {
	if a.Kind == motion.Rotary {
		return radians(v)
	}
	return b.unit.mm(v)
}

func (b *builder) travelOf(a *Axis) string {
	return fmt.Sprintf("%g to %g", showPosition(a.Kind, a.Travel[0], b.unit), showPosition(a.Kind, a.Travel[1], b.unit))
}

// lookUp finds an axis by the letter it has as seated.
func (b *builder) lookUp(key, letter string) *Axis {
	for i := range b.setup.Axes {
		if a := &b.setup.Axes[i]; a.Letter == letter {
			return a
		}
	}
	b.src.fault(key, "axis "+quoted(letter), "%s", b.knownAxes(letter))
	return nil
}

// knownAxes words which axes there are instead of one of that letter.
func (b *builder) knownAxes(letter string) string {
	var known []string
	for i := range b.setup.Axes {
		known = append(known, b.setup.Axes[i].Letter)
	}
	hint := ""
	for _, p := range b.inOrder() {
		for i, a := range p.axes {
			if !a.setting && a.id == letter {
				hint = fmt.Sprintf(" (%s %s is %s as seated)", owner(p.unit), letter, b.setup.Axes[p.params[i]].Letter)
			}
		}
	}
	return oneOf(letter, known) + hint
}
