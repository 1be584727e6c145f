package reach

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/spindle"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

const (
	windowStep  = 0.25    // mm to which the ends of a window are found
	windowTests = 400_000 // of one stretch: where they do not do, it counts as not good
)

// windows finds the stick-outs that serve each operation.
func (c *checker) windows(ctx context.Context) error {
	for _, i := range slices.Sorted(maps.Keys(c.tools)) {
		t := c.tools[i]
		_, longest := t.tool.StickOuts()
		t.tips = c.tips(t, longest)
	}
	c.windowOf = make([]*window, len(c.setup.Operations))
	err := c.options.Each(ctx, "stick-outs", len(c.setup.Operations), func(ctx context.Context, i int) error {
		w, err := c.window(ctx, i)
		c.windowOf[i] = w
		return err
	})
	if err != nil {
		return err
	}
	c.share()
	return nil
}

// window is the range of stick-outs of an operation's tool, in mm.
type window struct {
	now           float64
	possible      [2]float64 // what cutter and holder allow
	low, high     float64
	none          bool // nothing between low and high is good
	lowBy, highBy string
	tool          *check.Span // what serves all operations of the tool
	others        []string    // tools of the library
}

func (w *window) empty() bool { return w.none || w.low > w.high }

// window narrows what cutter and holder allow: by travel, then, from above, by
// indexing and tool changes, which know only the foremost parts, and from
// below by what the holder and all behind it meet.
func (c *checker) window(ctx context.Context, operation int) (*window, error) {
	op := &c.setup.Operations[operation]
	t := c.tools[op.Tool]
	w := &window{now: t.tool.StickOut}
	w.low, w.high = t.tool.StickOuts()
	w.possible = [2]float64{w.low, w.high}
	w.lowBy, w.highBy = "cutter and holder", "cutter and holder"
	var stops []*stop
	for _, st := range c.stops {
		if st.operation != operation {
			continue
		}
		if st.chosen == nil || st.chosen.way == nil {
			w.none = true
			w.lowBy = "no position presents " + stopName(st)
			w.highBy = w.lowBy
			return w, nil
		}
		if st.chosen.way.tilts {
			return nil, nil // where the tool's axis turns on the way, a longer tool takes another way
		}
		if by := c.frontMeets(st); by != "" {
			w.none = true
			w.lowBy, w.highBy = by, by
			return w, nil
		}
		stops = append(stops, st)
		c.byTravel(w, st)
	}
	if w.empty() {
		return w, nil
	}
	if err := c.byMoves(ctx, w, t, stops); err != nil || w.empty() {
		return w, err
	}
	if err := c.byHolder(ctx, w, t, stops); err != nil || w.empty() {
		return w, err
	}
	return w, c.byShank(ctx, w, t, stops)
}

// frontMeets says what is not clear of the tool in front of its holder at a stop:
// another stick-out does not move that.
func (c *checker) frontMeets(st *stop) string {
	for i := range st.chosen.meets {
		m := &st.chosen.meets[i]
		if m.mover.Part && m.mover.Zone != tooling.HolderZone {
			return fmt.Sprintf("%s against %s at %s, at any stick-out", m.mover.Body.Name, c.setup.Bodies[m.other].Name, stopName(st))
		}
	}
	return ""
}

// byShank looks whether what a longer stick-out draws out of the holder stays clear at
// the features: the shank of the longest tool that is good so far. If not, it is now that
// bounds the window.
func (c *checker) byShank(ctx context.Context, w *window, t *tool, stops []*stop) error {
	for _, st := range stops {
		for i := range t.tips {
			m := &t.tips[i]
			if m.Zone != tooling.Shank {
				continue
			}
			for k, other := range c.others {
				a := asked{tests: windowTests}
				a.demand, _ = c.setup.Demand.For(machine.DemandHolder, m.Body.Name, c.setup.Bodies[other].Name)
				for _, l := range st.chosen.way.whole {
					a.legs = append(a.legs, c.lengthened(st, l, w.possible[1]-w.now, w.possible[1]-w.now))
				}
				found, err := c.ask(ctx, m, k, a)
				if err != nil {
					return err
				}
				if found != nil && found.Verdict != check.Clear && w.now < w.high {
					w.high = w.now
					w.highBy = fmt.Sprintf("%s against %s at %s", m.Body.Name, c.setup.Bodies[other].Name, stopName(st))
				}
			}
		}
	}
	return nil
}

// longer returns how the axes change when the tool is longer by 1 mm and its
// foremost point stays where it is.
func (c *checker) longer(st *stop, at motion.Params) motion.Params {
	spindle := c.setup.Spindle.Chain.Pose(at)
	axis := spindle.Dir(r3.Vector{Z: 1})
	return c.solvers[st.op.Part].Sensitivity(at, axis)
}

// byTravel narrows the window to where every axis keeps its demanded margin.
func (c *checker) byTravel(w *window, st *stop) {
	way := st.chosen.way
	for i := range way.keys {
		key := &way.keys[i]
		per := c.longer(st, key.at)
		loose := c.loose(st, key)
		for k := range c.setup.Axes {
			a := &c.setup.Axes[k]
			if a.Kind != motion.Linear || math.Abs(per[k]) < 1e-9 {
				continue
			}
			for side, limit := range a.Travel {
				if math.IsInf(limit, 0) {
					continue
				}
				sign := float64(2*side - 1)
				room := (limit-key.at[k])*sign - loose - key.within[k] - c.setup.Demand.Travel
				end := w.now + room/(per[k]*sign)
				words := fmt.Sprintf("%s at %s of %s", a.Letter, key.where, stopName(st))
				if per[k]*sign > 0 && end < w.high {
					w.high, w.highBy = end, words
				}
				if per[k]*sign < 0 && end > w.low {
					w.low, w.lowBy = end, words
				}
			}
		}
	}
}

// byMoves narrows the window from above: where the machine says how high the axes
// stand, while rotary axes index, tools are changed and on the way from there, the
// foremost parts of a longer tool hang lower.
func (c *checker) byMoves(ctx context.Context, w *window, t *tool, stops []*stop) error {
	if c.spare() == motion.MaxParams {
		// As many axes as there can be: nothing is left to push the cutter in with.
		if w.now < w.high {
			w.high, w.highBy = w.now, "nothing is known of longer ones: the machine has too many axes"
		}
		return nil
	}
	for _, m := range c.moves {
		legs := m.legs(t, stops, true)
		for i := range t.tips {
			mv := &t.tips[i]
			for k := range c.others {
				good := func(from, to float64) (bool, error) {
					a := asked{tests: windowTests}
					a.demand, _ = c.setup.Demand.For(m.demand, mv.Body.Name, c.setup.Bodies[c.others[k]].Name)
					for _, l := range legs {
						l.from[c.spare()] = w.possible[1] - from
						var out motion.Params
						out[c.spare()] = from - to
						l.ways = append(slices.Clip(l.ways), out)
						a.legs = append(a.legs, l)
					}
					found, err := c.ask(ctx, mv, k, a)
					return err == nil && (found == nil || found.Verdict == check.Clear), err
				}
				high, any, err := lastGood(w.low, w.high, good)
				if err != nil {
					return err
				}
				if !any || high < w.high {
					w.high, w.none = high, !any
					w.highBy = fmt.Sprintf("%s against %s, %s to %s", mv.Body.Name, c.setup.Bodies[c.others[k]].Name, m.kind, m.to)
				}
				if w.empty() {
					return nil
				}
			}
		}
	}
	return nil
}

// legs are those on which a tool is carried on a move from or to one of the stops: those
// that are level, or those that a feature says the height of.
func (m *move) legs(t *tool, stops []*stop, level bool) (list []leg) {
	if !m.concerns(stops) {
		return nil
	}
	for _, with := range m.carried {
		for _, l := range with.legs {
			if with.tool == t && l.level == level {
				list = append(list, l)
			}
		}
	}
	return list
}

// concerns reports whether a move ends at one of the stops.
func (m *move) concerns(stops []*stop) bool {
	return slices.ContainsFunc(stops, func(st *stop) bool { return stopName(st) == m.to || stopName(st) == m.from })
}

// spare is the parameter that no axis has: how far the cutter is pushed into its
// holder.
func (c *checker) spare() int { return len(c.setup.Axes) }

// tips returns all of a tool that is in front of its holder, at the longest
// stick-out there can be, on a joint by which the spare parameter pushes it in. What
// is pushed into the holder does no harm: the holder is wider.
func (c *checker) tips(t *tool, longest float64) (list []mover) {
	push := motion.Joint{Name: "push", Kind: motion.Linear, Axis: c.setup.Spindle.Chain.Home.Dir(r3.Vector{Z: 1})}
	push.Gain[c.spare()] = 1
	bodies := c.setup.BodiesOf(t.tool.At(longest))
	for i := range bodies {
		b := &bodies[i]
		if b.Zone == tooling.HolderZone {
			continue
		}
		c.trees.Plant(1, []machine.Body{b.Body})
		b.Chain.Joints = append(slices.Clip(b.Chain.Joints), push)
		tip := spindle.Mover{Body: &b.Body, Index: len(c.setup.Bodies) + i, Zone: b.Zone, Part: true}
		list = append(list, mover{Mover: tip, seen: c.seen(b.Chain)})
	}
	return list
}

// byHolder narrows the window from below: the foremost point stays where it is, the
// holder and all behind it come nearer as the stick-out gets shorter, at the feature
// and on the way there and back.
func (c *checker) byHolder(ctx context.Context, w *window, t *tool, stops []*stop) error {
	for _, st := range stops {
		err := c.byHolderAt(ctx, w, t, st, st.chosen.way.whole, machine.DemandHolder, "at "+stopName(st))
		if err != nil || w.empty() {
			return err
		}
	}
	for _, m := range c.moves {
		legs := m.legs(t, stops, false)
		err := c.byHolderAt(ctx, w, t, stops[0], legs, m.demand, fmt.Sprintf("on the %s to %s", m.kind, m.to))
		if err != nil || w.empty() {
			return err
		}
	}
	return nil
}

// byHolderAt narrows the window by legs whose height a feature says.
func (c *checker) byHolderAt(ctx context.Context, w *window, t *tool, st *stop, legs []leg, kind, where string) error {
	if len(legs) == 0 {
		return nil
	}
	for i := range t.movers {
		m := &t.movers[i]
		if m.Part && m.Zone != tooling.HolderZone {
			continue
		}
		for k, other := range c.others {
			if c.ownMaker(m, other) {
				continue
			}
			good := func(from, to float64) (bool, error) {
				a := asked{tests: windowTests}
				a.demand, _ = c.setup.Demand.For(kind, m.Body.Name, c.setup.Bodies[other].Name)
				for _, l := range legs {
					a.legs = append(a.legs, c.lengthened(st, l, to-w.now, from-w.now))
				}
				found, err := c.ask(ctx, m, k, a)
				return err == nil && found.Verdict == check.Clear, err
			}
			low, any, err := lastGood(w.high, w.low, good)
			if err != nil {
				return err
			}
			if !any || low > w.low {
				w.low, w.none = low, !any
				w.lowBy = fmt.Sprintf("%s against %s %s", m.Body.Name, c.setup.Bodies[other].Name, where)
			}
			if w.empty() {
				return nil
			}
		}
	}
	return nil
}

// lengthened is a leg as tools go it that are longer by low to high, mm. Of a leg that goes
// from a feature to where no feature says how high, it holds what lies in between.
func (c *checker) lengthened(st *stop, l leg, low, high float64) leg {
	per := c.longer(st, l.from)
	if l.ends {
		low, high = min(low, 0), max(high, 0)
	}
	var out motion.Params
	for x := range out {
		l.from[x] += per[x] * low
		out[x] = per[x] * (high - low)
	}
	l.ways = append(slices.Clip(l.ways), out)
	return l
}

// cures says which stick-out would do where a holder, or what is behind it, does not
// stay clear.
func (w *window) cures(m *meeting) []string {
	if w == nil || w.empty() || m.mover.Part && m.mover.Zone != tooling.HolderZone || w.now >= w.low {
		return nil
	}
	return []string{fmt.Sprintf("a stick-out of %.1f mm or more, now %.1f", math.Ceil(w.low*10)/10, w.now)}
}

// lastGood returns how far from the good end towards the other one everything is
// good, and whether anything is.
func lastGood(from, to float64, good func(from, to float64) (bool, error)) (at float64, any bool, err error) {
	ok, err := good(from, to)
	if err != nil || ok {
		return to, true, err
	}
	if ok, err = good(from, from); err != nil || !ok {
		return from, false, err
	}
	at, bad := from, to
	for math.Abs(at-bad) > windowStep {
		mid := (at + bad) / 2
		if ok, err = good(at, mid); err != nil {
			return at, true, err
		}
		if ok {
			at = mid
		} else {
			bad = mid
		}
	}
	return at, true, nil
}

// share finds what serves all operations of a tool, and which other tools of the
// library would do: the same cutter and holder at another stick-out.
func (c *checker) share() {
	for i, w := range c.windowOf {
		if w == nil || w.empty() {
			continue
		}
		tool := c.setup.Operations[i].Tool
		span, all := check.Span{w.low, w.high}, true
		for k, other := range c.windowOf {
			if c.setup.Operations[k].Tool != tool {
				continue
			}
			if other == nil || other.empty() {
				all = false
				break
			}
			span = check.Span{max(span[0], other.low), min(span[1], other.high)}
		}
		if all && span[0] <= span[1] {
			w.tool = &span
		}
		mine := c.setup.Tools[tool]
		for _, t := range c.setup.Tools {
			if t != mine && t.Cutter == mine.Cutter && t.Holder == mine.Holder && t.StickOut >= w.low && t.StickOut <= w.high {
				w.others = append(w.others, fmt.Sprintf("T%d %s", t.Number, t.Name))
			}
		}
	}
}
