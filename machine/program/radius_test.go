package program

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
)

func line(x1, y1, x2, y2 float64) track {
	return track{from: r2.Point{X: x1, Y: y1}, to: r2.Point{X: x2, Y: y2}}
}

// along offsets a closed contour and returns the length of the way.
func along(t *testing.T, s side, contour []track) (length float64) {
	t.Helper()
	off := make([]track, len(contour))
	for i := range contour {
		var ok bool
		if off[i], ok = contour[i].beside(s.by); !ok {
			t.Fatal("too small an arc")
		}
	}
	for i := range contour {
		k := (i + 1) % len(contour)
		round, problem := s.corner(&contour[i], &contour[k], &off[i], &off[k])
		if problem != "" {
			t.Fatal(problem)
		}
		for _, r := range round {
			length += r.length()
		}
	}
	for i := range off {
		length += off[i].length()
	}
	return length
}

// The way round a convex contour at the distance r is longer than that by 2 pi r, whatever its shape;
// inside a circle or a square the offset is a smaller one (J. Steiner, "Ueber parallele Flaechen", 1840).
func TestParallelLength(t *testing.T) {
	square := []track{line(0, 0, 40, 0), line(40, 0, 40, 40), line(40, 40, 0, 40), line(0, 40, 0, 0)}
	const r = 5
	// A square with one rounded corner and half a circle on one side.
	half := math.Pi / 2
	rounded := []track{line(0, 0, 30, 0),
		{from: r2.Point{X: 30}, to: r2.Point{X: 40, Y: 10}, centre: r2.Point{X: 30, Y: 10}, turn: half},
		line(40, 10, 40, 40), {from: r2.Point{X: 40, Y: 40}, to: r2.Point{Y: 40}, centre: r2.Point{X: 20, Y: 40}, turn: 2 * half},
		line(0, 40, 0, 0)}
	circle := []track{{from: r2.Point{X: 10}, to: r2.Point{X: 10}, turn: 4 * half}}
	for _, c := range []struct {
		name    string
		s       side
		contour []track
		want    float64
	}{
		{"outside a square", side{by: -r}, square, 160 + 2*math.Pi*r},
		{"inside a square", side{by: r}, square, 120},
		{"sharp outside a square", side{by: -r, sharp: true}, square, 200},
		{"outside a rounded square", side{by: -r}, rounded, 30 + 5*math.Pi + 30 + 20*math.Pi + 40 + 2*math.Pi*r},
		{"outside a circle", side{by: -r}, circle, 30 * math.Pi},
		{"inside a circle", side{by: r}, circle, 10 * math.Pi},
	} {
		if got := along(t, c.s, c.contour); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v long, want %v", c.name, got, c.want)
		}
	}
}

// points are places along a track, from its beginning to its end.
func points(t *track) (list []r2.Point) {
	const n = 400
	for i := range n + 1 {
		f := float64(i) / n
		if t.turn == 0 {
			list = append(list, t.from.Add(t.to.Sub(t.from).Mul(f)))
			continue
		}
		s, c := math.Sincos(f * t.turn)
		u := t.from.Sub(t.centre)
		list = append(list, t.centre.Add(u.Mul(c)).Add(u.Ortho().Mul(s)))
	}
	return list
}

// Whatever two lines or arcs make a corner: the way of the centre is one piece, nowhere nearer to the
// contour than the radius, nowhere farther if corners are round. Distances are measured from point to point.
func TestCornersKeepTheRadius(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	done := 0
	for range 300 {
		next := func(from, dir r2.Point) track {
			if rng.IntN(2) == 0 {
				return track{from: from, to: from.Add(dir.Mul(20 + 20*rng.Float64()))}
			}
			a := track{from: from, turn: (0.4 + 0.4*rng.Float64()) * math.Copysign(1, rng.Float64()-0.5)}
			u := dir.Ortho().Mul(-math.Copysign(25+20*rng.Float64(), a.turn)) // centre to from
			s, c := math.Sincos(a.turn)
			a.centre = from.Sub(u)
			a.to = a.centre.Add(u.Mul(c)).Add(u.Ortho().Mul(s))
			return a
		}
		a := next(r2.Point{}, r2.Point{X: 1})
		angle := (rng.Float64() - 0.5) * 4
		if rng.IntN(4) == 0 {
			angle *= 1e-3
		}
		sin, cos := math.Sincos(angle)
		u := a.end()
		b := next(a.to, u.Mul(cos).Add(u.Ortho().Mul(sin)))
		s := side{by: math.Copysign(1+3*rng.Float64(), rng.Float64()-0.5), sharp: rng.IntN(3) == 0}
		x, _ := a.beside(s.by)
		y, _ := b.beside(s.by)
		round, problem := s.corner(&a, &b, &x, &y)
		if problem != "" {
			if !s.sharp || math.Abs(angle) < 1.5 {
				t.Fatalf("%v, %v, %+v: %s", a, b, s, problem)
			}
			continue
		}
		way := append(append([]track{x}, round...), y)
		contour := append(points(&a), points(&b)...)
		r := math.Abs(s.by)
		for i := range way {
			if i > 0 && way[i].from.Sub(way[i-1].to).Norm() > 1e-9 {
				t.Fatalf("%v, %v, %+v: a gap of %v", a, b, s, way[i].from.Sub(way[i-1].to).Norm())
			}
			for _, p := range points(&way[i])[1:] {
				least := math.Inf(1)
				for _, q := range contour {
					d := p.Sub(q)
					least = min(least, d.Dot(d))
				}
				least = math.Sqrt(least)
				// Points lie 0.1 mm apart: h^2/(8 r) is what a distance to them may be too much.
				if least < r-2e-4 || least > r+2e-3 && !s.sharp {
					t.Fatalf("%v, %v, %+v: %v from the contour", a, b, s, least)
				}
			}
		}
		done++
	}
	if done < 200 {
		t.Fatalf("%d corners only", done)
	}
}

// What there is no way for.
func TestCornersRefused(t *testing.T) {
	half := math.Pi / 2
	for _, c := range []struct {
		name string
		s    side
		a, b track
		want string
	}{
		{"back on itself", side{by: 5}, line(0, 0, 10, 0), line(10, 0, 0, 0), "turns back"},
		{"step in a corner", side{by: 5}, line(0, 0, 10, 0), line(10, 0, 10, 3), "does not reach"},
		{"sharp and acute", side{by: 5, sharp: true}, line(0, 0, 10, 0), line(10, 0, 0, -5), "an outer corner of 153.4 degrees"},
		{"short arc", side{by: 5}, line(0, 0, 10, 0), track{from: r2.Point{X: 10}, to: r2.Point{X: 4, Y: 6}, centre: r2.Point{X: 4}, turn: half}, "does not reach"},
	} {
		x, _ := c.a.beside(c.s.by)
		y, _ := c.b.beside(c.s.by)
		if _, problem := c.s.corner(&c.a, &c.b, &x, &y); !strings.Contains(problem, c.want) {
			t.Errorf("%s: %q, want %q", c.name, problem, c.want)
		}
	}
	small := track{from: r2.Point{X: 3}, to: r2.Point{Y: 3}, turn: half}
	if _, ok := small.beside(3); ok {
		t.Error("an arc of radius 3 leaves room for a radius of 3 inside")
	}
}

// The move that begins: the line touches the circle about its end; 3-4-5 triangle.
func TestTangent(t *testing.T) {
	got, ok := side{by: 3}.tangent(r2.Point{X: -5}, r2.Point{})
	if want := (r2.Point{X: -9. / 5, Y: 12. / 5}); !ok || got.Sub(want).Norm() > 1e-12 {
		t.Errorf("%v, %v, want %v", got, ok, want)
	}
	if _, ok := (side{by: -3}).tangent(r2.Point{X: -3}, r2.Point{}); ok {
		t.Error("a way of 3 mm is enough for a radius of 3 mm")
	}
}
