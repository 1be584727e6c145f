package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"

	"gridswing/cmd/gridswing/internal/pages"
	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"

	"github.com/spf13/cobra"
)

// changeoverOptions are the flags of changeover.
type changeoverOptions struct {
	fromEmpty, json bool
	pictures, pages string
	jobs            int
}

func newChangeover() *cobra.Command {
	var o changeoverOptions
	cmd := &cobra.Command{
		Use:   "changeover FROM TO",
		Short: "Tell step by step how to get from one setup to another",
		Long: `Reads two setups of one machine and tells what comes off, what stays and
what goes on, in steps: pins, screws, jaws, what is lifted and how heavy it
is, and the way on which it goes. Each way is proven clear of all that stands
there, the door frame included, or it is told what is met. With --from-empty
there is one setup, loaded onto the empty machine. The setups themselves are
not checked: "gridswing check" does that.`,
		Example: `  gridswing changeover setups/op10.toml setups/op20.toml --pages change.pdf
  gridswing changeover --from-empty setups/op10.toml --pictures pictures`,
		Args: o.arguments,
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.BoolVar(&o.fromEmpty, "from-empty", false, "begin with the empty machine: the loading order of one setup")
	f.StringVar(&o.pages, "pages", "", "write pages to print into `FILE`.pdf, one for each step")
	f.StringVar(&o.pictures, "pictures", "", "write a picture of each step into `DIR`, made if it is not there")
	f.BoolVar(&o.json, "json", false, "write the plan as data (\"gridswing schema changeover\" describes it)")
	f.IntVar(&o.jobs, "jobs", 0, "use at most `N` cores (default all); the answer is the same")
	return cmd
}

// arguments wants two setups, or with --from-empty one.
func (o *changeoverOptions) arguments(cmd *cobra.Command, args []string) error {
	wanted, call := 2, "changeover FROM TO"
	if o.fromEmpty {
		wanted, call = 1, "changeover --from-empty TO"
	}
	switch {
	case len(args) == 1 && wanted == 2:
		return wrong("--from-empty begins with the empty machine", "found one setup, expected %s", call)
	case len(args) < wanted:
		return wrong(helpHint(cmd), "found no setup, expected %s", call)
	case len(args) > wanted:
		return wrong(helpHint(cmd), "found %q, expected nothing after %s", args[wanted], call)
	case o.jobs < 0:
		return wrong(helpHint(cmd), "--jobs: found %d, expected 1 or more, or 0 for all cores", o.jobs)
	case o.pages != "" && !strings.EqualFold(filepath.Ext(o.pages), ".pdf"):
		return wrong("", "--pages: found %q, expected a name that ends in .pdf", o.pages)
	}
	return nil
}

func (o *changeoverOptions) run(cmd *cobra.Command, args []string) error {
	if o.jobs > 0 {
		runtime.GOMAXPROCS(min(o.jobs, runtime.GOMAXPROCS(0))) // for what takes no number of jobs
	}
	ctx, out := cmd.Context(), cmd.OutOrStdout()
	line := progressOn(cmd.ErrOrStderr(), false)
	l := newLooker(o.jobs, line)
	plan, err := l.change(ctx, args)
	line.Clear()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if o.json {
		err = json.NewEncoder(&b).Encode(plan)
	} else {
		err = text.Changeover(&b, terminal.LookOf(out), plan)
	}
	if err != nil {
		return err
	}
	if _, err := out.Write(b.Bytes()); err != nil {
		return err
	}
	if err := o.draw(ctx, cmd, plan); err != nil {
		return err
	}
	if plan.Verdict != check.Clear {
		return errNotClear
	}
	return nil
}

// change loads one setup or two and plans how to get to the last.
func (l *looker) change(ctx context.Context, names []string) (*changeover.Plan, error) {
	var setups []*machine.Setup
	for _, name := range names {
		s, err := l.load(name)
		if err != nil {
			return nil, err
		}
		setups = append(setups, s)
	}
	to := setups[len(setups)-1]
	var from *machine.Setup
	if len(setups) > 1 {
		from = setups[0]
	}
	progress := func(stage string, done, total int) { l.line.Show(to.Name+": "+stage, done, total) }
	return changeover.Make(ctx, from, to, changeover.Options{Jobs: l.jobs, Progress: progress, Trees: l.trees})
}

// draw writes pictures and pages, if they are asked for.
func (o *changeoverOptions) draw(ctx context.Context, cmd *cobra.Command, plan *changeover.Plan) error {
	if o.pictures == "" && o.pages == "" {
		return nil
	}
	steps, err := pictures.PrepareSteps(ctx, plan, o.jobs)
	if err != nil {
		return err
	}
	images, err := steps.Draw(ctx)
	if err != nil {
		return err
	}
	var wrote []string
	if o.pictures != "" {
		if wrote, err = steps.Write(ctx, o.pictures, images); err != nil {
			return err
		}
	}
	if o.pages != "" {
		if err := pages.Changeover(ctx, o.pages, plan, images); err != nil {
			return err
		}
		wrote = append(wrote, o.pages)
	}
	if !o.json {
		fmt.Fprintf(cmd.OutOrStdout(), "\nPictures and pages\n   %s\n", strings.Join(wrote, "\n   "))
	}
	return nil
}
