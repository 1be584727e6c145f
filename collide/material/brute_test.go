package material

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// radiusAt returns the outline's radius at a height, -1 outside.
func (o Outline) radiusAt(z float64) float64 {
	r := -1.0
	for i := range o[1:] {
		a, b := o[i], o[i+1]
		switch {
		case z < a[1] || z > b[1]:
		case b[1] == a[1]:
			r = max(r, a[0], b[0])
		default:
			r = max(r, a[0]+(b[0]-a[0])*(z-a[1])/(b[1]-a[1]))
		}
	}
	return r
}

// within reports whether p is in the outline as it stands at s, or misses it by tol, by the meaning of an outline
// and nothing else.
func within(o Outline, s *Sweep, at float64, p r3.Vector, tol float64) (inside bool) {
	d := p.Sub(s.Origin)
	if len(s.Ways) > 0 {
		d = d.Sub(s.Ways[0].Mul(at))
	}
	z := d.Dot(s.Axis)
	r := max(o.radiusAt(z-tol), o.radiusAt(z), o.radiusAt(z+tol))
	return r >= 0 && d.Sub(s.Axis.Mul(z)).Norm() <= r+tol
}

// swept reports whether p is in the outline somewhere on its way, or misses it by as much as the steps that are
// looked at.
func swept(o Outline, s *Sweep, p r3.Vector) bool {
	const samples = 2000
	tol := 1e-9
	if len(s.Ways) > 0 {
		tol += s.Ways[0].Norm() / samples
	}
	for i := range samples + 1 {
		if within(o, s, float64(i)/samples, p, tol) {
			return true
		}
	}
	return false
}

// sweptAll reports whether p is in the swept outline wherever within Off it goes: whether places that far from p are.
func sweptAll(r *rand.Rand, o Outline, s *Sweep, p r3.Vector) bool {
	if !swept(o, s, p) {
		return false
	}
	for range 4 {
		u := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
		if s.Off > 0 && !swept(o, s, p.Add(u.Mul(s.Off))) {
			return false
		}
	}
	return true
}

// sum counts what is in the bricks, cells.
func (m *Model) sum() (sum float64) {
	for _, b := range m.bricks {
		if b != nil {
			sum += m.size(b)
		}
	}
	return sum
}

// holds reports whether the model has material at p.
func (m *Model) holds(p r3.Vector) bool {
	d := p.Sub(m.lo).Mul(1 / m.cell)
	c := place{int(math.Floor(d.X)), int(math.Floor(d.Y)), int(math.Floor(d.Z))}
	i, z, k := m.brickAt(c)
	if i < 0 || m.bricks[i] == nil || m.bricks[i].left[z]>>k&1 == 0 {
		return false
	}
	b := m.bricks[i]
	return b.whole[z]>>k&1 != 0 || b.part(z, k).holds(p.Sub(m.middleOf(i, z, k)))
}

func anyVector(t *rapid.T, lo, hi r3.Vector, what string) r3.Vector {
	return r3.Vector{
		X: rapid.Float64Range(lo.X, hi.X).Draw(t, what+" x"),
		Y: rapid.Float64Range(lo.Y, hi.Y).Draw(t, what+" y"),
		Z: rapid.Float64Range(lo.Z, hi.Z).Draw(t, what+" z"),
	}
}

func anyAxis(t *rapid.T) r3.Vector {
	a := rapid.SampledFrom([]r3.Vector{{Z: 1}, {X: 1}, {Y: -1}, {Z: -1}, {X: 0.6, Z: 0.8}}).Draw(t, "axis")
	if rapid.Bool().Draw(t, "tilted") {
		a = anyVector(t, v(-1, -1, -1), v(1, 1, 1), "axis").Add(v(0, 0, 1.1)).Normalize()
	}
	return a
}

func anyCutter(t *rapid.T) Outline {
	d := rapid.Float64Range(1, 9).Draw(t, "diameter")
	l := rapid.Float64Range(3, 15).Draw(t, "length")
	switch rapid.IntRange(0, 3).Draw(t, "cutter") {
	case 0:
		return endMill(d, l)
	case 1:
		return ballEnd(d, d/2+l, 8)
	case 2:
		return drill(d, d/2+l)
	}
	return Outline{{d / 4, 0}, {d / 2, l / 3}, {d / 2, l / 2}, {d / 3, l}}
}

func anySweep(t *rapid.T, ways int) Sweep {
	s := Sweep{Origin: anyVector(t, v(-4, -4, -4), v(16, 14, 12), "origin"), Axis: anyAxis(t)}
	for range ways {
		w := anyVector(t, v(-8, -8, -8), v(8, 8, 8), "way")
		switch rapid.IntRange(0, 3).Draw(t, "kind of way") {
		case 0:
			w = s.Axis.Mul(w.X)
		case 1:
			w = w.Sub(s.Axis.Mul(w.Dot(s.Axis)))
		}
		s.Ways = append(s.Ways, w)
	}
	if rapid.Bool().Draw(t, "uncertain") {
		s.Off = rapid.Float64Range(0, 0.3).Draw(t, "off")
	}
	return s
}

// solids are what random cuts begin with, each with points that are surely in it.
var solids = []func() *geom.Mesh{
	func() *geom.Mesh { return block(v(0, 0, 0), v(12, 10, 8)) },
	func() *geom.Mesh {
		b, err := shape.Extrude(shape.Region{shape.Contour{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 10}, {X: 6, Y: 10}, {X: 5, Y: 3}, {X: 4, Y: 10}, {X: 0, Y: 9}}}, 0, 8)
		if err != nil {
			panic(err)
		}
		return b.Mesh()
	},
	func() *geom.Mesh {
		return shape.Join(shape.Tube(2, 5, 0, 7, shape.Round{Chord: 0.05}).Shifted(6, 5, 0), shape.Box(v(0, 0, -2), v(3, 3, -1))).Mesh()
	},
}

// A point of the solid that no cutter has been at is in the model; the one the model does not hold was in a
// cutter, or not in the solid, wherever within its play that stands.
func TestNothingIsLostThatIsLeft(t *testing.T) {
	const play = 0.4
	var models [2][]*Model
	var trees []*collide.Tree
	for i, solid := range solids {
		cell := []float64{0.9, 0.7, 0.55}[i]
		models[0] = append(models[0], mustNew(t, solid(), 0, cell))
		models[1] = append(models[1], mustNewLoose(t, solid(), play, cell))
		trees = append(trees, collide.NewTree(solid()))
	}
	rapid.Check(t, func(t *rapid.T) {
		i, loose := rapid.IntRange(0, len(trees)-1).Draw(t, "solid"), rapid.IntRange(0, 1).Draw(t, "loose")
		m := models[loose][i].Clone()
		var cutters []Outline
		var sweeps []Sweep
		for range rapid.IntRange(1, 8).Draw(t, "cuts") {
			o, s := anyCutter(t), anySweep(t, rapid.IntRange(0, 1).Draw(t, "ways"))
			before := m.Volume()
			taken := m.Cut(o, &s)
			if d := before - m.Volume() - taken.Volume; math.Abs(d) > 1e-6 {
				t.Fatalf("%g mm3 unaccounted for", d)
			}
			if d := m.sum() - m.volume; math.Abs(d) > 1e-6 {
				t.Fatalf("%g cells are not counted", d)
			}
			if taken.Volume > 0 && !taken.Any {
				t.Fatal("took something and met nothing")
			}
			cutters, sweeps = append(cutters, o), append(sweeps, s)
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		for n := range 1000 {
			p := v(-1+14*r.Float64(), -1+12*r.Float64(), -3+12*r.Float64())
			if k := n % (len(cutters) + 1); k < len(cutters) { // just beside what was cut
				s := sweeps[k]
				p = pointOf(r, cutters[k], &s).Add(v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(0.03))
			}
			stands := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize().Mul(play * float64(loose))
			if m.holds(p) || !trees[i].Contains(p.Sub(stands)) {
				continue
			}
			in := false
			for k := range cutters {
				in = in || sweptAll(r, cutters[k], &sweeps[k], p)
			}
			if !in {
				t.Fatalf("%v is left but not in the model", p)
			}
		}
	})
}

// What is said to keep clear is nowhere nearer, at any sampled place, than is said; where it is said to be deep in what
// is left, it is.
func TestKeepsAgainstSampling(t *testing.T) {
	base := mustNew(t, solids[1](), 0, 0.8)
	said := [2]int{}
	rapid.Check(t, func(t *rapid.T) {
		m := base.Clone()
		for range rapid.IntRange(0, 4).Draw(t, "cuts") {
			s := anySweep(t, 1)
			m.Cut(anyCutter(t), &s)
		}
		o, s := anyCutter(t), anySweep(t, rapid.IntRange(0, 3).Draw(t, "ways"))
		gap := rapid.Float64Range(0, 2).Draw(t, "gap")
		near, ok := m.Keeps(&Body{Outline: o}, &s, gap)
		said[map[bool]int{false: 0, true: 1}[ok]]++
		if ok {
			if d := sampledGap(t, m, o, &s); d < gap+s.Off {
				t.Fatalf("said to keep %g clear, there is %g", gap+s.Off, d)
			}
			return
		}
		if !m.holds(near.Point) {
			t.Fatalf("%v is not in the model", near.Point)
		}
		if near.Depth > 0 && len(s.Ways) <= 1 && !swept(o, &s, near.Point) {
			t.Fatalf("%v is said to be %g deep, and is not in the body", near.Point, near.Depth)
		}
	})
	least := 10
	if testing.Short() { // rapid tries a fifth of them
		least = 1
	}
	if min(said[0], said[1]) < least {
		t.Errorf("said no %d times and yes %d times: nothing was tried", said[0], said[1])
	}
}

// Where it is said to be sure that there is material in a body, there is, wherever the solid stands within its play and
// however thin the cutters were that went there.
func TestSureIsSure(t *testing.T) {
	const play = 0.2
	base, tree := mustNewLoose(t, solids[0](), play, 0.8), collide.NewTree(solids[0]())
	sure := 0
	rapid.Check(t, func(t *rapid.T) {
		m := base.Clone()
		var cutters []Outline
		var sweeps []Sweep
		for range rapid.IntRange(0, 12).Draw(t, "cuts") {
			o, s := anyCutter(t), anySweep(t, 1)
			if rapid.Bool().Draw(t, "thin") {
				o = slices.Clone(o)
				share := rapid.Float64Range(0.05, 0.3).Draw(t, "share")
				for k := range o {
					o[k][0] *= share
				}
			}
			m.Cut(o, &s)
			cutters, sweeps = append(cutters, o), append(sweeps, s)
		}
		// What has just cut goes there again, or something else does.
		o, s := anyCutter(t), anySweep(t, 1)
		if n := len(cutters); n > 0 && rapid.Bool().Draw(t, "again") {
			o, s = cutters[n-1], sweeps[n-1]
		}
		near, ok := m.Keeps(&Body{Outline: o}, &s, 0)
		if ok || !near.Sure {
			return
		}
		sure++
		if d := depthIn(tree, near.Point); d < play {
			t.Fatalf("%v is said to be sure and is %g deep in the solid", near.Point, d)
		}
		if !swept(o, &s, near.Point) {
			t.Fatalf("%v is said to be sure and is not in the body", near.Point)
		}
		for k := range cutters {
			if swept(cutters[k], &sweeps[k], near.Point) {
				t.Fatalf("%v is said to be sure and was in a cutter", near.Point)
			}
		}
	})
	if sure == 0 && !testing.Short() { // of which rapid tries a fifth
		t.Errorf("sure %d times: nothing was tried", sure)
	}
}

// sampledGap returns the least distance of random places in the model from random places of the body.
func sampledGap(t *rapid.T, m *Model, o Outline, s *Sweep) float64 {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	least := math.Inf(1)
	for range 3000 {
		p := v(-1+14*r.Float64(), -1+12*r.Float64(), -1+10*r.Float64())
		if !m.holds(p) {
			continue
		}
		for range 30 {
			least = min(least, pointOf(r, o, s).Sub(p).Norm())
		}
	}
	return least
}

// pointOf returns a point of the outline somewhere on its ways.
func pointOf(r *rand.Rand, o Outline, s *Sweep) r3.Vector {
	z := o[0][1] + r.Float64()*(o[len(o)-1][1]-o[0][1])
	x := s.Axis.Ortho()
	y := s.Axis.Cross(x)
	sin, cos := math.Sincos(2 * math.Pi * r.Float64())
	rho := max(0, o.radiusAt(z))
	p := s.Origin.Add(s.Axis.Mul(z)).Add(x.Mul(rho * cos)).Add(y.Mul(rho * sin))
	for _, w := range s.Ways {
		p = p.Add(w.Mul(r.Float64()))
	}
	return p
}

// Of what no cutter has been in all counts, of what one has taken from nothing does.
func TestUncut(t *testing.T) {
	m := mustNew(t, block(v(0, 0, 0), v(12, 10, 8)), 0, 0.7)
	pin := Body{Outline: Outline{{0.2, 0}, {0.2, 2}}}
	at := func(x, y, z float64) *Sweep { return &Sweep{Origin: v(x, y, z), Axis: v(0, 0, 1)} }
	if m.Uncut(&pin, at(6, 5, 3), 0) || m.Uncut(&pin, at(6, 5, 7.9), 0) || !m.Uncut(&pin, at(6, 5, 8.05), 0) {
		t.Error("a whole block is not as it is")
	}
	// A face mill takes half a cell off the top, and leaves cells that it has been in.
	line(m, endMill(30, 20), v(0, 0, 1), v(-10, 5, 7.6), v(20, 5, 7.6), 3)
	if !m.Uncut(&pin, at(6, 5, 7.5), 0) || m.Apart(&pin, at(6, 5, 7.5), 0) {
		t.Error("what is left of cells that were cut counts")
	}
	if m.Uncut(&pin, at(6, 5, 6.5), 0) || m.Uncut(&pin, at(6, 5, 3), 0) {
		t.Error("what is below does not count")
	}
}
