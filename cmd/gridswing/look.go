package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/progress"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/driver"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/posted"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/stack"
	"gridswing/machine/check/swing"
)

// looker looks at setups, at several at once if need be. Solids and tools that several
// of them have are read, and made ready to be looked at, once.
type looker struct {
	checks []string // which, as check.Report.Checks names them, in their order
	jobs   int
	line   *progress.Line
	store  *machine.Store
	trees  *proof.Trees
}

func newLooker(jobs int, line *progress.Line, checks ...string) *looker {
	return &looker{checks: checks, jobs: jobs, line: line, store: machine.NewStore(), trees: proof.NewTrees()}
}

// looked is a setup and what was found of it.
type looked struct {
	setup  *machine.Setup
	report *check.Report
	// posted is what came out of the program, and looker what looked at it; nil if there was none.
	program *programOptions
	posted  *posted.Result
	looker  *looker
	animate bool // draw animates the way through the critical positions, too
}

// load reads a setup file.
func (l *looker) load(name string) (*machine.Setup, error) {
	if err := noSolid(name); err != nil {
		return nil, err
	}
	return l.store.Load(name)
}

// noSolid refuses a solid where a setup file is expected.
func noSolid(name string) error {
	if strings.EqualFold(filepath.Ext(name), ".stl") {
		return wrong(fmt.Sprintf("%q examines it", "gridswing solid "+name), "%s: found a solid, expected a setup file", name)
	}
	return nil
}

// prepare makes the solids of several setups ready to be looked at.
func (l *looker) prepare(setups ...*machine.Setup) {
	jobs := proof.Options{Jobs: l.jobs}.Ready(0).Jobs
	for _, s := range setups {
		l.trees.Plant(jobs, s.Bodies)
	}
}

// look runs the checks on a setup, and looks at a program if one is named.
func (l *looker) look(ctx context.Context, s *machine.Setup, program *programOptions) (*looked, error) {
	r := check.NewReport(s)
	progress := l.progress(s)
	for _, c := range l.checks {
		var err error
		switch c {
		case check.SwingCheck:
			err = swing.Check(ctx, s, r, swing.Options{Jobs: l.jobs, Progress: progress, Trees: l.trees})
		case check.ReachCheck:
			if !hasOperations(s) {
				continue
			}
			err = reach.Check(ctx, s, r, reach.Options{Jobs: l.jobs, Progress: progress, Trees: l.trees})
		case check.StackCheck:
			err = stack.Check(ctx, s, r, stack.Options{Jobs: l.jobs, Trees: l.trees})
		case check.LoadsCheck:
			err = loads.Check(ctx, s, r, loads.Options{Trees: l.trees})
		case check.DriverCheck:
			err = driver.Check(ctx, s, r, driver.Options{Jobs: l.jobs, Progress: progress, Trees: l.trees})
			if err == nil && (r.Fastening == nil || len(s.Drivers) == 0) {
				continue // the screws are listed at most
			}
		}
		if err != nil {
			return nil, err
		}
		r.Checks = append(r.Checks, c)
	}
	found := &looked{setup: s, report: r, program: program, looker: l}
	if program.file == "" {
		return found, nil
	}
	var err error
	found.posted, err = program.look(ctx, s, r, l.how(s))
	return found, err
}

func (l *looker) progress(s *machine.Setup) func(stage string, done, total int) {
	return func(stage string, done, total int) { l.line.Show(s.Name+": "+stage, done, total) }
}

// how is how a program is looked at.
func (l *looker) how(s *machine.Setup) proof.Options {
	return proof.Options{Jobs: l.jobs, Progress: l.progress(s), Trees: l.trees}
}

// hasOperations reports whether a setup says what is to be cut, if only in a way
// that cannot be looked at.
func hasOperations(s *machine.Setup) bool { return len(s.Operations) > 0 || len(s.Faulty) > 0 }

// draw writes the pictures of what was found into a folder, and one of the named operation, and
// returns their names.
func (l *looked) draw(ctx context.Context, dir, operation string, jobs int) ([]string, error) {
	scene, err := pictures.Prepare(ctx, l.setup, jobs)
	if err != nil {
		return nil, err
	}
	scene.Animate = l.animate
	if l.posted != nil {
		stocks, err := l.program.stocks(ctx, l.setup, l.report, l.posted, l.looker.how(l.setup))
		if err != nil {
			return nil, err
		}
		scene.Cut(stocks)
	}
	return scene.WriteSet(ctx, l.report, operation, dir)
}
