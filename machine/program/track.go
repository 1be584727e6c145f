package program

import (
	"math"

	"github.com/golang/geo/r2"
)

// track is a straight line or an arc in a plane, mm.
type track struct {
	from, to r2.Point
	centre   r2.Point // of an arc
	turn     float64  // angle of an arc, rad, counter-clockwise positive; 0 of a line
}

// radii of an arc at its ends; programs round their numbers, so that they differ a little.
func (t *track) radii() (from, to float64) {
	return t.from.Sub(t.centre).Norm(), t.to.Sub(t.centre).Norm()
}

// start and end are the directions of travel at the ends, of length 1.
func (t *track) start() r2.Point { return t.heading(t.from) }
func (t *track) end() r2.Point   { return t.heading(t.to) }

func (t *track) heading(at r2.Point) r2.Point {
	if t.turn == 0 {
		return t.to.Sub(t.from).Normalize()
	}
	return at.Sub(t.centre).Ortho().Mul(math.Copysign(1, t.turn)).Normalize()
}

// beside returns the track that runs by to the left of t, to the right if by is negative: an arc
// keeps its centre. It returns false where an arc is too small for that.
func (t *track) beside(by float64) (track, bool) {
	o := *t
	o.from = t.from.Add(t.start().Ortho().Mul(by))
	o.to = t.to.Add(t.end().Ortho().Mul(by))
	if t.turn == 0 {
		return o, true
	}
	inward := by * math.Copysign(1, t.turn)
	a, b := t.radii()
	return o, a-inward > leastRadius && b-inward > leastRadius
}

// leastRadius is the smallest radius that is left of an arc, mm: with less there is no direction.
const leastRadius = 1e-6

// length of the track, mm.
func (t *track) length() float64 {
	if t.turn == 0 {
		return t.to.Sub(t.from).Norm()
	}
	a, b := t.radii()
	return math.Abs(t.turn) * (a + b) / 2
}

// cutEnd ends the track at p, which is on its line or circle; false if p lies before its beginning or behind
// its end: a track is not made longer.
func (t *track) cutEnd(p r2.Point) bool {
	if t.turn == 0 {
		if !t.holds(p) {
			return false
		}
		t.to = p
		return true
	}
	back := t.angle(p, t.to)
	if back > math.Abs(t.turn) {
		return false
	}
	t.to, t.turn = p, t.shorter(back)
	return true
}

// holds reports whether a point of a straight track's line is on the track, but for rounding.
func (t *track) holds(p r2.Point) bool {
	u := t.start()
	return p.Sub(t.from).Dot(u) >= -noCorner && t.to.Sub(p).Dot(u) >= -noCorner
}

// cutStart begins the track at p, which is on its line or circle; false if p lies before its beginning or
// behind its end.
func (t *track) cutStart(p r2.Point) bool {
	if t.turn == 0 {
		if !t.holds(p) {
			return false
		}
		t.from = p
		return true
	}
	on := t.angle(t.from, p)
	if on > math.Abs(t.turn) {
		return false
	}
	t.from, t.turn = p, t.shorter(on)
	return true
}

// shorter is the angle of an arc that loses so much of it. One of no angle at all is a line:
// what is left is less than rounding.
func (t *track) shorter(by float64) float64 {
	return math.Copysign(math.Max(math.Abs(t.turn)-by, 0), t.turn)
}

// angle from p to q about the centre in the sense of the arc, 0 to a full turn; what is a full
// turn but for rounding is none.
func (t *track) angle(p, q r2.Point) float64 {
	u, v := p.Sub(t.centre), q.Sub(t.centre)
	a := math.Atan2(u.Cross(v), u.Dot(v)) * math.Copysign(1, t.turn)
	switch {
	case a >= 0:
		return a
	case a > -1e-9:
		return 0
	}
	return a + 2*math.Pi
}

// meet returns where the lines or circles of which two tracks are parts cross: none, one or two
// points. A circle has the radius that its arc has at its end that looks to the corner.
func meet(a, b *track) []r2.Point {
	_, ra := a.radii()
	rb, _ := b.radii()
	switch {
	case a.turn == 0 && b.turn == 0:
		u, v := a.end(), b.start()
		d := u.Cross(v)
		if math.Abs(d) < 1e-12 {
			return nil
		}
		return []r2.Point{a.to.Add(u.Mul(b.from.Sub(a.to).Cross(v) / d))}
	case a.turn == 0:
		return lineCircle(a.to, a.end(), b.centre, rb)
	case b.turn == 0:
		return lineCircle(b.from, b.start(), a.centre, ra)
	}
	// Two circles: where the line of equal power crosses one of them.
	between := b.centre.Sub(a.centre)
	d := between.Norm()
	if d < 1e-9 {
		return nil
	}
	u := between.Mul(1 / d)
	foot := a.centre.Add(u.Mul((d*d + ra*ra - rb*rb) / (2 * d)))
	return lineCircle(foot, u.Ortho(), a.centre, ra)
}

// lineCircle returns where the line through p along u, of length 1, crosses a circle.
func lineCircle(p, u, centre r2.Point, r float64) []r2.Point {
	foot := p.Add(u.Mul(centre.Sub(p).Dot(u)))
	off := foot.Sub(centre).Norm()
	if off > r {
		return nil
	}
	half := u.Mul(math.Sqrt((r - off) * (r + off)))
	return []r2.Point{foot.Add(half), foot.Sub(half)}
}
