package reach

import (
	"context"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
)

// move is a way between two stops.
type move struct {
	kind, from, to string
	carried        []carried
	demand         string // its kind
	index          *indexing
	change         bool      // a tool change: what the changer sweeps is looked at, too
	screened       *screened // what is known of a group of rapids
	meets          []meeting
	doubt          string // why nothing is proven of what the table carries
	unsure         string // why the way is not known at every height of a spacer
	with           string // the unit of the part that the tool goes with; "" if it goes elsewhere, too
	verdict        check.Verdict
}

// carried is a tool and the legs on which the spindle carries it. At a tool change
// there are two.
type carried struct {
	tool *tool
	legs []leg
}

// tool is the tool at the end of a move.
func (m *move) tool() *tool { return m.carried[len(m.carried)-1].tool }

// journey lists the moves from stop to stop.
type journey struct {
	c     *checker
	at    motion.Params
	name  string // of where it stands
	tool  *tool
	z     int // the axis that draws the tool back, -1 for none
	list  []*move
	level bool // it stands where the machine has it: at home, where tools are changed
	// behind is where the last feature was left, ahead where the next one is entered.
	behind, ahead spot
	half          float64 // of a spacer's heights, mm
	unsure        bool    // see move; of the one that is being made
	with          string  // the unit of the part at which it stands; "" at none
}

// spot is a position at a feature, and how far from it each axis may be instead:
// an area may be entered and left anywhere. Rise is how it changes with 1 mm of a spacer's height.
type spot struct{ at, spread, rise motion.Params }

// travelled lists the moves between the chosen positions and looks at each.
func (c *checker) travelled(ctx context.Context) error {
	j := journey{c: c, at: home(c.setup), name: "home", z: c.drawback(), level: true, half: c.half()}
	for _, st := range c.stops {
		if st.chosen.way == nil {
			continue
		}
		j.to(st)
	}
	j.out()
	c.moves = j.list
	if err := c.screenRapids(ctx); err != nil {
		return err
	}
	if c.tallies == nil {
		if err := c.fullHeights(ctx); err != nil {
			return err
		}
	}
	return c.options.Each(ctx, "moves", len(c.moves), func(ctx context.Context, i int) error {
		return c.lookAtMove(ctx, c.moves[i])
	})
}

// drawback returns the axis that goes home before anything indexes.
func (c *checker) drawback() int {
	for k := range c.setup.Axes {
		if a := &c.setup.Axes[k]; a.Kind == motion.Linear && a.Letter == "Z" {
			return k
		}
	}
	return -1
}

// to adds what is needed to get to a stop's retract position.
func (j *journey) to(st *stop) {
	c := j.c
	t := c.tools[st.op.Tool]
	enter, turned := j.unwind(st.chosen.way.enter)
	name, unit := stopName(st), c.setup.Parts[st.op.Part].Unit
	j.ahead = spot{enter, st.chosen.way.spread, st.chosen.way.enters}
	turns := false
	for k := range c.setup.Axes {
		turns = turns || c.setup.Axes[k].Kind == motion.Rotary && math.Abs(enter[k]-j.at[k]) > 1e-12
	}
	if j.tool != t {
		j.change(t, name)
	}
	switch {
	case turns:
		j.turn(enter, name)
	default:
		m := &move{kind: check.RapidMove, to: name, demand: machine.DemandRapid}
		if unit == j.with {
			m.with = unit
		}
		j.add(m, enter, j.across(enter, false)...)
	}
	j.with = unit
	j.at, j.name = minus(st.chosen.way.leave, turned), name
	j.behind, j.level = spot{j.at, st.chosen.way.spread, st.chosen.way.leaves}, false
}

// out draws the last tool back.
func (j *journey) out() {
	if j.tool == nil || j.z < 0 {
		return
	}
	high := j.at
	high[j.z] = j.c.setup.Axes[j.z].Home
	j.ahead = j.behind
	g := line(j.at, high)
	g.ends, g.tie = true, tieFrom
	j.add(&move{kind: check.RapidMove, to: "home", demand: machine.DemandRapid}, high, g)
}

// across goes from one retract position to another as a rapid does, which may go across at
// the lower of the two heights; from or to where the machine says how high, level, it goes
// across there.
func (j *journey) across(there motion.Params, level bool) (legs []leg) {
	if j.z < 0 || !j.level && !level {
		g := j.c.rapid(j.at, there)
		if !j.level && !level {
			g.tie = tieBoth
		}
		return []leg{g}
	}
	if j.level != level {
		j.compare(there)
	}
	from, over := j.at, there
	high := j.level
	if up := j.c.up(j.z); (there[j.z]-from[j.z])*up > 0 {
		from[j.z], high = there[j.z], level
		g := line(j.at, from)
		g.ends = j.level || level
		if !j.level {
			g.tie = tieFrom
		}
		legs = append(legs, g)
	} else {
		over[j.z] = from[j.z]
	}
	if !near(over, from) || j.half > 0 {
		g := j.c.rapid(from, over)
		g.level = high
		legs = append(legs, g)
	}
	if !near(over, there) || len(legs) == 0 || j.half > 0 {
		g := line(over, there)
		g.level, g.ends = level, j.level
		if !level {
			g.tie = tieTo
		}
		legs = append(legs, g)
	}
	return legs
}

// near reports whether two positions are the same but for rounding.
func near(a, b motion.Params) bool {
	for k := range a {
		if math.Abs(a[k]-b[k]) > 1e-9 {
			return false
		}
	}
	return true
}

// unwind returns a position with whole turns of unlimited axes added so that
// they turn least, or by their value, and what was taken off.
func (j *journey) unwind(p motion.Params) (near, off motion.Params) {
	near = p
	for k := range j.c.setup.Axes {
		a := &j.c.setup.Axes[k]
		if !a.Unlimited || a.RollOver == machine.ByValue {
			continue
		}
		near[k] = j.at[k] + math.Remainder(p[k]-j.at[k], 2*math.Pi)
		off[k] = p[k] - near[k]
	}
	return near, off
}

// add notes a move with the tool at hand, and where it ends.
func (j *journey) add(m *move, end motion.Params, legs ...leg) {
	m.from = j.name
	if j.unsure {
		m.unsure, j.unsure = otherWay, false
	}
	m.carried = append(m.carried, carried{j.tool, j.widen(legs)})
	j.list = append(j.list, m)
	j.at = end
}

// rapid is how the axes get from one position to another.
func (c *checker) rapid(a, b motion.Params) leg {
	if c.setup.Rapid == machine.Interpolated {
		return line(a, b)
	}
	return room(a, b)
}

// indexHeight is where the drawback axis stands while rotary axes index.
func (j *journey) indexHeight(p motion.Params) motion.Params {
	if j.z >= 0 {
		p[j.z], _, _ = check.SpindleAt(&j.c.setup.Axes[j.z])
	}
	return p
}

// turn draws the tool back, indexes, and goes down again.
func (j *journey) turn(enter motion.Params, name string) {
	c := j.c
	from := j.at
	high := j.indexHeight(from)
	over := j.indexHeight(enter)
	legs := []leg{}
	if !near(high, from) || j.half > 0 {
		g := line(from, high)
		g.level, g.ends = j.level, true
		if !j.level {
			g.tie = tieFrom
		}
		legs = append(legs, g)
	}
	start, end := high, over
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind == motion.Linear && k != j.z && a.Index != nil {
			start[k], end[k] = *a.Index, *a.Index // it stands there while others turn
		}
	}
	level := func(g leg) leg {
		g.level = true
		return g
	}
	if !near(start, high) || j.half > 0 {
		legs = append(legs, level(c.rapid(high, start)))
	}
	index := &indexing{turns: j.widen(c.turns(start, end))}
	for _, g := range index.turns {
		legs = append(legs, level(g))
	}
	if !near(end, over) || j.half > 0 {
		legs = append(legs, level(c.rapid(end, over)))
	}
	down := line(over, enter)
	down.ends, down.tie = true, tieTo
	legs = append(legs, down)
	j.add(&move{kind: check.IndexMove, to: name, demand: machine.Swing, index: index}, enter, legs...)
}

// turns are the legs of an index. Where it is not known which way round an
// unlimited axis goes, both ways count: where the machine file does not say, and at
// half a turn, which is as far either way.
func (c *checker) turns(start, end motion.Params) []leg {
	const half = math.Pi - 1e-6
	ends := []motion.Params{end}
	for k := range c.setup.Axes {
		a, way := &c.setup.Axes[k], end[k]-start[k]
		either := a.RollOver == machine.EitherWay || a.RollOver == machine.ShorterWay && math.Abs(way) > half
		if !a.Unlimited || !either || math.Abs(way) <= 1e-12 {
			continue
		}
		for _, other := range ends[:len(ends):len(ends)] {
			other[k] -= math.Copysign(2*math.Pi, way)
			ends = append(ends, other)
		}
	}
	var list []leg
	for _, e := range ends {
		list = append(list, c.rapid(start, e))
	}
	return list
}

// change takes the tool at hand to where tools are changed, and the new one.
func (j *journey) change(t *tool, name string) {
	c := j.c
	place := j.at
	if j.z >= 0 {
		place[j.z] = c.setup.Axes[j.z].Home
	}
	if tc := c.setup.ToolChange; tc != nil {
		for _, p := range tc.At {
			place[p.Axis] = p.Value
		}
	}
	j.with = ""
	m := &move{kind: check.ChangeMove, to: name, demand: machine.DemandChange, change: true}
	if j.tool != nil {
		m.carried = []carried{{j.tool, j.widen(j.across(place, true))}}
	}
	j.tool = t
	stay := line(place, place)
	stay.level = true
	j.add(m, place, stay) // the way on is the next move
	j.name, j.level = "tool change", true
}

// lookAtMove finds out what the tool's side meets on a move.
func (c *checker) lookAtMove(ctx context.Context, m *move) error {
	m.verdict = check.Clear
	for _, with := range m.carried {
		if m.doubt = c.unswept(with.legs); m.doubt != "" {
			m.verdict = check.Unproven
			break
		}
	}
	if m.doubt == "" && m.unsure != "" {
		m.doubt, m.verdict = m.unsure, check.Unproven
	}
	for _, with := range m.carried {
		which := proof.Which(m.kind, m.from, m.to, with.tool.name())
		for i := range with.tool.movers {
			mv := &with.tool.movers[i]
			for k, other := range c.others {
				if c.ownMaker(mv, other) {
					continue
				}
				a := asked{legs: with.legs}
				a.demand, a.why = c.setup.Demand.For(m.demand, mv.Body.Name, c.setup.Bodies[other].Name)
				a.which = which
				found, err := c.meet(ctx, mv, i, k, m.screened, a, c.tallies.of(m.kind, m.to).going(c.goes(with.tool, m.with)))
				if err != nil {
					return err
				}
				m.note(found, with.tool)
			}
		}
	}
	if m.change {
		if err := c.sweptByChanger(ctx, m); err != nil {
			return err
		}
	}
	if m.index != nil && c.tallies == nil {
		return c.heights(ctx, m)
	}
	return nil
}

// note keeps what is not clear.
func (m *move) note(found *meeting, with *tool) {
	if found == nil || found.Verdict == check.Clear {
		return
	}
	found.with = with
	m.meets = append(m.meets, *found)
	if found.Verdict.Worse(m.verdict) {
		m.verdict = found.Verdict
	}
}

// sweptByChanger looks at what the changer sweeps against everything that is not
// on the spindle's side, where the axes stand.
func (c *checker) sweptByChanger(ctx context.Context, m *move) error {
	for z := range c.zones {
		zone := &c.zones[z]
		mv := mover{Mover: spindle.Mover{Body: zone, Index: -1}, seen: c.seen(zone.Chain)}
		for k, other := range c.others {
			if b := &c.setup.Bodies[other]; b.OnTool || b.Role == "changer" {
				continue // the changer itself, and what it changes tools in
			}
			a := asked{legs: m.carried[len(m.carried)-1].legs} // it stands there
			a.demand, a.why = c.setup.Demand.For(machine.DemandChange, zone.Name, c.setup.Bodies[other].Name)
			a.which = proof.Which("changer", m.from, m.to)
			found, err := c.meet(ctx, &mv, 0, k, nil, a, c.tallies.of(m.kind, m.to))
			if err != nil {
				return err
			}
			m.note(found, m.tool())
		}
	}
	return nil
}

// stopName names where a stop is.
func stopName(st *stop) string {
	if len(st.op.Features) == 1 {
		return st.op.Name
	}
	return st.op.Name + ", " + st.feature.Name
}
