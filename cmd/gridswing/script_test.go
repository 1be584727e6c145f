package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
	"github.com/rogpeppe/go-internal/testscript"
)

// asProgram makes the test binary run as the program itself.
const asProgram = "GRIDSWING_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	testscript.Main(m, map[string]func(){"gridswing": main})
}

// process is the program as a process of its own, to be started in a folder.
func process(t *testing.T, dir string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), self, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), asProgram+"=1")
	return cmd
}

// TestScripts runs the scripts: each finds the files of testdata/shop, a small
// setup that is clear, and the solids they name.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(env *testscript.Env) error {
			// What a terminal of the user's would change.
			env.Setenv("NO_COLOR", "")
			demo, err := filepath.Abs(filepath.Join("..", "..", "models", "demo"))
			if err != nil {
				return err
			}
			env.Setenv("DEMO", demo)
			return openShop(env.WorkDir)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"box": boxCommand, "edit": editCommand, "status": statusCommand, "cut": cutCommand, "append": appendCommand,
		},
	})
}

// boxes are the solids of testdata/shop: lowest and highest corner, mm.
var boxes = map[string][6]float64{
	"table.stl":     {-200, -100, -40, 200, 100, 0},
	"head.stl":      {-50, -50, 320, 50, 50, 500},
	"nose.stl":      {-20, -20, 300, 20, 20, 320},
	"base.stl":      {-100, -60, 0, 100, 60, 20},
	"cradle.stl":    {-60, -40, 90, 60, 40, 110},
	"faceplate.stl": {-40, -40, 110, 40, 40, 120},
	"block.stl":     {-30, -30, 0, 30, 30, 40},
	// The same as three of them, in inches.
	"table-inch.stl": {-200 / 25.4, -100 / 25.4, -40 / 25.4, 200 / 25.4, 100 / 25.4, 0},
	"head-inch.stl":  {-50 / 25.4, -50 / 25.4, 320 / 25.4, 50 / 25.4, 50 / 25.4, 500 / 25.4},
	"nose-inch.stl":  {-20 / 25.4, -20 / 25.4, 300 / 25.4, 20 / 25.4, 20 / 25.4, 320 / 25.4},
}

// openShop copies the small setup into a folder.
func openShop(dir string) error {
	names, err := filepath.Glob(filepath.Join("testdata", "shop", "*.toml"))
	if err != nil {
		return err
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)), data, 0o644); err != nil {
			return err
		}
	}
	for name, b := range boxes {
		if err := stl.WriteFile(filepath.Join(dir, name), box(b)); err != nil {
			return err
		}
	}
	return nil
}

// box returns a closed box between two corners.
func box(b [6]float64) *geom.Mesh {
	m := &geom.Mesh{}
	at := func(i int) geom.Vertex {
		p := r3.Vector{X: b[0], Y: b[1], Z: b[2]}
		if i&1 != 0 {
			p.X = b[3]
		}
		if i&2 != 0 {
			p.Y = b[4]
		}
		if i&4 != 0 {
			p.Z = b[5]
		}
		return geom.VertexOf(p)
	}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets,
			geom.Facet{at(q[0]), at(q[1]), at(q[2])}, geom.Facet{at(q[0]), at(q[2]), at(q[3])})
	}
	return m
}

// boxCommand writes a solid: box FILE x0 y0 z0 x1 y1 z1.
func boxCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 7 {
		ts.Fatalf("usage: box FILE x0 y0 z0 x1 y1 z1")
	}
	var b [6]float64
	for i := range b {
		var err error
		if b[i], err = strconv.ParseFloat(args[i+1], 64); err != nil {
			ts.Fatalf("box: %v", err)
		}
	}
	ts.Check(stl.WriteFile(ts.MkAbs(args[0]), box(b)))
}

// editCommand replaces text that is in a file just once: edit FILE OLD NEW.
func editCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: edit FILE OLD NEW")
	}
	text := ts.ReadFile(args[0])
	if n := strings.Count(text, args[1]); n != 1 {
		ts.Fatalf("edit: %s has %q %d times", args[0], args[1], n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, args[1], args[2], 1)), 0o644))
}

// appendCommand puts a file behind another one: append FILE OTHER.
func appendCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: append FILE OTHER")
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(ts.ReadFile(args[0])+"\n"+ts.ReadFile(args[1])), 0o644))
}

// cutCommand shortens a file to so many bytes: cut FILE BYTES.
func cutCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: cut FILE BYTES")
	}
	n, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	ts.Check(os.Truncate(ts.MkAbs(args[0]), n))
}

// statusCommand runs the program and wants an exit code: status CODE ARGS...
func statusCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: status CODE ARGS...")
	}
	err := ts.Exec("gridswing", args[1:]...)
	got := "0"
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = fmt.Sprint(exit.ExitCode())
	case err != nil:
		ts.Fatalf("gridswing %v: %v", args[1:], err)
	}
	if got != args[0] {
		ts.Fatalf("gridswing %v: exit code %s, want %s", args[1:], got, args[0])
	}
}

// call runs a command line in this process.
func call(t testing.TB, ctx context.Context, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs strings.Builder
	code = run(ctx, args, &out, &errs)
	return code, out.String(), errs.String()
}
