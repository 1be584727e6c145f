package machine

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"gridswing/geom/motion"
)

// code is a G or M code as the files write it: without leading zeros, so that each
// has one name.
var code = regexp.MustCompile(`^[GM](0|[1-9][0-9]{0,2})(\.[1-9])?$`)

// settled are the codes whose meaning ISO 6983-1 or NISTIR 6556 settles, or that cycles have
// everywhere (G73, G74, G76: common practice, no source): a machine file may not give them
// another one.
var settled = strings.Fields(`G0 G1 G2 G3 G4 G10 G17 G18 G19 G20 G21 G28 G30 G40 G41 G42 G43 G49 G53 G54 G55 G56
	G57 G58 G59 G59.1 G59.2 G59.3 G73 G74 G76 G80 G81 G82 G83 G84 G85 G86 G87 G88 G89 G90 G91
	G92 G92.1 G92.2 G92.3 G93 G94 G95 G98 G99
	M0 M1 M2 M3 M4 M5 M6 M7 M8 M9 M30 M48 M49 M60 M98 M99`)

// mostDigits is how many digits the number of a subprogram can be filled up to.
const mostDigits = 8

// control reads how a machine's control reads programs. The positions of its second home
// need the axes: addControl has them.
func (s *source) control(t *programTable, unit scale) *Control {
	c := &Control{
		PlainNumbers: s.choice(t.Path+".number_without_point", t.Plain, AsWritten, SmallestSteps),
		Centres:      s.choice(t.Path+".arc_centres", t.Centres, FromStart, FromZero),
		HomeReturn:   s.choice(t.Path+".home_return", t.HomeReturn, ThroughPoint, Direct),
		HomeAxes:     s.choice(t.Path+".home_axes", t.HomeAxes, AllAxes, NamedAxes),
		HomeRapid:    s.choice(t.Path+".home_rapid", t.HomeRapid, Interpolated, EachByItself),
		LengthMoves:  s.choice(t.Path+".length_moves", t.LengthMoves, WithNextMove, AtOnce),
		Corners:      s.choice(t.Path+".corners", t.Corners, RoundCorners, SharpCorners),
		Entry:        s.choice(t.Path+".radius_begins", t.Entry, SquareToNext, Touching),
		Return:       s.choice(t.Path+".cycle_return", t.Return, BeforeFirst, BeforeBlock),
		Dwell:        s.choice(t.Path+".dwell", t.Dwell, Seconds, Milliseconds),
		Repeats:      s.choice(t.Path+".repeats", t.Repeats, "L", "K"),
		Starts:       t.Starts, Codes: t.Codes, Subprograms: t.Subprograms,
		BlockDelete: t.BlockDelete, Expressions: t.Expressions, ChangeMoves: t.ChangeMoves,
		Step:          s.stated(t.Path+".smallest_step", t.Step, unit),
		ArcTolerance:  s.stated(t.Path+".arc_tolerance", t.ArcTolerance, unit),
		ChangeSeconds: s.stated(t.Path+".change_seconds", t.ChangeSeconds, 1),
	}
	if t.TurnStep != nil {
		c.TurnStep = radians(s.positive(t.Path+".smallest_turn", *t.TurnStep))
	}
	c.PeckClear = s.statedGap(t.Path+".peck_clear", t.PeckClear, unit)
	c.ChipBreak = s.statedGap(t.Path+".chip_break", t.ChipBreak, unit)
	if c.PlainNumbers == SmallestSteps && c.Step == 0 {
		s.fault(t.Path+".number_without_point", quoted(SmallestSteps)+" and no smallest_step", "smallest_step = 0.001, what such a number counts")
	}
	s.starts(t)
	s.codes(t)
	s.subprograms(t, c)
	return c
}

// choice reads a key that says one of two things.
func (s *source) choice(path, value, one, other string) string {
	if s.states(path) && value != one && value != other {
		s.fault(path, quoted(value), "%q or %q", one, other)
	}
	return value
}

// statedGap reads a length that may be 0 or not be stated.
func (s *source) statedGap(path string, v *float64, unit scale) *float64 {
	if v == nil {
		return nil
	}
	mm := unit.mm(s.notNegative(path, *v))
	return &mm
}

// starts reads the codes that hold when a program begins.
func (s *source) starts(t *programTable) {
	for i, name := range t.Starts {
		path := fmt.Sprintf("%s.starts_with[%d]", t.Path, i)
		switch {
		case !code.MatchString(name):
			s.fault(path, quoted(name), `a code without leading zeros, such as "G17"`)
		case slices.Contains(t.Starts[:i], name):
			s.fault(path, quoted(name)+" a second time", "each code once")
		}
	}
}

// codes reads what the codes do that no standard settles.
func (s *source) codes(t *programTable) {
	for _, name := range slices.Sorted(maps.Keys(t.Codes)) {
		meaning := t.Codes[name]
		path := join(t.Path+".codes", name)
		line, column := s.at(path)
		fault := func(found, expected string) {
			s.add(&Error{File: s.name, Line: line, Column: column, Key: name, Found: found, Expected: expected, path: path})
		}
		switch {
		case !code.MatchString(name):
			fault(quoted(name), `a code without leading zeros, such as "G271"`)
		case slices.Contains(settled, name):
			fault(name+", whose meaning is settled by standards", "a code of the control's own")
		case !slices.Contains(CodeMeanings(), meaning):
			fault(quoted(meaning), oneOf(meaning, CodeMeanings()))
		}
	}
}

// subprograms reads what files of subprograms are called.
func (s *source) subprograms(t *programTable, c *Control) {
	path := t.Path + ".subprograms"
	if s.states(path) && (strings.Count(t.Subprograms, "{number}") != 1 || strings.ContainsAny(t.Subprograms, "/\\\n\r\t")) {
		s.fault(path, quoted(t.Subprograms), `a file name with {number} in it, such as "{number}.nc", in the folder of the program`)
	}
	if t.Digits == nil {
		return
	}
	switch c.Digits = *t.Digits; {
	case !s.states(path):
		s.fault(t.Path+".digits", fmt.Sprint(c.Digits)+" and no subprograms", `subprograms = "{number}.nc", whose number is filled up to as many`)
	case c.Digits < 1 || c.Digits > mostDigits:
		s.fault(t.Path+".digits", fmt.Sprint(c.Digits), "1 to %d", mostDigits)
	}
}

// addControl gives the setup what its machine says of programs.
func (b *builder) addControl() {
	if b.machine.control == nil {
		return
	}
	c := *b.machine.control
	c.SecondHome = b.secondHome()
	b.setup.Control = &c
}

// secondHome reads where G30 goes. The axes of units, of which the machine file knows
// nothing, go home.
func (b *builder) secondHome() *motion.Params {
	stated := b.machine.secondHome
	if stated == nil {
		return nil
	}
	src, unit := b.machine.src, b.machine.assembly.unit
	const path = "program.second_home"
	var at motion.Params
	var known []string
	for i := range b.setup.Axes {
		a := &b.setup.Axes[i]
		at[i] = a.Home
		if a.Unit != "" || a.Free {
			continue
		}
		known = append(known, a.Letter)
		v, ok := stated[a.Letter]
		if !ok {
			src.fault(path, "no "+a.Letter, "a position of each axis of the machine")
			continue
		}
		if at[i] = unit.mm(v); a.Kind == motion.Rotary {
			at[i] = radians(v)
		}
		if !span(a.Travel).holds(at[i]) {
			src.fault(path+"."+a.Letter, fmt.Sprint(v), "a position within the travel of %s, %g to %g",
				a.Letter, showPosition(a.Kind, a.Travel[0], unit), showPosition(a.Kind, a.Travel[1], unit))
		}
	}
	for _, letter := range slices.Sorted(maps.Keys(stated)) {
		if !slices.Contains(known, letter) {
			src.fault(path+"."+letter, quoted(letter), "an axis of the machine: %s", oneOf(letter, known))
		}
	}
	return &at
}
