package reach

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// Whatever is said of moves is sampled: rapids, turns either way round, tool changes, areas
// entered and left anywhere.
func TestMovesAgainstSampling(t *testing.T) {
	clears, all := 0, 0
	for n := range *shops / 2 {
		seed := *seed0 + uint64(n)
		rng := rand.New(rand.NewPCG(seed, 71))
		w := []func(testing.TB, *rand.Rand) shop{randomShop, windowShop, heightShop}[n%3](t, rng)
		if rng.IntN(2) == 0 {
			w.operation("area", 3, "", "[[operation.face]]\nfrom = [-40, -30, 0]\nto = [40, 30, -1]\naxis = [0, 0, 1]\n").tilted("after", 2)
		}
		s := w.load(t)
		r := checked(t, s, Options{Jobs: 2, Tests: 200_000})
		o := newOracle(t, s, r, seed)
		o.journey()
		for _, m := range r.Reach.Moves {
			if all++; m.Verdict == check.Clear {
				clears++
			}
		}
	}
	if clears*3 < all || clears == all {
		t.Errorf("%d of %d moves are clear: the shops are no test", clears, all)
	}
}

// journey goes from feature to feature as the report has it, and asserts every move.
func (o *oracle) journey() {
	start := home(o.s)
	leave := func() motion.Params { return start }
	tool, next := -1, 0
	take := func(kind string) *check.Move {
		if next == len(o.r.Reach.Moves) || o.r.Reach.Moves[next].Kind != kind {
			o.t.Fatalf("seed %d: a %s expected as move %d\n%s", o.seed, kind, next, summary(o.r))
		}
		next++
		return &o.r.Reach.Moves[next-1]
	}
	for i := range o.s.Operations {
		op := &o.s.Operations[i]
		for k := range op.Features {
			said := &o.r.Reach.Operations[i].Features[k]
			if len(said.Travel) == 0 {
				continue
			}
			rotary := params(o.s, said.Presented[0].At)
			enter := func() motion.Params { return o.spot(op, &op.Features[k], rotary, 0) }
			if tool != op.Tool {
				m := take(check.ChangeMove)
				for range 6 {
					if from := leave(); tool >= 0 {
						o.clear(m, tool, machine.DemandChange, o.across(from, o.place(from)))
					}
				}
				from := leave
				leave = func() motion.Params { return o.place(from()) }
				for range 6 {
					place := leave()
					o.clear(m, op.Tool, machine.DemandChange, []sample{{p: place}})
					o.zones(m, place)
				}
				tool = op.Tool
			}
			if from, to := leave(), enter(); o.turned(from, to) {
				m := take(check.IndexMove)
				for range 6 {
					o.clear(m, tool, machine.Swing, o.index(leave(), enter()))
				}
			} else {
				m := take(check.RapidMove)
				for range 6 {
					o.clear(m, tool, machine.DemandRapid, o.across(leave(), enter()))
				}
			}
			leave = func() motion.Params { return o.spot(op, &op.Features[k], rotary, len(op.Features[k].Tips)-1) }
		}
	}
}

// spot is where a feature is entered or left: above a tip of it or anywhere over its area.
func (o *oracle) spot(op *machine.Operation, f *machine.Feature, rotary motion.Params, tip int) motion.Params {
	a := f.Area
	if a == nil {
		enter, leave, _ := o.way(op, f, rotary, 1)
		if tip == 0 {
			return enter
		}
		return leave
	}
	p := a.Corner.Add(a.U.Mul(o.between(0, 1))).Add(a.V.Mul(o.between(0, 1)))
	axis := f.Axes[0]
	p = p.Add(axis.Mul(o.top(op, axis) + op.Retract - p.Dot(axis)))
	return o.stand(o.kin(op), rotary, p, o.s.Tools[op.Tool].LPR())
}

// place is where tools are changed.
func (o *oracle) place(at motion.Params) motion.Params {
	at[o.axis("Z")] = o.s.Axes[o.axis("Z")].Home
	if tc := o.s.ToolChange; tc != nil {
		for _, p := range tc.At {
			at[p.Axis] = p.Value
		}
	}
	return at
}

// turned reports whether rotary axes have to turn from one position to another, unlimited
// ones but for whole turns.
func (o *oracle) turned(a, b motion.Params) bool {
	for k, ax := range o.s.Axes {
		d := b[k] - a[k]
		if ax.Unlimited && ax.RollOver != machine.ByValue {
			d = math.Remainder(d, 2*math.Pi)
		}
		if ax.Kind == motion.Rotary && math.Abs(d) > 1e-9 {
			return true
		}
	}
	return false
}

// rapid samples a rapid, by whether the axes arrive together.
func (o *oracle) rapid(a, b motion.Params, n int) []sample {
	if o.s.Rapid == machine.Interpolated {
		return o.line(a, b, n, false)
	}
	return o.room(a, b, n)
}

// across samples the way over at the higher of the two heights.
func (o *oracle) across(a, b motion.Params) []sample {
	z := o.axis("Z")
	for k, ax := range o.s.Axes {
		if ax.Kind == motion.Rotary {
			b[k] = a[k]
		}
	}
	high, over := a, b
	high[z] = max(a[z], b[z])
	over[z] = high[z]
	return append(append(o.line(a, high, 2, false), o.rapid(high, over, 4)...), o.line(over, b, 2, false)...)
}

// index samples a turn, with the ways up to where it is done and down again.
func (o *oracle) index(a, b motion.Params) []sample {
	z := o.axis("Z")
	up := o.s.Axes[z].Home
	if at := o.s.Axes[z].Index; at != nil {
		up = *at
	}
	high, over := a, b
	high[z], over[z] = up, up
	list := o.line(a, high, 2, false)
	start, end := high, over
	for k, ax := range o.s.Axes {
		if ax.Kind == motion.Linear && k != z && ax.Index != nil {
			start[k], end[k] = *ax.Index, *ax.Index
		}
	}
	list = append(list, o.rapid(high, start, 2)...)
	for range 4 {
		list = append(list, sample{p: o.turning(start, end)})
	}
	list = append(list, o.rapid(end, over, 2)...)
	return append(list, o.line(over, b, 2, false)...)
}

// clear asserts what is said of a move: nothing nearer than demanded, but for the pairs that
// findings are about.
func (o *oracle) clear(m *check.Move, tool int, kind string, list []sample) {
	side := o.side(tool)
	for i := range side {
		for k := range o.s.Bodies {
			b := &o.s.Bodies[k]
			if b.OnTool || b.Unit == side[i].Unit || o.told(m, side[i].Name, b.Name) {
				continue
			}
			demand, _ := o.s.Demand.For(kind, side[i].Name, b.Name)
			for _, x := range list {
				if left := o.left(&side[i].Body, b, x.p, demand); left < -1e-4 {
					o.t.Fatalf("seed %d: %s from %s to %s: %s and %s are %.4f mm nearer than %g at %v\n%s",
						o.seed, m.Kind, m.From, m.To, side[i].Name, b.Name, -left, demand, x.p, summary(o.r))
				}
			}
		}
	}
}

// zones asserts what is said of what the changer sweeps.
func (o *oracle) zones(m *check.Move, place motion.Params) {
	if o.s.ToolChange == nil {
		return
	}
	for i := range o.s.ToolChange.Zones {
		zone := &o.s.ToolChange.Zones[i]
		for k := range o.s.Bodies {
			b := &o.s.Bodies[k]
			if b.OnTool || b.Role == "changer" || o.told(m, zone.Name, b.Name) {
				continue
			}
			demand, _ := o.s.Demand.For(machine.DemandChange, zone.Name, b.Name)
			if left := o.left(zone, b, place, demand); left < -1e-4 {
				o.t.Fatalf("seed %d: %s: %s and %s are %.4f mm nearer than %g\n%s", o.seed, m.To, zone.Name, b.Name, -left, demand, summary(o.r))
			}
		}
	}
}

// told reports whether a finding is about two bodies on a move.
func (o *oracle) told(m *check.Move, a, b string) bool {
	for i := range o.r.Findings {
		f := &o.r.Findings[i]
		if f.Operation == m.To && f.Question == questionOf[m.Kind] && f.Bodies == [2]string{a, b} {
			return true
		}
	}
	return false
}
