package reach

import (
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/tooling"
)

// tool is a tool in the spindle, with all that stands on the spindle's side.
type tool struct {
	index  int // of the setup
	tool   *tooling.Tool
	movers []mover
	eroded map[int]*machine.Body // the cutting part less the depth that MayBeCut i allows; nil: nothing is left

	// tips are all of the tool in front of its holder, at the longest stick-out
	// there can be, to be pushed in: see checker.tips.
	tips []mover
	// fullHeight is how low everything commanded can be indexed with it; nil if
	// not even with the drawback axis at home, or if it never is.
	fullHeight *float64
}

// mover is a body that goes with the spindle.
type mover struct {
	body *machine.Body
	// index is its place in Setup.Bodies, or, from len(Setup.Bodies) on, in
	// Setup.ToolBodies.
	index int
	zone  tooling.Zone
	part  bool // of the tool: zone counts
	// seen is the motion of each of the checker's others as seen from it: so linear
	// axes come first, and keep their directions whatever rotary axes do.
	seen []motion.Chain
}

// sharp reports whether the mover is the tool's cutting part.
func (m *mover) sharp() bool { return m.part && m.zone == tooling.Cutting }

// slim reports whether it is no wider than what cuts and follows it.
func (m *mover) slim() bool { return m.part && m.zone == tooling.Neck }

// newTool makes the bodies of a tool and their trees.
func (c *checker) newTool(index int) *tool {
	s := c.setup
	t := &tool{index: index, tool: s.Tools[index], eroded: map[int]*machine.Body{}}
	zones := s.ToolBodies(index)
	for i := range zones {
		c.trees.Plant(1, []machine.Body{zones[i].Body})
		t.movers = append(t.movers, mover{body: &zones[i].Body, zone: zones[i].Zone, part: true, index: len(s.Bodies) + i})
	}
	for _, i := range c.movers {
		t.movers = append(t.movers, mover{body: &s.Bodies[i], index: i})
	}
	for i := range t.movers {
		t.movers[i].seen = c.seen(t.movers[i].body.Chain)
	}
	for i := range s.MayBeCut {
		t.eroded[i] = c.erode(t, &s.MayBeCut[i])
	}
	return t
}

// seen returns the motion of each of the checker's others as seen from a body.
func (c *checker) seen(chain motion.Chain) []motion.Chain {
	list := make([]motion.Chain, len(c.others))
	for k, i := range c.others {
		list[k] = motion.Between(chain, c.setup.Bodies[i].Chain)
	}
	return list
}

// erode returns the cutting part less a depth all round: where this stays out of
// a body, nothing of the body is deeper in the cutting part. Raised by the depth
// and made narrower by it on each side, the shape holds all of the erosion; a ball is
// replaced by a flat end, which holds it too. Nil if nothing is left.
func (c *checker) erode(t *tool, m *machine.MayBeCut) *machine.Body {
	cutter := *t.tool.Cutter
	cutter.DC -= 2 * m.Depth
	cutter.APMX -= m.Depth
	cutter.RE = 0
	if cutter.DC <= 0 || cutter.APMX <= 0 {
		return nil
	}
	less := *t.tool
	less.Cutter = &cutter
	mesh := less.At(less.StickOut - m.Depth).Solid(tooling.Cutting)
	if mesh == nil {
		return nil
	}
	whole := t.movers[0].body
	b := *whole
	b.Solid = &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	c.trees.Plant(1, []machine.Body{b})
	return &b
}

// mayBeCut returns the statement that allows a body to be cut into, -1 for none.
func (c *checker) mayBeCut(body int) int {
	return slices.IndexFunc(c.setup.MayBeCut, func(m machine.MayBeCut) bool { return m.Body == body })
}
