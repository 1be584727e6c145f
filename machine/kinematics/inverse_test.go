package kinematics

import (
	"math"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"
)

// forward(inverse(x)) = x: whatever a machine's two rotary axes are, the
// direction and the tip that any position gives are found again, by each solution, and
// one of the solutions is that position but for whole turns.
func TestInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := random(rapid.IntRange(0, 3).Draw(t, "rotary axes")).Draw(t, "machine")
		if w, _ := m.arms(m.home()); len(w) == 2 {
			if lean := w[0].Cross(w[1]).Norm(); lean > 0 && lean < 1e-3 {
				return // two axes that are nearly one: no machine, and nothing holds digits
			}
		}
		p, length := stand(t, m), rapid.Float64Range(0, 200).Draw(t, "length")
		tip, axis := m.Forward(p, length)
		list := m.Present(axis, p)
		found, exact := false, 1e-6
		if len(list) == 1 {
			exact = 1e-3 // two that fall together but for rounding count as one: its square root is between them
		}
		for _, s := range list {
			if s.Miss != 0 {
				t.Fatalf("misses by %g what it presented at %v", s.Miss, p)
			}
			q, err := m.Linear(s.Position, tip, length)
			if err == errNoSpan {
				return // slides that a rotary axis lays in a plane
			}
			gotTip, gotAxis := m.Forward(q, length)
			if angle(gotAxis, axis) > 1e-9 {
				t.Errorf("axis off by %g", angle(gotAxis, axis))
			}
			// The slides, at worst nearly in a plane, carry rounding on.
			worst := 0.0
			for _, k := range m.linear {
				worst = max(worst, math.Abs(q[k]))
			}
			if d := gotTip.Sub(tip).Norm(); d > 1e-9*max(1, worst/1e3) {
				t.Errorf("tip off by %g with slides at up to %g", d, worst)
			}
			same := true
			for _, r := range m.rotary {
				turns := (s.Position[r.axis] - p[r.axis]) / m.turn(r)
				same = same && (r.axis == s.Free || math.Abs(turns-math.Round(turns)) < exact)
			}
			found = found || same
		}
		if !found && distinct(m, p) {
			t.Errorf("%v is not among its own solutions %v", p, list)
		}
	})
}

// distinct reports whether the position of each rotary axis shows: no two of tool and
// rotary axes, as one sees the next, are nearly in one line.
func distinct(m *Machine, p motion.Params) bool {
	w, z := m.arms(p)
	_, axis := m.Forward(p, 0)
	const lean = 1e-4
	switch len(w) {
	case 0:
		return false
	case 1:
		return w[0].Cross(z).Norm() > lean
	}
	return min(w[0].Cross(w[1]).Norm(), w[1].Cross(z).Norm(), w[0].Cross(axis).Norm()) > lean
}

// There are two solutions wherever the tool is neither along the rotary axis at the
// part nor in one plane with both axes, and they differ.
func TestTwoSolutions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := random(2).Draw(t, "machine")
		p := stand(t, m)
		_, axis := m.Forward(p, 0)
		w, z := m.arms(p)
		j := m.rel.Joints[m.rotary[0].joint]
		back := geom.Turn(r3.Vector{}, w[0], -j.Value(&p))
		c := back.Dir(axis) // the tool's axis as the second rotary axis has turned it
		plane := w[0].Cross(w[1])
		list := m.Present(axis, p)
		if plane.Norm() < 0.1 || angle(w[1], z) < 0.1 || math.Abs(plane.Dot(c)) < 0.1 {
			return
		}
		if len(list) != 2 {
			t.Fatalf("%d solutions", len(list))
		}
		a, b := list[0], list[1]
		k := m.rotary[1].axis
		if a.Branch != 0 || b.Branch != 1 || a.Position[k] <= b.Position[k]+1e-3 || a.Free >= 0 || b.Free >= 0 {
			t.Errorf("%+v\n%+v", a, b)
		}
	})
}
