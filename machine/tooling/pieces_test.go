package tooling

import (
	"math"
	"testing"

	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// radiusAt is how wide a piece is at a height, and whether it is anything there.
func (p Piece) radiusAt(z float64) (r float64, ok bool) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if a[1] <= z && z <= b[1] {
			ok = true
			s := 1.0
			if b[1] > a[1] {
				s = (z - a[1]) / (b[1] - a[1])
			}
			r = max(r, a[0]+(b[0]-a[0])*s)
		}
	}
	return r, ok
}

// convex fails unless a piece is one: heights that do not decrease, radii concave over them.
func convex(t *rapid.T, p Piece) {
	for i := range p {
		if i > 0 && p[i][1] < p[i-1][1] || p[i][0] < 0 || len(p) < 2 {
			t.Fatalf("no outline: %v", p)
		}
		if i > 1 {
			a, b, c := p[i-2], p[i-1], p[i]
			if (b[0]-a[0])*(c[1]-b[1]) < (c[0]-b[0])*(b[1]-a[1])-1e-9 {
				t.Fatalf("not convex at %d: %v", i, p)
			}
		}
	}
}

// Pieces hold the true zones, by the drawings that solids are held to, and are no wider than those
// by 0.15 % and 5 um; their hull holds the pieces; what cuts for certain is within the true one.
func TestPiecesHoldTheTrueZones(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := tools(t)
		for _, z := range Zones() {
			pieces := tool.Around(z)
			hull := Hull(pieces)
			for _, p := range pieces {
				convex(t, p)
			}
			for _, s := range truthOf(tool, z) {
				if s.high-s.low < 1e-6 {
					continue
				}
				for _, y := range s.every(40) {
					within(t, pieces, hull, s.radius(y), y-tool.LPR())
				}
			}
			r := tool.Widest()
			for _, p := range pieces {
				for _, c := range p {
					if !anyNear(truthOf(tool, z), c[0], c[1]+tool.LPR(), 0.0015*r+0.005) {
						t.Fatalf("%+v: %s: corner %v is too far out", *tool.Cutter, z, c)
					}
				}
			}
		}
		inside(t, tool)
	})
}

func within(t *rapid.T, pieces []Piece, hull Piece, r, z float64) {
	most := -1.0
	for _, p := range pieces {
		if at, ok := p.radiusAt(z); ok {
			most = max(most, at)
		}
	}
	if whole, ok := hull.radiusAt(z); most < r-1e-9 || !ok || whole < most-1e-9 {
		t.Fatalf("radius %v at %v is outside of %v or of the hull %v", r, z, pieces, hull)
	}
}

func inside(t *rapid.T, tool *Tool) {
	cut := tool.Inside()
	if cut == nil {
		if tool.Cutter.Kind != TouchProbe && tool.Cutter.Kind != Tap {
			t.Fatalf("%+v: cuts nothing", *tool.Cutter)
		}
		return
	}
	convex(t, cut)
	volume := 0.0
	for i := 1; i < len(cut); i++ {
		a, b := cut[i-1][0], cut[i][0]
		volume += math.Pi / 3 * (cut[i][1] - cut[i-1][1]) * (a*a + a*b + b*b)
	}
	true0 := 0.0
	for _, s := range truthOf(tool, Cutting) {
		for _, y := range s.every(200) {
			if at, ok := cut.radiusAt(y - tool.LPR()); ok && at > s.radius(y)+1e-9 {
				t.Fatalf("%+v: %v at height %v, the cutter has %v", *tool.Cutter, at, y, s.radius(y))
			}
			true0 += math.Pi * s.radius(y) * s.radius(y) * (s.high - s.low) / 201
		}
	}
	if !tool.Cutter.widens() && volume < 0.98*true0 {
		t.Fatalf("%+v: %v mm3 of %v", *tool.Cutter, volume, true0)
	}
}

// Slabs hold a holder that is given as a mesh: here a block that is no solid of revolution.
func TestSlabsHoldAMesh(t *testing.T) {
	mesh := shape.Box(r3.Vector{X: -10, Y: -20, Z: -60}, r3.Vector{X: 15, Y: 5, Z: 0}).Mesh()
	tool := &Tool{Cutter: &Cutter{}, Holder: &Holder{Mesh: mesh, ChordError: 0.1, Length: 60}}
	far := math.Hypot(15, 20)
	for z := -60.1; z < 0.1; z += 0.3 {
		r := 0.0
		for _, p := range tool.Around(HolderZone) {
			if at, ok := p.radiusAt(z); ok {
				r = max(r, at)
			}
		}
		if r < far+0.1-1e-9 || r > far+0.11 {
			t.Errorf("%v at %v, want %v", r, z, far+0.1)
		}
	}
}

// A waist is told as pieces, and a cone that opens upward as one.
func TestPartedAtWaists(t *testing.T) {
	line := shape.Contour{{X: 20, Y: 0}, {X: 10, Y: 10}, {X: 20, Y: 20}, {X: 20, Y: 30}}
	if got := parted(line); len(got) != 2 || len(got[0]) != 2 || len(got[1]) != 3 {
		t.Errorf("a waist: %v", got)
	}
	if got := parted(shape.Contour{{X: 0, Y: 0}, {X: 5, Y: 3}, {X: 5, Y: 9}}); len(got) != 1 {
		t.Errorf("a drill: %v", got)
	}
	if got := bulge([]r2.Point{{X: 3, Y: 1}, {X: 5, Y: 1}, {X: 1, Y: 0}}); len(got) != 2 || got[1] != [2]float64{5, 1} {
		t.Errorf("bulge: %v", got)
	}
}
