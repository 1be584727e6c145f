package program

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r3"
)

// majors are the major words and what they do (ISO 4343; what stands behind them from memory). It is
// filled in by init, since the list of them is in what some of them say.
var majors map[string]func(*locations) error

func init() {
	majors = map[string]func(*locations) error{
		"GOTO": (*locations).goto3, "GODLTA": (*locations).godlta, "FROM": (*locations).from, "TLAXIS": (*locations).tlaxis,
		"RAPID": (*locations).rapidly, "FEDRAT": (*locations).fedrat, "SPINDL": (*locations).spindl,
		"LOADTL": (*locations).loadtl, "CYCLE": (*locations).cycles, "CUTCOM": (*locations).cutcom,
		"UNITS": (*locations).units, "MULTAX": (*locations).multax, "DELAY": (*locations).delay,
		"STOP": (*locations).stop, "OPSTOP": (*locations).stop, "END": (*locations).end, "FINI": (*locations).fini,
	}
	for _, word := range strings.Fields("PARTNO PPRINT REMARK MACHIN TOOLNO CUTTER INTOL OUTTOL TOLER COOLNT SELECTL") {
		majors[word] = func(*locations) error { return nil }
	}
}

func majorList() string { return strings.Join(slices.Sorted(maps.Keys(majors)), ", ") }

// numbers returns the items as numbers, of which there must be one of the counts, in mm where
// they are lengths.
func (l *locations) numbers(counts ...int) ([]float64, error) {
	items := l.rec.items
	if !slices.Contains(counts, len(items)) {
		expected := fmt.Sprint(counts[0])
		for _, n := range counts[1:] {
			expected += fmt.Sprintf(" or %d", n)
		}
		return nil, l.fault("%s with %d numbers", expected, l.rec.word, len(items))
	}
	list := make([]float64, 0, 6)
	for i := range items {
		if items[i].word != "" {
			return nil, faultAt(&items[i], "a number")
		}
		list = append(list, items[i].number)
	}
	return list, nil
}

// point returns the point that three numbers are, in mm.
func (l *locations) point(n []float64) (r3.Vector, error) {
	if l.unit == 0 {
		return r3.Vector{}, l.fault("coordinates, and it is not known in which unit", "UNITS/MM or UNITS/INCHES before")
	}
	return r3.Vector{X: n[0], Y: n[1], Z: n[2]}.Mul(l.unit), nil
}

// mostOff is by how much the length of a tool axis may be off 1: what four decimals leave off.
const mostOff = 2e-4

func (l *locations) direction(n []float64) (r3.Vector, error) {
	v := r3.Vector{X: n[0], Y: n[1], Z: n[2]}
	if math.Abs(v.Norm()-1) > mostOff {
		return v, l.fault("a tool axis (%g, %g, %g) of length %.5g", "one of length 1", v.X, v.Y, v.Z, v.Norm())
	}
	return v.Normalize(), nil
}

// location reads GOTO and FROM: a tip and perhaps an axis.
func (l *locations) location() (tip, axis r3.Vector, err error) {
	n, err := l.numbers(3, 6)
	if err != nil {
		return tip, axis, err
	}
	if tip, err = l.point(n); err != nil {
		return tip, axis, err
	}
	if axis = l.axis; len(n) == 6 {
		axis, err = l.direction(n[3:])
	}
	return tip, axis, err
}

func (l *locations) goto3() error {
	tip, axis, err := l.location()
	if err != nil {
		return err
	}
	return l.goes(tip, axis)
}

// godlta moves by so much: along X, Y and Z, or one number along the tool's axis.
func (l *locations) godlta() error {
	n, err := l.numbers(1, 3)
	if err != nil {
		return err
	}
	if len(n) == 1 {
		n = []float64{n[0] * l.axis.X, n[0] * l.axis.Y, n[0] * l.axis.Z}
	}
	by, err := l.point(n)
	if err != nil {
		return err
	}
	if !l.moved {
		return l.fault("GODLTA before any location", "GOTO or FROM before")
	}
	if l.tip.Distance(l.said) > samePlace {
		return l.fault("GODLTA behind what has led the tool away from the location before it", "GOTO: from where it counts is not clear")
	}
	return l.goes(l.tip.Add(by), l.axis)
}

// goes does a location: a hole while a cycle is in force, else a move.
func (l *locations) goes(tip, axis r3.Vector) error {
	if l.tool == 0 {
		return l.fault("a location before any tool", "LOADTL before")
	}
	l.said = tip
	if l.cycle != nil {
		l.rapid = false
		return l.hole(tip, axis)
	}
	kind := Feed
	if l.rapid {
		kind = Rapid
	} else if err := l.fed(); err != nil {
		return err
	}
	l.rapid = false
	return l.goTo(kind, tip, axis, false)
}

func (l *locations) fed() error {
	if l.feed.mm == 0 {
		return l.fault("a feed of which it is not known how fast", "FEDRAT before")
	}
	return nil
}

// from says where the tool stands as the program begins. The axes stand where the tool was changed, and
// somebody drives them from there: a rapid.
func (l *locations) from() error {
	tip, axis, err := l.location()
	switch {
	case err != nil:
		return err
	case l.tool == 0:
		return l.fault("FROM before any tool", "LOADTL before: without its length it is not known where the axes stand")
	case l.moved:
		return l.fault("FROM after a move", "GOTO: a program begins in one place")
	}
	l.said = tip
	return l.goTo(Rapid, tip, axis, false)
}

func (l *locations) tlaxis() error {
	n, err := l.numbers(3)
	if err != nil {
		return err
	}
	axis, err := l.direction(n)
	if err == nil {
		l.axis, l.moved, l.shown = axis, false, false
		l.tip, _ = l.kin.Forward(l.pos, l.length)
	}
	return err
}

func (l *locations) rapidly() error {
	if len(l.rec.items) > 0 {
		return faultAt(&l.rec.items[0], "nothing after RAPID")
	}
	l.rapid = true
	return nil
}

// units reads UNITS.
func (l *locations) units() error {
	if len(l.rec.items) == 1 {
		switch l.rec.items[0].word {
		case "MM":
			l.unit = 1
			return nil
		case "INCHES", "INCH", "IN":
			l.unit = inch
			return nil
		}
	}
	return l.fault("UNITS of no unit", "UNITS/MM or UNITS/INCHES")
}

// multax says that locations have a tool axis; those that have one are read anyway.
func (l *locations) multax() error {
	if n := len(l.rec.items); n > 1 || n == 1 && l.rec.items[0].word != "ON" && l.rec.items[0].word != "OFF" {
		return faultAt(&l.rec.items[0], "ON, OFF or nothing")
	}
	return nil
}

// cutcom may only say that radius compensation is off: what it does to a path the control decides.
func (l *locations) cutcom() error {
	if len(l.rec.items) == 1 && l.rec.items[0].word == "OFF" {
		return nil
	}
	return l.fault("radius compensation", "CUTCOM/OFF, and locations of the tool itself")
}

// fini ends the program, with a step if nothing else has.
func (l *locations) fini() error {
	if !l.ended {
		l.add(End, len(l.legs)).Seconds = 0
	}
	l.ended = true
	return nil
}

// end is where the machine ends; what follows up to FINI is not read.
func (l *locations) end() error { return l.fini() }

func (l *locations) stop() error {
	if len(l.rec.items) > 0 {
		return faultAt(&l.rec.items[0], "nothing after "+l.rec.word)
	}
	l.add(Stop, len(l.legs))
	return nil
}
