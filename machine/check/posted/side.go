package posted

import (
	"math"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
	"gridswing/machine/program"
)

// side is what is asked with one tool in the spindle.
type side struct {
	tool   int             // as chunk.tool
	movers []spindle.Mover // of the stock as it is: none is left out
	pairs  []*pair         // in the order in which they are told
	window *window         // nil where none is looked for
	eroded []*machine.Body // the cutting part less the depth of Setup.MayBeCut[i]
}

// pair is two bodies that axes move against each other, and what is asked of them.
type pair struct {
	a, b        int // as in Finding.Index
	body, other *machine.Body
	moving      collide.Pair // other as seen from body, over the axes
	uses        [motion.MaxParams]bool
	loose       float64              // more than the location uncertainty does to any point of other within the travel, mm
	asks        [program.End + 1]ask // by kind of leg
	asked       kinds
	stock       bool   // other is the stock of a part: see chunk.near
	note        string // what the tool is doing, where that matters
	which       uint64
	known       rooms
	lifted      rooms      // of the window's questions
	worst       check.Pair // so far
	met         kinds      // of the legs that were looked at so far
	spent       int        // tests for it in the chunk before, so that the longest is begun first
}

// ask is what is demanded on legs of a kind.
type ask struct {
	demand float64
	why    string
}

// demands asks for a clearance on legs of a kind.
func (p *pair) demands(kind program.Kind, mm float64, why string) {
	p.asks[kind] = ask{mm, why}
	p.asked |= kindsOf(kind)
}

// most is the largest clearance that is demanded on legs of some kinds.
func (p *pair) most(k kinds) (mm float64) {
	for kind := range p.asks {
		if k.has(program.Kind(kind)) && p.asked.has(program.Kind(kind)) {
			mm = max(mm, p.asks[kind].demand)
		}
	}
	return mm
}

// newPair makes a pair of which nothing is asked yet.
func (c *checker) newPair(a int, body *machine.Body, b int, other *machine.Body) *pair {
	p := &pair{a: a, b: b, body: body, other: other}
	p.moving = c.trees.Pair(body, other, motion.Between(body.Chain, other.Chain))
	p.uses = p.moving.Motion.Uses()
	center, radius := other.Solid.Audit.Bounds.Center(), other.Solid.Audit.Bounds.Size().Norm()/2
	p.loose = p.moving.Motion.Course(&c.reach).Looseness(center, radius)
	p.which = proof.Which("program", body.Name, other.Name)
	p.worst = check.Pair{Question: check.Posted, Bodies: [2]string{body.Name, other.Name}, Verdict: check.Clear}
	return p
}

// sideOf returns what is asked with a tool in the spindle. Only who reads the program may call it.
func (c *checker) sideOf(tool int) *side {
	if s := c.sides[tool]; s != nil {
		return s
	}
	s := &side{tool: tool}
	if tool >= 0 {
		s.movers = spindle.With(c.setup, c.trees, tool)
		for i := range c.setup.MayBeCut {
			s.eroded = append(s.eroded, spindle.Erode(c.trees, c.setup.Tools[tool], s.movers[0].Body, c.setup.MayBeCut[i].Depth))
		}
	} else {
		s.movers = append(c.covering(), spindle.Without(c.setup)...)
	}
	for i := range s.movers {
		for _, k := range c.others {
			s.pairs = append(s.pairs, c.moverPairs(s, i, k)...)
		}
	}
	s.pairs = append(s.pairs, c.zonePairs()...)
	s.pairs = append(s.pairs, c.swung...)
	s.window = c.newWindow(s)
	c.sides[tool] = s
	return s
}

// covering is the largest tool there can be, where it is not known which one is in the spindle.
func (c *checker) covering() (list []spindle.Mover) {
	for i := range c.setup.Bodies {
		if b := &c.setup.Bodies[i]; b.OnTool && b.Role == "tool" {
			list = append(list, spindle.Mover{Body: b, Index: i})
		}
	}
	return list
}

// moverPairs are what is asked of one of the side's movers and another body.
func (c *checker) moverPairs(s *side, mover, k int) []*pair {
	m, b := &s.movers[mover], &c.setup.Bodies[k]
	if m.Body.Unit == b.Unit || c.options.NoStock && c.isStock(k) {
		return nil
	}
	if !m.Part { // the same whatever the tool
		for _, known := range c.headed {
			if known.a == m.Index && known.b == k {
				return []*pair{known}
			}
		}
	}
	p := c.newPair(m.Index, m.Body, k, b)
	demand := func(p *pair, kind program.Kind, name string) {
		mm, why := c.setup.Demand.For(name, m.Body.Name, b.Name)
		p.demands(kind, mm, why)
	}
	demand(p, program.Change, machine.DemandChange)
	switch cut := spindle.MayBeCut(c.setup, k); {
	case c.isStock(k):
		p.stock = true
		demand(p, program.Rapid, machine.DemandRapid)
		switch {
		case m.Sharp():
			// Of what it cuts it is asked elsewhere how deep; here, whether it can come near at all.
			demand(p, program.Rapid, machine.DemandApproach)
			p.demands(program.Feed, spindle.Barely, "")
		case m.Slim():
			p.demands(program.Feed, spindle.Barely, "")
		default:
			demand(p, program.Feed, machine.DemandHolder)
		}
	case m.Sharp() && cut >= 0:
		demand(p, program.Rapid, machine.DemandApproach)
		deep := c.newPair(m.Index, s.eroded[cut], k, b)
		deep.note = "deeper than it may be cut"
		deep.demands(program.Feed, spindle.Barely, c.setup.MayBeCut[cut].Reason)
		return []*pair{p, deep}
	case m.Sharp():
		demand(p, program.Rapid, machine.DemandRapid)
		demand(p, program.Feed, machine.DemandCutting)
	default:
		demand(p, program.Rapid, machine.DemandRapid)
		demand(p, program.Feed, machine.DemandHolder)
	}
	if !m.Part {
		c.headed = append(c.headed, p)
	}
	return []*pair{p}
}

// isStock reports whether a body of the setup is what a part is cut from.
func (c *checker) isStock(body int) bool {
	for i := range c.setup.Parts {
		if c.setup.Parts[i].Unit == c.setup.Bodies[body].Unit {
			return true
		}
	}
	return false
}

// zonePairs are what is asked of what the changer sweeps while tools are changed, the same with every tool.
func (c *checker) zonePairs() []*pair {
	if c.changing != nil || c.setup.ToolChange == nil {
		return c.changing
	}
	for i := range c.setup.ToolChange.Zones {
		zone := &c.setup.ToolChange.Zones[i]
		for _, k := range c.others {
			b := &c.setup.Bodies[k]
			if b.OnTool || b.Role == "changer" {
				continue // the changer itself, and what it changes tools in
			}
			p := c.newPair(-1, zone, k, b)
			mm, why := c.setup.Demand.For(machine.DemandChange, zone.Name, b.Name)
			p.demands(program.Change, mm, why)
			c.changing = append(c.changing, p)
		}
	}
	return c.changing
}

// swingPairs are what is asked of bodies that go with no spindle: as the swing asks it, but on the way that
// the program goes. What the swing has proven over the whole of the commanded ranges need not be
// asked again within them.
func (c *checker) swingPairs(r *check.Report) {
	proven := map[[2]string]bool{}
	for i := range r.Pairs {
		if p := &r.Pairs[i]; (p.Question == check.Swing || p.Question == check.Overhang) && p.Verdict == check.Clear {
			proven[p.Bodies] = true
		}
	}
	s := c.setup
	for i := range s.Bodies {
		for k := i + 1; k < len(s.Bodies); k++ {
			a, b := &s.Bodies[i], &s.Bodies[k]
			if a.OnTool || b.OnTool || a.Unit == b.Unit || s.Spared(i, k) {
				continue
			}
			p := c.newPair(i, a, k, b)
			if p.moving.Motion.Rigid() {
				continue
			}
			mm, why := s.Demand.For(machine.Swing, a.Name, b.Name)
			for _, kind := range []program.Kind{program.Rapid, program.Feed, program.Change} {
				p.demands(kind, mm, why)
			}
			if proven[[2]string{a.Name, b.Name}] {
				p.known.keep(c.commanded(), mm)
				c.bySwing++
			}
			c.swung = append(c.swung, p)
		}
	}
}

// commanded is what the setup commands, a little more for rounding; of an axis without ends that is commanded a whole turn
// anything.
func (c *checker) commanded() (over motion.Box) {
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		over.Lo[k], over.Hi[k] = a.Commanded[0]-1e-9, a.Commanded[1]+1e-9
		if a.Unlimited && a.Commanded[1]-a.Commanded[0] >= 2*math.Pi*(1-1e-12) {
			over.Lo[k], over.Hi[k] = math.Inf(-1), math.Inf(1)
		}
	}
	return over
}
