//go:build linux

package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/swing"
	"gridswing/models"
	"gridswing/models/large"
)

// reading prints how long a million facets take from a file in the page cache,
// beside reading its bytes into fresh memory.
func (t *table) reading() error {
	path, err := t.file(body{"knot", 1_000_000})
	if err != nil {
		return err
	}
	var meshes, bytes []float64
	for range 2*t.rounds + 1 {
		runtime.GC()
		meshes = append(meshes, onWall(func() { _, err = stl.ReadFile(path) }))
		if err != nil {
			return err
		}
		runtime.GC()
		bytes = append(bytes, onWall(func() { _, err = os.ReadFile(path) }))
		if err != nil {
			return err
		}
	}
	section("Reading", "A binary STL file of 1M facets (50 MB) in the page cache, time on the wall, all cores. "+
		"Ratio: times what reading the bytes alone takes.", "ratio", "as a mesh", "bytes alone")
	row(times(median(ratios(meshes, bytes))), duration(median(meshes)), duration(median(bytes)))
	return nil
}

// demo prints the swing of the demo beside the library sampled at one degree.
func (t *table) demo() error {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		return err
	}
	var ours, processor []float64
	var report check.Report
	for range t.rounds {
		report = check.Report{}
		wall, cores := onCores(func() { err = swing.Check(context.Background(), s, &report, swing.Options{}) })
		ours, processor = append(ours, wall), append(processor, cores)
		if err != nil {
			return err
		}
	}
	theirs, err := t.sampledDemo(s)
	if err != nil {
		return err
	}
	section("The demo", fmt.Sprintf("Ours: everything that moves or rests in the demo's good setup (%d pairs of bodies), slides over their travel "+
		"and chart included, proven; all cores, time on the wall. Library: distance of the %d pairs of bodies that tilt or rotary move "+
		"against each other, at every degree (%d queries), slides at home; processor time on one core, extrapolated from %d queries.",
		len(report.Pairs), theirs.pairs, theirs.queries, theirs.asked),
		"ratio", "what", "ours", "ours, processor", "peak memory", "library")
	row(times(theirs.seconds/fastest(ours)), "the swing of the demo", duration(fastest(ours)), duration(fastest(processor)), "", duration(theirs.seconds))
	if t.gridswing == "" {
		return nil
	}
	return t.demoCommand()
}

// demoCommand prints what the whole command takes.
func (t *table) demoCommand() error {
	var wall, processor, peak []float64
	for range t.rounds {
		dir, err := os.MkdirTemp(t.dir, "demo")
		if err != nil {
			return err
		}
		u, err := usageOf("", t.gridswing, "demo", dir)
		os.RemoveAll(dir)
		if err != nil {
			return err
		}
		if u.Code > 1 { // 2 is bad input
			return fmt.Errorf("gridswing demo: exit code %d", u.Code)
		}
		wall, processor, peak = append(wall, u.Wall), append(processor, u.Processor), append(peak, u.Peak)
	}
	row("", "`gridswing demo`, whole, pictures included", duration(fastest(wall)), duration(fastest(processor)), megabytes(median(peak)), "")
	return nil
}

// sampling is what the library takes for a setup.
type sampling struct {
	pairs, queries, asked int
	seconds               float64
}

// sampledDemo asks the library about a grid of positions of every pair and
// extrapolates to one degree.
func (t *table) sampledDemo(s *machine.Setup) (sum sampling, err error) {
	const across = 5 // positions along each axis that are asked about
	files := map[*machine.Solid]string{}
	for i := range s.Bodies {
		for j := i + 1; j < len(s.Bodies); j++ {
			a, b := &s.Bodies[i], &s.Bodies[j]
			chain := motion.Between(a.Chain, b.Chain)
			positions, all := grid(s, &chain, across)
			if a.Unit == b.Unit || a.OnTool && b.OnTool || all < 2 {
				continue
			}
			micros, err := t.askPair(files, a.Solid, b.Solid, &chain, positions)
			if err != nil {
				return sum, err
			}
			sum.pairs++
			sum.asked += len(positions)
			sum.queries += all
			sum.seconds += micros * 1e-6 * float64(all)
		}
	}
	return sum, nil
}

// grid returns positions spread evenly over the rotary axes that the chain
// uses, others at home, and how many there are at every degree.
func grid(s *machine.Setup, chain *motion.Chain, across int) (positions []motion.Params, all int) {
	var home motion.Params
	for k := range s.Axes {
		home[k] = s.Axes[k].Home
	}
	positions, all = []motion.Params{home}, 1
	for k, used := range chain.Uses() {
		if !used || s.Axes[k].Kind != motion.Rotary {
			continue
		}
		lo, hi := s.Axes[k].Commanded[0], s.Axes[k].Commanded[1]
		all *= int((hi-lo)*180/math.Pi+0.5) + 1
		var more []motion.Params
		for _, p := range positions {
			for i := range across {
				p[k] = lo + (hi-lo)*(float64(i)+0.5)/float64(across)
				more = append(more, p)
			}
		}
		positions = more
	}
	return positions, all
}

// askPair returns the mean microseconds of the library's distance queries.
func (t *table) askPair(files map[*machine.Solid]string, a, b *machine.Solid, chain *motion.Chain, positions []motion.Params) (float64, error) {
	var s scene
	for _, side := range []struct {
		solid *machine.Solid
		file  *string
	}{{a, &s.fileA}, {b, &s.fileB}} {
		if files[side.solid] == "" {
			path := filepath.Join(t.dir, fmt.Sprintf("demo-%d.stl", len(files)))
			if err := stl.WriteFile(path, side.solid.Mesh); err != nil {
				return 0, err
			}
			files[side.solid] = path
		}
		*side.file = files[side.solid]
	}
	l, err := t.loaded(&s)
	if err != nil {
		return 0, err
	}
	defer l.close()
	var poses []geom.Pose
	for _, p := range positions {
		poses = append(poses, chain.Pose(p))
	}
	_, micros, err := l.ask("distance", poses)
	return micros, err
}

// large prints what a machine of millions of facets takes, from its files.
func (t *table) large() error {
	if t.gridswing == "" {
		return nil
	}
	section("A machine as machine models are delivered", "Open, overlapping, many-shelled bodies: `gridswing check` from the files in the page cache, all cores.",
		"facets of the machine", "on the wall", "processor", "peak memory", "per million facets", "exit code")
	for _, n := range []int{2_000_000, 5_000_000} {
		fsys, err := large.FS(n)
		if err != nil {
			return err
		}
		dir := filepath.Join(t.dir, fmt.Sprintf("large-%d", n))
		if err := os.RemoveAll(dir); err != nil {
			return err
		}
		if err := os.CopyFS(dir, fsys); err != nil {
			return err
		}
		var wall, processor, peak []float64
		var code int
		for range t.rounds {
			u, err := usageOf("", t.gridswing, "check", filepath.Join(dir, filepath.FromSlash(models.GoodSetup)))
			if err != nil {
				return err
			}
			if u.Code == 2 {
				return fmt.Errorf("gridswing check could not read %s", dir)
			}
			wall, processor, peak, code = append(wall, u.Wall), append(processor, u.Processor), append(peak, u.Peak), u.Code
		}
		row(count(n), duration(fastest(wall)), duration(fastest(processor)), megabytes(median(peak)),
			megabytes(median(peak)/float64(n)*1e6), fmt.Sprint(code))
	}
	return nil
}
