package reach

import (
	"context"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// screenTests is how many tests a pair may cost when a whole group of features is
// asked about at one stroke: little, since most pairs are far apart.
const screenTests = 2_000

// screened is what is known of all of a tool's movers and all others over the ways of a
// whole group of features.
type screened struct {
	leg    leg // holds all ways
	demand float64
	which  uint64 // of its questions
	// proven holds, for each mover and other of the tool, the clearance in mm that is proven; 0
	// for none. In brief it is worked out where it is needed; NaN where it is not yet.
	proven [][]float64
	// In brief, of the same: the clearance that is proven by itself, and for which share of
	// the demand it was last tried to prove it.
	room, tried [][]float64
}

// holds reports whether a demand is proven already.
func (s *screened) holds(mover, other int, demand float64) bool {
	return s != nil && s.proven[mover][other] >= demand
}

// group is features that follow each other at one rotary position with one tool.
type group struct {
	stops []*stop
	tool  *tool
}

// groups cuts the stops, as their best candidates have them.
func (c *checker) groups() (list []group) {
	var last *stop
	for _, st := range c.stops {
		best := st.candidates[0]
		if best.way == nil || best.way.tilts {
			last = nil
			continue
		}
		if last == nil || last.op.Tool != st.op.Tool || c.turning(last.candidates[0].rotary, best.rotary) > 0 {
			list = append(list, group{tool: c.tools[st.op.Tool]})
		}
		g := &list[len(list)-1]
		g.stops = append(g.stops, st)
		last = st
	}
	return list
}

// screen asks about the box of axis positions that all ways of a group keep to.
// Legs go evenly between the positions at which travel is looked at, so these
// bound them.
func (c *checker) screen(ctx context.Context) error {
	groups := c.groups()
	demand := c.mostDemanded()
	return c.options.Each(ctx, "groups of features", len(groups), func(ctx context.Context, i int) error {
		g := &groups[i]
		hull := g.stops[0].candidates[0].way.keys[0].at
		low, high := hull, hull
		for _, st := range g.stops {
			for _, key := range st.candidates[0].way.keys {
				for k := range low {
					low[k], high[k] = min(low[k], key.at[k]), max(high[k], key.at[k])
				}
			}
		}
		s, err := c.screened(ctx, g.tool, room(low, high), demand, proof.Which("features", stopName(g.stops[0])))
		for _, st := range g.stops {
			st.candidates[0].screened = s
		}
		return err
	})
}

// screenRapids asks about rapids that follow each other at one rotary position with
// one tool, all together.
func (c *checker) screenRapids(ctx context.Context) error {
	var groups [][]*move
	var last *move
	for _, m := range c.moves {
		if m.kind != check.RapidMove {
			last = nil
			continue
		}
		if last == nil || last.tool() != m.tool() {
			groups = append(groups, nil)
		}
		g := &groups[len(groups)-1]
		*g = append(*g, m)
		last = m
	}
	demand := c.mostDemanded()
	return c.options.Each(ctx, "groups of rapids", len(groups), func(ctx context.Context, i int) error {
		var legs []leg
		for _, m := range groups[i] {
			legs = append(legs, m.carried[0].legs...)
		}
		if len(legs) < many {
			return nil
		}
		s, err := c.screened(ctx, groups[i][0].tool(), hullOf(legs), demand, proof.Which("rapids", groups[i][0].to))
		for _, m := range groups[i] {
			m.screened = s
		}
		return err
	})
}

// screened asks about all of a tool's movers against all others on one leg.
func (c *checker) screened(ctx context.Context, t *tool, l leg, demand float64, which uint64) (*screened, error) {
	s := &screened{leg: l, demand: demand, which: which, proven: make([][]float64, len(t.movers))}
	if c.tallies != nil {
		s.unknown(len(t.movers), len(c.others))
		return s, nil
	}
	for i := range t.movers {
		s.proven[i] = make([]float64, len(c.others))
		for k, other := range c.others {
			if c.ownMaker(&t.movers[i], other) {
				continue
			}
			if err := c.screenPair(ctx, s, &t.movers[i], i, k); err != nil {
				return nil, err
			}
		}
	}
	return s, nil
}

// screenPair asks about one mover and another one.
func (c *checker) screenPair(ctx context.Context, s *screened, m *mover, i, k int) error {
	q := c.screenQuestion(s, m, k)
	a, err := c.trees.Ask(ctx, &q, screenTests)
	if err != nil {
		return err
	}
	s.proven[i][k] = 0
	if a.Verdict == check.Clear {
		s.proven[i][k] = s.demand
	}
	return nil
}

func (c *checker) screenQuestion(s *screened, m *mover, k int) proof.Question {
	other := &c.setup.Bodies[c.others[k]]
	return proof.Question{
		A: m.Body, B: other, Demand: s.demand, Over: motion.Unit(len(s.leg.ways)),
		Moving: c.trees.Pair(m.Body, other, s.leg.carried(m.seen[k])),
		Which:  s.which,
	}
}

// mostDemanded is the largest clearance that can be demanded of anything here.
func (c *checker) mostDemanded() float64 {
	d := &c.setup.Demand
	most := d.Default
	for _, kind := range []string{machine.DemandApproach, machine.DemandCutting, machine.DemandHolder, machine.DemandRapid} {
		mm, _ := d.For(kind, "", "")
		most = max(most, mm)
	}
	for _, p := range d.Pairs {
		most = max(most, p.Clearance)
	}
	return most
}
