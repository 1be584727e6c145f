package machine

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Spacer is a straight block, still to be made, that stands in for a component: its height may
// be anything from From to To. It is as wide as the component, the convex hull of its solids in
// plan, and goes from the seat's plane up; what stands on the component stands on it.
//
// Its height is one more parameter of every chain, that of an axis which no machine has
// (Axis.Free), counted from the middle of From and To: what it carries moves with that, along
// the seat's normal. The block itself, which is longer or shorter, is no solid that moves, so
// two bodies stand for it. Below stands on the seat and is To high; Above hangs down by To
// from what the block carries. At every height h each of them holds the true block:
//
//	below, from 0 to To, holds 0 to h;  above, from h - To to h, holds 0 to h,
//
// both being the block where From is To. So what keeps clear of one keeps clear of the block,
// and each other body is looked at against one of the two: against Above what it carries and
// what moves with the tool, which goes where that goes; against Below all else. Each has half
// the mass, which is right where From is To.
type Spacer struct {
	Place        string
	From, To     float64 // mm
	Axis         int     // of Setup.Axes
	Below, Above int     // of Setup.Bodies
}

// Middle is the height at which the parameter is 0, in mm.
func (p *Spacer) Middle() float64 { return p.From + (p.To-p.From)/2 }

// Half is how far the parameter goes either way, in mm.
func (p *Spacer) Half() float64 { return (p.To - p.From) / 2 }

// Spared reports whether two bodies need not be looked at since another one stands for one of
// the two there: see Spacer.
func (s *Setup) Spared(i, j int) bool {
	p := s.Spacer
	if p == nil {
		return false
	}
	instead := func(block, other int) bool {
		b := &s.Bodies[other]
		upper := b.OnTool || b.Chain.Uses()[p.Axis]
		return block == p.Below && upper || block == p.Above && !upper
	}
	return instead(i, j) || instead(j, i)
}

// heightAxis is what the axis is called.
const heightAxis = "height"

// Spacer returns the setup with a block of any height from one to another, in mm, in place of
// a component. It is no setup if that cannot be: the error is of Refused then, joined by
// errors.Join where there are several.
func (d *Draft) Spacer(place string, from, to float64) (*Setup, error) {
	if !(from > 0) || !(to >= from) || math.IsInf(to, 1) {
		return nil, refuse(place, "", fmt.Sprintf("heights from %g to %g mm", from, to), "heights above 0, the lesser first")
	}
	b := d.again()
	old := b.sets[place]
	if old == nil {
		return nil, refuse(place, "", "no component of that name", "%s", oneOf(place, b.placeNames()))
	}
	block, err := spacerFor(place, old, from, to)
	if err != nil {
		return nil, err
	}
	if err := b.seatedOnly(place); err != nil {
		return nil, err
	}
	b.sets[place] = block
	b.build()
	if err := b.refusals(); err != nil {
		return nil, err
	}
	p := b.done[place]
	s := b.setup
	s.Spacer = &Spacer{Place: place, From: from, To: to, Axis: p.params[0], Below: p.bodies[0], Above: p.bodies[1]}
	return s, s.spaced()
}

// seatedOnly refuses what stands on a component by coordinates of its own, which say nothing of
// where it stands on a higher one. In coordinates of a grid they do.
func (b *builder) seatedOnly(place string) error {
	for i := range b.file.Places {
		t := &b.file.Places[i]
		if t.Pins == nil && t.Keyed == nil && t.On == place {
			return refuse(t.Name, "on", quoted(t.On)+", by coordinates", "pins in a grid of it, or coordinates on that grid")
		}
	}
	return nil
}

// spaced refuses what a block of any height cannot be looked at with.
func (s *Setup) spaced() error {
	p := s.Spacer
	rises := func(i int) bool { return s.Bodies[i].Chain.Uses()[p.Axis] }
	carries := false
	for i := range s.Bodies {
		carries = carries || i != p.Above && rises(i)
	}
	if !carries {
		return refuse(p.Place, "", "nothing that stands on it", "a component in a grid of it")
	}
	if s.Bodies[p.Below].OnTool {
		return refuse(p.Place, "", "a component that moves with the tool", "one that carries a workpiece")
	}
	var list []error
	for _, m := range s.Matings {
		if rises(m.A) != rises(m.B) {
			list = append(list, refuse(s.Bodies[m.A].Unit, "", "it touches "+s.Bodies[m.B].Name+" as well", "what stands on %s alone", p.Place))
		}
	}
	for _, st := range s.Standing {
		if s.parted(&st, rises) {
			list = append(list, refuse(st.Unit, "", "it stands on "+st.On+" as well", "what stands on %s alone", p.Place))
		}
	}
	for _, part := range s.Parts {
		if part.Probed != nil && part.Chain.Uses()[p.Axis] {
			list = append(list, refuse(part.Unit, "", "where probing found it", "a part that was not probed: it will stand elsewhere"))
		}
	}
	for k := range s.Axes {
		if a := &s.Axes[k]; a.Measured && s.unitRises(a.Unit, rises) {
			list = append(list, refuse(a.Unit, "", "axis "+a.Letter+" as it was measured", "an axis that was not measured: it will stand elsewhere"))
		}
	}
	return errors.Join(list...)
}

// parted reports whether a unit and what it is said to stand on, or to be gripped by, do not
// all rise together; the block's own seat does not rise.
func (s *Setup) parted(st *Standing, rises func(int) bool) bool {
	if st.Unit == s.Spacer.Place {
		return slices.ContainsFunc(st.Bodies, rises)
	}
	up := s.unitRises(st.Unit, rises)
	for _, i := range slices.Concat(st.Bodies, st.Grips) {
		if rises(i) != up {
			return true
		}
	}
	return len(st.Bodies) == 0 && st.On != s.Spacer.Place && s.unitRises(st.On, rises) != up
}

// unitRises reports whether a body of a unit does.
func (s *Setup) unitRises(unit string, rises func(int) bool) bool {
	for i := range s.Bodies {
		if s.Bodies[i].Unit == unit && rises(i) {
			return true
		}
	}
	return false
}
