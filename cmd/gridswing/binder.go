package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/cmd/gridswing/internal/pages"
	"gridswing/machine/check"
	"gridswing/render/page"

	"github.com/spf13/cobra"
)

// binderOptions are the flags of binder.
type binderOptions struct {
	out, units, shard string
	paper             []string
	jobs              int
	join, all, quiet  bool

	formats []page.Format // of paper
	pages   pages.Options // without a format
	binder.Options
}

func newBinder() *cobra.Command {
	var o binderOptions
	cmd := &cobra.Command{
		Use:   "binder FOLDER|SETUP... --out DIR",
		Short: "Make pages of many setups to print, and a front page of them all",
		Long: `Checks each setup, all that "gridswing check" and "gridswing changeover
--from-empty" look at and the program that the setup names for its pages, and
makes pages of it, as PDF and as HTML. A front page tells of all setups, what
is not clear, and what changed since the last time; summary.json and junit.xml
tell programs. Of a folder all setups in it and below are taken.

A setup is left alone while none of its files changed, nor the program. One
that cannot be read does not stop the others, a run that is interrupted or
killed leaves whole pages or none, and the next one goes on from there: so
it can run every night.

On many computers --shard makes one part of the work on each, and --join makes
the front page when all parts are done.`,
		Example: `  gridswing binder setups --out binder
  gridswing binder setups --out binder --paper a4,letter --units inch
  gridswing binder setups --out binder --shard 0/4     one part of four, from 0 to 3
  gridswing binder setups --out binder --join          the front page of all parts`,
		Args: arguments(1, -1, "folder, and no setup"),
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args) },
	}
	cmd.ValidArgsFunction = completeFiles("toml")
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.out, "out", "", "the binder's folder `DIR`, made if it is not there")
	f.StringSliceVar(&o.paper, "paper", []string{"a4"}, "set pages for `PAPER`: a4, letter, or both")
	f.StringVar(&o.units, "units", "", "print lengths in `UNIT`: mm or inch (default the setup file's)")
	f.BoolVar(&o.all, "all", false, "make the pages of all setups anew, also of those that are unchanged")
	f.StringVar(&o.shard, "shard", "", "make the `I/N`-th part only, I from 0 to N-1, and no front page")
	f.BoolVar(&o.join, "join", false, "make no pages, but the front page of those that are there")
	f.BoolVar(&o.quiet, "quiet", false, "tell only the totals and what is not clear, and no progress")
	f.IntVar(&o.jobs, "jobs", 0, "use at most `N` cores (default all); the pages are the same")
	if err := errors.Join(cmd.MarkFlagDirname("out")); err != nil {
		panic(err) // the flag is not defined: a mistake in this package
	}
	completeWords(cmd, "paper", "a4", "letter", "a4,letter")
	completeWords(cmd, "units", "mm", "inch")
	for _, name := range []string{"shard", "jobs"} {
		completeBy(cmd, name, cobra.NoFileCompletions)
	}
	return cmd
}

// read checks the flags.
func (o *binderOptions) read(cmd *cobra.Command) error {
	switch {
	case o.out == "":
		return wrong(helpHint(cmd), "found no folder for the binder, expected --out DIR")
	case o.jobs < 0:
		return wrong(helpHint(cmd), "--jobs: found %d, expected 1 or more, or 0 for all cores", o.jobs)
	case o.join && o.shard != "":
		return wrong(helpHint(cmd), "--shard, --join: found both, expected --join after all parts are done")
	case o.join && o.all:
		return wrong(helpHint(cmd), "--all, --join: found both, expected at most one of them")
	}
	for _, name := range o.paper {
		f, err := page.ParseFormat(strings.TrimSpace(name))
		if err != nil {
			return wrong(helpHint(cmd), "--paper: %v", err)
		}
		if slices.Contains(o.formats, f) {
			return wrong(helpHint(cmd), "--paper: found %s twice, expected each paper once", name)
		}
		o.formats = append(o.formats, f)
	}
	switch o.units {
	case "":
	case "mm":
		o.pages.Units = pages.Millimetre
	case "inch":
		o.pages.Units = pages.Inch
	default:
		return wrong(helpHint(cmd), "--units: found %q, expected mm or inch", o.units)
	}
	return o.readShard(cmd)
}

func (o *binderOptions) readShard(cmd *cobra.Command) error {
	if o.shard == "" {
		return nil
	}
	first, second, _ := strings.Cut(o.shard, "/")
	i, err := strconv.Atoi(first)
	n, err2 := strconv.Atoi(second)
	if err = cmp.Or(err, err2); err != nil || n < 1 || i < 0 || i >= n {
		return wrong(helpHint(cmd), "--shard: found %q, expected I/N, I from 0 to N-1, such as 0/4", o.shard)
	}
	o.Shard, o.Shards = i, n
	return nil
}

func (o *binderOptions) run(cmd *cobra.Command, args []string) error {
	if err := o.read(cmd); err != nil {
		return err
	}
	if o.jobs > 0 {
		runtime.GOMAXPROCS(min(o.jobs, runtime.GOMAXPROCS(0))) // for what takes no number of jobs
	}
	b := newBinderer(o)
	t := &binderTeller{out: cmd.OutOrStdout(), line: progressOn(cmd.ErrOrStderr(), o.quiet), quiet: o.quiet}
	o.Args, o.Out, o.Jobs, o.Join, o.All = args, o.out, o.jobs, o.join, o.all
	o.Settings, o.Found, o.Done = o.settings(), t.found, t.done
	s, err := b.run(cmd.Context())
	t.bar.End()
	if s == nil || cmd.Context().Err() != nil {
		return err
	}
	t.ended(o.out, s)
	switch {
	case err != nil || !s.Whole():
		return errors.Join(append(s.Faults(), err)...)
	case !s.Clear():
		return errNotClear
	}
	return nil
}

// run makes the binder.
func (b *binderer) run(ctx context.Context) (*binder.Summary, error) {
	program, err := binder.ProgramHash()
	if err != nil {
		return nil, err
	}
	o := b.options.Options
	o.Make, o.Front, o.Endings, o.Ours = b.make, b.front, b.options.endings(), ours
	o.Program, o.Caution = program, check.Caution
	return binder.Run(ctx, o)
}

// settings are the options that change pages, in words.
func (o *binderOptions) settings() string {
	var names []string
	for _, f := range o.formats {
		names = append(names, f.Name)
	}
	return fmt.Sprintf("paper %s; lengths in %s", strings.Join(names, ", "), cmp.Or(o.units, "the unit of the setup file"))
}

// stem is how the name of a file of pages goes on, before its ending: the first paper's does not.
func (o *binderOptions) stem(paper int) string {
	if paper == 0 {
		return ""
	}
	return "-" + strings.ToLower(o.formats[paper].Name)
}

// endings lists what the names of a setup's pages end in.
func (o *binderOptions) endings() (list []string) {
	for i := range o.formats {
		for _, w := range writers {
			list = append(list, o.stem(i)+w.ending)
		}
	}
	return list
}

// front sets the front page, on the first paper.
func (b *binderer) front(s *binder.Summary) (list []binder.Page, err error) {
	o := b.options.pages
	o.Format = b.options.formats[0]
	for _, w := range writers {
		data, err := w.written(pages.Front(s, o, w.ending))
		if err != nil {
			return nil, err
		}
		list = append(list, binder.Page{Ending: w.ending, Data: data})
	}
	return list, nil
}

// look reads a setup and looks at it, and tells which files that depends on.
func (b *binderer) look(ctx context.Context, l *looker, name string) (*looked, *binder.Inputs, error) {
	s, err := l.load(name)
	if err != nil {
		return nil, nil, err
	}
	inputs, err := binder.NewInputs(name)
	if err != nil {
		return nil, nil, err
	}
	for _, in := range s.Inputs {
		if err := inputs.Add(in.Name, in.Sum); err != nil {
			return nil, nil, err
		}
	}
	found, err := b.check(ctx, l, s, inputs)
	return found, inputs, err
}
