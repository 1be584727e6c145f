package posted

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/program"
)

// Compare adds to Report.Program, which must be there, the offsets and lengths that the program has moved with
// beside those computed for the setup where the rotary axes stood. One that differs by more
// than the part, or the tool, can be off anyway is a finding, unproven: all of the program was looked
// at as it is, and what it cuts stands elsewhere than the setup has it. How far parts can be off is taken from
// Report.Stack.
func Compare(s *machine.Setup, r *check.Report, used *program.Used) {
	c := &comparison{setup: s, report: r}
	for i := range used.Offsets {
		c.offset(&used.Offsets[i])
	}
	for i := range used.Lengths {
		c.length(&used.Lengths[i])
	}
	if len(c.computedOffsets) > 0 {
		r.Program.Assumed = append(r.Program.Assumed, assumedOffsets(c.computedOffsets))
	}
	r.Program.Assumed = append(r.Program.Assumed, c.partly...)
	if len(c.unkeyed) > 0 {
		r.Program.Assumed = append(r.Program.Assumed, assumedLengths(c.unkeyed))
	}
	r.Conclude()
}

// comparison holds one comparison while it is made.
type comparison struct {
	setup  *machine.Setup
	report *check.Report
	// What is taken as computed: work offsets, and numbers of length offsets.
	computedOffsets []string
	unkeyed         []int
	partly          []string // of offsets of which not every axis is keyed in
}

// offset compares one work offset.
func (c *comparison) offset(u *program.UsedOffset) {
	s := c.setup
	o := check.ProgramOffset{Number: u.Name, Line: u.First.Line, Source: c.source(u), Computed: []check.Position{}, Verdict: check.Clear}
	right, err := c.computed(u)
	unit := controlUnit(s)
	for k := range s.Axes {
		if main := s.Axes[k].Kind == motion.Linear && !secondary(s.Axes[k].Letter); main || u.Values[k] != 0 || right != nil && right.values[k] != 0 {
			o.Used = append(o.Used, positionIn(&s.Axes[k], u.Values[k], unit))
			if right != nil {
				o.Computed = append(o.Computed, positionIn(&s.Axes[k], right.values[k], unit))
			}
		}
	}
	switch {
	case err != nil:
		o.Verdict, o.Words = check.Unproven, "nothing is computed to compare it with: "+err.Error()
	default:
		o.Words, o.Verdict = c.differs(u, right)
	}
	c.report.Program.Offsets = append(c.report.Program.Offsets, o)
	if o.Source == fromComputed {
		c.computedOffsets = append(c.computedOffsets, o.Number)
	} else if words := assumed(s, &o); words != "" {
		c.partly = append(c.partly, words)
	}
	if o.Verdict != check.Clear {
		c.finding(u.First, nil, fmt.Sprintf("%s: %s", u.Name, o.Words))
	}
}

// finding adds what is not as computed.
func (c *comparison) finding(at program.Place, tool *int, reason string) {
	f := check.Finding{Verdict: check.Unproven, Question: check.Keyed, Line: at.Line, Tool: tool, Reason: reason, At: []check.Position{}, Over: []check.Range{}}
	if at.File != c.report.Program.File {
		f.ProgramFile = at.File
	}
	c.report.Findings = append(c.report.Findings, f)
}

func (c *comparison) source(u *program.UsedOffset) string {
	if u.Set {
		return fromProgram
	}
	if c.setup.Keyed != nil {
		if _, keyed := c.setup.Keyed.Offsets[u.Name]; keyed {
			return fromKeyed
		}
	}
	return fromComputed
}

// positionIn returns a position in the control's unit.
func positionIn(a *machine.Axis, value float64, unit geom.Unit) check.Position {
	p := check.PositionOf(a, value)
	if a.Kind == motion.Linear {
		p.Value, p.Unit = math.Round(value/float64(unit)*1e6)/1e6+0, unit.String()
	}
	return p
}

// computed is a work offset as it should be.
type computed struct {
	part   string
	values motion.Params
}

// computed returns what is computed for where the rotary axes stood: for the part that has the
// offset by the setup or, without one, for the part whose offset comes nearest to it.
func (c *comparison) computed(u *program.UsedOffset) (*computed, error) {
	s := c.setup
	at := u.Rotary
	if u.Carried {
		at = motion.Params{}
	}
	used := make([][]motion.Params, len(s.Parts))
	for i := range used {
		used[i] = []motion.Params{at}
	}
	table, err := offsets.Of(s, used)
	if err != nil {
		return nil, err
	}
	var best *computed
	least := math.Inf(1)
	for i := range table.Offsets {
		o := &table.Offsets[i]
		right := &computed{o.Part, valuesOf(s, o)}
		if slices.ContainsFunc(s.Parts, func(p machine.Part) bool { return p.Name == o.Part && p.Offset == u.Name }) {
			return right, nil
		}
		if d := c.apart(u.Values, right.values); d < least {
			best, least = right, d
		}
	}
	if best == nil {
		if len(s.Parts) == 0 {
			return nil, fmt.Errorf("the setup has no [[part]]")
		}
		return nil, fmt.Errorf("%s", strings.Join(table.Notes, "; "))
	}
	return best, nil
}

// apart is how far two offsets are apart, mm, linear axes only.
func (c *comparison) apart(a, b motion.Params) float64 {
	sum := 0.0
	for k := range c.setup.Axes {
		if c.setup.Axes[k].Kind == motion.Linear {
			sum += (a[k] - b[k]) * (a[k] - b[k])
		}
	}
	return math.Sqrt(sum)
}

const (
	anglesRounded = 1e-4 // degrees: of what is added to a rotary axis
	slack         = 1e-6 // mm: of float64 arithmetic
)

// rounding is what a length keyed in with the control's decimals can be off, mm.
func (c *comparison) rounding() float64 { return resolution(c.setup) + slack }

// resolution is the last decimal of what is keyed in at the control, mm; 0 where nothing is stated of it.
func resolution(s *machine.Setup) float64 {
	if s.Offsets == nil {
		return 0
	}
	return float64(controlUnit(s)) * math.Pow(10, -float64(s.Offsets.Decimals))
}

// controlUnit is what the control counts lengths in.
func controlUnit(s *machine.Setup) geom.Unit {
	if s.Offsets == nil || s.Offsets.Unit == 0 {
		return geom.Millimetre
	}
	return s.Offsets.Unit
}

// differs says by what an offset differs from the one computed.
func (c *comparison) differs(u *program.UsedOffset, right *computed) (string, check.Verdict) {
	off, angle := c.off(right.part)
	var small, large []string
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		d := u.Values[k] - right.values[k]
		if a.Kind == motion.Rotary {
			d = math.Remainder(d, 2*math.Pi) * 180 / math.Pi
			switch {
			case math.Abs(d) > angle+anglesRounded:
				large = append(large, fmt.Sprintf("%s differs by %+.4f deg", a.Letter, d))
			case math.Abs(d) > anglesRounded:
				small = append(small, fmt.Sprintf("%s by %+.4f deg", a.Letter, d))
			}
			continue
		}
		switch {
		case math.Abs(d) > off+c.rounding():
			large = append(large, fmt.Sprintf("%s differs by %s%s", a.Letter, c.length3(d), c.because(k, u, right)))
		case math.Abs(d) > c.rounding():
			small = append(small, a.Letter+" by "+c.length3(d))
		}
	}
	switch {
	case len(large) > 0:
		return strings.Join(large, "; "), check.Unproven
	case len(small) > 0:
		return "differs in " + strings.Join(small, ", ") + ", no more than the part can be off", check.Clear
	}
	return "", check.Clear
}

// length3 prints a difference in the control's unit, with its sign.
func (c *comparison) length3(mm float64) string {
	if controlUnit(c.setup) == geom.Inch {
		return fmt.Sprintf("%+.4f inch", mm/float64(geom.Inch))
	}
	return fmt.Sprintf("%+.3f mm", mm)
}

// off is how far the zero of a part can be off against the tool, mm and degrees.
func (c *comparison) off(part string) (mm, angle float64) {
	if c.report.Stack == nil {
		return 0, 0
	}
	for i := range c.report.Stack.Locations {
		if l := &c.report.Stack.Locations[i]; l.Part == part && l.Point == check.PartZero && l.To == check.FromTool {
			mm, angle = max(mm, l.Off), max(angle, l.Angle)
		}
	}
	return mm, angle
}
