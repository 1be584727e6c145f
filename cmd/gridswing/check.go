package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strings"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/progress"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/swing"

	"github.com/spf13/cobra"
)

// checkOptions are the flags of check.
type checkOptions struct {
	json, quiet bool
	pictures    string
	jobs        int
}

func newCheck() *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check SETUP...",
		Short: "Tell whether setups swing clear",
		Long: `Reads setup files with all they name and reports, worst first, what meets
what over the whole commanded range, how close the rest gets, and what the
answer rests on.`,
		Example: `  gridswing check setups/op10.toml --pictures pictures
  gridswing check setups/*.toml --quiet
  gridswing check setups/op10.toml --json > op10.json`,
		Args: arguments(1, -1, "setup"),
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.pictures, "pictures", "", "write pictures into `DIR`, made if it is not there")
	f.BoolVar(&o.json, "json", false, "write the report as data, a line of JSON for each setup (\"gridswing schema\" describes it)")
	f.BoolVar(&o.quiet, "quiet", false, "write a line for each setup, its verdict, and no progress")
	f.IntVar(&o.jobs, "jobs", 0, "use at most `N` cores (default all); the answer is the same")
	return cmd
}

// run checks all setups. What is wrong with one does not keep the others from
// being checked.
func (o *checkOptions) run(cmd *cobra.Command, args []string) error {
	if o.json && o.quiet {
		return wrong(helpHint(cmd), "--json, --quiet: found both, expected at most one of them")
	}
	if o.jobs < 0 {
		return wrong(helpHint(cmd), "--jobs: found %d, expected 1 or more, or 0 for all cores", o.jobs)
	}
	if o.jobs > 0 {
		runtime.GOMAXPROCS(min(o.jobs, runtime.GOMAXPROCS(0))) // for what takes no number of jobs
	}
	if o.pictures != "" {
		if err := differ(args); err != nil {
			return err
		}
	}
	ctx, out := cmd.Context(), cmd.OutOrStdout()
	line := progressOn(cmd.ErrOrStderr(), o.quiet)
	var faults []error
	clear := true
	for i, name := range args {
		c, err := checkSetup(ctx, name, o.jobs, line)
		line.Clear()
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			faults = append(faults, err)
			continue
		}
		if i > 0 && !o.json && !o.quiet {
			fmt.Fprintln(out)
		}
		if err := o.write(out, c.report); err != nil {
			return err
		}
		if o.pictures != "" {
			names, err := c.draw(ctx, o.pictures, o.jobs)
			if err != nil {
				return err
			}
			if !o.json && !o.quiet {
				fmt.Fprintf(out, "\nPictures\n   %s\n", strings.Join(names, "\n   "))
			}
		}
		clear = clear && c.report.Verdict == check.Clear
	}
	if len(faults) > 0 {
		return errors.Join(faults...)
	}
	if !clear {
		return errNotClear
	}
	return nil
}

// differ refuses setups whose pictures would have the same names.
func differ(setups []string) error {
	known := map[string]string{}
	for _, name := range setups {
		stem := pictures.Stem(name)
		if other, taken := known[stem]; taken {
			return wrong("check them one by one, each into a folder of its own",
				"--pictures: found %s and %s, expected file names that differ", other, name)
		}
		known[stem] = name
	}
	return nil
}

// write writes a report in one piece, so that an interrupt leaves all of it or none.
func (o *checkOptions) write(w io.Writer, r *check.Report) error {
	var b bytes.Buffer
	var err error
	switch look := terminal.LookOf(w); {
	case o.json:
		err = json.NewEncoder(&b).Encode(r)
	case o.quiet:
		err = text.VerdictLine(&b, look, r)
	default:
		err = text.Report(&b, look, r)
	}
	if err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// checked is a setup and what was found of it.
type checked struct {
	setup  *machine.Setup
	report *check.Report
}

// checkSetup loads a setup and looks at it.
func checkSetup(ctx context.Context, name string, jobs int, line *progress.Line) (*checked, error) {
	if strings.EqualFold(filepath.Ext(name), ".stl") {
		return nil, wrong(fmt.Sprintf("%q examines it", "gridswing solid "+name), "%s: found a solid, expected a setup file", name)
	}
	setup, err := machine.Load(name)
	if err != nil {
		return nil, err
	}
	c := &checked{setup: setup, report: check.NewReport(setup)}
	err = swing.Check(ctx, setup, c.report, swing.Options{
		Jobs:     jobs,
		Progress: func(stage string, done, total int) { line.Show(setup.Name+": "+stage, done, total) },
	})
	if err != nil {
		return nil, err
	}
	return c, nil
}

// draw writes the pictures of what was found into a folder, and returns their names.
func (c *checked) draw(ctx context.Context, dir string, jobs int) ([]string, error) {
	scene, err := pictures.Prepare(ctx, c.setup, jobs)
	if err != nil {
		return nil, err
	}
	return scene.WriteSet(ctx, c.report, dir)
}

// progressOn returns a line of progress on a terminal, and nil, which shows
// nothing, elsewhere.
func progressOn(w io.Writer, quiet bool) *progress.Line {
	if quiet || !terminal.Is(w) {
		return nil
	}
	return progress.New(w, terminal.LookOf(w).Width)
}
