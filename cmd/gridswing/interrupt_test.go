//go:build !windows

package main

import (
	"bufio"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"gridswing/geom"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
)

// ball returns a closed ball of so many facets round the tilt axis of the small
// setup, which cannot be told quickly from one beside it that it never touches.
func ball(center r3.Vector, radius float64, rings int) *geom.Mesh {
	at := func(ring, sector int) geom.Vertex {
		s, c := math.Sincos(math.Pi * float64(ring) / float64(rings))
		t, u := math.Sincos(2 * math.Pi * float64(sector%(2*rings)) / float64(2*rings))
		if ring == 0 || ring == rings {
			s = 0
		}
		return geom.VertexOf(center.Add(r3.Vector{X: radius * s * u, Y: radius * s * t, Z: radius * c}))
	}
	m := &geom.Mesh{}
	for i := range rings {
		for j := range 2 * rings {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if i < rings-1 {
				m.Facets = append(m.Facets, geom.Facet{a, b, c})
			}
			if i > 0 {
				m.Facets = append(m.Facets, geom.Facet{a, c, d})
			}
		}
	}
	return m
}

// TestInterrupt sends a signal to the program while it is at work for a long
// time: it ends with exit code 130 and leaves nothing half done.
func TestInterrupt(t *testing.T) {
	dir := shop(t)
	// A ball on the faceplate that turns within a hollow one of the base, 2 mm
	// apart everywhere.
	hollow := ball(r3.Vector{Z: 120}, 62, 256)
	for _, f := range ball(r3.Vector{Z: 120}, 60, 256).Facets {
		hollow.Facets = append(hollow.Facets, geom.Facet{f[0], f[2], f[1]})
	}
	write := func(name string, m *geom.Mesh) {
		if err := stl.WriteFile(filepath.Join(dir, name), m); err != nil {
			t.Fatal(err)
		}
	}
	write("hollow.stl", hollow)
	write("ball.stl", ball(r3.Vector{}, 57.99, 256))
	for from, to := range map[string][3]string{
		"trunnion.toml": {"slow-trunnion.toml", `"base.stl"`, `"hollow.stl"`},
		"block.toml":    {"slow-block.toml", `"block.stl"`, `"ball.stl"`},
		"setup.toml":    {"slow.toml", `"trunnion.toml"`, `"slow-trunnion.toml"`},
	} {
		data, err := os.ReadFile(filepath.Join(dir, from))
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Replace(string(data), to[1], to[2], 1)
		text = strings.Replace(text, `"block.toml"`, `"slow-block.toml"`, 1)
		if err := os.WriteFile(filepath.Join(dir, to[0]), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		t.Run(signal.String(), func(t *testing.T) { interrupt(t, dir, signal) })
	}
}

func interrupt(t *testing.T, dir string, signal os.Signal) {
	cmd := process(t, dir, "check", "--quiet", "--pictures", "pictures", "setup.toml", "slow.toml")
	// The first setup's verdict says that the program is at work.
	rest := signalled(t, cmd, signal, 1, "clear: small setup (")
	if rest != "" {
		t.Errorf("after the signal it said %q", rest)
	}
	onlyWhole(t, dir)
}

// signalled starts the program, waits for so many lines, the first of which begins as told, and sends
// it a signal: it must end as one that was interrupted. It returns what else it said.
func signalled(t *testing.T, cmd *exec.Cmd, signal os.Signal, lines int, first string) (rest string) {
	t.Helper()
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	said := bufio.NewReader(out)
	for i := range lines {
		if line, err := said.ReadString('\n'); err != nil || i == 0 && !strings.HasPrefix(line, first) {
			t.Fatalf("line %d is %q, %v; stderr: %s", i+1, line, err, errs.String())
		}
	}
	if err := cmd.Process.Signal(signal); err != nil {
		t.Fatal(err)
	}
	rest, _ = said.ReadString(0)
	err = cmd.Wait()
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		t.Fatalf("it ended with %v, want an exit code; it went on to say %q", err, rest)
	}
	if exit.ExitCode() != exitInterrupted || errs.String() != "gridswing: interrupted\n" {
		t.Errorf("exit code %d, stderr %q", exit.ExitCode(), errs.String())
	}
	return rest
}

// onlyWhole makes sure that a folder holds no temporary file, and no picture that
// does not end.
func onlyWhole(t *testing.T, dir string) {
	t.Helper()
	pictures, err := os.ReadDir(filepath.Join(dir, "pictures"))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	for _, p := range pictures {
		data, err := os.ReadFile(filepath.Join(dir, "pictures", p.Name()))
		if err != nil {
			t.Fatal(err)
		}
		// Every PNG ends with the chunk IEND (ISO/IEC 15948, 11.2.5).
		if !strings.HasPrefix(p.Name(), "setup-") || !strings.HasSuffix(string(data), "IEND\xaeB`\x82") {
			t.Errorf("%s of %d bytes was left behind", p.Name(), len(data))
		}
	}
}

// TestInterruptedChoice sends a signal to the program while it looks for heights, which takes
// long: it tells what it knows, that this is not all, and ends with exit code 130. That it is at
// work is told by its reading a component from a pipe.
func TestInterruptedChoice(t *testing.T) {
	dir, _ := demoFolder(t)
	riser, err := os.ReadFile(filepath.Join(dir, "components", "risers", "riser-20.toml"))
	if err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(dir, "components", "risers", "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := process(t, "", "risers", filepath.Join(dir, "setups", "bracket-op10.toml"),
		"--between", "40..400", "--catalogue", pipe, "--picture", filepath.Join(dir, "heights.png"))
	var out, errs strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(pipe, riser, 0o600); err != nil { // waits for the reader
		t.Fatal(err)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	err = cmd.Wait()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != exitInterrupted || errs.String() != "gridswing: interrupted\n" {
		t.Errorf("it ended with %v, stderr %q", err, errs.String())
	}
	if page := out.String(); !strings.Contains(page, "Interrupted: what was not looked at is unproven.") || !strings.Contains(page, "not replace a proving run") {
		t.Errorf("it told\n%s", page)
	}
	if _, err := os.Stat(filepath.Join(dir, "heights.png")); !os.IsNotExist(err) {
		t.Errorf("it drew: %v", err)
	}
}
