package reach

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// Offer is a feature and every rotary position at which it could be cut.
type Offer struct {
	Operation, Feature int // indices into Setup.Operations and its Features
	// Tilt is the rotary axis nearer to the spindle, as an index into Setup.Axes, and Pivot the
	// position, rad, at which it lays the tool along the other one; -1 and 0 if there is none.
	Tilt  int
	Pivot float64
	// Moves lists the rotary axes that have a part in where the tool is at this feature.
	Moves []int
	// Stands is never empty: where no position presents the feature it says so.
	Stands []Stand
}

// Stand is a rotary position for a feature, and what was found of it there alone: not of the
// way from one feature to the next.
type Stand struct {
	// Rotary is where the program has the rotary axes when the tool gets there, rad, Leave where
	// when it goes on: somewhere else only after a contour whose axis changes. Axes without
	// ends are within the turn that a control shows, linear axes at home.
	Rotary, Leave motion.Params
	// Above and Below say on which side of the pivot it is: both of a position that is at the
	// pivot, neither of a contour that goes over from one side to the other.
	Above, Below bool
	Free         int     // an axis wherever which stands the feature is presented, -1
	Miss         float64 // rad, by which the tool's axis is off; 0 if the feature is presented
	Possible     bool    // the tool can be sent there at all
	Verdict      check.Verdict
	Why          string // what the verdict is about, "" of a clear one
}

// Offers looks at every feature at every rotary position that presents it: at both solutions,
// with every whole turn that is within travel. An axis that may stand anywhere is looked at
// wherever it may have been left by the feature before, where the next one needs it, and where the
// operation states it. What else an operation states is not asked. The order is that of operations
// and features. Without a spindle there are none. The only error is the context's.
func Offers(ctx context.Context, s *machine.Setup, o Options) ([]Offer, error) {
	if s.Spindle == nil {
		return nil, nil
	}
	o = o.Ready(DefaultTests)
	c := &checker{setup: s, options: o, trees: o.Trees}
	c.prepare()
	offered := c.offer()
	for _, st := range offered {
		for _, cand := range st.candidates {
			one := *st
			one.candidates = []*candidate{cand}
			c.stops = append(c.stops, &one)
		}
	}
	c.alike()
	for _, stage := range []func(context.Context) error{c.screen, c.look} {
		if err := stage(ctx); err != nil {
			return nil, err
		}
	}
	list := make([]Offer, len(offered))
	for i, st := range offered {
		list[i] = c.offerOf(st)
	}
	return list, nil
}

// At returns the setup with every feature as an operation of its own that states one of the
// positions offered, by its index in Stands, so that Check looks at the features and at the ways
// between them there. What no position presents states none.
func At(s *machine.Setup, offers []Offer, chosen []int) *machine.Setup {
	c := *s
	c.Operations = nil
	for i := range offers {
		o := &offers[i]
		op := s.Operations[o.Operation]
		op.Features, op.Positions = op.Features[o.Feature:o.Feature+1], nil
		if stand := &o.Stands[chosen[i]]; stand.Miss == 0 {
			for k := range s.Axes {
				if s.Axes[k].Kind == motion.Rotary {
					op.Positions = append(op.Positions, machine.AxisPosition{Axis: k, Value: stand.Rotary[k]})
				}
			}
		}
		c.Operations = append(c.Operations, op)
	}
	return &c
}

// alike brings what is cut at one position together within each operation, so that it is asked
// about at one stroke.
func (c *checker) alike() {
	slices.SortStableFunc(c.stops, func(a, b *stop) int {
		if a.operation != b.operation {
			return a.operation - b.operation
		}
		p, q := a.candidates[0].rotary, b.candidates[0].rotary
		for k := range c.setup.Axes {
			if d := cmp.Compare(math.Round(p[k]*1e9), math.Round(q[k]*1e9)); d != 0 && c.setup.Axes[k].Kind == motion.Rotary {
				return d
			}
		}
		return 0
	})
}

// offer lists the features in order, each with every position that presents it.
func (c *checker) offer() (list []*stop) {
	s := c.setup
	for i := range s.Operations {
		op := &s.Operations[i]
		for k := range op.Features {
			list = append(list, &stop{operation: i, op: op, feature: &op.Features[k]})
		}
	}
	before := []motion.Params{home(s)}
	for i, st := range list {
		c.offerAt(st, before, func(axis int) []float64 { return c.ahead(list[i:], axis) })
		var after []motion.Params
		for _, cand := range st.candidates {
			if cand.way == nil {
				after = append(after, before...) // nothing goes there
			} else {
				_, leave := c.programmed(cand)
				after = append(after, leave)
			}
		}
		before = c.distinct(after)
	}
	return list
}

// offerAt finds the positions of one stop, from wherever the axes may stand before.
func (c *checker) offerAt(st *stop, before []motion.Params, ahead func(axis int) []float64) {
	solver, drawn := c.solvers[st.op.Part], c.drawn[st.op.Part]
	if solver == nil {
		st.candidates = []*candidate{{free: -1, rotary: before[0], doubt: c.faults[st.op.Part]}}
		return
	}
	var list []*candidate
	add := func(cand *candidate) {
		if !slices.ContainsFunc(list, func(other *candidate) bool { return c.same(cand, other) }) {
			list = append(list, cand)
		}
	}
	for _, near := range before {
		if st.tilts() {
			for _, side := range []int{1, -1} {
				cand := &candidate{free: -1, rotary: near, side: side}
				if c.skewed(st) {
					cand.doubt = skewedContour
				}
				c.lead(st, cand, solver)
				add(cand)
			}
			continue
		}
		for _, s := range drawn.Present(st.feature.Axes[0], near) {
			cand := &candidate{rotary: s.Position, miss: s.Miss, free: s.Free}
			c.settle(cand, drawn, s, near)
			if cand.fault != "" {
				add(cand)
				continue
			}
			for _, p := range c.places(drawn.Turns(s, near), s.Free, ahead) {
				one := *cand
				one.rotary = c.turned(p)
				add(&one)
			}
		}
	}
	for _, cand := range list {
		if !st.tilts() {
			c.turn(st, cand)
			c.lead(st, cand, solver)
			c.widen(st, cand)
		}
	}
	st.candidates = list
}

// places adds to positions those with the free axis at other places within its travel.
func (c *checker) places(list []motion.Params, free int, ahead func(axis int) []float64) []motion.Params {
	if free < 0 {
		return list
	}
	travel := c.setup.Axes[free].Travel
	for _, v := range ahead(free) {
		p := list[0]
		p[free] = min(max(v, travel[0]), travel[1])
		list = append(list, p)
	}
	return list
}

// ahead is where a free axis of the first of some stops could go already: where the operation
// states it, and where the next feature needs it for which it is not free.
func (c *checker) ahead(stops []*stop, axis int) (list []float64) {
	for _, p := range stops[0].op.Positions {
		if p.Axis == axis {
			list = append(list, p.Value)
		}
	}
	at := home(c.setup)
	for _, st := range stops[1:] {
		drawn := c.drawn[st.op.Part]
		if drawn == nil || !slices.Contains(drawn.Rotary(), axis) {
			continue
		}
		for _, s := range drawn.Present(st.feature.Axes[0], at) {
			if s.Free == axis || s.Miss > missed {
				continue
			}
			for _, p := range drawn.Turns(s, at) {
				list = append(list, p[axis])
			}
		}
		if len(list) > 0 {
			break
		}
	}
	return list
}

// turned puts axes without ends within the turn that a control shows, linear ones home.
func (c *checker) turned(p motion.Params) motion.Params {
	at := home(c.setup)
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind != motion.Rotary {
			continue
		}
		at[k] = p[k]
		if a.Unlimited {
			shown := check.PositionOf(a, p[k])
			at[k] = shown.Shown() * math.Pi / 180
		}
	}
	return at
}

// programmed is where the program has the rotary axes when a candidate begins and ends.
func (c *checker) programmed(cand *candidate) (enter, leave motion.Params) {
	enter = c.turned(cand.programmed())
	if cand.way == nil || !cand.way.tilts {
		return enter, enter
	}
	return enter, c.turned(cand.way.leave)
}

// same reports whether two candidates of a stop begin and end alike.
func (c *checker) same(a, b *candidate) bool {
	enterA, leaveA := c.programmed(a)
	enterB, leaveB := c.programmed(b)
	return near(enterA, enterB) && near(leaveA, leaveB)
}

// distinct leaves one of positions that are the same.
func (c *checker) distinct(list []motion.Params) (kept []motion.Params) {
	for _, p := range list {
		if !slices.ContainsFunc(kept, func(q motion.Params) bool { return near(p, q) }) {
			kept = append(kept, p)
		}
	}
	return kept
}

// offerOf turns a stop that was looked at into an offer.
func (c *checker) offerOf(st *stop) Offer {
	o := Offer{Operation: st.operation, Tilt: -1}
	for k := range st.op.Features {
		if &st.op.Features[k] == st.feature {
			o.Feature = k
		}
	}
	drawn := c.drawn[st.op.Part]
	if drawn != nil {
		if axis, pivot, ok := drawn.Pivot(home(c.setup)); ok {
			o.Tilt, o.Pivot = axis, pivot
		}
		for k := range c.setup.Axes {
			if c.setup.Axes[k].Kind == motion.Rotary && drawn.Moves(k) {
				o.Moves = append(o.Moves, k)
			}
		}
	}
	for _, cand := range st.candidates {
		stand := Stand{Free: cand.free, Possible: cand.way != nil, Verdict: cand.verdict, Why: cand.why, Above: true, Below: true}
		stand.Rotary, stand.Leave = c.programmed(cand)
		if cand.miss > missed {
			stand.Miss = cand.miss
		}
		sides := []motion.Params{stand.Rotary}
		if w := cand.way; w != nil && w.tilts {
			sides = sides[:0]
			for i := range w.keys {
				sides = append(sides, w.keys[i].at)
			}
		}
		for _, p := range sides {
			if drawn == nil || stand.Miss > 0 {
				break
			}
			side := drawn.Side(p)
			stand.Above, stand.Below = stand.Above && side >= 0, stand.Below && side <= 0
		}
		o.Stands = append(o.Stands, stand)
	}
	return o
}
