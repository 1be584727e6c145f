package text

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// blank is where somebody will write what was measured.
const blank = "_________"

// methods are how a control treats offsets, in words.
var methods = map[string]string{
	"per-position":      "One work offset for each rotary position.",
	"turned-by-control": "One work offset at rotary zero, and the rotary centres: the control turns the offset with the axes.",
}

// lengths are what stands in a control's tool table, in words.
var lengths = map[string]string{
	"absolute":    "Lengths in the tool table: absolute, from the gauge line to the foremost point.",
	"touched-off": "Lengths in the tool table: touched off on the work.",
}

// keyIn writes what is to be keyed into the control, and where to begin to probe.
func (p *page) keyIn(r *check.Report) {
	o := r.Offsets
	if o == nil {
		return
	}
	p.heading("What to key in (" + o.Method + ")")
	p.said(KeyIn(o))
	k := &keys{Offsets: o, columns: KeyAxes(o)}
	p.offsetTable(k)
	p.centreTable(k)
	p.lengthTable(r, k)
	p.probing(k)
	for _, n := range o.Notes {
		p.wrapped("   - ", 5, n)
	}
}

// KeyIn says how the control treats offsets and lengths, and what the numbers are worth.
func KeyIn(o *check.Offsets) []Line {
	words := lengths[o.Lengths]
	if words == "" {
		words = "Lengths in the tool table: " + o.Lengths + "."
	}
	lines := []Line{{Words: methods[o.Method]}, {Words: words}, {Words: shifted(o)}}
	if o.Basis == nominal {
		lines = append(lines, Line{"NOMINAL: where the rotary axes are as drawn, not as measured. Not to be keyed in before it has been measured on the machine.", true})
	}
	return lines
}

const nominal = "NOMINAL"

func shifted(o *check.Offsets) string {
	if o.Shift == 0 {
		return fmt.Sprintf("Everything in %s; no common shift along Z.", unitName(o.Unit))
	}
	return fmt.Sprintf("Everything in %s; the common shift along Z, %s, is in the numbers.", unitName(o.Unit), fixed(o.Shift, o.Decimals))
}

func unitName(unit string) string {
	if unit == "inch" {
		return "inches"
	}
	return unit
}

// keys is what to key in, and in which columns axes are written.
type keys struct {
	*check.Offsets
	columns []string
}

// KeyAxes returns the axes that have an offset, in their order.
func KeyAxes(o *check.Offsets) (axes []string) {
	add := func(list []check.Position) {
		for _, at := range list {
			if !slices.Contains(axes, at.Axis) {
				axes = append(axes, at.Axis)
			}
		}
	}
	for i := range o.Offsets {
		add(o.Offsets[i].Linear)
	}
	for i := range o.Centres {
		add(o.Centres[i].Linear)
	}
	for i := range o.Probing {
		add(o.Probing[i].Start)
	}
	slices.SortStableFunc(axes, check.ByLetter)
	return axes
}

// values writes a position into the columns, with the control's decimals; what is not
// stated of an axis is left empty.
func (k *keys) values(at []check.Position) []string {
	cells := make([]string, len(k.columns))
	for i, axis := range k.columns {
		for _, p := range at {
			if p.Axis == axis {
				cells[i] = fixed(p.Value, k.Decimals)
			}
		}
	}
	return cells
}

// blanks are places to write into, under the values that will be measured.
func (k *keys) blanks(at []check.Position) []string {
	cells := k.values(at)
	for i := range cells {
		if cells[i] != "" {
			cells[i] = blank
		}
	}
	return cells
}

// measured is the line below a nominal one.
func (k *keys) measured(lead []string, at []check.Position) row {
	return row{cells: append(append(lead, k.blanks(at)...), "measured")}
}

func (p *page) offsetTable(k *keys) {
	if len(k.Offsets.Offsets) == 0 {
		return
	}
	t := &table{head: append(append([]string{"offset", "part", "rotary, deg"}, k.columns...), "basis"), wraps: 1, indent: 3}
	for i := range k.Offsets.Offsets {
		o := &k.Offsets.Offsets[i]
		r := row{cells: append(append([]string{p.bold(o.Number), o.Part, Rotary(o.Rotary)}, k.values(o.Linear)...), p.basis(o.Basis))}
		for _, turn := range o.Turn {
			r.below = append(r.below, fmt.Sprintf("%s offset: %s deg, as the part was found turned", turn.Axis, Signed(turn.Value, 4)))
		}
		r.below = append(r.below, o.Notes...)
		if o.Basis == nominal {
			empty := k.measured([]string{"", "", ""}, o.Linear)
			empty.below, r.below = r.below, nil
			t.rows = append(t.rows, r, empty)
			continue
		}
		t.rows = append(t.rows, r)
	}
	p.table(t)
}

// basis writes NOMINAL so that nobody overlooks it.
func (p *page) basis(words string) string {
	if words == nominal {
		return p.styled(yellow, words)
	}
	return words
}

func (p *page) centreTable(k *keys) {
	if len(k.Centres) == 0 {
		return
	}
	p.line("")
	p.line("   Rotary centres: positions at which the spindle stands on the axis")
	t := &table{head: append(append([]string{"axis"}, k.columns...), "basis"), indent: 3}
	for i := range k.Centres {
		c := &k.Centres[i]
		t.rows = append(t.rows, row{cells: append(append([]string{p.bold(c.Axis)}, k.values(c.Linear)...), p.basis(c.Basis))})
		if c.Basis == nominal {
			t.rows = append(t.rows, k.measured([]string{""}, c.Linear))
		}
	}
	p.table(t)
}

// lengthTable lists the tools with the length that is assumed of each and room for what
// is measured.
func (p *page) lengthTable(r *check.Report, k *keys) {
	if r.Reach == nil || k.Lengths != "absolute" {
		return
	}
	t := &table{head: []string{"tool", "", "length", "measured", "basis"}, wraps: 1, indent: 3}
	for _, o := range ToolsOf(r.Reach) {
		lpr := o.LPR
		if k.Unit == "inch" {
			lpr /= 25.4 // ISO 80000-3: one inch is 25.4 mm
		}
		t.rows = append(t.rows, row{cells: []string{p.bold(fmt.Sprintf("T%d", o.Tool)), o.ToolName, fixed(lpr, k.Decimals), blank, p.basis(nominal)}})
	}
	if len(t.rows) == 0 {
		return
	}
	p.line("")
	p.line("   Tool lengths, as the tool files have them")
	p.table(t)
}

// ToolsOf returns one operation for each tool, by the tools' numbers.
func ToolsOf(r *check.Reach) []check.Operation {
	list := slices.Clone(r.Operations)
	slices.SortStableFunc(list, func(a, b check.Operation) int { return cmp.Compare(a.Tool, b.Tool) })
	return slices.CompactFunc(list, func(a, b check.Operation) bool { return a.Tool == b.Tool })
}

// ProbingMeans says what a start for probing is.
const ProbingMeans = "from there, the way that is named, the surface must be found after so far, \"within\" more or less"

func (p *page) probing(k *keys) {
	if len(k.Probing) == 0 {
		return
	}
	p.line("")
	p.wrapped("", 3, "Where to begin to probe: "+ProbingMeans)
	t := &table{head: append(append([]string{"part", "rotary, deg", "way"}, k.columns...), "after", "within"), indent: 3}
	for i := range k.Probing {
		q := &k.Probing[i]
		t.rows = append(t.rows, row{cells: append(append([]string{q.Part, Rotary(q.Rotary), q.Along}, k.values(q.Start)...),
			fixed(q.Find, k.Decimals), fixed(q.Within, k.Decimals)), below: []string{"found at " + blank}})
	}
	p.table(t)
}

// Signed prints with a sign and at most so many decimals.
func Signed(v float64, decimals int) string {
	s := short(v, decimals)
	if !strings.HasPrefix(s, "-") {
		s = "+" + s
	}
	return s
}
