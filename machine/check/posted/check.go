package posted

import (
	"context"
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
	"gridswing/machine/program"
)

// Options say how hard to look, and what at.
type Options struct {
	proof.Options
	// Cell is the size of the cells of the stock as it is, mm; 0 for one that fits its size.
	Cell float64
	// After lists lines of the program after which the stock as it is then is wanted. Of those that make no
	// step the program must tell (program.Options.Marks).
	After []int
	// NoStock leaves the stock of parts out of it: nothing is cut, and nothing asked of it. The report
	// says so, and is unproven.
	NoStock bool
	// NoRemaining leaves out Result.Remaining, which takes its time to be made.
	NoRemaining bool
	// NoWindow leaves out between which stick-outs of each tool all would still hold.
	NoWindow bool
}

// DefaultTests is the budget of a pair on one leg: a tenth of a second on one core.
const DefaultTests = 1_000_000

// Program is a program to be looked at.
type Program struct {
	File   string // as it was opened
	Format string // check.WordAddress or check.CutterLocation
	Steps  program.Steps
	Size   int64 // of the file in bytes, for who wants to know how much is done; 0: not known
}

// Result is what else came out of it.
type Result struct {
	// Remaining is what is left of the stock of each of Setup.Parts, in the frame of its stock's body; nil
	// where none is modelled, or none is wanted.
	Remaining []*geom.Mesh
	// After are the stocks after the lines of Options.After, in that order, by part; nil where the line was
	// not met.
	After [][]*geom.Mesh
}

// Check looks at every move of the program and adds what it finds to the report, with Report.Program.
// Offsets, lengths and what is assumed are left to who opened it. The only error is the context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, p Program, o Options) (*Result, error) {
	c := newChecker(s, r, o)
	return c.run(ctx, r, p)
}

// checker holds one check while it runs.
type checker struct {
	setup   *machine.Setup
	options Options
	trees   *proof.Trees
	others  []int         // bodies that the spindle is moved against
	weight  motion.Params // of each axis where they are laid beside a line
	travel  motion.Box    // how far the axes go; rotary ones without ends anywhere
	reach   motion.Box    // the same with ends, what is commanded
	cap     float64       // of the strip
	axial   int           // the axis along the tool, -1 if there is none; up is 1 where it goes up with its position, else -1
	up      float64
	sides   map[int]*side // by chunk.tool
	// headed are the pairs of bodies on the tool's side that are no tool, changing those of the changer's zones, swung
	// those of bodies that go with no spindle. bySwing says how many of these the swing has proven.
	headed, changing, swung []*pair
	bySwing                 int
}

func newChecker(s *machine.Setup, r *check.Report, o Options) *checker {
	c := &checker{setup: s, options: o, sides: map[int]*side{}, cap: stripCap(s.Demand.Default)}
	c.options.Options = o.Options.Ready(DefaultTests)
	c.trees = c.options.Trees
	c.trees.Plant(c.options.Jobs, s.Bodies)
	if s.ToolChange != nil {
		c.trees.Plant(c.options.Jobs, s.ToolChange.Zones)
	}
	if s.Spindle != nil {
		c.others = spindle.Others(s)
	}
	for k := range s.Axes {
		a := &s.Axes[k]
		c.weight[k] = 1
		if a.Kind == motion.Rotary {
			c.weight[k] = arm
		}
		c.travel.Lo[k], c.travel.Hi[k] = a.Travel[0], a.Travel[1]
		c.reach.Lo[k], c.reach.Hi[k] = a.Travel[0], a.Travel[1]
		if math.IsInf(a.Travel[1]-a.Travel[0], 0) {
			c.reach.Lo[k], c.reach.Hi[k] = a.Commanded[0], a.Commanded[1]
		}
	}
	c.axial = -1
	if k, up, ok := c.upright(); ok {
		c.axial, c.up = k, up
	}
	c.swingPairs(r)
	return c
}
