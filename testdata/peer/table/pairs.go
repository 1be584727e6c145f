//go:build linux

package main

import (
	"fmt"
	"math"

	"gridswing/collide"
	"gridswing/geom"
)

// outing is a pair of bodies and how the second is posed.
type outing struct {
	a, b body
	tilt float64 // degrees either way
	note string
	n    int // poses
	// The library is asked about every so manieth pose only, where it is slow.
	stride int
	exact  bool // the library is asked once more with a tolerance
}

var outings = []outing{
	{a: body{"plate", 19_000}, b: body{"knot", 10_000}, tilt: 60, n: 1000, stride: 1},
	{a: body{"plate", 189_000}, b: body{"knot", 100_000}, tilt: 60, n: 1000, stride: 1},
	{a: body{"plate", 189_000}, b: body{"vise", 62_000}, tilt: 60, n: 1000, stride: 4},
	{a: body{"plate", 189_000}, b: body{"vise", 62_000}, note: ", parallel flat faces", n: 1000, stride: 50, exact: true},
	{a: body{"plate", 1_040_000}, b: body{"knot", 1_000_000}, tilt: 60, n: 200, stride: 1},
}

// comparison is a question answered by both, in turns.
type comparison struct {
	ratio, ours, theirs, allocs float64 // medians; microseconds
	off                         float64 // largest difference of the answers
}

// collected keeps the ratios of each kind of question over all pairs.
type collected map[string][]float64

// pairs prints the single queries: distance, at least 2 mm apart, contact.
func (t *table) pairs() error {
	section("Single queries", "Mean time of one query, one thread. Ratio: the library's time over ours. "+
		"Poses: tilted up to 60 degrees about X, turned about Z, set down over the plate "+
		"from touching to 100 mm above it (\"crossing\": from 20 mm sunk in to 20 mm above). "+
		"\"at least 2 mm apart?\" is laid beside the library's distance query, and beside our own. "+
		"Difference: the largest between the two sides' answers (contact: how many differ, bodies that touch to 1e-9 mm left aside).",
		"ratio", "question", "pair", "poses", "ours", "library", "allocs/op", "difference")
	all := collected{}
	for _, o := range outings {
		if err := t.outing(o, all); err != nil {
			return err
		}
	}
	fmt.Println()
	row("geometric mean of the ratios", "smallest", "question")
	row("---", "---", "---")
	for _, q := range []string{"distance", "at least 2 mm apart?", "the same, beside our distance", "contact", "contact, crossing"} {
		lowest := math.Inf(1)
		for _, r := range all[q] {
			lowest = min(lowest, r)
		}
		row(times(geometricMean(all[q])), times(lowest), q)
	}
	return nil
}

func (t *table) outing(o outing, all collected) error {
	s, err := t.scene(o.a, o.b)
	if err != nil {
		return err
	}
	l, err := t.loaded(s)
	if err != nil {
		return err
	}
	defer l.close()
	for _, random := range []bool{false, true} {
		c := course{random: random, tilt: o.tilt, gaps: [2]float64{0, 100}}
		if err := t.ask(o, s, l, c, all); err != nil {
			return err
		}
	}
	return nil
}

// ask puts all questions about one course of poses.
func (t *table) ask(o outing, s *scene, l *library, c course, all collected) error {
	poses := c.poses(s.meshB, o.n)
	distance := func(p geom.Pose) float64 { return collide.Distance(s.a, s.b, p).Distance }
	contact := func(p geom.Pose) float64 { return truth(!collide.Apart(s.a, s.b, p, touching)) }
	d, err := t.compare(s, l, "distance", poses, o.stride, distance)
	if err != nil {
		return err
	}
	o.print("distance", c, d, all)
	if o.exact {
		if err := l.tolerance(1e-9, 1e-7); err != nil {
			return err
		}
		tolerant, err := t.compare(s, l, "distance", poses, o.stride, distance)
		if err != nil {
			return err
		}
		o.print("distance, library asked with rel_err 1e-9, abs_err 1e-7", c, tolerant, all)
		if err := l.tolerance(0, 0); err != nil {
			return err
		}
	}
	t.apart(o, s, c, poses, d, all)
	for _, q := range []string{"contact", "contact, crossing"} {
		if q != "contact" {
			c.gaps = [2]float64{-20, 20}
			poses = c.poses(s.meshB, o.n)
		}
		k, err := t.compare(s, l, "contact", poses, 1, contact)
		if err != nil {
			return err
		}
		o.print(q, c, k, all)
	}
	return nil
}

// touching is a gap that counts as contact, in mm: within the accuracy promised.
const touching = 1e-9

// touch reports whether the bodies are neither clearly apart nor through each other:
// either answer is right then.
func (s *scene) touch(p geom.Pose) bool {
	gap := collide.Distance(s.a, s.b, p).Distance
	return gap > 0 && gap <= touching
}

func truth(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// apart asks whether the bodies are 2 mm apart, which the library can only
// tell by their distance.
func (t *table) apart(o outing, s *scene, c course, poses []geom.Pose, d comparison, all collected) {
	var ours []float64
	k := d
	for range t.rounds {
		var micros float64
		micros, k.allocs = onThread(len(poses), func(i int) { collide.Apart(s.a, s.b, poses[i], 2) })
		ours = append(ours, micros)
	}
	k.ours = median(ours)
	k.ratio = d.theirs / k.ours
	k.off = 0
	for _, p := range poses {
		if gap := collide.Distance(s.a, s.b, p).Distance; collide.Apart(s.a, s.b, p, 2) != (gap >= 2) && math.Abs(gap-2) > 1e-6 {
			k.off++
		}
	}
	o.print("at least 2 mm apart?", c, k, all)
	all["the same, beside our distance"] = append(all["the same, beside our distance"], d.ours/k.ours)
}

// compare lets both sides answer in turns. Ours answers every pose, in order;
// the library one in stride.
func (t *table) compare(s *scene, l *library, question string, poses []geom.Pose, stride int, answer func(geom.Pose) float64) (comparison, error) {
	var some []geom.Pose
	for i := 0; i < len(poses); i += stride {
		some = append(some, poses[i])
	}
	var k comparison
	var ours, theirs []float64
	for turn := range t.rounds {
		var micros float64
		micros, k.allocs = onThread(len(poses), func(i int) { answer(poses[i]) })
		ours = append(ours, micros)
		answers, micros, err := l.ask(question, some)
		if err != nil {
			return k, err
		}
		theirs = append(theirs, micros)
		if turn > 0 {
			continue
		}
		for i, p := range some {
			off := math.Abs(answer(p) - answers[i])
			switch {
			case question == "distance":
				k.off = max(k.off, off)
			case off > 0 && !s.touch(p):
				k.off++
			}
		}
	}
	k.ours, k.theirs, k.ratio = median(ours), median(theirs), median(ratios(theirs, ours))
	return k, nil
}

func (o outing) print(question string, c course, k comparison, all collected) {
	all[question] = append(all[question], k.ratio)
	row(times(k.ratio), question, o.a.String()+" x "+o.b.String()+o.note, c.String(),
		duration(k.ours*1e-6), duration(k.theirs*1e-6), fmt.Sprintf("%.2g", k.allocs), fmt.Sprintf("%.2g", k.off))
}
