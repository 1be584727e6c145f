package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"
)

func TestRoundRectAndArcs(t *testing.T) {
	c := RoundRect(-30, -20, 30, 20, 8, fine)
	// what the corners take away: (4 - n-gon's share of pi) r^2
	want := 60*40 - 64*(4-math.Pi*ngonRatio(fine.Segments(8)))
	if math.Abs(c.area()-want) > 1e-9 {
		t.Errorf("area %v, want %v", c.area(), want)
	}
	if b := c.bounds(); b.Lo() != (r2.Point{X: -30, Y: -20}) || b.Hi() != (r2.Point{X: 30, Y: 20}) {
		t.Errorf("bounds %v", b)
	}
	// three quarters of a turn one way, a quarter the other, off a circle of 10
	for _, c := range []struct {
		ccw  bool
		turn float64
	}{{true, 0.25}, {false, -0.75}} {
		arc := Contour{{X: 10}}.Arc(r2.Point{}, r2.Point{Y: 10}, c.ccw, fine)
		swept := 0.0
		for i := range len(arc) - 1 {
			a, b := arc[i], arc[i+1]
			swept += math.Atan2(a.Cross(b), a.Dot(b))
			if gap := 10 - a.Add(b).Mul(0.5).Norm(); gap > fine.Chord || math.Abs(a.Norm()-10) > 1e-12 {
				t.Errorf("edge %v to %v: %v off the circle", a, b, gap)
			}
		}
		if math.Abs(swept/(2*math.Pi)-c.turn) > 1e-12 {
			t.Errorf("swept %v turns, want %v", swept/(2*math.Pi), c.turn)
		}
	}
}

func TestInsetMovesEdgesIntoTheMaterial(t *testing.T) {
	region := Region{Rect(0, 0, 100, 60), Rect(20, 20, 50, 40)}
	got := region.Inset(3)
	if a := got[0].area(); math.Abs(a-94*54) > 1e-9 {
		t.Errorf("outline of %v mm2, want %v", a, 94*54)
	}
	if a := got[1].area(); math.Abs(a+36*26) > 1e-9 {
		t.Errorf("hole of %v mm2, want %v, clockwise", a, -36*26)
	}
}

// Two layers of nested bands, some of which both have: whatever is above or
// below of what, the stack closes and holds the volume of its layers.
func TestStackRandomLayers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bands := []Contour{star(t, r2.Point{}, 190, 200), star(t, r2.Point{}, 85, 90), star(t, r2.Point{}, 38, 40),
			star(t, r2.Point{}, 16, 18), star(t, r2.Point{}, 7, 8)}
		for i := range bands { // nested for certain: a triangle's edges come as near as half its radius
			if len(bands[i]) == 3 {
				bands[i] = fine.Circle(r2.Point{}, bands[i][0].Norm())
			}
		}
		var layers []Layer
		want := 0.0
		for range rapid.IntRange(1, 4).Draw(t, "layers") {
			var r Region
			sign, area := 1.0, 0.0
			for _, c := range bands {
				if rapid.Bool().Draw(t, "there") {
					r = append(r, c)
					area += sign * math.Abs(c.area())
					sign = -sign
				}
			}
			if len(r) == 0 {
				r, area = bands[:1], math.Abs(bands[0].area())
			}
			l := Layer{Height: rapid.Float64Range(0.1, 50).Draw(t, "height"), Bottom: r}
			layers = append(layers, l)
			want += area * l.Height
		}
		s, err := Stack(-3, layers...)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(volumeOf(s)-want) > 1e-9*want {
			t.Fatalf("volume %v, want %v", volumeOf(s), want)
		}
		closedExactly(t, s)
		closedExactly(t, s.Refined(30))
	})
}
