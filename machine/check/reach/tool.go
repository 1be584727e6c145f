package reach

import (
	"fmt"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check/spindle"
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
	spindle.Mover
	// seen is the motion of each of the checker's others as seen from it: so linear
	// axes come first, and keep their directions whatever rotary axes do.
	seen  []motion.Chain
	hangs float64   // mm from the gauge line down: see checker.hangs
	play  []float64 // of each of them: see checker.play
}

// newTool makes the bodies of a tool and their trees.
func (c *checker) newTool(index int) *tool {
	s := c.setup
	t := &tool{index: index, tool: s.Tools[index], eroded: map[int]*machine.Body{}}
	for _, m := range spindle.With(s, c.trees, index) {
		t.movers = append(t.movers, mover{Mover: m, seen: c.seen(m.Body.Chain), hangs: c.headHangs[m.Index]})
	}
	if c.tallies == nil {
		for i := range t.movers {
			if m := &t.movers[i]; m.Part {
				m.hangs = c.hangs(m.Body)
			}
		}
	}
	for i := range s.MayBeCut {
		t.eroded[i] = spindle.Erode(c.trees, t.tool, t.movers[0].Body, s.MayBeCut[i].Depth)
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
