package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/cmd/gridswing/internal/progress"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/models"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"
)

// demoDir is where the demo goes if nobody says otherwise.
const demoDir = "gridswing-demo"

// demoSetups are the setups of the demo, with what is told of them, and the program that is looked at.
var demoSetups = []struct{ name, words, program string }{
	{models.GoodSetup, "The setup as it should be, and the program that cuts the part:", models.GoodProgram},
	{models.BadSetup, "The same, the vise one hole further out and its jaw set 2 mm too narrow:", ""},
}

// demoCell is in how large cells, mm, the demo holds the stock: coarse, so that nobody waits.
const demoCell = 1

// demoBinder is the folder of the demo's binder, within the demo's.
const demoBinder = "binder"

func newDemo() *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "Write a setup to try, and check it",
		Long: `Writes a machine, components, tools and two setups of them into DIR (default
` + demoDir + `), with their solids, checks both setups, draws them, and makes a
binder of them: pages to print. One setup is clear, and so is the program that
cuts the part; the other one is meant to fail, in two ways.

Files that are there already are left alone: one that differs is an error, and
then nothing is written. The exit code is 0 if the good setup is clear and
the other one fails as it is meant to.`,
		Example: `  gridswing demo
  gridswing demo somewhere-else`,
		Args: arguments(0, 1, "folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := demoDir
			if len(args) > 0 {
				dir = args[0]
			}
			return runDemo(cmd.Context(), dir, cmd.OutOrStdout(), progressOn(cmd.ErrOrStderr(), false))
		},
	}
}

// runDemo writes, checks and draws the demo, and says what it found. Both setups
// are worked on at once, and told in order.
func runDemo(ctx context.Context, dir string, out io.Writer, line *progress.Line) error {
	if err := writeDemo(ctx, dir); err != nil {
		return err
	}
	fmt.Fprintf(out, "Wrote the demo to %s\n", dir)
	pictures := filepath.Join(dir, "pictures")
	l := newLooker(0, line, check.SwingCheck, check.ReachCheck, check.StackCheck, check.DriverCheck, check.LoadsCheck)
	setups := make([]*machine.Setup, len(demoSetups))
	for i, d := range demoSetups {
		s, err := l.load(filepath.Join(dir, filepath.FromSlash(d.name)))
		if err != nil {
			return err
		}
		setups[i] = s
	}
	l.prepare(setups...)
	checked := make([]chan *check.Report, len(demoSetups))
	all := make([]*looked, len(demoSetups))
	work, drawing := errgroup.WithContext(ctx)
	for i, s := range setups {
		checked[i] = make(chan *check.Report, 1)
		work.Go(func() error {
			defer close(checked[i])
			program := &programOptions{cell: demoCell, brief: true, drawn: true}
			if name := demoSetups[i].program; name != "" {
				program.file = filepath.Join(dir, filepath.FromSlash(name))
			}
			found, err := l.look(drawing, s, program)
			if err != nil {
				return err
			}
			all[i] = found
			checked[i] <- found.report
			_, err = found.draw(drawing, pictures, "", 0)
			return err
		})
	}
	expected := true
	for i, d := range demoSetups {
		report := <-checked[i]
		if report == nil {
			return work.Wait()
		}
		line.Clear()
		fmt.Fprintf(out, "\n%s\n", d.words)
		if err := text.Brief(out, terminal.LookOf(out), report); err != nil {
			return errors.Join(err, work.Wait())
		}
		expected = expected && asMeant(d.name, report)
	}
	err := work.Wait()
	if err == nil {
		found := map[string]*looked{}
		for _, f := range all {
			found[f.setup.File] = f
		}
		line.Say("pages")
		err = bindDemo(ctx, dir, l, found)
	}
	line.Clear()
	if err != nil {
		return err
	}
	good := quoted(filepath.Join(dir, filepath.FromSlash(models.GoodSetup)))
	fmt.Fprintf(out, `
Pictures of both are in %s, pages to print in %s.
Begin with %s there. What to try next:
   gridswing check %s
   gridswing check %s --program %s
   gridswing picture %s --at A=45,C=90
   gridswing binder %s --out %s --paper letter --units inch
and change a hole, a jaw opening or a range in the setup file.
`, quoted(pictures), quoted(filepath.Join(dir, demoBinder)), "binder.html", good, good, quoted(filepath.Join(dir, filepath.FromSlash(models.OffsetProgram))), good,
		quoted(filepath.Join(dir, path.Dir(models.GoodSetup))), quoted(filepath.Join(dir, "binder-inch")))
	if !expected {
		return errNotClear
	}
	return nil
}

// quoted puts quotes round a path with blanks, so that a shell takes it for one.
func quoted(path string) string {
	if strings.ContainsAny(path, " \t") {
		return `"` + path + `"`
	}
	return path
}

// asMeant reports whether a setup of the demo turned out as it is meant to: the
// good one clear, the other one in contact in two ways, standing still and
// while it swings.
func asMeant(name string, r *check.Report) bool {
	if name == models.GoodSetup {
		return r.Verdict == check.Clear
	}
	ways := map[string]bool{}
	for i := range r.Findings {
		if r.Findings[i].Verdict == check.Contact {
			ways[r.Findings[i].Question] = true
		}
	}
	return r.Verdict == check.Contact && ways[check.Rest] && ways[check.Swing]
}

// writeDemo copies the demo into a folder, unless a file of another content is
// in the way.
func writeDemo(ctx context.Context, dir string) error {
	var missing []string
	var faults []error
	err := eachFile(func(name string, data []byte) error {
		path := filepath.Join(dir, filepath.FromSlash(name))
		exists, same, err := files.Holds(path, data)
		switch {
		case err != nil:
			faults = append(faults, err)
		case exists && !same:
			faults = append(faults, wrong("name another folder, or remove the file", "%s: found a file of another content, expected none or the demo's", path))
		case !exists:
			missing = append(missing, name)
		}
		return ctx.Err()
	})
	if err = errors.Join(append(faults, err)...); err != nil {
		return err
	}
	for _, name := range missing {
		if err := ctx.Err(); err != nil {
			return err
		}
		data, err := fs.ReadFile(models.Demo, name)
		if err != nil {
			return err
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := files.Write(path, data); err != nil {
			return err
		}
	}
	return nil
}

// eachFile calls visit with every file of the demo.
func eachFile(visit func(name string, data []byte) error) error {
	return fs.WalkDir(models.Demo, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(models.Demo, name)
		if err != nil {
			return err
		}
		return visit(name, data)
	})
}
