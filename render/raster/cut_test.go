package raster

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

var midPlane = &Plane{Normal: r3.Vector{Y: -1}}

func TestCutTakesAwayWhatStandsBefore(t *testing.T) {
	before, behind := at(cube(t, 20), 0, -50, 0), at(cube(t, 10), 0, 50, 0)
	_, seen := drawn(t, &Scene{Camera: front(50, 50, 2), Bodies: []Body{before, behind}, Cut: midPlane}, 100, 100)
	if n, _ := area(seen, 0); n != 0 {
		t.Errorf("%d pixels of a cube before the cut are left", n)
	}
	if n, _ := area(seen, 1); n != 20*20 {
		t.Errorf("cube behind the cut: %d pixels, want %d", n, 20*20)
	}
}

// A box with a cavity, cut in the middle, shows a filled ring and the cavity's
// far wall within.
func TestCutFillsSolidsButNotCavities(t *testing.T) {
	outer := cuboid(t, r3.Vector{X: 40, Y: 40, Z: 40})
	var inner shape.Surface
	for _, f := range cuboid(t, r3.Vector{X: 20, Y: 20, Z: 20}) {
		f[1], f[2] = f[2], f[1]
		inner = append(inner, f)
	}
	body := at(NewShape(shape.Join(outer, inner).Mesh(), true), 0, 0, 0)
	s := &Scene{Camera: front(50, 50, 2), Bodies: []Body{body}, Cut: midPlane, Lines: black, Workers: 1}
	_, seen := drawn(t, s, 96, 96)
	if n, _ := area(seen, 0); n != 80*80 {
		t.Errorf("%d pixels, want %d", n, 80*80)
	}
	filled := cutSamples(t, s)
	if want := (80*80 - 40*40) * samples; filled[false] != want {
		t.Errorf("%d samples of cut face, want %d", filled[false], want)
	}
}

// Two cubes that share a quarter: the overlap is shown as such, exactly.
func TestCutShowsOverlap(t *testing.T) {
	c := cube(t, 20)
	s := &Scene{Camera: front(48, 48, 2), Bodies: []Body{at(c, -5, 0, -5), at(c, 5, 3, 5)}, Cut: midPlane, Workers: 1}
	img, _ := drawn(t, s, 96, 96)
	filled := cutSamples(t, s)
	if want := 20 * 20 * samples; filled[true] != want {
		t.Errorf("%d samples of overlap, want %d", filled[true], want)
	}
	if want := (40*40 + 40*40 - 2*20*20) * samples; filled[false] != want {
		t.Errorf("%d samples of single cut face, want %d", filled[false], want)
	}
	if got := img.RGBAAt(48, 48); got != red {
		t.Errorf("the middle of the overlap is %v, want %v", got, red)
	}
}

// cutSamples counts the samples of cut face: those of one body (false) and those of two (true).
func cutSamples(t *testing.T, s *Scene) map[bool]int {
	t.Helper()
	n := map[bool]int{}
	eachCutSample(t, s, 96, 96, func(_, _ float64, overlap bool) { n[overlap]++ })
	return n
}

// eachCutSample tells where samples of cut face are, in pixels, and whether two bodies overlap there.
func eachCutSample(t *testing.T, s *Scene, w, h int, tell func(x, y float64, overlap bool)) {
	t.Helper()
	img, _ := drawn(t, s, w, h)
	j, err := newJob(s, img)
	if err != nil {
		t.Fatal(err)
	}
	for c := range j.facetChunks {
		j.setFacets(&j.facetChunks[c], &scratch{})
	}
	for c := range j.lineChunks {
		j.setLines(&j.lineChunks[c], &scratch{})
	}
	j.sortChunks()
	tile := j.tiles[0]
	for i := range j.across * j.down {
		tile.draw(i)
		l := &tile.solid
		for y := range tile.h {
			for x := range tile.w {
				for s, p := 0, (y+apron)*side+x+apron; s < samples; s++ {
					if l.pixels[p].cover>>s&1 != 0 && l.shown[l.whatAt(p, s)].cutFace {
						u, v := sampleAt(s)
						tell(float64(tile.x0+x)+u, float64(tile.y0+y)+v, l.shown[l.whatAt(p, s)].overlap)
					}
				}
			}
		}
	}
}

// Chamfers of 45 degrees are seen edge-on in the isometric view, where rounding decides whether they
// cover a sample. The cut face must still end with the body: each of its samples, taken back to the
// plane, lies in the block.
func TestCutFaceEndsWithTheBody(t *testing.T) {
	block, err := shape.Chamfered(shape.Region{shape.Rect(-60, -40, 60, 40)}, -20, 20, 2)
	if err != nil {
		t.Fatal(err)
	}
	shape := NewShape(block.Mesh(), true)
	for k := range 60 {
		s := &Scene{Camera: isometric(0.6 + 0.0137*float64(k)), Bodies: []Body{{Shape: shape, Pose: geom.Identity(), Color: grey}},
			Cut: &Plane{Point: r3.Vector{X: 10}, Normal: r3.Vector{X: 1}}, Workers: 1}
		s.Camera.X, s.Camera.Y = 150.3, 110.7
		eachCutSample(t, s, 300, 220, func(x, y float64, overlap bool) {
			c := &s.Camera
			p := c.Right.Mul((x - c.X) / c.Scale).Add(c.Up.Mul((c.Y - y) / c.Scale))
			p = p.Add(c.Toward.Mul((10 - p.X) / c.Toward.X))
			if out := max(math.Abs(p.Y)-40, math.Abs(p.Z)-20, math.Abs(p.Y)+math.Abs(p.Z)-58); out > 0.05 {
				t.Errorf("scale %v: cut face at %.2f, %.2f (%v), %.2f mm outside of the block", c.Scale, x, y, p, out)
			}
		})
	}
}

func TestCutOfAnOpenSurfaceIsNotFilled(t *testing.T) {
	m := cuboid(t, r3.Vector{X: 20, Y: 20, Z: 20}).Mesh()
	m = &geom.Mesh{Facets: m.Facets[1:]}
	s := &Scene{Camera: front(48, 48, 2), Bodies: []Body{at(NewShape(m, false), 0, 0, 0)}, Cut: midPlane, Workers: 1}
	if n := cutSamples(t, s); n[false]+n[true] != 0 {
		t.Errorf("an open surface has %d samples of cut face", n[false]+n[true])
	}
}

func TestGhostHidesNothing(t *testing.T) {
	solid, veil := at(cube(t, 10), 0, 20, 0), at(cube(t, 30), 0, -20, 0)
	veil.Ghost, veil.Color = true, red
	plain, _ := drawn(t, &Scene{Camera: front(50, 50, 2), Bodies: []Body{solid}}, 100, 100)
	img, seen := drawn(t, &Scene{Camera: front(50, 50, 2), Bodies: []Body{solid, veil}}, 100, 100)
	if n, _ := area(seen, 0); n != 20*20 {
		t.Errorf("behind a veil %d pixels of the cube are seen, want %d", n, 20*20)
	}
	if n, _ := area(seen, 1); n != 0 {
		t.Errorf("%d pixels count as the veil's", n)
	}
	before, after := plain.RGBAAt(50, 50), img.RGBAAt(50, 50)
	if after.G >= before.G || int(after.G) < int(before.G)/2 {
		t.Errorf("the veil turns %v into %v: want it redder, but not covered", before, after)
	}
}

// A body that is whole stands in the cut as it is, and hides the cut face behind it,
// whichever of the two is drawn first.
func TestWholeBodiesAreNotCut(t *testing.T) {
	for _, order := range [][2]int{{0, 1}, {1, 0}} {
		block, pin := at(cube(t, 20), 0, 0, 0), at(cube(t, 6), 0, 0, 0)
		pin.Whole = true
		bodies := make([]Body, 2)
		bodies[order[0]], bodies[order[1]] = block, pin
		s := &Scene{Camera: front(48, 48, 2), Bodies: bodies, Cut: midPlane, Workers: 1}
		_, seen := drawn(t, s, 96, 96)
		if n, _ := area(seen, order[1]); n != 12*12 {
			t.Errorf("drawn in order %v: the pin covers %d pixels, want %d", order, n, 12*12)
		}
		if n, _ := area(seen, order[0]); n != 40*40-12*12 {
			t.Errorf("drawn in order %v: the block covers %d pixels, want %d", order, n, 40*40-12*12)
		}
		if filled := cutSamples(t, s); filled[true] != 0 {
			t.Errorf("drawn in order %v: %d samples of overlap with a body that is not cut", order, filled[true])
		}
	}
}

// A body that yields is not shown where another one is too, whichever is drawn first; two
// that yield overlap as any two do.
func TestYieldingBodiesDoNotOverlap(t *testing.T) {
	for _, order := range [][2]int{{0, 1}, {1, 0}} {
		stock, pin := at(cube(t, 20), 0, 0, 0), at(cube(t, 6), 0, 0, 0)
		stock.Yields = true
		bodies := make([]Body, 2)
		bodies[order[0]], bodies[order[1]] = stock, pin
		s := &Scene{Camera: front(48, 48, 2), Bodies: bodies, Cut: midPlane, Workers: 1}
		_, seen := drawn(t, s, 96, 96)
		if n, _ := area(seen, order[1]); n != 12*12 {
			t.Errorf("drawn in order %v: the pin covers %d pixels, want %d", order, n, 12*12)
		}
		if filled := cutSamples(t, s); filled[true] != 0 {
			t.Errorf("drawn in order %v: %d samples of overlap", order, filled[true])
		}
		bodies[order[1]].Yields = true
		if filled := cutSamples(t, s); filled[true] != 12*12*samples {
			t.Errorf("drawn in order %v: %d samples of overlap of two that yield", order, filled[true])
		}
	}
}
