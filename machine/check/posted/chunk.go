package posted

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine/program"
)

// mostLegs and mostSteps are how much a chunk holds, but for the last step, whose legs are never
// parted: so memory does not grow with the program.
const (
	mostLegs  = 4096
	mostSteps = 4096
)

// chunk is a run of steps that follow each other with one tool in the spindle. Read-only once it is
// made, so that several goroutines may look at it.
type chunk struct {
	number int // from 0, in the order of the program
	// tool is which of Setup.Tools is in the spindle; noTool or otherTool.
	tool   int
	called int // the tool's number in the program
	steps  []step
	legs   []leg
	text   []byte          // the blocks of the steps, one after the other
	levels [][]stretch     // see grow
	side   *side           // what is asked with the tool
	bytes  int64           // of the program that were read so far
	passed map[int32][]int // of steps: Step.Passed
	// near says of each of side.pairs that is asked for the stock on which legs it may be too near to
	// the stock as loaded, or cut it: see chunk.nearStock.
	near [][]span
}

// What chunk.tool can be but an index.
const (
	noTool    = -1 // none is known to be in the spindle
	otherTool = -2 // one that the setup does not have
)

// step is a program.Step, its legs and its text being those of the chunk.
type step struct {
	program.Place
	kind    program.Kind
	legs    [2]int32 // in chunk.legs, without the second: first those of Step.Legs, then of Step.OtherWay
	text    [2]int32 // in chunk.text
	thread  bool
	leaves  bool // a change, with which the chunk ends: the next one begins with it
	turning int8
	// began is when it begins, seconds after the first step of the program; times that are not known count as 0.
	began, seconds float64
	length         float64 // mm; NaN where it is not known
}

// leg is a stretch of a step.
type leg struct {
	program.Leg
	kind program.Kind // Rapid or Feed; Change for the position at which tools are changed
	step int32        // in chunk.steps
	// other is set where it is in the sense in which an unlimited axis may go instead.
	other bool
	// led says whether the length of the tool leads it where it begins and where it ends, level whether
	// a longer tool hangs lower on it: see window.
	led   [2]bool
	level bool
}

// block is the text of a step's block.
func (c *chunk) block(s *step) string { return string(c.text[s.text[0]:s.text[1]]) }

// legsOf are the legs of the step, those in the other sense behind.
func (c *chunk) legsOf(s *step) []leg { return c.legs[s.legs[0]:s.legs[1]] }

// at is where the axes stand in the middle of a leg, the share s of the way along.
func (l *leg) at(s float64) motion.Params {
	p := l.From
	for k := range p {
		p[k] += s * (l.To[k] - p[k])
	}
	return p
}

// known is a number of seconds or mm, 0 for NaN.
func known(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// span is some legs of a chunk that follow each other, the second not included.
type span struct{ from, to int32 }

// nearStock lists the legs of the chunk on which one of side.movers may come nearer to a body, which is a
// part's stock, than is demanded there, if nothing had been cut yet: on all others it is proven to
// keep clear of the stock as loaded, and so of what is left of it. The demands are those that moverPairs says.
func (c *chunk) nearStock(mover, body int) (list []span) {
	for i, p := range c.side.pairs {
		if p.stock && p.a == c.side.movers[mover].Index && p.b == body {
			list = append(list, c.near[i]...)
		}
	}
	return list
}
