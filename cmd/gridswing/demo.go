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

// runDemo writes the demo, checks and draws it, makes its binder, and says what it found.
func runDemo(ctx context.Context, dir string, out io.Writer, line *progress.Line) error {
	if err := writeDemo(ctx, dir); err != nil {
		return err
	}
	fmt.Fprintf(out, "Wrote the demo to %s\n", dir)
	d := &demo{dir: dir, out: out, line: line,
		looker: newLooker(0, line, check.SwingCheck, check.ReachCheck, check.StackCheck, check.DriverCheck, check.LoadsCheck)}
	found, expected, err := d.look(ctx)
	if err == nil {
		line.Say("pages")
		err = bindDemo(ctx, dir, d.looker, found)
	}
	line.Clear()
	if err != nil {
		return err
	}
	d.suggest()
	if !expected {
		return errNotClear
	}
	return nil
}

// demo is the demo being looked at.
type demo struct {
	dir    string
	out    io.Writer
	line   *progress.Line
	looker *looker
}

// path is where a file or folder of the demo is, by its slash-separated name.
func (d *demo) path(name string) string { return filepath.Join(d.dir, filepath.FromSlash(name)) }

// demoPictures is the folder of the demo's pictures, within the demo's.
const demoPictures = "pictures"

// look looks at both setups at once, draws them, and tells of them in order. It returns what was
// found, by the setups' files, and whether each turned out as it is meant to.
func (d *demo) look(ctx context.Context) (found map[string]*looked, expected bool, err error) {
	setups := make([]*machine.Setup, len(demoSetups))
	for i := range demoSetups {
		if setups[i], err = d.looker.load(d.path(demoSetups[i].name)); err != nil {
			return nil, false, err
		}
	}
	d.looker.prepare(setups...)
	checked := make([]chan *looked, len(setups))
	work, drawing := errgroup.WithContext(ctx)
	for i, s := range setups {
		checked[i] = make(chan *looked, 1)
		work.Go(func() error {
			defer close(checked[i])
			f, err := d.lookAt(drawing, s, demoSetups[i].program)
			if err != nil {
				return err
			}
			checked[i] <- f
			_, err = f.draw(drawing, d.path(demoPictures), "", 0)
			return err
		})
	}
	found, expected = map[string]*looked{}, true
	for i, s := range demoSetups {
		f := <-checked[i]
		if f == nil {
			return nil, false, work.Wait()
		}
		d.line.Clear()
		fmt.Fprintf(d.out, "\n%s\n", s.words)
		if err := text.Brief(d.out, terminal.LookOf(d.out), f.report); err != nil {
			return nil, false, errors.Join(err, work.Wait())
		}
		found[f.setup.File] = f
		expected = expected && asMeant(s.name, f.report)
	}
	return found, expected, work.Wait()
}

// lookAt looks at a setup, and at a program of the demo if one is named.
func (d *demo) lookAt(ctx context.Context, s *machine.Setup, program string) (*looked, error) {
	o := &programOptions{cell: demoCell, brief: true, drawn: true}
	if program != "" {
		o.file = d.path(program)
	}
	return d.looker.look(ctx, s, o)
}

// suggest says where everything is, and what to try next.
func (d *demo) suggest() {
	good := quoted(d.path(models.GoodSetup))
	fmt.Fprintf(d.out, `
Pictures of both are in %s, pages to print in %s.
Begin with binder.html there. What to try next:
   gridswing check %s
   gridswing check %s --program %s
   gridswing picture %s --at A=45,C=90
   gridswing binder %s --out %s --paper letter --units inch
and change a hole, a jaw opening or a range in the setup file.
`, quoted(d.path(demoPictures)), quoted(d.path(demoBinder)), good, good, quoted(d.path(models.OffsetProgram)), good,
		quoted(d.path(path.Dir(models.GoodSetup))), quoted(d.path("binder-inch")))
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
