package machine

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// Seats and grids of any direction: the pins come to stand over the holes, the
// normals along each other, and nothing is mirrored.
func TestSitAnywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	point := func() r3.Vector {
		return vec(r.Float64()-0.5, r.Float64()-0.5, r.Float64()-0.5).Mul(1000)
	}
	for i := range 1000 {
		normal := point().Normalize()
		along := normal.Ortho()
		length := 10 + 500*r.Float64()
		st := &seat{normal: normal}
		st.pins[0] = point()
		st.pins[1] = st.pins[0].Add(along.Mul(length))
		gridNormal := point().Normalize()
		var holes [2]r3.Vector
		holes[0] = point()
		holes[1] = holes[0].Add(gridNormal.Ortho().Mul(length))
		pose := sit(st, holes, gridNormal)
		near(t, "pin 1", pose.Point(st.pins[0]), holes[0], 1e-9)
		near(t, "pin 2", pose.Point(st.pins[1]), holes[1], 1e-9)
		near(t, "normal", pose.Dir(normal), gridNormal, 1e-12)
		x, y := pose.Dir(vec(1, 0, 0)), pose.Dir(vec(0, 1, 0))
		near(t, "right-handed", x.Cross(y), pose.Dir(vec(0, 0, 1)), 1e-12)
		if t.Failed() {
			t.Fatalf("try %d: seat %+v, holes %v, normal %v", i, st, holes, gridNormal)
		}
	}
}

// All 24 quarter-turned attitudes come out exact, whatever the coordinates.
func TestSitExactly(t *testing.T) {
	units := []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}}
	st := &seat{normal: vec(0, 0, 1), pins: [2]r3.Vector{vec(-37.3, 12.1, 5.7), vec(62.7, 12.1, 5.7)}}
	seen := make(map[geom.Rotation]bool)
	for _, n := range units {
		for _, u := range units {
			if n.Dot(u) != 0 {
				continue
			}
			origin := vec(0.1, 0.7, -1234.3)
			pose := sit(st, [2]r3.Vector{origin, origin.Add(u.Mul(100))}, n)
			for _, row := range pose.R {
				for _, v := range row {
					if v != 0 && math.Abs(v) != 1 {
						t.Errorf("along %v on %v: %v", u, n, pose.R)
					}
				}
			}
			seen[pose.R] = true
		}
	}
	if len(seen) != 24 {
		t.Errorf("%d attitudes", len(seen))
	}
}

// Labels: letters along u, then double letters, numbers from 1.
func TestHoles(t *testing.T) {
	g := &grid{u: vec(1, 0, 0), v: vec(0, 1, 0), columns: 28, rows: 12, pitch: pitch{50, 40}, origin: vec(5, 6, 7), omit: map[string]bool{"C3": true}}
	for label, want := range map[string]r3.Vector{
		"A1": vec(5, 6, 7), "B1": vec(55, 6, 7), "A2": vec(5, 46, 7), "Z12": vec(5+25*50, 6+11*40, 7),
		"AA1": vec(5+26*50, 6, 7), "AB3": vec(5+27*50, 86, 7),
	} {
		got, ok := g.hole(label)
		if !ok {
			t.Errorf("no hole %s", label)
		}
		near(t, label, got, want, 0)
	}
	for _, label := range []string{"", "A", "1", "A0", "A13", "AC1", "C3", "a1", "A01", "A1 ", "1A", "AAAA1", "A99999"} {
		if _, ok := g.hole(label); ok {
			t.Errorf("a hole %q", label)
		}
	}
	if g.labels() != "A1 to AB12" {
		t.Errorf("labels %s", g.labels())
	}
}
