package proof

import (
	"context"
	"runtime"
	"sync/atomic"
)

// Options say how hard to look. The zero value is what a user wants.
type Options struct {
	// Jobs is how many goroutines may work at once, 0 one a core. The report is
	// the same for any number.
	Jobs int
	// Tests is the budget of one question, in pairs of parts looked at; 0 means
	// what the room finds right. A question that uses it up is unproven.
	Tests int64
	// Trees are those that exist already, of this setup or another one with the
	// same solids; those that are missing are added. Nil: none.
	Trees *Trees
	// Brief leaves out what does not help to choose between setups: the chart, where
	// contacts are, sharp clearances, index heights, stick-out windows, cures. Instead
	// Report.Margins says how much is left of what is demanded. The verdicts are the same.
	Brief bool
	// Verdicts, in brief, leaves out what margins tell beyond verdicts: whatever leaves all that
	// is demanded counts as leaving no more.
	Verdicts bool
	// Common, in brief, is what is the same in all that is chosen between: nil, nothing is known
	// to be. What it leaves of a demand does not help to choose, so Report.Margins tells of it only
	// where the demand is not met.
	Common *Common
	// Progress, if not nil, is told how much of a stage is done. It is called
	// from several goroutines.
	Progress func(stage string, done, total int)
}

// Common says what is the same in all that is chosen between.
type Common struct {
	// Units says of two units, the part that a tool is at standing for the tool, that they stand to
	// each other in the same way.
	Units func(a, b string) bool
	// Tool says of a tool, by its number, that it is the same one at the same stick-out.
	Tool func(number int) bool
}

// Ready returns the options with what is left out filled in.
func (o Options) Ready(tests int64) Options {
	if o.Tests <= 0 {
		o.Tests = tests
	}
	if o.Jobs <= 0 {
		o.Jobs = runtime.GOMAXPROCS(0)
	}
	if o.Trees == nil {
		o.Trees = NewTrees()
	}
	return o
}

// Tell tells the progress of a stage, if anybody wants to know.
func (o *Options) Tell(stage string, done, total int) {
	if o.Progress != nil && total > 0 {
		o.Progress(stage, done, total)
	}
}

// Each does the work for 0 to n-1, in parallel, and tells how much is done.
func (o *Options) Each(ctx context.Context, stage string, n int, work func(ctx context.Context, i int) error) error {
	var done atomic.Int64
	return InParallel(ctx, o.Jobs, n, func(i int) error {
		err := work(ctx, i)
		o.Tell(stage, int(done.Add(1)), n)
		return err
	})
}
