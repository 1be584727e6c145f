package pictures

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// notPresented returns a finding that shows the tool at a feature that no rotary position
// presents, the axes where they come nearest to it, if beyond their travel; nil if it
// cannot be worked out where that is.
func (sc *Scene) notPresented(o *check.Operation) *check.Finding {
	for i := range o.Features {
		q := &o.Features[i]
		if len(q.Presented) == 0 || q.Verdict == check.Clear || len(q.Travel) > 0 {
			continue
		}
		op, feature := sc.feature(o.Name, q.Name)
		if feature == nil {
			continue
		}
		p := sc.rotaryAt(q.Presented[0].At)
		p, ok := sc.tipAt(op, p, tipOf(feature))
		if !ok {
			continue
		}
		f := &check.Finding{Verdict: q.Verdict, Question: check.Presents, Reason: q.Reason, Params: p,
			Operation: o.Name, Feature: q.Name, Tool: &o.Tool}
		for k := range sc.setup.Axes {
			f.At = append(f.At, check.PositionOf(&sc.setup.Axes[k], p[k]))
		}
		return f
	}
	return nil
}

// feature finds a feature of an operation in the setup; nil if there is none.
func (sc *Scene) feature(operation, name string) (*machine.Operation, *machine.Feature) {
	for i := range sc.setup.Operations {
		o := &sc.setup.Operations[i]
		if o.Name != operation {
			continue
		}
		for k := range o.Features {
			if o.Features[k].Name == name {
				return o, &o.Features[k]
			}
		}
	}
	return nil, nil
}

// tipOf returns a place where the foremost point goes, in the part's frame.
func tipOf(f *machine.Feature) r3.Vector {
	switch {
	case len(f.Tips) > 0:
		return f.Tips[0]
	case f.Area != nil:
		return f.Area.Corner.Add(f.Area.U.Mul(0.5)).Add(f.Area.V.Mul(0.5))
	}
	return r3.Vector{}
}

// rotaryAt returns the axes at home but for those that are told.
func (sc *Scene) rotaryAt(at []check.Position) motion.Params {
	p := Home(sc.setup)
	for _, q := range at {
		for k := range sc.setup.Axes {
			a := &sc.setup.Axes[k]
			if a.Letter == q.Axis && a.Kind == motion.Rotary {
				p[k] = q.Value * math.Pi / 180
			}
		}
	}
	return p
}

// tipAt returns p with the linear axes where an operation's tool has its foremost point
// at a place of the part; ok is false if they cannot bring it there.
func (sc *Scene) tipAt(o *machine.Operation, p motion.Params, tip r3.Vector) (at motion.Params, ok bool) {
	var axes []kinematics.Axis
	for k := range sc.setup.Axes {
		a := &sc.setup.Axes[k]
		axes = append(axes, kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home})
	}
	m, err := kinematics.New(axes, sc.setup.Parts[o.Part].Chain, sc.setup.Spindle.Chain)
	if err != nil {
		return p, false
	}
	at, err = m.Linear(p, tip, sc.setup.Tools[o.Tool].LPR())
	return at, err == nil
}
