package kinematics

import (
	"math"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// The sides are those of subproblem 2 of Paden and Kahan as the book has it (Murray, Li, Sastry,
// "A Mathematical Introduction to Robotic Manipulation", 1994, ch. 3, sec. 3.1): the direction
// between the two turns is alpha w1 + beta w2 + gamma (w1 x w2), and gamma is either root of its
// square. Each solution has the root that its side says, and the two have one each.
func TestSidesAreTheTwoRoots(t *testing.T) {
	two := 0
	rapid.Check(t, func(t *rapid.T) {
		m := random(2).Draw(t, "machine")
		p := stand(t, m)
		w, z := m.arms(p)
		if w[0].Cross(w[1]).Norm() < 1e-3 || w[1].Cross(z).Norm() < 1e-3 {
			return // nearly one axis, and the book's fractions have no digits
		}
		_, axis := m.Forward(p, 0)
		list := m.Present(axis, p)
		dot := w[0].Dot(w[1])
		alpha := (dot*w[1].Dot(z) - w[0].Dot(axis)) / (dot*dot - 1)
		beta := (dot*w[0].Dot(axis) - w[1].Dot(z)) / (dot*dot - 1)
		square := (1 - alpha*alpha - beta*beta - 2*alpha*beta*dot) / w[0].Cross(w[1]).Norm2()
		if square < 1e-8 || len(list) != 2 {
			return
		}
		two++
		if m.Side(list[0].Position)+m.Side(list[1].Position) != 0 || m.Side(list[0].Position) == 0 {
			t.Fatalf("sides %d and %d", m.Side(list[0].Position), m.Side(list[1].Position))
		}
		for _, s := range list {
			tilt := m.rotary[1]
			j := &m.rel.Joints[tilt.joint]
			// A joint that turns up as the axis does brings z from w1 round w2 to where (w1 x w2).c < 0.
			gamma := -float64(m.Side(s.Position)) * math.Copysign(math.Sqrt(square), j.Gain[tilt.axis])
			want := w[0].Mul(alpha).Add(w[1].Mul(beta)).Add(w[0].Cross(w[1]).Mul(gamma))
			got := turnedAbout(w[1], z, j.Value(&s.Position))
			if d := got.Sub(want).Norm(); d > 1e-5 {
				t.Errorf("side %d: off by %g from the book's direction", m.Side(s.Position), d)
			}
		}
	})
	if two < 20 {
		t.Errorf("%d directions have two solutions: no test", two)
	}
}

// turnedAbout is Rodrigues' formula.
func turnedAbout(w, v r3.Vector, a float64) r3.Vector {
	sin, cos := math.Sincos(a)
	return v.Mul(cos).Add(w.Cross(v).Mul(sin)).Add(w.Mul(w.Dot(v) * (1 - cos)))
}

// Of a table that tilts about X the pivot is A 0, where the tool stands along the rotary axis.
func TestSideOfATiltingTable(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, -5, 50), unlimited, unlimited)
	if axis, at, ok := m.Pivot(motion.Params{}); axis != tilt || at != 0 || !ok {
		t.Errorf("axis %d at %g, %v", axis, at, ok)
	}
	for deg, want := range map[float64]int{0: 0, 1: 1, 90: 1, 179: 1, 180: 0, 181: -1, -30: -1, 359: -1, 360: 0, 400: 1, 1e-8: 0} {
		if got := m.Side(motion.Params{tilt: radians(deg), rotary: 2}); got != want {
			t.Errorf("A %g: side %d, want %d", deg, got, want)
		}
	}
	one := made(t, axesOf(unlimited, unlimited), motion.Chain{Home: m.part.Home, Joints: m.part.Joints[1:]}, m.spindle)
	if _, _, ok := one.Pivot(motion.Params{}); ok || one.Side(motion.Params{tilt: 1, rotary: 1}) != 0 {
		t.Error("one rotary axis has sides")
	}
	if one.Moves(tilt) || !one.Moves(rotary) || !one.Moves(x) {
		t.Error("who moves what")
	}
}

// The same contour can be begun on either side, also where it begins with the tool along the
// rotary axis. On a side for which the tilt has no travel it is not within it.
func TestContourFromEitherSide(t *testing.T) {
	m := table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{-2, 2}, unlimited)
	var tips, axes []r3.Vector
	for _, lean := range []float64{0, 10, 20} {
		sin, cos := math.Sincos(radians(lean))
		tips, axes = append(tips, vec(lean, 0, 0)), append(axes, vec(sin, 0, cos))
	}
	for _, side := range []int{1, -1} {
		path, err := m.ContourFrom(side, tips, axes, true, 100, motion.Params{})
		if err != nil {
			t.Fatal(err)
		}
		for i, lean := range []float64{0, 10, 20} {
			nearly(t, "tilt", degrees(path.Positions[i][tilt]), float64(side)*lean, 1e-9)
			nearly(t, "rotary", degrees(path.Positions[i][rotary]), float64(side)*90, 1e-9)
		}
	}
	path, err := m.ContourFrom(0, tips, axes, true, 100, motion.Params{rotary: -1})
	same, err2 := m.Contour(tips, axes, true, 100, motion.Params{rotary: -1})
	if err != nil || err2 != nil || path.Positions[2] != same.Positions[2] || m.Side(same.Positions[2]) != -1 {
		t.Errorf("%v, %v", path.Positions, same.Positions)
	}
	m = table(t, vec(1, 0, 0), vec(0, 0, 50), [2]float64{-0.1, 2}, unlimited)
	if path, err = m.ContourFrom(-1, tips, axes, true, 100, motion.Params{}); err != nil || path.Within {
		t.Errorf("within travel on a side that the tilt does not get to: %+v, %v", path, err)
	}
}
