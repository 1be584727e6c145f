package bores_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gridswing/geom"
	"gridswing/geom/bores"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

func must(t testing.TB, s shape.Surface, err error) shape.Surface {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// chordFor returns the chord error that gives a circle the number of sides.
func chordFor(radius float64, sides int) float64 {
	return radius * (1 - math.Cos(math.Pi/float64(sides))) * (1 + 1e-9)
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

func nearPoint(a, b r3.Vector, tolerance float64) bool { return a.Sub(b).Norm() <= tolerance }

// circle is a polygon of n sides, its corners on the radius.
func circle(center r2.Point, radius float64, n int) shape.Contour {
	return shape.Round{Chord: 1}.CircleOf(center, radius, n)
}

// One hole of any number of sides in a square plate: centre, axis, diameter, depth.
func TestSides(t *testing.T) {
	for n := 8; n <= 200; n++ {
		outline := shape.Rect(-20, -15, 30, 25)
		s, err := shape.Stack(5,
			shape.Layer{Height: 4, Bottom: shape.Region{outline}},
			shape.Layer{Height: 8, Bottom: shape.Region{outline, circle(r2.Point{X: 3, Y: 4}, 6, n)}})
		f := bores.Find(must(t, s, err).Mesh())
		if len(f.Holes) != 1 || len(f.Bosses) != 0 || len(f.Arcs) != 0 {
			t.Fatalf("%d sides: %d holes, %d bosses, %d arcs, want one hole", n, len(f.Holes), len(f.Bosses), len(f.Arcs))
		}
		h, step := &f.Holes[0], f.Holes[0].Steps[0]
		if !nearPoint(h.Mouth, r3.Vector{X: 3, Y: 4, Z: 17}, 1e-4) || !nearPoint(h.Axis, r3.Vector{Z: 1}, 1e-5) {
			t.Errorf("%d sides: mouth %v axis %v", n, h.Mouth, h.Axis)
		}
		if h.Bottom != bores.Blind || !near(h.Depth, 8, 1e-5) || !near(h.Deepest, 8, 1e-5) || h.Point != 0 {
			t.Errorf("%d sides: %s, depth %v, deepest %v, want blind and 8", n, h.Bottom, h.Depth, h.Deepest)
		}
		// The inscribed circle of a regular polygon: its circumscribed one times cos(pi/n).
		if step.Sides != n || !near(step.Diameter, 12, 1e-4) || !near(step.Flats, 12*math.Cos(math.Pi/float64(n)), 1e-4) {
			t.Errorf("%d sides: found %d, diameter %v, flats %v", n, step.Sides, step.Diameter, step.Flats)
		}
	}
}

// What is no bore: a hexagonal and a square hole, a square hole with its edges broken,
// a slot, a pocket with fillets, a plate with round edges, a cone.
func TestNoBores(t *testing.T) {
	round := shape.Round{Chord: 0.02}
	rect := shape.Rect(-5, -5, 5, 5)
	broken := shape.Contour{{X: 5, Y: -3.5}, {X: 5, Y: 3.5}, {X: 3.5, Y: 5}, {X: -3.5, Y: 5},
		{X: -5, Y: 3.5}, {X: -5, Y: -3.5}, {X: -3.5, Y: -5}, {X: 3.5, Y: -5}}
	slot := shape.RoundRect(-12, -4, 12, 4, 4-1e-6, round)
	for name, c := range map[string]struct {
		contour shape.Contour
		arcs    int
	}{
		"hexagon": {circle(r2.Point{}, 5, 6), 0}, "square": {rect, 0}, "broken square": {broken, 0},
		"slot": {slot, 2}, "pocket": {shape.RoundRect(-12, -9, 12, 9, 3, round), 4},
	} {
		s, err := shape.Extrude(shape.Region{shape.Rect(-20, -20, 20, 20), c.contour}, 0, 10)
		f := bores.Find(must(t, s, err).Mesh())
		if len(f.Holes) != 0 || len(f.Bosses) != 0 {
			t.Errorf("%s: %d holes, %d bosses", name, len(f.Holes), len(f.Bosses))
		}
		if len(f.Arcs) != c.arcs && name != "slot" { // the ends of a slot may be four quarters
			t.Errorf("%s: %d arcs, want %d", name, len(f.Arcs), c.arcs)
		}
		s, err = shape.Extrude(shape.Region{c.contour}, 0, 10)
		if f := bores.Find(must(t, s, err).Mesh()); len(f.Bosses) != 0 || len(f.Holes) != 0 {
			t.Errorf("%s as a column: %d bosses", name, len(f.Bosses))
		}
	}
	for _, top := range []float64{0, 2, 9} {
		if f := bores.Find(shape.Cone(10, top, 0, 30, round).Mesh()); len(f.Bosses) != 0 || len(f.Holes) != 0 {
			t.Errorf("a cone of 10 to %v is a boss", top)
		}
	}
	for name, m := range map[string]*geom.Mesh{"ball": shape.BumpyBall(20000), "blocks": shape.ViseBlocks(5000)} {
		if f := bores.Find(m); len(f.Holes) != 0 || len(f.Bosses) != 0 {
			t.Errorf("%s: %d holes, %d bosses", name, len(f.Holes), len(f.Bosses))
		}
	}
}

// Drilled: a cone of 118 degrees below a bore that a chamfer widens.
func TestDrilled(t *testing.T) {
	const radius, depth, chamfer = 5.0, 22.0, 0.8
	tip := depth + radius/math.Tan(59*math.Pi/180)
	s, err := shape.Revolve(shape.Contour{{X: 0, Y: -tip}, {X: radius, Y: -depth}, {X: radius, Y: -chamfer},
		{X: radius + chamfer, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: -40}, {X: 0, Y: -40}}, shape.Round{Chord: 0.01})
	f := bores.Find(must(t, s, err).Mesh())
	if len(f.Holes) != 1 || len(f.Bosses) != 1 {
		t.Fatalf("%d holes, %d bosses, want one each", len(f.Holes), len(f.Bosses))
	}
	h := &f.Holes[0]
	if h.Bottom != bores.Blind || !near(h.Depth, depth, 1e-5) || !near(h.Deepest, tip, 1e-5) ||
		!near(h.Point*180/math.Pi, 118, 0.01) || !near(h.Chamfer, 2*(radius+chamfer), 1e-4) {
		t.Errorf("found %+v", h)
	}
	if b := &f.Bosses[0]; !near(b.Diameter, 40, 1e-4) || !near(b.Height, 40, 1e-4) || !nearPoint(b.Base, r3.Vector{Z: -40}, 1e-4) {
		t.Errorf("found %+v", b)
	}
}

// A rounded mouth and the bottom of a ball nose: depths count from the face, and what is
// no cone is no point of a drill. A boss with a rounded end is as high as that.
func TestRounded(t *testing.T) {
	const radius, depth, fillet = 5.0, 22.0, 1.5
	arc := func(center r2.Point, r, from, to float64) []r2.Point {
		var points []r2.Point
		for i := range 9 {
			sin, cos := math.Sincos((from + (to-from)*float64(i)/8) * math.Pi / 180)
			x := center.X + r*cos
			if x < 1e-9 {
				x = 0 // on the axis exactly
			}
			points = append(points, r2.Point{X: x, Y: center.Y + r*sin})
		}
		return points
	}
	profile := arc(r2.Point{Y: -depth}, radius, -90, 0)
	profile = append(profile, arc(r2.Point{X: radius + fillet, Y: -fillet}, fillet, 180, 90)...)
	profile = append(profile, arc(r2.Point{X: 18, Y: -2}, 2, 90, 0)...)
	profile = append(profile, r2.Point{X: 20, Y: -40}, r2.Point{Y: -40})
	s, err := shape.Revolve(profile, shape.Round{Chord: 0.01})
	f := bores.Find(must(t, s, err).Mesh())
	if len(f.Holes) != 1 || len(f.Bosses) != 1 {
		t.Fatalf("%d holes, %d bosses, want one each", len(f.Holes), len(f.Bosses))
	}
	h := &f.Holes[0]
	if h.Bottom != bores.Blind || !near(h.Depth, depth, 1e-4) || !near(h.Deepest, depth+radius, 1e-4) || h.Point != 0 ||
		!near(h.Chamfer, 2*(radius+fillet), 1e-3) || !nearPoint(h.Mouth, r3.Vector{}, 1e-4) {
		t.Errorf("found %+v", h)
	}
	if b := &f.Bosses[0]; !near(b.Diameter, 40, 1e-4) || !near(b.Height, 40, 1e-3) {
		t.Errorf("found %+v", b)
	}
}

// Coarse bores with a counterbore and chamfers of 45 degrees, which turn as much as the
// sides do.
func TestCoarseStepped(t *testing.T) {
	for n := 8; n <= 16; n++ {
		outline := shape.Region{shape.Rect(-20, -15, 30, 25)}
		ring := func(r float64) shape.Region { return append(outline[:1:1], circle(r2.Point{X: 3, Y: 4}, r, n)) }
		s, err := shape.Stack(0,
			shape.Layer{Height: 0.5, Bottom: ring(5.5), Top: ring(5)},
			shape.Layer{Height: 9.5, Bottom: ring(5)},
			shape.Layer{Height: 6, Bottom: ring(8)},
			shape.Layer{Height: 1, Bottom: ring(8), Top: ring(9)})
		f := bores.Find(must(t, s, err).Moved(geom.Turn(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 0.3}.Normalize(), 0.7)).Mesh())
		if len(f.Holes) != 1 || len(f.Bosses) != 0 {
			t.Errorf("%d sides: %d holes, %d bosses, want one hole", n, len(f.Holes), len(f.Bosses))
			continue
		}
		h := &f.Holes[0]
		if len(h.Steps) != 2 || !near(h.Steps[0].Diameter, 16, 1e-4) || !near(h.Steps[1].Diameter, 10, 1e-4) ||
			!near(h.Steps[0].To, 7, 1e-4) || !near(h.Depth, 17, 1e-4) || h.Bottom != bores.Through ||
			!near(h.Chamfer, 18, 1e-3) || !near(h.Exit, 11, 1e-3) {
			t.Errorf("%d sides: found %+v", n, h)
		}
	}
}

// Two lugs with bores on one axis are two holes; a cross hole of half the size breaks
// a bore's wall and leaves both what they are.
func TestOnOneAxis(t *testing.T) {
	round := shape.Round{Chord: 0.01}
	lug, err := shape.Extrude(shape.Region{shape.Rect(-20, -20, 20, 20), round.Circle(r2.Point{}, 8)}, 0, 10)
	lugs := shape.Join(must(t, lug, err), lug.Shifted(0, 0, 50))
	if f := bores.Find(lugs.Mesh()); len(f.Holes) != 2 {
		t.Errorf("%d holes in two lugs", len(f.Holes))
	}
	tube := shape.Tube(10, 14, 0, 30, round)
	f := bores.Find(tube.Mesh())
	if len(f.Holes) != 1 || len(f.Bosses) != 1 || f.Holes[0].Bottom != bores.Through || !near(f.Holes[0].Depth, 30, 1e-5) {
		t.Errorf("a tube: %+v", f)
	}
	// A ring-shaped groove around a bore: its outer wall is no step of the bore.
	groove, err := shape.Revolve(shape.Contour{{X: 5, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 20}, {X: 20, Y: 20},
		{X: 20, Y: 12}, {X: 15, Y: 12}, {X: 15, Y: 20}, {X: 5, Y: 20}}, round)
	f = bores.Find(must(t, groove, err).Mesh())
	if len(f.Holes) != 2 || len(f.Bosses) != 2 || len(f.Holes[0].Steps) != 1 || len(f.Holes[1].Steps) != 1 {
		t.Errorf("a groove around a bore: %+v", f)
	}
}

// halfRing is what is left of one side of a ring between angles, its corners at
// equal angles.
func halfRing(inner, outer, from, to float64) shape.Contour {
	const sides = 40
	var c shape.Contour
	for i := range 2*sides + 2 {
		r, k := inner, i
		if i > sides {
			r, k = outer, 2*sides+1-i
		}
		sin, cos := math.Sincos((from + (to-from)*float64(k)/sides) * math.Pi / 180)
		c = append(c, r2.Point{X: r * cos, Y: r * sin})
	}
	return c
}

// A clamp of two halves with slits between them is one bore as long as it goes round by
// 350 degrees.
func TestSlit(t *testing.T) {
	for gap, want := range map[float64]int{1: 1, 4: 1, 6: 0, 20: 0} {
		s, err := shape.Extrude(shape.Region{
			halfRing(20, 30, gap/2, 180-gap/2), halfRing(20, 30, 180+gap/2, 360-gap/2),
		}, 0, 15)
		f := bores.Find(must(t, s, err).Mesh())
		if len(f.Holes) != want || len(f.Bosses) != want || len(f.Arcs) != 4*(1-want) && len(f.Arcs) != 2*(1-want) {
			t.Errorf("slits of %v degrees: %d holes, %d bosses, %d arcs, want %d", gap, len(f.Holes), len(f.Bosses), len(f.Arcs), want)
			continue
		}
		if want == 1 && (!near(f.Holes[0].Steps[0].Diameter, 40, 1e-4) || f.Holes[0].Bottom != bores.Through || !near(f.Holes[0].Depth, 15, 1e-5)) {
			t.Errorf("slits of %v degrees: %+v", gap, f.Holes[0])
		}
	}
}

// drawPlate makes a plate of 1 to 6 holes of all kinds, some of them refined.
func drawPlate(t *rapid.T) (shape.Plate, shape.Surface) {
	p := shape.Plate{Outline: shape.Rect(-130, -40, 150, 40), Thickness: rapid.Float64Range(15, 60).Draw(t, "thickness"),
		Chamfer: rapid.SampledFrom([]float64{0, 1}).Draw(t, "edge")}
	smallest := math.Inf(1)
	n := rapid.IntRange(1, 6).Draw(t, "holes")
	for i := range n {
		h := shape.Hole{
			At:      r2.Point{X: -100 + 40*float64(i) + rapid.Float64Range(-3, 3).Draw(t, "x"), Y: rapid.Float64Range(-20, 20).Draw(t, "y")},
			Radius:  rapid.Float64Range(1.5, 9).Draw(t, "radius"),
			Chamfer: rapid.SampledFrom([]float64{0, 0.3, 1}).Draw(t, "chamfer"),
		}
		if rapid.Bool().Draw(t, "blind") {
			h.Depth = p.Thickness * rapid.Float64Range(0.6, 0.9).Draw(t, "depth")
		}
		if rapid.Bool().Draw(t, "stepped") {
			h.HeadRadius = h.Radius * rapid.Float64Range(1.2, 1.6).Draw(t, "head")
			h.HeadDepth = p.Thickness * rapid.Float64Range(0.2, 0.5).Draw(t, "head depth")
		}
		smallest = min(smallest, h.Radius)
		p.Holes = append(p.Holes, h)
	}
	p.Round = shape.Round{Chord: chordFor(smallest, rapid.IntRange(12, 100).Draw(t, "sides"))}
	p.Pockets = []shape.Pocket{{Outline: shape.RoundRect(122, -30, 140, 30, 4, p.Round), Depth: 5}}
	s, err := p.Surface()
	if err != nil {
		t.Fatal(err)
	}
	if rapid.Bool().Draw(t, "refined") {
		s = s.Refined(12)
	}
	return p, s
}

func drawPose(t *rapid.T) geom.Pose {
	d := func(label string) float64 { return rapid.Float64Range(-1, 1).Draw(t, label) }
	axis := r3.Vector{X: d("a"), Y: d("b"), Z: d("c")}
	if axis.Norm() < 0.1 {
		axis = r3.Vector{X: 1}
	}
	pose := geom.Turn(r3.Vector{}, axis.Normalize(), 3*d("turn"))
	pose.T = r3.Vector{X: 300 * d("x"), Y: 300 * d("y"), Z: 300 * d("z")}
	return pose
}

// Plates with holes at random poses: all are found again, and nothing else.
func TestPlatesAtRandomPoses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, s := drawPlate(t)
		pose := drawPose(t)
		f := bores.Find(s.Moved(pose).Mesh())
		if len(f.Holes) != len(p.Holes) || len(f.Bosses) != 0 {
			t.Fatalf("%d holes and %d bosses, want %d and none", len(f.Holes), len(f.Bosses), len(p.Holes))
		}
		for i := range p.Holes {
			checkHole(t, f, &p, &p.Holes[i], pose)
		}
	})
}

// checkHole looks for a hole as it was drawn among those found. Float32 vertices within
// 600 mm are off by 6e-5 mm at most, which short bores of few sides lever up.
func checkHole(t *rapid.T, f *bores.Found, p *shape.Plate, want *shape.Hole, pose geom.Pose) {
	const tolerance = 2e-3
	mouth := pose.Point(r3.Vector{X: want.At.X, Y: want.At.Y, Z: p.Thickness})
	under := pose.Point(r3.Vector{X: want.At.X, Y: want.At.Y})
	for i := range f.Holes {
		h := &f.Holes[i]
		turned := nearPoint(h.Mouth, under, tolerance) // a through hole may be seen from below
		if !turned && !nearPoint(h.Mouth, mouth, tolerance) {
			continue
		}
		axis := pose.Dir(r3.Vector{Z: 1})
		radii := []float64{want.Radius}
		if want.HeadDepth > 0 {
			radii = []float64{want.HeadRadius, want.Radius}
		}
		depth, bottom := want.Depth, bores.Blind
		if depth == 0 {
			depth, bottom = p.Thickness, bores.Through
		}
		if turned {
			if bottom == bores.Blind || want.HeadDepth > 0 {
				t.Errorf("hole %+v is seen from below", want)
			}
			axis = axis.Mul(-1)
		}
		if h.Bottom != bottom || !near(h.Depth, depth, tolerance) || h.Axis.Sub(axis).Norm() > 1e-3 {
			t.Errorf("hole %+v: %s, depth %v, axis %v, want %s, %v, %v", want, h.Bottom, h.Depth, h.Axis, bottom, depth, axis)
		}
		if len(h.Steps) != len(radii) {
			t.Fatalf("hole %+v has %d steps, want %d", want, len(h.Steps), len(radii))
		}
		for k, r := range radii {
			if !near(h.Steps[k].Diameter, 2*r, tolerance) {
				t.Errorf("hole %+v: step %d of %v, want %v", want, k, h.Steps[k].Diameter, 2*r)
			}
		}
		if len(radii) == 2 && (!near(h.Steps[0].To, want.HeadDepth, tolerance) || h.Steps[1].From != h.Steps[0].To) {
			t.Errorf("hole %+v: shoulder at %v", want, h.Steps[0].To)
		}
		if chamfer := 2 * (radii[0] + want.Chamfer); want.Chamfer > 0 && !near(h.Chamfer, chamfer, tolerance) {
			t.Errorf("hole %+v: chamfered to %v, want %v", want, h.Chamfer, chamfer)
		} else if want.Chamfer == 0 && h.Chamfer != 0 {
			t.Errorf("hole %+v: chamfered to %v, want none", want, h.Chamfer)
		}
		return
	}
	t.Errorf("hole %+v at %v is not found among %+v", want, mouth, f.Holes)
}

// Noise on every corner, each copy of a vertex its own: all neighbours are lost to
// welding, and the sides of a bore are no longer flat.
func TestNoise(t *testing.T) {
	p := shape.Plate{Outline: shape.Rect(-60, -40, 60, 40), Thickness: 20, Round: shape.Round{Chord: 0.02},
		Holes: shape.HoleGrid(shape.Hole{Radius: 6, HeadRadius: 8, HeadDepth: 8, Chamfer: 0.5}, r2.Point{}, 3, 2, 30, nil)}
	s, err := p.Surface()
	s = must(t, s, err)
	random := rand.New(rand.NewPCG(1, 2))
	shaken := func(size float64) r3.Vector {
		return r3.Vector{X: random.Float64() - 0.5, Y: random.Float64() - 0.5, Z: random.Float64() - 0.5}.Mul(2 * size)
	}
	for _, size := range []float64{2e-6, 1e-3} {
		noisy := make(shape.Surface, len(s))
		moved := map[r3.Vector]r3.Vector{}
		for i, tri := range s {
			for k, v := range tri {
				if size > 1e-4 { // more than welding forgives: shared vertices move together
					if _, ok := moved[v]; !ok {
						moved[v] = shaken(size)
					}
					noisy[i][k] = v.Add(moved[v])
				} else {
					noisy[i][k] = v.Add(shaken(size))
				}
			}
		}
		f := bores.Find(noisy.Mesh())
		if len(f.Holes) != 6 {
			t.Fatalf("noise of %v mm: %d holes, want 6", size, len(f.Holes))
		}
		for i := range f.Holes {
			h := &f.Holes[i]
			if len(h.Steps) != 2 || !near(h.Steps[0].Diameter, 16, 4*size+1e-4) || !near(h.Steps[1].Diameter, 12, 4*size+1e-4) ||
				h.Bottom != bores.Through || !near(h.Depth, 20, 4*size+1e-4) {
				t.Errorf("noise of %v mm: %+v", size, h)
			}
		}
	}
}

// Without its floor and its lid a hole's ends are not told, but the hole is there.
func TestOpenMesh(t *testing.T) {
	m := shape.Tube(5, 10, 0, 20, shape.Round{Chord: 0.01}).Mesh()
	var walls geom.Mesh
	for i, f := range m.Facets {
		if a, b, c := m.Triangle(i); a.Z != b.Z || b.Z != c.Z {
			walls.Facets = append(walls.Facets, f)
		}
	}
	f := bores.Find(&walls)
	if len(f.Holes) != 1 || f.Holes[0].Bottom != bores.Untold || !near(f.Holes[0].Depth, 20, 1e-5) || len(f.Bosses) != 1 {
		t.Errorf("found %+v", f)
	}
}

// With one facet in twenty missing, all over, every bore is still found whole.
func TestMissingFacets(t *testing.T) {
	p := shape.Plate{Outline: shape.Rect(-200, -150, 200, 150), Thickness: 25, Round: shape.Round{Chord: 0.02},
		Holes: shape.HoleGrid(shape.Hole{Radius: 6, HeadRadius: 8, HeadDepth: 8, Chamfer: 0.5}, r2.Point{}, 7, 5, 50, nil)}
	s, err := p.Surface()
	s = must(t, s, err)
	random := rand.New(rand.NewPCG(1, 2))
	for _, missing := range []float64{0.005, 0.02, 0.05} {
		open := &geom.Mesh{}
		for _, f := range s.Mesh().Facets {
			if random.Float64() >= missing {
				open.Facets = append(open.Facets, f)
			}
		}
		f := bores.Find(open)
		if len(f.Holes) != len(p.Holes) {
			t.Errorf("%v missing: %d holes, want %d", missing, len(f.Holes), len(p.Holes))
		}
		for i := range f.Holes {
			h := &f.Holes[i]
			if len(h.Steps) != 2 || !near(h.Steps[0].Diameter, 16, 1e-4) || !near(h.Steps[1].Diameter, 12, 1e-4) || !near(h.Steps[0].To, 8, 1e-4) {
				t.Errorf("%v missing: found %+v", missing, h)
			}
		}
		if grids, _ := f.Patterns(); len(grids) != 1 || grids[0].Columns != 7 || grids[0].Rows != 5 {
			t.Errorf("%v missing: the grid is not found", missing)
		}
	}
}

// Turned inside out as a whole, a mesh has the same holes.
func TestInsideOut(t *testing.T) {
	p := shape.Plate{Outline: shape.Rect(-30, -30, 30, 30), Thickness: 20, Round: shape.Round{Chord: 0.02},
		Holes: []shape.Hole{{Radius: 6, Depth: 15, Chamfer: 1}}}
	s, err := p.Surface()
	m := must(t, s, err).Mesh()
	for i := range m.Facets {
		m.Facets[i][1], m.Facets[i][2] = m.Facets[i][2], m.Facets[i][1]
	}
	f := bores.Find(m)
	if len(f.Holes) != 1 || len(f.Bosses) != 0 || f.Holes[0].Bottom != bores.Blind || !near(f.Holes[0].Depth, 15, 1e-4) {
		t.Errorf("found %+v", f)
	}
}

// Any corner may be no finite number: its facet is left out, and all that is found is
// finite.
func TestNotFinite(t *testing.T) {
	tube := shape.Tube(5, 10, 0, 20, shape.Round{Chord: 1}).Mesh()
	for i := range tube.Facets {
		for k := range 9 {
			for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				m := &geom.Mesh{Facets: slices.Clone(tube.Facets)}
				m.Facets[i][k/3][k%3] = float32(bad)
				f := bores.Find(m)
				if len(f.Holes)+len(f.Bosses)+len(f.Arcs) != 2 {
					t.Fatalf("facet %d, coordinate %d: found %+v", i, k, f)
				}
				for _, h := range f.Holes {
					if !near(h.Depth, 20, 1e-5) || !near(h.Mouth.Norm(), 20, 1e-5) && !near(h.Mouth.Norm(), 0, 1e-5) {
						t.Fatalf("facet %d, coordinate %d: found %+v", i, k, h)
					}
				}
				for _, a := range f.Arcs {
					if !near(a.Length, 20, 1e-5) {
						t.Fatalf("facet %d, coordinate %d: found %+v", i, k, a)
					}
				}
			}
		}
	}
}

func TestNothing(t *testing.T) {
	f := bores.Find(&geom.Mesh{})
	if len(f.Holes)+len(f.Bosses)+len(f.Arcs) != 0 {
		t.Errorf("found %+v in nothing", f)
	}
	if g, c := f.Patterns(); len(g)+len(c) != 0 {
		t.Error("a pattern of nothing")
	}
}
