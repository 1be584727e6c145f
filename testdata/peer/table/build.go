//go:build linux

package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"gridswing/collide"
)

// build prints how long the hierarchies take to build.
func (t *table) build() error {
	section("Building the hierarchy", "Ours with all cores, time on the wall; the library's on one, processor time; "+
		"three-mesh-bvh 0.9.17 (npm, centre split, Node.js) on one, time on the wall. The fastest of the turns. Ratio: the other's time over ours.",
		"ratio to library", "ratio to three-mesh-bvh", "body", "ours", "ours, processor", "library", "three-mesh-bvh")
	for _, b := range []body{{"plate", 189_000}, {"ball", 189_000}, {"plate", 1_040_000}, {"knot", 1_000_000}, {"vise", 1_000_000}} {
		if err := t.buildOf(b); err != nil {
			return err
		}
	}
	return nil
}

func (t *table) buildOf(b body) error {
	m, err := t.mesh(b)
	if err != nil {
		return err
	}
	path, err := t.file(b)
	if err != nil {
		return err
	}
	l, err := t.library()
	if err != nil {
		return err
	}
	defer l.close()
	var ours, processor, theirs []float64
	for turn := range t.rounds {
		wall, cores := onCores(func() { collide.NewTree(m) })
		ours, processor = append(ours, wall), append(processor, cores)
		if turn < 3 || b.facets < 500_000 { // the library takes seconds
			seconds, err := l.load("a", path)
			if err != nil {
				return err
			}
			theirs = append(theirs, seconds)
		}
		runtime.GC()
	}
	toScript, script := "-", "-"
	if t.modules != "" {
		seconds, err := t.buildInScript(path)
		if err != nil {
			return err
		}
		toScript, script = times(seconds/fastest(ours)), duration(seconds)
	}
	row(times(fastest(theirs)/fastest(ours)), toScript, b.String(), duration(fastest(ours)), duration(fastest(processor)), duration(fastest(theirs)), script)
	return nil
}

// buildInScript returns the least seconds that three-mesh-bvh takes.
func (t *table) buildInScript(path string) (float64, error) {
	script := filepath.Join(t.dir, "bvh.mjs")
	out, err := exec.Command("node", script, t.modules, path, strconv.Itoa(t.rounds)).Output()
	if err != nil {
		return 0, fmt.Errorf("node %s: %w", script, err)
	}
	var seconds []float64
	for _, word := range strings.Fields(string(out)) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return 0, fmt.Errorf("node %s printed %q: %w", script, word, err)
		}
		seconds = append(seconds, v)
	}
	if len(seconds) != t.rounds {
		return 0, fmt.Errorf("node %s printed %d times, expected %d", script, len(seconds), t.rounds)
	}
	return fastest(seconds), nil
}
