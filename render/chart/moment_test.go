package chart

import (
	"context"
	"math"
	"strings"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
)

// pull returns the chart of an invented trunnion: 35 kg at 20 and 120 from the tilt axis, 40
// more or less as the rotary axis turns.
func pull(rating float64, moving bool) *Moment {
	m := &Moment{Title: "Moment about A: trunnion, overload", Tilt: Axis{"A", -20, 110}, Rating: rating, Moving: moving, Over: "all of C",
		Caption: []string{"Mill 3. Weights as modelled, gravity 9.80665 m/s2, its own cradle counted."}, Width: 800, Height: 600}
	for a := -20.0; a <= 110; a++ {
		sin, cos := math.Sincos(a * math.Pi / 180)
		p := MomentPoint{Tilt: a, Least: 0.343 * ((20-40)*cos + 120*sin), Greatest: 0.343 * ((20+40)*cos + 120*sin)}
		if p.Least > p.Greatest {
			p.Least, p.Greatest = p.Greatest, p.Least
		}
		p.Lowest, p.Highest = p.Least-4, p.Greatest+4
		m.Points = append(m.Points, p)
	}
	m.Marks = []MomentMark{{63.43, 46.02, "46.1 N m, C 90"}}
	return m
}

func TestGoldenMoments(t *testing.T) {
	for name, m := range map[string]*Moment{"moment-over": pull(40, true), "moment-within": pull(90, true), "moment-unrated": pull(0, false)} {
		img, err := m.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}

// What is where: the envelope between its edges, hatched above the rating, level bars
// beyond it, nothing elsewhere.
func TestMomentIsAtItsHeight(t *testing.T) {
	m := pull(40, false)
	m.Width, m.Height, m.Marks = 1600, 1200, nil
	img, err := m.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	d := &momentSheet{sheet: newSheet(&Swing{Tilt: m.Tilt, Caption: m.Caption, Width: 1600, Height: 1200, Cap: 1}), Moment: m}
	d.lo, d.hi = m.scale()
	pixel := func(tilt, moment float64) float64 {
		sum := 0.0
		for dy := range 8 { // a period of the bars
			for dx := range 14 {
				sum += ink.Lightness(img.RGBAAt(int(d.at(tilt))+dx, int(d.level(moment))+dy))
			}
		}
		return sum / (8 * 14)
	}
	blue, paper := ink.Lightness(envelopeGround), ink.Lightness(ink.Paper)
	for _, c := range []struct {
		what         string
		tilt, moment float64
		lo, hi       float64
	}{
		{"inside", 12, 15, blue - 1, blue + 1},
		{"below", 40, 5, paper - 1, paper + 1},
		{"inside, over the rating", 63, 43, 30, 70},
		{"beyond the rating", -10, 44, 85, paper - 2},
		{"at the edge", -20, 5.5, 20, 80},
	} {
		if got := pixel(c.tilt, c.moment); got < c.lo || got > c.hi {
			t.Errorf("%s: lightness %.1f, want %.1f to %.1f", c.what, got, c.lo, c.hi)
		}
	}
}

// The scale holds all moments and 0; the rating on the side that matters, on the other
// where the moment comes near.
func TestMomentScale(t *testing.T) {
	point := func(least, greatest float64) []MomentPoint {
		return []MomentPoint{{0, least, greatest, least, greatest}, {1, least, greatest, least, greatest}}
	}
	for _, c := range []struct {
		points          []MomentPoint
		rating          float64
		lo, hi          float64 // at least so far
		above, notBelow float64
	}{
		{point(-1, 10), 100, -1, 100, 150, -50},
		{point(-60, 10), 100, -100, 10, 50, -150},
		{point(-60, 70), 100, -100, 100, 150, -150},
		{point(2, 10), 0, 0, 10, 20, -1e-9},
		{point(0, 0), 0, 0, 0, 5, -5},
	} {
		lo, hi := (&Moment{Points: c.points, Rating: c.rating}).scale()
		if lo > c.lo || hi < c.hi || hi > c.above || lo < c.notBelow || lo >= hi {
			t.Errorf("%v, rated %v: from %v to %v", c.points[0], c.rating, lo, hi)
		}
	}
}

func TestMomentsThatCannotBeChartedAreRefused(t *testing.T) {
	for want, change := range map[string]func(m *Moment){
		"must run upward": func(m *Moment) { m.Tilt.Hi = m.Tilt.Lo },
		"1 points":        func(m *Moment) { m.Points = m.Points[:1] },
		"a rating of -1":  func(m *Moment) { m.Rating = -1 },
		"a rating of NaN": func(m *Moment) { m.Rating = math.NaN() },
		"size of 5 x 5":   func(m *Moment) { m.Width, m.Height = 5, 5 },
		"point 3 is no":   func(m *Moment) { m.Points[3].Highest = math.NaN() },
		"point 4 at -20":  func(m *Moment) { m.Points[4].Tilt = -20 },
		`mark "46.1 N m`:  func(m *Moment) { m.Marks[0].Moment = math.Inf(1) },
	} {
		m := pull(40, true)
		change(m)
		if _, err := m.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := pull(1, false).Draw(ctx); err != context.Canceled {
		t.Errorf("with a done context: %v", err)
	}
}
