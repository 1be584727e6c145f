package machine

import (
	"fmt"
	"math"
	"slices"

	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// How far apart two holes may be and still be the same one: far below what any two
// holes of a part are apart.
const (
	sameHole = 0.1                 // mm, across
	sameAxis = 0.1 * math.Pi / 180 // rad
)

// follows reports whether a kind of cutter goes into a hole that is there already.
func follows(kind string) bool {
	return kind == tooling.Reamer || kind == tooling.Tap || kind == tooling.BoringBar
}

// opens reports whether a kind of cutter makes a hole that others can go into.
func opens(kind string) bool {
	return kind == tooling.Drill || kind == tooling.EndMill || kind == tooling.BallEndMill
}

// warnOfHoles warns of reamers, taps and boring bars that are sent where no operation
// before has drilled or milled: one warning for each operation.
func (b *builder) warnOfHoles() {
	s := b.setup
	for i := range s.Operations {
		op := &s.Operations[i]
		t := s.Tools[op.Tool]
		if !follows(t.Cutter.Kind) {
			continue
		}
		var solid []string
		for k := range op.Features {
			if f := &op.Features[k]; f.Kind == Hole && !s.opened(i, f) {
				solid = append(solid, f.Name)
			}
		}
		if len(solid) == 0 {
			continue
		}
		more := ""
		if len(solid) > 1 {
			more = fmt.Sprintf(" and %d more", len(solid)-1)
		}
		s.Warnings = append(s.Warnings, fmt.Sprintf("%s: operation %q: T%d, a %s, goes into %s%s, where no operation before it drills: is the hole in the stock already?",
			op.Where, op.Name, t.Number, t.Cutter.Kind, solid[0], more))
	}
}

// opened reports whether an operation before one makes a hole, or a pocket, at the place
// and along the axis of a hole of the same part, from either side.
func (s *Setup) opened(operation int, hole *Feature) bool {
	part := s.Operations[operation].Part
	return slices.ContainsFunc(s.Operations[:operation], func(op Operation) bool {
		return op.Part == part && opens(s.Tools[op.Tool].Cutter.Kind) &&
			slices.ContainsFunc(op.Features, func(f Feature) bool { return f.makes(hole) })
	})
}

// makes reports whether a feature takes out what is on the line of a hole.
func (f *Feature) makes(hole *Feature) bool {
	axis := hole.Axes[0]
	if len(f.Axes) != 1 || f.Axes[0].Cross(axis).Norm() > math.Sin(sameAxis) {
		return false
	}
	switch {
	case f.Kind == Hole:
		return across(f.Tips[0].Sub(hole.Tips[0]), axis) <= sameHole
	case f.Kind == Pocket && f.Area != nil:
		at := hole.Tips[0].Sub(f.Area.Corner)
		for _, side := range []r3.Vector{f.Area.U, f.Area.V} {
			if n := side.Norm2(); n > 0 { // square to each other
				at = at.Sub(side.Mul(max(0, min(1, at.Dot(side)/n))))
			}
		}
		return across(at, axis) <= sameHole
	case f.Kind == Pocket:
		return slices.ContainsFunc(f.Tips, func(tip r3.Vector) bool { return across(tip.Sub(hole.Tips[0]), axis) <= sameHole })
	}
	return false
}

// across is how long a vector is square to an axis.
func across(v, axis r3.Vector) float64 { return v.Sub(axis.Mul(v.Dot(axis))).Norm() }
