package reach

import (
	"context"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// Options say how hard to look.
type Options = proof.Options

// DefaultTests is the budget of a pair on one leg: some two seconds on one core.
const DefaultTests = 20_000_000

// Check looks at every operation of the setup and adds what it finds to the
// report. A setup without operations gets no Report.Reach. In brief it leaves out the smallest
// clearances, the heights, the stick-outs and what to key in, and says which margins are
// tightest, one feature after another. The only error is the context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	if len(s.Operations) == 0 && len(s.Faulty) == 0 {
		return nil
	}
	o = o.Ready(DefaultTests)
	if s.Spindle == nil {
		r.Findings = append(r.Findings, faulty(s)...) // they say so
		r.Conclude()
		return nil
	}
	c := &checker{setup: s, options: o, trees: o.Trees}
	c.prepare()
	c.present()
	stages := []func(context.Context) error{c.screen, c.look, c.sharpen, c.travelled, c.windows}
	if o.Brief {
		stages = stages[:len(stages)-1]
	}
	for _, stage := range stages {
		if err := stage(ctx); err != nil {
			return err
		}
	}
	c.write(r)
	return nil
}

// checker holds one check while it runs.
type checker struct {
	setup     *machine.Setup
	options   Options
	trees     *proof.Trees
	solvers   []*kinematics.Machine // by part; nil where solverFault says why
	drawn     []*kinematics.Machine // by part, as it is drawn: what the program is written for
	faults    []string              // by part
	tools     map[int]*tool         // by index in the setup, those that operations use
	others    []int                 // bodies that the spindle is moved against
	movers    []int                 // bodies on the tool's side that are no tool
	headHangs map[int]float64       // how far each of them hangs down: see hangs
	zones     []machine.Body        // what the changer sweeps
	tops      map[top]float64
	stops     []*stop
	moves     []*move
	ceiling   mover     // all above the gauge line
	tightest  []*told   // by operation; nil where nothing is near
	windowOf  []*window // by operation; nil where it was not looked for
	tallies   tallies   // in brief; otherwise nil
	// In brief: see box.
	passed passed
	stood  map[*machine.Body][]*stood
	widest float64 // see across
	// The motion of the spindle as seen from each part.
	spindles []motion.Chain
}

// top names a direction of a part in which the stock's height is known.
type top struct {
	part int
	axis r3.Vector
}

// prepare builds the trees, the tools and the kinematics.
func (c *checker) prepare() {
	s := c.setup
	if c.options.Brief {
		c.tallies, c.options.Jobs = tallies{}, 1
		c.passed, c.stood = passed{}, map[*machine.Body][]*stood{}
		c.tallies.begin(c.options.Verdicts)
		c.windowOf = make([]*window, len(s.Operations))
	}
	c.movers, c.others = spindle.Heads(s), spindle.Others(s)
	c.trees.Plant(c.options.Jobs, s.Bodies)
	if s.ToolChange != nil {
		c.zones = s.ToolChange.Zones
		c.trees.Plant(c.options.Jobs, c.zones)
	}
	c.headHangs = map[int]float64{}
	if !c.options.Brief { // there, nobody asks how high anything must be
		for _, i := range c.movers {
			c.headHangs[i] = c.hangs(&s.Bodies[i])
		}
		c.ceiling = c.roof()
	}
	c.tools = map[int]*tool{}
	for i := range s.Operations {
		if n := s.Operations[i].Tool; c.tools[n] == nil {
			c.tools[n] = c.newTool(n)
		}
	}
	if c.tallies != nil {
		c.magazineMargins()
	}
	c.solve()
}

// solve makes the kinematics of every part.
func (c *checker) solve() {
	s := c.setup
	c.tops = map[top]float64{}
	c.solvers = make([]*kinematics.Machine, len(s.Parts))
	c.drawn = make([]*kinematics.Machine, len(s.Parts))
	c.faults = make([]string, len(s.Parts))
	for i := range s.Parts {
		c.spindles = append(c.spindles, motion.Between(s.Parts[i].Chain, s.Spindle.Chain))
	}
	drawn := s.Drawn()
	for i := range s.Parts {
		m, err := kinematics.New(s.KinematicAxes(), s.Parts[i].Chain, s.Spindle.Chain)
		if err != nil {
			c.faults[i] = err.Error()
			continue
		}
		c.solvers[i], c.drawn[i] = m, m
		if s.Parts[i].Drawn == nil {
			continue
		}
		if c.drawn[i], err = kinematics.New(s.KinematicAxes(), drawn.Parts[i].Chain, s.Spindle.Chain); err != nil {
			c.solvers[i], c.faults[i] = nil, err.Error()
		}
	}
}

// home returns the position of every axis at rest.
func home(s *machine.Setup) (p motion.Params) {
	for k := range s.Axes {
		p[k] = s.Axes[k].Home
	}
	return p
}
