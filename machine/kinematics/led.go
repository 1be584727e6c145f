package kinematics

import (
	"errors"
	"math"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

var errUnbounded = errors.New("it cannot be told how far the axes leave a straight line where the tip is led so")

// Led appends the legs that the axes go while the control leads the tip of a tool of the given
// length evenly along a straight line, from where the axes stand with it at tipFrom, and each
// other axis evenly to where to has it. Where the linear axes go is found here: the last leg ends
// as is returned.
//
// It is an error if the linear axes do not span space somewhere on the way, or if how far they
// leave their lines has no bound; then nothing is appended.
func (m *Machine) Led(legs []Leg, from, to motion.Params, tipFrom, tipTo r3.Vector, length float64) ([]Leg, motion.Params, error) {
	s, err := m.ledFrom(from, to, tipFrom, tipTo, length)
	if err != nil {
		return legs, to, err
	}
	if !s.turns() {
		return append(legs, Leg{From: s.from, To: s.to}), s.to, nil
	}
	if within, ok := s.atOnce(); ok {
		return append(legs, Leg{From: s.from, To: s.to, Within: within}), s.to, nil
	}
	deviation := s.deviation()
	if math.IsInf(slices.Max(deviation[:]), 1) {
		return legs, s.to, errUnbounded
	}
	start := len(legs)
	for _, piece := range s.parted(deviation) {
		within := piece.deviation()
		if math.IsInf(slices.Max(within[:]), 1) {
			return legs[:start], s.to, errUnbounded
		}
		legs = append(legs, Leg{From: piece.from, To: piece.to, Within: within})
	}
	return legs, s.to, nil
}

// Either appends legs that hold both the way on which the tip is led as with Led and the one on
// which every axis goes evenly: they lie on the latter, and say how far the former is from it.
// Errors are those of Led.
func (m *Machine) Either(legs []Leg, from, to motion.Params, tipFrom, tipTo r3.Vector, length float64) ([]Leg, motion.Params, error) {
	s, err := m.ledFrom(from, to, tipFrom, tipTo, length)
	if err != nil {
		return legs, to, err
	}
	if !s.turns() {
		return append(legs, Leg{From: s.from, To: s.to}), s.to, nil
	}
	start := len(legs)
	var before motion.Params // how far they are apart where the piece begins
	for i := range pieces {
		f, g := float64(i)/pieces, float64(i+1)/pieces
		led, err := m.Linear(s.at(g), s.tip(g), length)
		if err != nil {
			return legs[:start], s.to, err
		}
		leg := Leg{From: s.at(f), To: s.at(g)}
		if i+1 == pieces {
			leg.To = s.to
		}
		bend := s.bend(f, g)
		if math.IsInf(bend, 1) {
			return legs[:start], s.to, errUnbounded
		}
		for _, k := range m.linear {
			apart := math.Abs(led[k] - leg.To[k])
			leg.Within[k], before[k] = max(before[k], apart)+bend/8+rounding, apart
		}
		legs = append(legs, leg)
	}
	return legs, s.to, nil
}

// ledFrom is the stretch from where the axes stand to another tip.
func (m *Machine) ledFrom(from, to motion.Params, tipFrom, tipTo r3.Vector, length float64) (stretch, error) {
	s := stretch{m: m, tipFrom: tipFrom, tipTo: tipTo, length: length}
	var err error
	s.from = from
	s.to, err = m.Linear(to, tipTo, length)
	return s, err
}

// atOnce bounds the deviation of a stretch in one piece: |x - chord| <= max|x”|/8, since the ends
// are on the chord. It is good enough for the short blocks of a posted program; ok is false where
// it is not.
func (s *stretch) atOnce() (d motion.Params, ok bool) {
	off := s.bend(0, 1)/8 + rounding
	if !(off <= hardly/4) {
		return d, false
	}
	for _, k := range s.m.linear {
		d[k] = off
	}
	return d, true
}
