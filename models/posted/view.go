package main

import (
	"fmt"
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// shop is the setup that programs are written for.
type shop struct {
	setup *machine.Setup
	kin   *kinematics.Machine
	a, c  int // parameters of the rotary axes
	z     int // and of Z
	stock geom.Box
}

func newShop(s *machine.Setup) (*shop, error) {
	if len(s.Parts) != 1 || s.Spindle == nil {
		return nil, fmt.Errorf("%s: %d parts, one and a spindle expected", s.File, len(s.Parts))
	}
	w := &shop{setup: s, a: -1, c: -1, z: -1}
	axes := make([]kinematics.Axis, len(s.Axes))
	for k := range s.Axes {
		x := &s.Axes[k]
		axes[k] = kinematics.Axis{Kind: x.Kind, Lo: x.Travel[0], Hi: x.Travel[1], Home: x.Home}
		for letter, to := range map[string]*int{"A": &w.a, "C": &w.c, "Z": &w.z} {
			if x.Letter == letter {
				*to = k
			}
		}
	}
	if min(w.a, w.c, w.z) < 0 {
		return nil, fmt.Errorf("%s: no axis A, C or Z", s.File)
	}
	var err error
	if w.kin, err = kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain); err != nil {
		return nil, err
	}
	w.stock = geom.EmptyBox()
	back := s.Parts[0].Chain.Home.Inverse()
	for i := range s.Bodies {
		if b := &s.Bodies[i]; b.Unit == s.Parts[0].Unit {
			toPart := back.Mul(b.Chain.Home)
			for _, at := range b.Solid.Audit.Bounds.Corners() {
				w.stock = w.stock.Include(toPart.Point(at))
			}
		}
	}
	return w, nil
}

// top is how far the stock reaches along an axis out of the part.
func (w *shop) top(axis r3.Vector) float64 {
	most := math.Inf(-1)
	for _, at := range w.stock.Corners() {
		most = max(most, at.Dot(axis))
	}
	return most
}

// view is one rotary position with the zero carried along: coordinates count from the part's
// zero in the directions of the machine.
type view struct {
	at   motion.Params
	part geom.Pose
}

// present returns the rotary position at which the tool lies along axis, nearest to home and
// C never negative.
func (w *shop) present(axis r3.Vector) (view, error) {
	var home motion.Params
	for _, s := range w.kin.Present(axis, home) {
		if s.Miss > 0 {
			continue
		}
		for _, p := range w.kin.Turns(s, home) {
			if p[w.c] < 0 {
				p[w.c] += 2 * math.Pi
			}
			return view{p, w.setup.Parts[0].Chain.Pose(p)}, nil
		}
	}
	return view{}, fmt.Errorf("no rotary position for %v", axis)
}

// to turns a point of the part into coordinates.
func (v *view) to(p r3.Vector) r3.Vector { return v.part.Dir(p) }

// rotary are the words of the position.
func (w *shop) rotary(p motion.Params) []word {
	return []word{{"A", p[w.a] * 180 / math.Pi}, {"C", p[w.c] * 180 / math.Pi}}
}

// underTop is how far below the upper end of Z a tool first goes over the part, mm.
const underTop = 60.0

// high returns the point above tip, along the axis of the tool, at which Z stands just under
// its upper end.
func (w *shop) high(at motion.Params, tip r3.Vector, lpr float64) (r3.Vector, error) {
	p, err := w.kin.Linear(at, tip, lpr)
	if err != nil {
		return tip, err
	}
	_, axis := w.kin.Forward(p, lpr)
	return tip.Add(axis.Mul(w.setup.Axes[w.z].Travel[1] - underTop - p[w.z])), nil
}
