package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/progress"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/spf13/cobra"
)

// reportOptions are the flags of commands that look at setups and report.
type reportOptions struct {
	json, quiet bool
	full        bool // what is clear is told at length, too
	pictures    string
	animate     bool // with pictures
	jobs        int
	operation   string   // "": all of the report
	checks      []string // what is looked at
	program     programOptions
}

// flags defines those that all such commands have.
func (o *reportOptions) flags(cmd *cobra.Command) {
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.pictures, "pictures", "", "write pictures into `DIR`, made if it is not there")
	f.BoolVar(&o.full, "full", false, "tell of what is all clear at length, too, not in a line")
	f.BoolVar(&o.json, "json", false, "write the report as data, a line of JSON for each setup (\"gridswing schema\" describes it)")
	f.BoolVar(&o.quiet, "quiet", false, "write a line for each setup, its verdict, and no progress")
	f.IntVar(&o.jobs, "jobs", 0, "use at most `N` cores (default all); the answer is the same")
}

// refuse returns what is wrong with the call.
func (o *reportOptions) refuse(cmd *cobra.Command, setups []string) error {
	switch {
	case o.json && o.quiet:
		return wrong(helpHint(cmd), "--json, --quiet: found both, expected at most one of them")
	case o.animate && o.pictures == "":
		return wrong(helpHint(cmd), "--animate: found no --pictures, expected it to say where to")
	case o.jobs < 0:
		return wrong(helpHint(cmd), "--jobs: found %d, expected 1 or more, or 0 for all cores", o.jobs)
	}
	if err := o.program.refuse(cmd, setups, o.pictures); err != nil || o.pictures == "" {
		return err
	}
	return differ(setups)
}

// run looks at all setups. What is wrong with one does not keep the others from
// being looked at.
func (o *reportOptions) run(cmd *cobra.Command, setups []string) error {
	if err := o.refuse(cmd, setups); err != nil {
		return err
	}
	o.program.drawn = o.pictures != ""
	if o.jobs > 0 {
		runtime.GOMAXPROCS(min(o.jobs, runtime.GOMAXPROCS(0))) // for what takes no number of jobs
	}
	ctx, out := cmd.Context(), cmd.OutOrStdout()
	line := progressOn(cmd.ErrOrStderr(), o.quiet)
	l := newLooker(o.jobs, line, o.checks...)
	var faults []error
	clear, written := true, false
	for _, name := range setups {
		found, err := o.lookAt(cmd, l, name)
		line.Clear()
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			faults = append(faults, err)
			continue
		}
		if written && !o.json && !o.quiet {
			fmt.Fprintln(out)
		}
		written = true
		if err := o.write(cmd, found); err != nil {
			return err
		}
		clear = clear && found.report.Verdict == check.Clear
	}
	if len(faults) > 0 {
		return errors.Join(faults...)
	}
	if !clear {
		return errNotClear
	}
	return nil
}

// lookAt loads a setup and looks at it, if it has what is asked for.
func (o *reportOptions) lookAt(cmd *cobra.Command, l *looker, name string) (*looked, error) {
	s, err := l.load(name)
	if err != nil {
		return nil, err
	}
	if err := cmp.Or(o.lacks(s), o.program.fits(s)); err != nil {
		return nil, err
	}
	return l.look(cmd.Context(), s, &o.program)
}

// lacks says what a setup has not that is asked for, and finds the operation that is.
func (o *reportOptions) lacks(s *machine.Setup) error {
	if len(o.checks) == 1 && o.checks[0] == check.ReachCheck && !hasOperations(s) {
		return wrong("\"gridswing check\" looks at a setup without any; README.md shows how operations are written",
			"%s: found no operations, expected [[operation]] tables", s.File)
	}
	return o.find(s)
}

// differ refuses setups whose pictures would have the same names.
func differ(setups []string) error {
	known := map[string]string{}
	for _, name := range setups {
		stem := pictures.Stem(name)
		if other, taken := known[stem]; taken {
			return wrong("look at them one by one, each into a folder of its own",
				"--pictures: found %s and %s, expected file names that differ", other, name)
		}
		known[stem] = name
	}
	return nil
}

// write writes what was found: the report in one piece, so that an interrupt leaves all of it
// or none, then pictures.
func (o *reportOptions) write(cmd *cobra.Command, found *looked) error {
	out := cmd.OutOrStdout()
	var b bytes.Buffer
	if err := o.words(&b, terminal.LookOf(out), found.report); err != nil {
		return err
	}
	if _, err := out.Write(b.Bytes()); err != nil {
		return err
	}
	if found.posted != nil {
		names, err := o.program.writeStock(cmd.Context(), found.setup, found.posted)
		if err != nil {
			return err
		}
		o.list(out, "Stock", names)
	}
	if o.pictures != "" {
		found.animate = o.animate
		names, err := found.draw(cmd.Context(), o.pictures, o.operation, o.jobs)
		if err != nil {
			return err
		}
		o.list(out, "Pictures", names)
	}
	if found.posted != nil {
		return o.program.notMet(found.posted)
	}
	return nil
}

// list says which files were written, where the report is in words.
func (o *reportOptions) list(out io.Writer, heading string, names []string) {
	if !o.json && !o.quiet && len(names) > 0 {
		fmt.Fprintf(out, "\n%s\n   %s\n", heading, strings.Join(names, "\n   "))
	}
}

// words writes a report as it is asked for.
func (o *reportOptions) words(w io.Writer, look terminal.Look, r *check.Report) error {
	switch {
	case o.json:
		return json.NewEncoder(w).Encode(r)
	case o.quiet:
		return text.VerdictLine(w, look, r)
	case o.operation != "" && r.Reach != nil:
		for i := range r.Reach.Operations {
			if q := &r.Reach.Operations[i]; q.Name == o.operation {
				return text.Operation(w, look, r, q)
			}
		}
	}
	return text.Report(w, look, r, o.full)
}

// progressOn returns a line of progress on a terminal, and nil, which shows
// nothing, elsewhere.
func progressOn(w io.Writer, quiet bool) *progress.Line {
	if quiet || !terminal.Is(w) {
		return nil
	}
	return progress.New(w, terminal.LookOf(w).Width)
}
