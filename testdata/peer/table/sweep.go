//go:build linux

package main

import (
	"bufio"
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/testdata/peer"

	"github.com/golang/geo/r3"
)

// A body that tilts through 120 degrees about X and turns fully about Z, its
// centre so far above the plate that it comes within some 5.4 mm of it.
const (
	tiltFrom, tiltTo = -60, 60
	centreHeight     = 94.37
)

// question is what a sweep is asked.
type question struct {
	name   string
	limits collide.Limits
}

var questions = []question{
	{"at least 2 mm", collide.Limits{Enough: 2, Absolute: 0.01}},
	{"at least 5 mm", collide.Limits{Enough: 5, Absolute: 0.01}},
	{"smallest clearance to 1 %", collide.Limits{Enough: math.Inf(1), Absolute: 1e-6, Relative: 0.01}},
}

// swing returns the pair and the range that it swings over.
func (s *scene) swing() (collide.Pair, motion.Box) {
	center := r3.Vector{Z: centreHeight}
	p := collide.Pair{A: s.a, B: s.b, Motion: motion.Chain{
		Joints: []motion.Joint{
			{Name: "tilt", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: center, Gain: motion.Params{0: 1}},
			{Name: "rotary", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Point: center, Gain: motion.Params{1: 1}},
		},
		Home: geom.Shift(center),
	}}
	over := motion.Box{
		Lo: motion.Params{tiltFrom * math.Pi / 180, 0},
		Hi: motion.Params{tiltTo * math.Pi / 180, 2 * math.Pi},
	}
	return p, over
}

// proof is what a sweep took and found.
type proof struct {
	wall, processor float64 // the least seconds of all turns
	collide.Outcome
}

// proved runs a sweep in turns.
func proved(p collide.Pair, over motion.Box, limits collide.Limits, rounds int) (found proof, err error) {
	var wall, processor []float64
	for range rounds {
		w, c := onCores(func() { found.Outcome, err = collide.Sweep(context.Background(), p, over, limits) })
		if err != nil {
			return found, err
		}
		wall, processor = append(wall, w), append(processor, c)
	}
	found.wall, found.processor = fastest(wall), fastest(processor)
	return found, nil
}

// sweep prints a range proven beside the same range sampled.
func (t *table) sweep() error {
	s, err := t.scene(body{"plate", 189_000}, body{"knot", 100_000})
	if err != nil {
		return err
	}
	l, err := t.loaded(s)
	if err != nil {
		return err
	}
	defer l.close()
	const step, all = 4, 121 * 361
	sampled, err := l.sampled(step)
	if err != nil {
		return err
	}
	perSample := sampled.seconds / sampled.samples
	p, over := s.swing()
	section("A range proven, beside the same range sampled",
		fmt.Sprintf("Plate 189k x knot 100k, tilt %d..%d degrees x rotary 0..360. Ours: proven for every position in the range, all cores, "+
			"time on the wall. Library: its distance sampled at every degree (%d positions), which proves nothing between them, on one core; "+
			"processor time, extrapolated from %.0f of them (every %d degrees, smallest %.3f mm). Ratio: the library's time over ours.",
			tiltFrom, tiltTo, all, sampled.samples, step, sampled.smallest),
		"ratio", "question", "ours", "ours, processor", "library", "proven (mm)", "seen (mm)", "boxes", "pairs of parts")
	for _, q := range questions {
		out, err := proved(p, over, q.limits, t.rounds)
		if err != nil {
			return err
		}
		row(times(perSample*all/out.wall), q.name, duration(out.wall), duration(out.processor), duration(perSample*all),
			significant(out.Lower), significant(out.Upper), fmt.Sprint(out.Boxes), fmt.Sprint(out.Tests))
	}
	return nil
}

// samples is what the library found at the positions it was asked about.
type samples struct{ samples, smallest, seconds float64 }

// sampled lets the library walk over the range in steps of so many degrees.
func (l *library) sampled(step float64) (s samples, err error) {
	w := bufio.NewWriter(l.in)
	fmt.Fprintf(w, "sweep 0 0 %v 1 0 0 %d %d 0 0 %v 0 0 1 0 360 %v %s\n",
		centreHeight, tiltFrom, tiltTo, centreHeight, step, peer.FormatPose(geom.Shift(r3.Vector{Z: centreHeight}), " "))
	if err := w.Flush(); err != nil {
		return s, err
	}
	field, err := l.answer("sweep", 6)
	if err != nil {
		return s, err
	}
	for _, f := range []struct {
		at int
		to *float64
	}{{1, &s.samples}, {2, &s.smallest}, {5, &s.seconds}} {
		if *f.to, err = strconv.ParseFloat(field[f.at], 64); err != nil {
			return s, err
		}
	}
	return s, nil
}

// growth prints how our times grow with the bodies.
func (t *table) growth() error {
	section("Growth", "Plate x knot of the same number of facets each; distance: mean of one query over random poses, one thread; "+
		"trees: all cores, time on the wall; "+
		"the range of the table above: processor time of all cores. In brackets: times the row before, which has a tenth (the last: a fifth) of the facets.",
		"facets", "distance", "allocs/op", "tree of the plate", "at least 2 mm", "at least 5 mm", "smallest to 1 %", "clearance (mm)", "pairs of parts")
	var before []float64
	for _, n := range []int{10_000, 100_000, 1_000_000, 5_000_000} {
		s, err := t.scene(body{"plate", n}, body{"knot", n})
		if err != nil {
			return err
		}
		poses := course{random: true, tilt: 60, gaps: [2]float64{0, 100}}.poses(s.meshB, 100)
		var micros, builds []float64
		var allocs float64
		for range t.rounds {
			var m float64
			m, allocs = onThread(len(poses), func(i int) { collide.Distance(s.a, s.b, poses[i]) })
			micros = append(micros, m)
			builds = append(builds, onWall(func() { collide.NewTree(s.meshA) }))
		}
		now := []float64{median(micros) * 1e-6, fastest(builds)}
		p, over := s.swing()
		var out proof
		var tests []string
		for _, q := range questions {
			if out, err = proved(p, over, q.limits, t.rounds); err != nil {
				return err
			}
			now = append(now, out.processor)
			tests = append(tests, fmt.Sprint(out.Tests))
		}
		cell := make([]string, len(now))
		for i, v := range now {
			cell[i] = duration(v)
			if before != nil {
				cell[i] += fmt.Sprintf(" (%s)", times(v/before[i]))
			}
		}
		row(count(n), cell[0], fmt.Sprintf("%.2g", allocs), cell[1], cell[2], cell[3], cell[4], significant(out.Upper), strings.Join(tests, " / "))
		before = now
	}
	return nil
}
