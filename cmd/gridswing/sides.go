package main

import (
	"bytes"
	"encoding/json"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
	"gridswing/machine/check/proof"

	"github.com/spf13/cobra"
)

// sidesOptions are the flags of sides.
type sidesOptions struct {
	json bool
	jobs int
}

func newSides() *cobra.Command {
	var o sidesOptions
	cmd := &cobra.Command{
		Use:   "sides SETUP",
		Short: "Tell on which side of the tilt to cut",
		Long: `Two rotary axes present nearly every feature in two ways, the tilt on
either side of its pivot. Looks at each feature both ways, at each side as a
whole, and at going back and forth between them, and tells which is good, by
how many degrees the axes turn, and what to write into the setup file to keep
to it.`,
		Example: `  gridswing sides setups/op10.toml`,
		Args:    arguments(1, 1, "setup"),
		RunE:    func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0]) },
	}
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.BoolVar(&o.json, "json", false, "write the answer as data (\"gridswing schema sides\" describes it)")
	f.IntVar(&o.jobs, "jobs", 0, "use at most `N` cores (default all); the answer is the same")
	return cmd
}

func (o *sidesOptions) run(cmd *cobra.Command, name string) error {
	if err := limitJobs(cmd, o.jobs); err != nil {
		return err
	}
	ctx, out := cmd.Context(), cmd.OutOrStdout()
	line := progressOn(cmd.ErrOrStderr(), false)
	l := newLooker(o.jobs, line)
	s, err := l.load(name)
	if err != nil {
		return err
	}
	if !hasOperations(s) {
		return wrong("sides are chosen for what is cut; README.md shows how operations are written",
			"%s: found no operations, expected [[operation]] tables", s.File)
	}
	progress := func(stage string, done, total int) { line.Show(s.Name+": "+stage, done, total) }
	found, err := choose.Sides(ctx, s, proof.Options{Jobs: o.jobs, Trees: l.trees, Progress: progress})
	line.Clear()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if o.json {
		err = json.NewEncoder(&b).Encode(found)
	} else {
		err = text.Sides(&b, terminal.LookOf(out), found)
	}
	if err != nil {
		return err
	}
	if _, err := out.Write(b.Bytes()); err != nil {
		return err
	}
	if found.Verdict() != check.Clear {
		return errNotClear
	}
	return nil
}
