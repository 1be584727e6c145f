package shape

import (
	"math"
	"testing"

	"gridswing/geom"
)

// A turned body of which every circle is the same n-gon has the moments of the
// true body times ratios: of areas (n/2pi) sin(2pi/n), and of polar second
// moments of area that times (2 + cos(2pi/n))/3, as a triangle from the centre
// with sides R at the angle 2pi/n has area/6 R^2 (2 + cos(2pi/n)). The true
// bodies' closed forms are those of any handbook.
func TestInertiaOfTurnedBodies(t *testing.T) {
	for _, body := range []struct {
		name              string
		surface           Surface
		radius            float64 // the widest, which sets n
		volume, polar     float64 // true body; polar about the axis
		axialMoment       float64 // integral of z^2 about the centroid, true body
		height, tolerance float64
	}{
		{"cylinder 20 x 50", Cylinder(20, 0, 50, fine), 20,
			62831.853072, 12566370.614, 62831.853072 * 50 * 50 / 12, 25, 1e-9},
		{"frustum 30, 10 x 40", Cone(30, 10, 0, 40, fine), 30,
			54454.272662, 15205308.443, 13247854.56 - 15205308.443/2, 180.0 / 13, 1e-8},
	} {
		n := fine.Segments(body.radius)
		area := ngonRatio(n)
		polar := area * (2 + math.Cos(2*math.Pi/float64(n))) / 3
		m := geom.MassOfTriangles(body.surface)
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > body.tolerance*math.Abs(want) {
				t.Errorf("%s: %s %v, want %v", body.name, what, got, want)
			}
		}
		near("volume", m.Volume, body.volume*area)
		near("height of the centroid", m.Centroid.Z, body.height)
		near("moment about the axis", m.Inertia[2][2], body.polar*polar)
		near("moment across", m.Inertia[0][0], body.polar*polar/2+body.axialMoment*area)
		near("moment across", m.Inertia[1][1], body.polar*polar/2+body.axialMoment*area)
	}
}
