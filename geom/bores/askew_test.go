package bores_test

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/bores"

	"github.com/golang/geo/r3"
)

// A tube along the axis whose facets run askew: the corners of its two ends are half a
// side apart, so that no two of its facets are parts of one prism. Its end faces are
// rings. Its upper end is cut at a slope, as where a hole enters a tilted face.
func askewTube(inner, outer, height, slope float64, n int) *geom.Mesh {
	ring := func(r, phase float64, top bool) []r3.Vector {
		points := make([]r3.Vector, n)
		for i := range points {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + phase) / float64(n))
			points[i] = r3.Vector{X: r * cos, Y: r * sin}
			if top {
				points[i].Z = height + slope*points[i].X
			}
		}
		return points
	}
	m := &geom.Mesh{}
	add := func(a, b, c r3.Vector) {
		m.Facets = append(m.Facets, geom.Facet{geom.VertexOf(a), geom.VertexOf(b), geom.VertexOf(c)})
	}
	band := func(low, high []r3.Vector) { // outside to the right going up
		for i := range low {
			k := (i + 1) % n
			add(low[i], low[k], high[i])
			add(low[k], high[k], high[i])
		}
	}
	in0, in1, out0, out1 := ring(inner, 0.5, false), ring(inner, 0, true), ring(outer, 0, false), ring(outer, 0.5, true)
	band(out0, out1)
	band(in1, in0)
	band(in0, out0)
	band(out1, in1)
	return m
}

func TestAskew(t *testing.T) {
	for _, n := range []int{12, 24, 48, 120, 200} {
		for _, slope := range []float64{0, 0.2, 0.7} {
			m := askewTube(10, 14, 30, slope, n)
			if a := geom.AuditOf(m); !a.Closed || !a.Oriented || a.InsideOut {
				t.Fatalf("%d sides: the tube is not sound: %v", n, a.Faults())
			}
			f := bores.Find(m)
			if len(f.Holes) != 1 || len(f.Bosses) != 1 {
				t.Errorf("%d sides, slope %v: %d holes, %d bosses, want one each", n, slope, len(f.Holes), len(f.Bosses))
				continue
			}
			// Where the mouth is not square to the axis, depths are to its highest point.
			h, top := &f.Holes[0], 30+10*slope
			if !near(h.Steps[0].Diameter, 20, 1e-3) || !near(math.Abs(h.Axis.Z), 1, 1e-6) || h.Bottom != bores.Through ||
				!near(h.Depth, top, 0.02) || !near(math.Hypot(h.Mouth.X, h.Mouth.Y), 0, 1e-3) {
				t.Errorf("%d sides, slope %v: found %+v", n, slope, h)
			}
			if b := &f.Bosses[0]; !near(b.Diameter, 28, 1e-3) {
				t.Errorf("%d sides, slope %v: found %+v", n, slope, b)
			}
		}
	}
}
