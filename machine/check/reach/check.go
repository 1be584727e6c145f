package reach

import (
	"context"
	"runtime"
	"strings"
	"sync/atomic"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// Options say how hard to look. The zero value is what a user wants.
type Options struct {
	// Jobs is how many goroutines may work at once, 0 one a core. The report is
	// the same for any number.
	Jobs int
	// Tests is the budget of one pair on one leg, in pairs of parts looked at; 0
	// means DefaultTests. A pair that uses it up is unproven.
	Tests int64
	// Trees are those that exist already; those that are missing are added.
	Trees proof.Trees
	// Progress, if not nil, is told how much of a stage is done. It is called
	// from several goroutines.
	Progress func(stage string, done, total int)
}

// DefaultTests is a budget of some two seconds on one core.
const DefaultTests = 20_000_000

// Check looks at every operation of the setup and adds what it finds to the
// report. A setup without operations gets no Report.Reach. The only error is the
// context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	if len(s.Operations) == 0 && len(s.Faulty) == 0 {
		return nil
	}
	if o.Tests <= 0 {
		o.Tests = DefaultTests
	}
	if o.Jobs <= 0 {
		o.Jobs = runtime.GOMAXPROCS(0)
	}
	if o.Trees == nil {
		o.Trees = proof.Trees{}
	}
	if s.Spindle == nil {
		r.Findings = append(r.Findings, faulty(s)...) // they say so
		r.Conclude()
		return nil
	}
	c := &checker{setup: s, options: o, trees: o.Trees}
	c.prepare()
	c.present()
	for _, stage := range []func(context.Context) error{c.screen, c.look, c.sharpen, c.travelled, c.windows} {
		if err := stage(ctx); err != nil {
			return err
		}
	}
	c.write(r)
	return nil
}

// checker holds one check while it runs.
type checker struct {
	setup    *machine.Setup
	options  Options
	trees    proof.Trees
	solvers  []*kinematics.Machine // by part; nil where solverFault says why
	faults   []string              // by part
	tools    map[int]*tool         // by index in the setup, those that operations use
	others   []int                 // bodies that are not on the tool's side
	movers   []int                 // bodies on the tool's side that are no tool
	zones    []machine.Body        // what the changer sweeps
	tops     map[top]float64
	stops    []*stop
	moves    []*move
	ceiling  mover     // all above the gauge line
	tightest []*told   // by operation; nil where nothing is near
	windowOf []*window // by operation; nil where it was not looked for
}

// top names a direction of a part in which the stock's height is known.
type top struct {
	part int
	axis r3.Vector
}

// prepare builds the trees, the tools and the kinematics.
func (c *checker) prepare() {
	s := c.setup
	for i := range s.Bodies {
		switch b := &s.Bodies[i]; {
		case !b.OnTool:
			c.others = append(c.others, i)
		case b.Role != "tool":
			c.movers = append(c.movers, i)
		}
	}
	c.trees.Plant(c.options.Jobs, s.Bodies)
	if s.ToolChange != nil {
		c.zones = s.ToolChange.Zones
		c.trees.Plant(c.options.Jobs, c.zones)
	}
	c.tools = map[int]*tool{}
	for i := range s.Operations {
		if n := s.Operations[i].Tool; c.tools[n] == nil {
			c.tools[n] = c.newTool(n)
		}
	}
	c.ceiling = c.roof()
	c.tops = map[top]float64{}
	c.solvers = make([]*kinematics.Machine, len(s.Parts))
	c.faults = make([]string, len(s.Parts))
	for i := range s.Parts {
		m, err := kinematics.New(axesOf(s), s.Parts[i].Chain, s.Spindle.Chain)
		if err != nil {
			c.faults[i] = err.Error()
			continue
		}
		c.solvers[i] = m
	}
}

// axesOf tells the kinematics what it must know of the axes.
func axesOf(s *machine.Setup) []kinematics.Axis {
	axes := make([]kinematics.Axis, len(s.Axes))
	for k := range s.Axes {
		a := &s.Axes[k]
		axes[k] = kinematics.Axis{
			Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home,
			Hold: a.Kind == motion.Linear && strings.ContainsAny(a.Letter[:1], "UVW"),
		}
	}
	return axes
}

// home returns the position of every axis at rest.
func home(s *machine.Setup) (p motion.Params) {
	for k := range s.Axes {
		p[k] = s.Axes[k].Home
	}
	return p
}

// each does the work for 0 to n-1, in parallel.
func (c *checker) each(ctx context.Context, stage string, n int, work func(ctx context.Context, i int) error) error {
	var done atomic.Int64
	return proof.InParallel(ctx, c.options.Jobs, n, func(i int) error {
		err := work(ctx, i)
		if d := int(done.Add(1)); c.options.Progress != nil {
			c.options.Progress(stage, d, n)
		}
		return err
	})
}
