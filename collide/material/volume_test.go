package material

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// cutShape is something that is cut from a block of 40 x 30 x 20 mm, with its volume in closed form.
type cutShape struct {
	name   string
	volume float64
	cut    func(m *Model)
	// share is how much of the volume may be left where the cells are 0.5 mm.
	share float64
}

// Volumes: a slot is its width x depth x length; a hole is a cylinder and a cone of 118 degrees (ISO 5419's usual
// point); what a ball leaves on a circle is half a torus and, above, half a ring (Pappus: area x way of its
// centroid; here the ball goes in to its middle, 2 pi R x pi r^2 / 2); a pocket is a rectangle with rounded corners; a
// trough is half a cylinder.
func cutShapes() []cutShape {
	z := v(0, 0, 1)
	point := 4 / math.Tan(59*math.Pi/180)
	return []cutShape{
		{"slot", 10 * 4 * 40, func(m *Model) { line(m, endMill(10, 30), z, v(-6, 15, 16), v(46, 15, 16), 100) }, 0.004},
		{"pocket", 5 * (24*16 - (4-math.Pi)*9), func(m *Model) {
			for y := 10.0; y <= 20; y += 2 {
				line(m, endMill(6, 30), z, v(11, y, 15), v(29, y, 15), 20)
			}
			for _, side := range [][2]r3.Vector{{v(11, 10, 15), v(29, 10, 15)}, {v(29, 10, 15), v(29, 20, 15)}, {v(29, 20, 15), v(11, 20, 15)}, {v(11, 20, 15), v(11, 10, 15)}} {
				line(m, endMill(6, 30), z, side[0], side[1], 10)
			}
		}, 0.006},
		{"hole", math.Pi*16*(12-point) + math.Pi*16*point/3, func(m *Model) { line(m, drill(8, 40), z, v(20, 15, 25), v(20, 15, 8), 1) }, 0.014},
		{"ring groove", 2 * math.Pi * 9 * math.Pi * 9 / 2, func(m *Model) {
			const steps = 360
			at := func(i int) r3.Vector {
				s, c := math.Sincos(2 * math.Pi * float64(i) / steps)
				return v(20+9*c, 15+9*s, 17)
			}
			for i := range steps {
				line(m, ballEnd(6, 20, 40), z, at(i), at(i+1), 1)
			}
		}, 0.014},
		{"trough", math.Pi * 25 / 2 * 40, func(m *Model) { line(m, ballEnd(10, 20, 40), z, v(-6, 15, 15), v(46, 15, 15), 60) }, 0.006},
	}
}

// What is left too much is of second order in the cell's size: half as large cells leave about a quarter.
func TestVolumesInClosedForm(t *testing.T) {
	const whole = 40 * 30 * 20
	for _, s := range cutShapes() {
		var left [3]float64
		for i, cell := range []float64{1, 0.5, 0.25} {
			m := mustNew(t, block(v(0, 0, 0), v(40, 30, 20)), 0, cell)
			s.cut(m)
			left[i] = m.Volume() - (whole - s.volume)
		}
		t.Logf("%-12s %8.2f mm3, too much is left: %7.3f, %7.3f, %7.3f", s.name, s.volume, left[0], left[1], left[2])
		for i, l := range left {
			if l < -1e-3*s.volume*0.1 {
				t.Errorf("%s: %g mm3 too little is left", s.name, -l)
			}
			if i > 0 && l > left[i-1]/2.5+2e-4*s.volume {
				t.Errorf("%s: %g mm3 too much is left, with cells twice as large %g", s.name, l, left[i-1])
			}
		}
		if left[1] > s.share*s.volume {
			t.Errorf("%s: %g of %g mm3 too much is left", s.name, left[1], s.volume)
		}
	}
}
