package offsets

import (
	"errors"
	"fmt"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// What a value comes from.
const (
	Nominal  = "NOMINAL"  // drawings and files
	Measured = "MEASURED" // at the machine
)

// What keeps a setup from having offsets at all.
var (
	ErrNoMethod  = errors.New("the machine file does not state how its control treats offsets ([offsets], method and lengths)")
	ErrNoSpindle = errors.New("the machine file has no [spindle]: offsets are where it stands at the part's zero")
	errNoTouch   = errors.New("no axis is called Z, or there is no part: there is nothing to touch tools off on")
)

// Of returns what to key in for a setup.
//
// For each part, by its index, used lists the rotary positions that its operations are done
// at (entries of linear axes do not count; positions that are the same but
// for whole turns count once). Of a part without any, or if used is nil, it is
// rotary zero. A control that turns offsets itself has one for each part, at rotary
// zero, whatever is used.
//
// A work offset is the position of the linear axes at which the gauge point is
// at the part's zero (absolute lengths), the common shift added along Z. Where lengths are
// touched off, Z counts from the first part's zero at rotary zero, where they are.
//
// What holds for one part only, such as linear axes that do not span, is said in the
// notes, and the other parts are done. An error is ErrNoMethod or ErrNoSpindle.
func Of(s *machine.Setup, used [][]motion.Params) (*check.Offsets, error) {
	if err := Possible(s); err != nil {
		return nil, err
	}
	// Offsets are those of the drawing, corrected by what probing found.
	s = s.Drawn()
	b := &builder{setup: s, rules: s.Offsets, unit: float64(s.Offsets.Unit)}
	if b.unit == 0 {
		b.unit = float64(geom.Millimetre)
	}
	b.out = &check.Offsets{
		Method: b.rules.Method, Lengths: b.rules.Lengths, Basis: Nominal,
		Unit: geom.Unit(b.unit).String(), Decimals: b.rules.Decimals, Shift: b.length(b.rules.Shift),
		Offsets: []check.WorkOffset{}, Probing: []check.Probing{}, Notes: []string{},
	}
	b.readParts()
	b.number()
	for _, p := range b.parts {
		list := []motion.Params{zero(s)}
		if b.rules.Method == machine.PerPosition && p.index < len(used) && len(used[p.index]) > 0 {
			list = p.distinct(used[p.index])
		}
		first := true
		for _, at := range list {
			if b.workOffset(p, at, first) {
				first = false
			}
		}
	}
	if b.rules.Method == machine.TurnedByControl {
		b.centres()
	}
	for _, p := range b.parts {
		b.probe(p)
	}
	b.basis()
	b.cautions()
	return b.out, nil
}

// Possible returns what keeps a setup from having offsets at all: ErrNoMethod, ErrNoSpindle or
// nil.
func Possible(s *machine.Setup) error {
	switch {
	case s.Offsets == nil:
		return ErrNoMethod
	case s.Spindle == nil:
		return ErrNoSpindle
	}
	return nil
}

// builder puts the offsets together.
type builder struct {
	setup *machine.Setup
	rules *machine.OffsetRules
	unit  float64 // mm
	out   *check.Offsets
	parts []*part
	free  []string // numbers that are left
	// touched is where Z stands at the first part's zero at rotary zero, mm.
	touched float64
}

// zero is where everything is told from: rotary axes at 0, linear axes at home.
func zero(s *machine.Setup) (p motion.Params) {
	for k := range s.Axes {
		if s.Axes[k].Kind == motion.Linear {
			p[k] = s.Axes[k].Home
		}
	}
	return p
}

// note adds to what is said once.
func (b *builder) note(format string, args ...any) {
	b.out.Notes = append(b.out.Notes, fmt.Sprintf(format, args...))
}
