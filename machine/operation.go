package machine

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// reading is an operation being read. What is wrong with its form, such as a
// missing key, is a fault of the file; what is wrong with its values leaves
// only this operation out.
type reading struct {
	*builder
	table    *operationTable
	tool     *listedTool // nil if there is none of the number
	wrongs   []wrong
	features []Feature
	stated   [][]r3.Vector // the points of each feature as the file gives them
	names    map[string]bool
	counts   map[string]int // features without a name so far, by kind
}

// wrong is what is wrong with an operation, and where.
type wrong struct{ where, text string }

// wrong notes what leaves the operation out.
func (r *reading) wrong(path, found, expected string, args ...any) {
	r.wrongAt(r.src.line(path), path, found, expected, args...)
}

// wrongAt is wrong for what stands in another file than the setup.
func (r *reading) wrongAt(where, path, found, expected string, args ...any) {
	key, _, _ := strings.Cut(path[strings.LastIndex(path, ".")+1:], "[")
	r.wrongs = append(r.wrongs, wrong{where,
		fmt.Sprintf("%s: found %s, expected %s", key, found, fmt.Sprintf(expected, args...))})
}

// addOperations reads all operations, in the order of the file.
func (b *builder) addOperations() {
	names := make(map[string]bool)
	for i := range b.file.Operations {
		t := &b.file.Operations[i]
		r := &reading{builder: b, table: t, names: make(map[string]bool), counts: make(map[string]int)}
		b.src.checkName(t.Path, t.Name)
		op := r.operation()
		for _, part := range r.parts() {
			op.Name, op.Part = part.operation, part.index
			if names[op.Name] {
				b.src.fault(t.Path+".name", quoted(op.Name)+" a second time", "each operation under its own name")
			}
			names[op.Name] = true
			r.enter(op, part.wrongs)
		}
	}
}

// enter lists the operation, or what is wrong with it.
func (r *reading) enter(op Operation, more []wrong) {
	wrongs := slices.Concat(r.wrongs, more)
	if len(wrongs) == 0 {
		r.setup.Operations = append(r.setup.Operations, op)
		r.warnOfPlace(&op)
		return
	}
	f := FaultyOperation{Name: op.Name, Where: wrongs[0].where, Reason: wrongs[0].text}
	for _, w := range wrongs[1:] {
		f.Reason += "; " + w.where + ": " + w.text
	}
	r.setup.Faulty = append(r.setup.Faulty, f)
}

// operation reads what is the same for all parts.
func (r *reading) operation() Operation {
	t := r.table
	op := Operation{Where: r.src.line(t.Path), Tool: -1}
	if r.tool = r.toolOf(); r.tool != nil {
		op.Tool = r.tool.index
	}
	op.Approach = r.length(t.Path+".approach", t.Approach)
	op.Retract = r.length(t.Path+".retract", t.Retract)
	if t.Retract < t.Approach {
		r.wrong(t.Path+".retract", fmt.Sprint(t.Retract), "at least the approach, %g", t.Approach)
	}
	op.Positions = r.positions()
	r.readFeatures()
	if len(r.features) == 0 && len(r.wrongs) == 0 {
		r.wrong(t.Path, "no feature", "[[operation.hole]], face, pocket, contour or touch")
	}
	op.Features = r.features
	return op
}

// toolOf looks up the operation's tool; nil if there is none that could be used.
func (r *reading) toolOf() *listedTool {
	path := r.table.Path + ".tool"
	if r.machine.spindle == nil {
		r.wrong(path, fmt.Sprintf("T%d, and no spindle in %s", r.table.Tool, r.machine.src.name), "a table [spindle] there that says where the tool stands")
		return nil
	}
	t := r.tools[r.table.Tool]
	if t == nil {
		r.wrong(path, fmt.Sprintf("T%d", r.table.Tool), "%s", r.knownTools())
		return nil
	}
	t.used = true
	for _, w := range t.faults {
		r.wrongs = append(r.wrongs, wrong{w.where, fmt.Sprintf("T%d: %s", t.Number, w.text)})
	}
	return t
}

// knownTools words which tools there are.
func (b *builder) knownTools() string {
	var numbers []int
	for n := range b.tools {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	var words []string
	for _, n := range numbers {
		words = append(words, fmt.Sprintf("T%d", n))
	}
	const most = 30 // to be listed
	switch {
	case len(words) == 0:
		return `a tool of a tool file: tools = ["file.toml"]`
	case len(words) > most:
		return fmt.Sprintf("one of the %d tools of the tool files", len(words))
	}
	return "one of " + strings.Join(words, ", ")
}

// cutter returns the operation's cutter; nil if it has none that is sound.
func (r *reading) cutter() *tooling.Cutter {
	if r.tool == nil || len(r.tool.faults) > 0 {
		return nil
	}
	return r.tool.Cutter
}

// length returns a length in mm that must be more than 0.
func (r *reading) length(path string, v float64) float64 {
	if v <= 0 && r.src.states(path) {
		r.wrong(path, fmt.Sprint(v), "more than 0")
	}
	return r.unit.mm(v)
}

// direction returns a vector at unit length; Z, and something wrong, for zero.
func (r *reading) direction(where, path string, d r3.Vector) r3.Vector {
	if d == (r3.Vector{}) {
		r.wrongAt(where, path, "[0, 0, 0]", "a direction that is not zero")
		return r3.Vector{Z: 1}
	}
	return r.src.unitVector(path, d)
}

// positions reads the rotary positions that the operation states.
func (r *reading) positions() (list []AxisPosition) {
	for k := range r.setup.Axes {
		a := &r.setup.Axes[k]
		v, stated := r.table.Positions[a.Letter]
		key := r.table.Path + ".positions." + a.Letter
		switch {
		case !stated:
			continue
		case a.Kind == motion.Linear:
			r.wrong(key, "a linear axis", "a rotary one: linear axes go where the features are")
		case !span(a.Travel).holds(radians(v)):
			r.wrong(key, fmt.Sprint(v), "a position within the travel of %s, %s", a.Letter, r.travelOf(a))
		}
		list = append(list, AxisPosition{Axis: k, Value: radians(v)})
	}
	for _, letter := range slices.Sorted(maps.Keys(r.table.Positions)) {
		if !slices.ContainsFunc(r.setup.Axes, func(a Axis) bool { return a.Letter == letter }) {
			r.wrong(r.table.Path+".positions."+letter, "axis "+quoted(letter), "%s", r.knownAxes(letter))
		}
	}
	return list
}

// readFeatures reads the features of all kinds, in the order of the file.
func (r *reading) readFeatures() {
	type entry struct {
		line, column int
		read         func()
	}
	var entries []entry
	add := func(path string, read func()) {
		line, column := r.src.at(path)
		entries = append(entries, entry{line, column, read})
	}
	t := r.table
	for i := range t.Holes {
		add(t.Holes[i].Path, func() { r.holes(&t.Holes[i]) })
	}
	for i := range t.Faces {
		add(t.Faces[i].Path, func() { r.area(Face, &t.Faces[i]) })
	}
	for i := range t.Pockets {
		add(t.Pockets[i].Path, func() { r.area(Pocket, &t.Pockets[i]) })
	}
	for i := range t.Contours {
		add(t.Contours[i].Path, func() { r.contour(&t.Contours[i]) })
	}
	for i := range t.Touches {
		add(t.Touches[i].Path, func() { r.touch(&t.Touches[i]) })
	}
	slices.SortStableFunc(entries, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.column, b.column))
	})
	for _, e := range entries {
		e.read()
	}
}
