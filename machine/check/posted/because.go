package posted

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/program"
)

// because says what a linear axis of an offset that is off looks like: another axis' value, the
// wrong sign or unit, a number of holes. "" if like nothing.
func (c *comparison) because(k int, u *program.UsedOffset, right *computed) string {
	const inch = float64(geom.Inch)
	within := max(c.rounding(), 0.001)
	is := func(value float64) bool { return math.Abs(u.Values[k]-value) <= within }
	want := right.values[k]
	if math.Abs(want) > 1 {
		switch {
		case is(-want):
			return ": the sign is the other one"
		case math.Abs(u.Values[k]-want*inch) <= inch*within, is(want / inch): // what is computed is rounded, too
			return ": as if in the other unit of length"
		}
	}
	for n := range c.setup.Axes {
		if other := right.values[n]; n != k && math.Abs(other) > 1 && is(other) && c.setup.Axes[n].Kind == c.setup.Axes[k].Kind {
			return fmt.Sprintf(": it is what is computed for %s", c.setup.Axes[n].Letter)
		}
	}
	if words := c.pitches(math.Abs(u.Values[k] - want)); words != "" {
		return ": " + words
	}
	return ""
}

// halves are the numbers of half pitches by which a difference is told, the likelier first: of more, chance
// is as likely.
var halves = []int{2, 1, 4, 3, 6, 5, 8, 7}

// pitches says that a length is as much as a number of half pitches of a grid that something stands in; the
// likeliest, and of equal ones those of what is first in the setup file.
func (c *comparison) pitches(mm float64) string {
	within := max(c.rounding(), 0.005)
	for _, n := range halves {
		for i := range c.setup.Seats {
			seat := &c.setup.Seats[i]
			for _, pitch := range seat.Pitch {
				if pitch <= 0 || math.Abs(mm-float64(n)*pitch/2) > within {
					continue
				}
				return fmt.Sprintf("as much as %s of the holes of %s", times(n), holesOf(seat.On, seat.Grid))
			}
		}
	}
	return ""
}

func holesOf(on, grid string) string {
	if on == "machine" {
		on = "the table"
	}
	if grid == "" {
		return on
	}
	return on + ", " + grid
}

func times(halfPitches int) string {
	switch halfPitches {
	case 1:
		return "half the pitch"
	case 2:
		return "the pitch"
	}
	return fmt.Sprintf("%g times the pitch", float64(halfPitches)/2)
}

// length compares what a tool's length offset is to what is computed from its file.
func (c *comparison) length(u *program.UsedLength) {
	l := check.ProgramLength{Tool: u.Tool, H: u.H, Line: u.First.Line, Source: c.lengthSource(u), Used: u.Length, Verdict: check.Clear, Unit: controlUnit(c.setup).String()}
	tool := -1
	for i, t := range c.setup.Tools {
		if t.Number == u.Tool {
			tool = i
		}
	}
	var right float64
	err := fmt.Errorf("the tool files have no T%d", u.Tool)
	if u.Tool == 0 {
		err = errors.New("no tool is known to be in the spindle")
	}
	if tool >= 0 {
		right, err = offsets.Length(c.setup, c.setup.Tools[tool].LPR())
	}
	if err != nil {
		l.Verdict, l.Words = check.Unproven, "nothing is computed to compare it with: "+err.Error()
	} else {
		l.Computed = &right
		l.Words, l.Verdict = c.lengthDiffers(u, right, c.setup.Tools[tool].Within)
	}
	c.report.Program.Lengths = append(c.report.Program.Lengths, l)
	if l.Source == fromComputed {
		c.unkeyed = append(c.unkeyed, u.H)
	}
	if l.Verdict != check.Clear {
		c.finding(u.First, numberOf(u.Tool), l.Subject()+": "+l.Words)
	}
}

// numberOf is the number of a tool; nil where none is known.
func numberOf(tool int) *int {
	if tool == 0 {
		return nil
	}
	return &tool
}

// assumedLengths says what length offsets of these numbers rest on.
func assumedLengths(numbers []int) string {
	slices.Sort(numbers)
	numbers = slices.Compact(numbers)
	if len(numbers) == 1 {
		return fmt.Sprintf("H%d is not keyed in by the setup file ([[keyed.length]]): taken as the length of T%[1]d that is computed from the tool files", numbers[0])
	}
	names := make([]string, len(numbers))
	for i, h := range numbers {
		names[i] = fmt.Sprintf("H%d", h)
	}
	return fmt.Sprintf("%s are not keyed in by the setup file ([[keyed.length]]): taken as the lengths of the tools of the same numbers, computed from the tool files",
		enumerated(names))
}

func (c *comparison) lengthSource(u *program.UsedLength) string {
	if u.Set || u.H == 0 {
		return fromProgram
	}
	if c.setup.Keyed != nil {
		if _, keyed := c.setup.Keyed.Lengths[u.H]; keyed {
			return fromKeyed
		}
	}
	return fromComputed
}

// lengthDiffers says by what a length differs from the one computed, which can be off by within, mm.
func (c *comparison) lengthDiffers(u *program.UsedLength, right, within float64) (string, check.Verdict) {
	d := u.Length - right
	switch {
	case math.Abs(d) <= c.rounding():
		return "", check.Clear
	case math.Abs(d) <= within+c.rounding():
		return fmt.Sprintf("differs by %s, no more than the tool can be off", c.length3(d)), check.Clear
	case u.H == 0:
		return "feeds without a length offset", check.Unproven
	}
	words := "differs by " + c.length3(d)
	for _, t := range c.setup.Tools {
		if other, err := offsets.Length(c.setup, t.LPR()); err == nil && t.Number != u.Tool && math.Abs(u.Length-other) <= c.rounding() {
			return words + fmt.Sprintf(": it is the length of T%d", t.Number), check.Unproven
		}
	}
	return words, check.Unproven
}
