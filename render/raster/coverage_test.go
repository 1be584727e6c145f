package raster

import (
	"context"
	"image"
	"math"
	"math/big"
	"math/bits"
	"testing"

	"gridswing/geom"

	"pgregory.net/rapid"
)

// flat is a mesh that front(0, 0, 1) sees with corners at these pixels, y down; coordinates in
// 1024ths of a pixel, which float32 and the rasteriser keep exactly up to 16384 pixels.
func flat(triangles ...[3][2]int) *geom.Mesh {
	m := &geom.Mesh{}
	for _, t := range triangles {
		var f geom.Facet
		for k, c := range t {
			f[k] = geom.Vertex{float32(c[0]) / 1024, 0, -float32(c[1]) / 1024}
		}
		m.Facets = append(m.Facets, f)
	}
	return m
}

// filled draws the facets of a scene into its first tile.
func filled(t interface {
	Helper()
	Fatal(...any)
}, s *Scene, size int) *tile {
	t.Helper()
	s.Workers = 1
	j, err := newJob(s, image.NewRGBA(image.Rect(0, 0, size, size)))
	if err != nil {
		t.Fatal(err)
	}
	for c := range j.facetChunks {
		j.setFacets(&j.facetChunks[c], &scratch{})
	}
	j.sortChunks()
	tl := j.tiles[0]
	tl.solid.clear(-apron, -apron)
	tl.drawBodies()
	return tl
}

// where returns where sample s of pixel (x, y) lies, in 1024ths of a pixel.
func where(x, y, s int) [2]int {
	u, v := sampleAt(s)
	return [2]int{x*1024 + int(u*1024), y*1024 + int(v*1024)}
}

// side of the line from a to b on which p lies, by exact arithmetic: 1, 0 or -1.
func sideOf(a, b, p [2]int) int {
	n := func(v int) *big.Int { return big.NewInt(int64(v)) }
	l := new(big.Int).Mul(n(b[0]-a[0]), n(p[1]-a[1]))
	return l.Sub(l, new(big.Int).Mul(n(b[1]-a[1]), n(p[0]-a[0]))).Sign()
}

// inTriangle reports by exact arithmetic whether a point is inside (1), on the border (0) or
// outside (-1).
func inTriangle(t [3][2]int, p [2]int) int {
	turn := sideOf(t[0], t[1], t[2])
	if turn == 0 {
		return -1
	}
	least := 1
	for k := range 3 {
		least = min(least, turn*sideOf(t[k], t[(k+1)%3], p))
	}
	return least
}

// corners draws triangles of all kinds: of a few pixels, needles, smaller than what lies between
// two samples, a million pixels large, without area, with corners on samples.
func corners(t *rapid.T) [3][2]int {
	reach := rapid.SampledFrom([]int{16, 64, 1024, 24 * 1024, 24 * 1024, 16383 * 1024}).Draw(t, "reach")
	grid := rapid.SampledFrom([]int{1, 32, 1024}).Draw(t, "grid")
	coordinate := func(at int) int {
		return (at + rapid.IntRange(-reach, reach).Draw(t, "offset")) / grid * grid
	}
	x, y := rapid.IntRange(0, 24*1024).Draw(t, "x"), rapid.IntRange(0, 24*1024).Draw(t, "y")
	var c [3][2]int
	for k := range c {
		c[k] = [2]int{coordinate(x), coordinate(y)}
	}
	if rapid.IntRange(0, 3).Draw(t, "needle") == 0 {
		c[2] = [2]int{c[1][0] + rapid.IntRange(-40, 40).Draw(t, "dx"), c[1][1] + rapid.IntRange(-40, 40).Draw(t, "dy")}
	}
	return c
}

// A triangle covers the samples inside of it and no others; those on its border are the
// business of the next test.
func TestCoverageIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := corners(t)
		mesh := flat(c)
		for k, v := range mesh.Facets[0] { // what float32 kept
			c[k] = [2]int{int(float64(v[0]) * 1024), int(-float64(v[2]) * 1024)}
		}
		tl := filled(t, &Scene{Camera: front(0, 0, 1), Bodies: []Body{{Shape: NewShape(mesh, false), Pose: geom.Identity()}}}, 24)
		for p := range tl.solid.pixels {
			x, y := p%side-apron, p/side-apron
			if x > 26 || y > 26 {
				continue
			}
			for s := range samples {
				covered := tl.solid.pixels[p].cover>>s&1 == 1
				if in := inTriangle(c, where(x, y, s)); in != 0 && covered != (in > 0) {
					t.Fatalf("%v: sample %d of pixel (%d, %d) covered %v, but it lies %+d", c, s, x, y, covered, in)
				}
			}
		}
	})
}

// A square cut into triangles by inserting points covers each sample once, also those on
// the triangles' sides: the winding numbers that the cut counts are one inside and zero outside.
func TestTriangulationIsWatertight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grid := rapid.SampledFrom([]int{1, 32, 64}).Draw(t, "grid")
		lo, hi := 2*1024, 22*1024
		square := [4][2]int{{lo, lo}, {hi, lo}, {hi, hi}, {lo, hi}}
		list := [][3][2]int{{square[0], square[1], square[2]}, {square[0], square[2], square[3]}}
		for range rapid.IntRange(0, 60).Draw(t, "points") {
			p := [2]int{rapid.IntRange(lo, hi).Draw(t, "x") / grid * grid, rapid.IntRange(lo, hi).Draw(t, "y") / grid * grid}
			for i, c := range list {
				if inTriangle(c, p) > 0 {
					list[i] = [3][2]int{c[0], c[1], p}
					list = append(list, [3][2]int{c[1], c[2], p}, [3][2]int{c[2], c[0], p})
					break
				}
			}
		}
		body := Body{Shape: NewShape(flat(list...), true), Pose: geom.Identity()}
		cut := &Plane{Point: front(0, 0, 1).Toward.Mul(5), Normal: front(0, 0, 1).Toward}
		s := &Scene{Camera: front(0, 0, 1), Bodies: []Body{body}, Cut: cut, Workers: 1}
		j, err := newJob(s, image.NewRGBA(image.Rect(0, 0, 24, 24)))
		if err != nil {
			t.Fatal(err)
		}
		j.setFacets(&j.facetChunks[0], &scratch{})
		tl := j.tiles[0]
		l := &tl.solid
		l.clear(-apron, -apron)
		for i := range j.facetChunks[0].facets {
			f := &j.facetChunks[0].facets[i]
			l.shown = append(l.shown, shown{face: f})
			tl.fill(l, f, &j.bodies[0])
		}
		for i, n := range tl.section.wind {
			p := i / samples
			at := where(p%side-apron, p/side-apron, i%samples)
			if at[0] == lo || at[0] == hi || at[1] == lo || at[1] == hi {
				continue
			}
			want := int8(0)
			if at[0] > lo && at[0] < hi && at[1] > lo && at[1] < hi {
				want = 1 // these triangles look away
			}
			if got := int8(n); got != want && got != -want {
				t.Fatalf("%d triangles: sample at %v counted %d times, want %d", len(list), at, got, want)
			}
		}
	})
}

// Each sample shows a facet that covers it, and none that covers it is nearer.
func TestNearestFacetIsSeen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var list [][3][2]int
		for range rapid.IntRange(1, 12).Draw(t, "facets") {
			list = append(list, corners(t))
		}
		mesh := flat(list...)
		for i := range mesh.Facets {
			for k := range 3 {
				mesh.Facets[i][k][1] = float32(rapid.Float64Range(-30, 30).Draw(t, "depth"))
			}
		}
		tl := filled(t, &Scene{Camera: front(0, 0, 1), Bodies: []Body{{Shape: NewShape(mesh, false), Pose: geom.Identity()}}}, 24)
		for p := range tl.solid.pixels {
			x, y := p%side-apron, p/side-apron
			if x < 8 || x > 17 || y < 8 || y > 17 {
				continue
			}
			for s := range samples {
				at := where(x, y, s)
				least := math.Inf(1)
				for i := range mesh.Facets {
					if d, ok := depthOn(&mesh.Facets[i], at); ok {
						least = min(least, d)
					}
				}
				got := float64(tl.solid.depthAt(p, s))
				if math.IsInf(least, 1) && tl.solid.pixels[p].cover>>s&1 == 0 {
					continue
				}
				if math.IsNaN(got) || math.Abs(got-least) > 2e-2 && !hangsOnRounding(mesh, at, got) {
					t.Fatalf("sample %d of pixel (%d, %d): depth %v, want %v", s, x, y, got, least)
				}
			}
		}
	})
}

// depthOn returns the depth of a facet at a place (1024ths of a pixel) inside of it; false if it is
// not there.
func depthOn(f *geom.Facet, at [2]int) (float64, bool) {
	var c [3][2]int
	for k, v := range f {
		c[k] = [2]int{int(float64(v[0]) * 1024), int(-float64(v[2]) * 1024)}
	}
	if inTriangle(c, at) <= 0 {
		return 0, false
	}
	area := func(a, b, c [2]int) float64 {
		return float64(b[0]-a[0])*float64(c[1]-a[1]) - float64(b[1]-a[1])*float64(c[0]-a[0])
	}
	whole, d := area(c[0], c[1], c[2]), 0.0
	for k := range 3 {
		d += area(c[(k+1)%3], c[(k+2)%3], at) / whole * float64(f[k][1])
	}
	return d, true
}

// hangsOnRounding reports whether a depth is one of a facet that reaches the place only with its border,
// or is seen edge-on there, so that it has a depth along it only.
func hangsOnRounding(m *geom.Mesh, at [2]int, depth float64) bool {
	for i := range m.Facets {
		var c [3][2]int
		lo, hi := math.Inf(1), math.Inf(-1)
		for k, v := range m.Facets[i] {
			c[k] = [2]int{int(float64(v[0]) * 1024), int(-float64(v[2]) * 1024)}
			lo, hi = min(lo, float64(v[1])), max(hi, float64(v[1]))
		}
		p, q, r := m.Triangle(i)
		n := q.Sub(p).Cross(r.Sub(p)).Normalize() // the camera looks along Y
		line := math.Abs(n.Y) < edgeOn*(1+1e-6)
		if in := inTriangle(c, at); (in == 0 || in > 0 && line) && depth >= lo-1e-3 && depth <= hi+1e-3 {
			return true
		}
	}
	return false
}

// The share of a pixel's samples comes as near to the area that is covered as with sixteen samples
// in a square grid; nearer where edges are nearly level or upright, as most are in technical
// drawings. There it steps through all sixteenths.
func TestSamplesMeasureArea(t *testing.T) {
	for _, test := range []struct {
		name        string
		widest      float64 // from level, radians
		most, worst float64 // root mean square error, as a share of the square grid's; greatest
	}{{"any direction", math.Pi / 4, 1.15, 0.14}, {"nearly level", 0.1, 0.6, 0.07}} {
		var turned, square, worst float64
		const angles, offsets = 100, 40
		for k := range angles * offsets {
			ny, nx := math.Sincos(math.Pi/2 + test.widest*(2*(float64(k/offsets)+0.37)/angles-1))
			offset := 1.4 * (float64(k%offsets) + 0.5 - offsets/2) / offsets
			inside := func(x, y float64) float64 {
				if (x-0.5)*nx+(y-0.5)*ny < offset {
					return 1
				}
				return 0
			}
			var exact, a, b float64
			const fine = 64
			for i := range fine * fine {
				exact += inside((float64(i%fine)+0.5)/fine, (float64(i/fine)+0.5)/fine) / (fine * fine)
			}
			for s := range samples {
				x, y := sampleAt(s)
				a += inside(x, y) / samples
				b += inside((float64(s%4)+0.5)/4, (float64(s/4)+0.5)/4) / samples
			}
			turned += (a - exact) * (a - exact)
			square += (b - exact) * (b - exact)
			worst = max(worst, math.Abs(a-exact))
		}
		turned, square = math.Sqrt(turned/angles/offsets), math.Sqrt(square/angles/offsets)
		t.Logf("%s: root mean square error %.4f, of a square grid %.4f; greatest %.3f", test.name, turned, square, worst)
		if turned > test.most*square || worst > test.worst {
			t.Errorf("%s: root mean square error %.4f (of a square grid %.4f), greatest %.3f", test.name, turned, square, worst)
		}
	}
	levels := map[int]bool{}
	wedge := flat([3][2]int{{0, 4 * 1024}, {64 * 1024, 4 * 1024}, {64 * 1024, 6 * 1024}})
	tl := filled(t, &Scene{Camera: front(0, 0, 1), Bodies: []Body{{Shape: NewShape(wedge, false), Pose: geom.Identity()}}}, 64)
	for p := range tl.solid.pixels {
		levels[bits.OnesCount16(tl.solid.pixels[p].cover)] = true
	}
	if len(levels) != samples+1 {
		t.Errorf("a nearly level edge makes %d levels, want %d", len(levels), samples+1)
	}
}

// FuzzDraw draws facets of any finite corners at any scale: it must not panic, and no depth may
// be other than a number.
func FuzzDraw(f *testing.F) {
	f.Add([]byte("\x00\x00\x80\x3f\x00\x00\x00\x00\x00\x00\x80\xbf0123456789abcdefghijklmnopqrstuvwxyz"), 1.0)
	f.Add([]byte("\xff\xff\x7f\x7f\x00\x00\x00\x00\x00\x00\x80\xbf\xff\xff\x7f\xff9abcdefghijklmnopqrstuvwxyz0123456789"), 1e-30)
	f.Fuzz(func(t *testing.T, data []byte, scale float64) {
		var v []float32
		for ; len(data) >= 4; data = data[4:] {
			x := math.Float32frombits(uint32(data[0]) | uint32(data[1])<<8 | uint32(data[2])<<16 | uint32(data[3])<<24)
			if x-x != 0 {
				return
			}
			v = append(v, x)
		}
		m := &geom.Mesh{}
		for ; len(v) >= 9; v = v[9:] {
			m.Facets = append(m.Facets, geom.Facet{geom.Vertex(v[:3]), geom.Vertex(v[3:6]), geom.Vertex(v[6:9])})
		}
		if !(scale > 1e-12 && scale < 1e12) || len(m.Facets) > 50 {
			return
		}
		s := Scene{Camera: front(20, 20, scale), Bodies: []Body{{Shape: NewShape(m, false), Pose: geom.Identity()}}, Lines: black, Workers: 1}
		seen, err := s.Draw(context.Background(), image.NewRGBA(image.Rect(0, 0, 40, 40)))
		if err != nil {
			return // too large for the scale
		}
		for _, d := range seen.depth {
			if d != d {
				t.Fatalf("a depth is not a number")
			}
		}
	})
}
