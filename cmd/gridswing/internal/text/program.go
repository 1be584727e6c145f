package text

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"gridswing/geom"
	"gridswing/machine/check"
)

// programSummary says whether the program was read to its end, and which offsets and lengths
// are not what they should be: what everything else rests on.
func programSummary(r *check.Report) (lines []Line) {
	g := r.Program
	if g == nil {
		return nil
	}
	say := func(strong bool, format string, args ...any) {
		lines = append(lines, Line{fmt.Sprintf(format, args...), strong})
	}
	if f := g.Fault; f != nil {
		say(true, "The program could not be read to its end. %s:%d:%d: found %s, expected %s.", f.File, f.Line, f.Column, f.Found, f.Expected)
		if f.Block != "" {
			say(false, "Line %s", LineOf(&check.Finding{Line: f.Line, Block: f.Block}))
		}
		say(true, "What comes before is checked, and nothing after it.")
	} else {
		say(false, "Program %s, read to its end: %s, %s.", g.File, plural(int(g.Blocks), "block"), plural(int(g.Moves), "move"))
	}
	for i := range g.Offsets {
		if o := &g.Offsets[i]; o.Verdict != check.Clear {
			say(true, "%s: %s.", o.Number, o.Words)
		}
	}
	for i := range g.Lengths {
		if l := &g.Lengths[i]; l.Verdict != check.Clear {
			say(true, "%s: %s.", l.Subject(), l.Words)
		}
	}
	return lines
}

// program writes what the posted program does: its tools, what it moves with, how long it takes
// and what it leaves.
func (p *page) program(r *check.Report) {
	g := r.Program
	if g == nil {
		return
	}
	p.heading("The posted program")
	p.wrapped("", 3, fmt.Sprintf("%s (%s): %s, %s, %s. %s", g.File, g.Format, plural(int(g.Blocks), "block"), plural(int(g.Moves), "move"), ReadTo(g), Takes(g)))
	p.programTools(g)
	p.programOffsets(g)
	p.programLengths(g)
	p.programStock(g)
}

// ReadTo says how far a program was read.
func ReadTo(g *check.Program) string {
	if g.Fault == nil {
		return "read to its end"
	}
	return fmt.Sprintf("NOT READ from line %d on", g.Fault.Line)
}

// Takes says how long a program takes.
func Takes(g *check.Program) string {
	if g.Known {
		return "It takes " + duration(g.Seconds) + ", by the feeds, rapid rates and accelerations that are stated."
	}
	if g.Seconds < 0.5 {
		return "How long it takes is not known: not every feed, rapid rate or time it needs is stated."
	}
	return "It takes " + duration(g.Seconds) + " at least: not every feed, rapid rate or time it needs is stated."
}

// duration prints a time in words: "1 h 2 min 3 s".
func duration(seconds float64) string {
	s := int(math.Round(seconds))
	switch {
	case s >= 3600:
		return fmt.Sprintf("%d h %d min %d s", s/3600, s/60%60, s%60)
	case s >= 60:
		return fmt.Sprintf("%d min %d s", s/60, s%60)
	}
	return fmt.Sprintf("%d s", s)
}

// Clock prints a time in a table: "48:12", "1:02:03".
func Clock(seconds float64) string {
	s := int(math.Round(seconds))
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

func (p *page) programTools(g *check.Program) {
	if len(g.Tools) == 0 {
		return
	}
	p.line("")
	t := &table{head: []string{"tool", "", "lines", "time", "in feed", "cuts, cm3", "in air", "LPR", "holds for"}, wraps: 1, indent: 3}
	for i := range g.Tools {
		u := &g.Tools[i]
		r := row{cells: []string{p.bold(fmt.Sprintf("T%d", u.Tool)), u.Name, whole(fmt.Sprintf("%d-%d", u.First, u.Last)), Clock(u.Seconds), Clock(u.FeedSeconds),
			Removed(u.Removed), InAir(u), fixed(u.LPR, 2), HoldsFor(u)}}
		if len(u.Travel) > 0 {
			r.below = append(r.below, "goes "+Ranges(u.Travel))
		}
		if words := Bounded(u); words != "" {
			r.below = append(r.below, words)
		}
		t.rows = append(t.rows, r)
	}
	p.table(t)
	p.wrapped("", 3, ProgramToolsMean("mm"))
}

// ProgramToolsMean says what is told of a program's tools, lengths in a unit.
func ProgramToolsMean(unit string) string {
	return "Lines: from its first call to its last move; other tools may be between. Times in min:s. In air: how much of the way in feed cuts nothing. " +
		"LPR, " + unit + ": gauge line to foremost point; \"holds for\": the LPR for which all that is clear stays so, the program's lengths keyed in anew, and below it what bounds it, " +
		"unless that is what cutter and holder allow; a dash where not all is clear as it is."
}

// Removed prints how much a tool cuts away.
func Removed(mm3 *float64) string {
	if mm3 == nil {
		return missing
	}
	return fixed(*mm3/1000, 2)
}

// InAir prints how much of its way in feed a tool cuts nothing.
func InAir(u *check.ProgramTool) string {
	switch {
	case u.Removed == nil || u.FeedLength == 0:
		return "-"
	case u.AirLength >= u.FeedLength*(1-1e-9):
		return "all"
	}
	return strconv.Itoa(int(math.Round(100*u.AirLength/u.FeedLength))) + " %"
}

// HoldsFor prints the lengths for which all holds.
func HoldsFor(u *check.ProgramTool) string {
	if u.Shortest == nil || u.Longest == nil {
		return "-"
	}
	return whole(Up(*u.Shortest) + "-" + Down(*u.Longest))
}

// Bounded says what bounds them, as far as it is not what bounds most tools and is told below the table.
func Bounded(u *check.ProgramTool) string {
	if u.Shortest == nil && u.ShortWhy == check.NotClearAsItIs {
		return ""
	}
	var words []string
	if u.ShortWhy != "" && u.ShortWhy != check.GoesTogether {
		words = append(words, "no shorter: "+u.ShortWhy)
	}
	if u.LongWhy != "" && u.LongWhy != check.GoesTogether {
		words = append(words, "no longer: "+u.LongWhy)
	}
	return strings.Join(words, "; ")
}

// programOffsets writes the work offsets beside those that are computed.
func (p *page) programOffsets(g *check.Program) {
	if len(g.Offsets) == 0 {
		return
	}
	p.line("")
	if words := AsComputed(g); words != "" && !p.full {
		p.wrapped("", 3, words+" (--full lists the values).")
		return
	}
	p.wrapped("", 3, "Work offsets that it moves with, and what is computed for the setup where the rotary axes stood:")
	k := comparedBy(g)
	t := &table{head: append([]string{"verdict", "offset", "line", "value"}, k.heads()...), wraps: 3, indent: 3}
	for i := range g.Offsets {
		o := &g.Offsets[i]
		t.rows = append(t.rows, row{cells: append([]string{p.verdict(o.Verdict), p.bold(o.Number), strconv.Itoa(o.Line), Source(o.Source)}, k.values(o.Used)...)})
		if o.Source != "computed" && len(o.Computed) > 0 {
			t.rows = append(t.rows, row{cells: append([]string{"", "", "", "computed"}, k.values(o.Computed)...)})
		}
		if o.Words != "" {
			t.rows[len(t.rows)-1].below = []string{o.Words}
		}
	}
	p.table(t)
}

// AsComputed says in a line that all that the program moves with is taken as computed; "" where not all is.
func AsComputed(g *check.Program) string {
	var names, tools []string
	for i := range g.Offsets {
		if o := &g.Offsets[i]; o.Source != "computed" || o.Verdict != check.Clear || o.Words != "" {
			return ""
		}
		names = append(names, g.Offsets[i].Number)
	}
	for i := range g.Lengths {
		if l := &g.Lengths[i]; l.Source != "computed" || l.Verdict != check.Clear || l.Words != "" {
			return ""
		}
		tools = append(tools, fmt.Sprintf("T%d", g.Lengths[i].Tool))
	}
	if len(names) == 0 {
		return ""
	}
	words := "It moves with " + strings.Join(names, ", ")
	if len(tools) > 0 {
		words += " and the lengths of " + strings.Join(tools, ", ")
	}
	return words + ", all taken as computed, as the setup file does not say what is keyed in"
}

// Source words where a value comes from.
func Source(words string) string {
	if words == "program" {
		return "set by the program"
	}
	return words
}

// compared is in which columns positions are written, and in which units.
type compared struct {
	axes  []string
	units map[string]string
}

// comparedBy are the columns for the offsets of a program.
func comparedBy(g *check.Program) *compared {
	k := &compared{}
	for i := range g.Offsets {
		k.add(g.Offsets[i].Used)
		k.add(g.Offsets[i].Computed)
	}
	return k
}

// ProgramOffsets returns a table of the work offsets that a program moves with and, below each, of
// what is computed for it: heads of the columns of values, and the values by row.
func ProgramOffsets(g *check.Program) (heads []string, used, computed [][]string) {
	k := comparedBy(g)
	for i := range g.Offsets {
		used = append(used, k.values(g.Offsets[i].Used))
		computed = append(computed, k.values(g.Offsets[i].Computed))
	}
	return k.heads(), used, computed
}

func (k *compared) add(list []check.Position) {
	for _, at := range list {
		if k.units[at.Axis] != "" {
			continue
		}
		if k.units == nil {
			k.units = map[string]string{}
		}
		k.units[at.Axis] = at.Unit
		k.axes = append(k.axes, at.Axis)
	}
	slices.SortStableFunc(k.axes, check.ByLetter)
}

func (k *compared) heads() (heads []string) {
	for _, axis := range k.axes {
		heads = append(heads, axis+", "+k.units[axis])
	}
	return heads
}

func (k *compared) values(list []check.Position) []string {
	cells := make([]string, len(k.axes))
	for i, axis := range k.axes {
		for _, at := range list {
			if at.Axis == axis {
				cells[i] = fixed(at.Value, decimalsOf(at.Unit))
			}
		}
	}
	return cells
}

// decimalsOf is to how many decimals values of the control are printed.
func decimalsOf(unit string) int {
	if unit == "mm" {
		return 3
	}
	return 4
}

// programLengths writes the length offsets beside the lengths of the tool files.
func (p *page) programLengths(g *check.Program) {
	if len(g.Lengths) == 0 || AsComputed(g) != "" && !p.full {
		return
	}
	p.line("")
	unit := g.Lengths[0].Unit
	printed := func(mm float64) string {
		if unit == geom.Inch.String() {
			mm /= float64(geom.Inch)
		}
		return fixed(mm, decimalsOf(unit))
	}
	p.wrapped("", 3, fmt.Sprintf("Length offsets that it moves with, and what is computed from the tool files, %s:", unit))
	t := &table{head: []string{"verdict", "tool", "H", "line", "value", "used", "computed"}, wraps: 4, indent: 3}
	for i := range g.Lengths {
		l := &g.Lengths[i]
		h, computed := "none", "none"
		if l.H > 0 {
			h = strconv.Itoa(l.H)
		}
		if l.Computed != nil {
			computed = printed(*l.Computed)
		}
		r := row{cells: []string{p.verdict(l.Verdict), p.bold(toolOf(l)), h, strconv.Itoa(l.Line), Source(l.Source), printed(l.Used), computed}}
		if l.Words != "" {
			r.below = []string{l.Words}
		}
		t.rows = append(t.rows, r)
	}
	p.table(t)
}

// toolOf names the tool of a length offset.
func toolOf(l *check.ProgramLength) string {
	if l.Tool == 0 {
		return missing
	}
	return fmt.Sprintf("T%d", l.Tool)
}

// programStock says what becomes of the stock.
func (p *page) programStock(g *check.Program) {
	if len(g.Stock) == 0 {
		return
	}
	p.line("")
	for i := range g.Stock {
		p.wrapped("", 3, Stock(&g.Stock[i]))
	}
}

// Stock says what becomes of the stock of a part.
func Stock(s *check.ProgramStock) string {
	words := fmt.Sprintf("Stock of %s: %s cm3 as loaded, at most %s cm3 at the end", s.Part, fixed(s.Before/1000, 2), Up(min(s.Remaining, s.Before)/1000))
	if s.Left != nil {
		words += fmt.Sprintf(", %s cm3 of it outside the finished part", Up(*s.Left/1000))
	}
	return words + fmt.Sprintf(". It is held in cells of %s mm.", short(s.Cell, 3))
}

// LineOf names the line of a program that a finding is at, with its text, of which what cannot be printed
// is left out: "12 of o0007.nc: G1 X1.2".
func LineOf(f *check.Finding) string {
	words := strconv.Itoa(f.Line)
	if f.ProgramFile != "" {
		words += " of " + f.ProgramFile
	}
	block := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, f.Block)
	if block = strings.TrimSpace(block); block != "" {
		words += ": " + block
	}
	return words
}

// Depth says how deep something goes where it must not.
func Depth(f *check.Finding) string {
	words := fixed(*f.Depth, 2) + " mm"
	if f.Question == check.Gouging {
		return words + " below the finished surface"
	}
	return words + " into it"
}
