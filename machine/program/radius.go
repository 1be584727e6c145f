package program

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
)

// side is radius compensation: the centre of the tool goes beside the programmed contour.
type side struct {
	by    float64 // mm to the left of the contour; negative: to the right
	sharp bool    // outer corners: on until the offset lines meet, not on an arc about the corner
}

// What is not a corner but rounding: offset ends that are no farther apart, mm. That is less than
// what float32 leaves of a vertex 100 mm away, and still so much that a line and a circle of 10 m which meet
// there can be told to cross.
const noCorner = 1e-5

// Corners of nearly a half turn have no inner and outer side: the least sine of an angle to
// it that is taken for one.
const leastTurn = 1e-4

// corner joins two offset tracks, of which a and b are the programmed ones: it cuts both off where
// they cross at an inner corner, and returns what leads round an outer one. problem says why
// there is no way, "" if there is one.
func (s side) corner(a, b, offA, offB *track) (round []track, problem string) {
	if offB.from.Sub(offA.to).Norm() <= noCorner {
		offB.from = offA.to
		return nil, ""
	}
	u, v := a.end(), b.start()
	sin, cos := u.Cross(v), u.Dot(v)
	switch {
	case cos < 0 && math.Abs(sin) < leastTurn:
		return nil, "a contour that turns back on itself"
	case sin*s.by > 0:
		return nil, s.inner(a, b, offA, offB)
	case !s.sharp:
		angle := math.Atan2(sin, cos)
		return []track{{from: offA.to, to: offB.from, centre: a.to, turn: angle}}, ""
	case cos < -1e-9:
		return nil, fmt.Sprintf("an outer corner of %.4g degrees with sharp corners", math.Atan2(math.Abs(sin), cos)/degree)
	}
	tip := a.to.Add(u.Ortho().Add(v.Ortho()).Mul(s.by / (1 + cos)))
	return []track{{from: offA.to, to: tip}, {from: tip, to: offB.from}}, ""
}

// inner cuts two tracks off where they cross. Of two crossings that is taken which leaves more of
// the tracks, as it is the one of the corner.
func (s side) inner(a, b, offA, offB *track) string {
	best, left := [2]track{}, -1.0
	for _, p := range meet(offA, offB) {
		x, y := *offA, *offB
		if !x.cutEnd(p) || !y.cutStart(p) {
			continue
		}
		if l := x.length() + y.length(); l > left {
			best, left = [2]track{x, y}, l
		}
	}
	if left < 0 {
		return fmt.Sprintf("an inner corner that a radius of %g mm does not reach", math.Abs(s.by))
	}
	*offA, *offB = best[0], best[1]
	return ""
}

// tangent returns where the centre of the tool is after the move from p to q that begins the
// compensation, as NISTIR 6556 has it (appendix on cutter radius compensation): its line touches
// the circle about q. It returns false if p is not outside of that.
func (s side) tangent(p, q r2.Point) (r2.Point, bool) {
	back := p.Sub(q)
	d, r := back.Norm(), math.Abs(s.by)
	if d <= r {
		return q, false
	}
	// Seen from q the point of contact is at the angle acos(r/d) from the way back, clockwise
	// where the tool goes on the left.
	cos := r / d
	sin := math.Sqrt((1 - cos) * (1 + cos))
	u := back.Mul(1 / d)
	return q.Add(u.Mul(r * cos)).Sub(u.Ortho().Mul(s.by * sin)), true
}
