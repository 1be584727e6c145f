package reach

import (
	"fmt"
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
	eroded map[int]*machine.Body // the cutting part less the depth that MayBeCut i allows

	// tips are all of the tool in front of its holder, at the longest stick-out
	// there can be, to be pushed in: see checker.tips.
	tips []mover
	// fullHeight is how low everything commanded can be indexed with it; nil if
	// not even with the drawback axis at home, or if it never is.
	fullHeight *float64
}

// name is the tool's as operators say it.
func (t *tool) name() string { return fmt.Sprintf("T%d", t.tool.Number) }

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
	seen  []motion.Chain
	hangs float64   // mm from the gauge line down: see checker.hangs
	play  []float64 // of each of them: see checker.play
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
		t.movers = append(t.movers, mover{body: &s.Bodies[i], index: i, hangs: c.headHangs[i]})
	}
	for i := range t.movers {
		m := &t.movers[i]
		m.seen = c.seen(m.body.Chain)
		if m.part && c.tallies == nil {
			m.hangs = c.hangs(m.body)
		}
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
// a body, nothing of the cutting part is deeper in the body, measured along the tool
// and square to it. Raised by the depth and made narrower by it on each side, the
// shape holds all of the erosion; a rounded corner becomes a sharp one, which holds
// it too. Of a cutting part that is thinner or shorter than that a core is kept, from
// which no point of it is farther than the depth: without one it could go right
// through the body.
func (c *checker) erode(t *tool, m *machine.MayBeCut) *machine.Body {
	cutter := *t.tool.Cutter
	raised := min(m.Depth, (1-core)*cutter.APMX)
	cutter.DC -= 2 * min(m.Depth, (1-core)*cutter.DC/2)
	if cutter.DCX > 0 {
		cutter.DCX -= 2 * min(m.Depth, (1-core)*cutter.DCX/2)
	}
	cutter.APMX -= raised
	cutter.RE, cutter.DCN = 0, min(cutter.DCN, cutter.DC)
	less := *t.tool
	less.Cutter = &cutter
	mesh := less.At(less.StickOut - raised).Solid(tooling.Cutting)
	if mesh == nil {
		return t.movers[0].body // as if nothing might be cut
	}
	whole := t.movers[0].body
	b := *whole
	b.Solid = &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	c.trees.Plant(1, []machine.Body{b})
	return &b
}

// core is what is kept of a cutting part that is all within the depth, as a share
// of its length and of its width.
const core = 0.05

// mayBeCut returns the statement that allows a body to be cut into, -1 for none.
func (c *checker) mayBeCut(body int) int {
	return slices.IndexFunc(c.setup.MayBeCut, func(m machine.MayBeCut) bool { return m.Body == body })
}
