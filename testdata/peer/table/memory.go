//go:build linux

package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"syscall"
	"time"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/stl"
)

// usage is what a command took.
type usage struct {
	Wall, Processor float64 // seconds
	Peak            float64 // bytes resident
	Code            int     // exit code
}

// runPeak runs a command and prints its usage as JSON. It is a process of its
// own because Linux hands the peak of a process down to what it starts, and this
// one is small.
func runPeak(args []string) error {
	if len(args) == 0 {
		return errors.New("-peak needs a command")
	}
	c := exec.Command(args[0], args[1:]...)
	c.Stdin = os.Stdin
	c.Stderr = os.Stderr
	start := time.Now()
	err := c.Run()
	if exit := (*exec.ExitError)(nil); err != nil && !errors.As(err, &exit) {
		return err
	}
	u := usage{Wall: time.Since(start).Seconds(), Code: c.ProcessState.ExitCode()}
	u.Processor = (c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds()
	u.Peak = 1024 * float64(c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss)
	return json.NewEncoder(os.Stdout).Encode(u)
}

// usageOf runs a command with something on its standard input.
func usageOf(input string, args ...string) (u usage, err error) {
	self, err := os.Executable()
	if err != nil {
		return u, err
	}
	c := exec.Command(self, append([]string{"-peak", "--"}, args...)...)
	c.Stdin = strings.NewReader(input)
	c.Stderr = os.Stderr
	out, err := c.Output()
	if err != nil {
		return u, fmt.Errorf("%v: %w", args, err)
	}
	return u, json.Unmarshal(out, &u)
}

// runHold is the small process whose memory is looked at.
func runHold(paths []string, drop bool) error {
	var meshes []*geom.Mesh
	var trees []*collide.Tree
	for _, path := range paths {
		m, err := stl.ReadFile(path)
		if err != nil {
			return err
		}
		trees = append(trees, collide.NewTree(m))
		if !drop {
			meshes = append(meshes, m)
		}
	}
	runtime.KeepAlive(meshes)
	runtime.KeepAlive(trees)
	return nil
}

// memory prints what two large bodies need.
func (t *table) memory() error {
	section("Memory", "Peak resident memory of a process that reads two STL files and builds their hierarchies, "+
		"reading included. Ratio: the library's over ours. The library's process keeps no mesh beside the hierarchy's own.",
		"ratio", "what", "ours", "library", "ours per million facets")
	a, err := t.file(body{"plate", 1_040_000})
	if err != nil {
		return err
	}
	b, err := t.file(body{"knot", 1_000_000})
	if err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	theirs, err := usageOf(fmt.Sprintf("mesh a %s\nmesh b %s\n", a, b), t.harness)
	if err != nil {
		return err
	}
	const millions = 2.04
	for _, c := range []struct {
		what string
		args []string
	}{
		{"plate 1.04M and knot 1M, meshes kept beside the trees", []string{self, "-hold", a, b}},
		{"the same, meshes let go", []string{self, "-hold", "-drop", a, b}},
	} {
		var peaks []float64
		for range t.rounds {
			u, err := usageOf("", c.args...)
			if err != nil {
				return err
			}
			peaks = append(peaks, u.Peak)
		}
		ours := median(peaks)
		row(times(theirs.Peak/ours), c.what, megabytes(ours), megabytes(theirs.Peak), megabytes(ours/millions))
	}
	return nil
}
