package program

import (
	"fmt"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// arc is a move on a circle in the plane of two axes, while all the other axes go evenly with the
// angle (NISTIR 6556, sec. 3.5.3).
type arc struct {
	first, second int // parameters: the first turned by a quarter is the second
	centre        [2]float64
	// From an angle over a sweep, counter-clockwise where it is positive, at a radius that goes
	// evenly from one to the other: where both ends are not quite equally far from the centre.
	from, sweep float64
	radius      [2]float64
	loose       float64 // how far what the control makes of that may be off, mm
}

// planeAxes are the axes of the plane in force, the second a quarter turn from the first about the
// third as it is seen from its positive end, and the letters of the centre.
func (in *interpreter) planeAxes() (first, second, third int, letters [2]byte, err error) {
	x, y, z := in.axes.x, in.axes.y, in.axes.z
	switch in.modal[planeG] {
	case 170:
		first, second, third, letters = x, y, z, [2]byte{'I', 'J'}
	case 180:
		first, second, third, letters = z, x, y, [2]byte{'K', 'I'}
	case 190:
		first, second, third, letters = y, z, x, [2]byte{'J', 'K'}
	default:
		return 0, 0, 0, letters, in.faultAt(motionG, "G17, G18 or G19 before, or in starts_with of [program] of the machine file")
	}
	if first < 0 || second < 0 || third < 0 {
		err = in.faultAt(motionG, "a plane of axes that the setup has")
	}
	return first, second, third, letters, err
}

// readArc reads the arc of the block from where the program stands to coordinates.
func (in *interpreter) readArc(to *motion.Params) (*arc, error) {
	first, second, _, letters, err := in.planeAxes()
	if err != nil {
		return nil, err
	}
	a := &arc{first: first, second: second}
	start := [2]float64{in.at[first], in.at[second]}
	end := [2]float64{to[first], to[second]}
	ccw := in.modal[motionG] == 30
	r, byRadius, err := in.lengthOf('R')
	if err != nil {
		return nil, err
	}
	i, hasI, err := in.lengthOf(letters[0])
	if err != nil {
		return nil, err
	}
	j, hasJ, err := in.lengthOf(letters[1])
	switch {
	case err != nil:
		return nil, err
	case byRadius && (hasI || hasJ):
		return nil, in.fault(in.cur.word('R'), "a radius and a centre", "one of them")
	case byRadius:
		err = in.byRadius(a, start, end, r, ccw)
	case !hasI && !hasJ:
		err = in.fault(in.codeWord(motionG), "an arc without a centre", "%c and %c, or R", letters[0], letters[1])
	default:
		err = in.byCentre(a, start, end, [2]float64{i, j}, hasI && hasJ)
	}
	if err != nil {
		return nil, err
	}
	return a, in.sweepOf(a, start, end, ccw)
}

// byCentre finds the centre that I, J and K state.
func (in *interpreter) byCentre(a *arc, start, end, stated [2]float64, both bool) error {
	w := in.codeWord(motionG)
	switch in.rules.Centres {
	case machine.FromStart:
		a.centre = [2]float64{start[0] + stated[0], start[1] + stated[1]}
	case machine.FromZero:
		if !both {
			return in.fault(w, "half a centre", "both of its coordinates: they count from zero")
		}
		a.centre = stated
	default:
		return in.fault(w, "a centre", "arc_centres in [program] of the machine file: from where I, J and K count")
	}
	return nil
}

// byRadius finds the centre of an arc of a radius: at most half a circle, more where the radius is
// negative.
//
// It is square to the chord, off its middle by the root of r^2 less the square of half the chord:
// to the left of the chord where the arc is counter-clockwise and less than a half. A radius too
// small by no more than what radii may differ counts as half the chord.
func (in *interpreter) byRadius(a *arc, start, end [2]float64, r float64, ccw bool) error {
	w := in.cur.word('R')
	dx, dy := end[0]-start[0], end[1]-start[1]
	half := math.Hypot(dx, dy) / 2
	size := math.Abs(r)
	switch {
	case half < samePlace/2:
		return in.fault(w, w.Text+" of an arc that ends where it begins", "a centre: a radius alone does not say which circle")
	case r == 0:
		return in.fault(w, "a radius of 0", "another radius")
	case half-size > max(in.rules.ArcTolerance, rounded):
		return in.fault(w, w.Text, "a radius of %.4f mm at least, half of how far the ends are apart%s", half, in.toleranceKey())
	}
	a.loose = max(0, half-size)
	off := math.Sqrt(max(0, size*size-half*half))
	if ccw != (r > 0) {
		off = -off
	}
	a.centre = [2]float64{(start[0]+end[0])/2 - off*dy/(2*half), (start[1]+end[1])/2 + off*dx/(2*half)}
	return nil
}

// What counts as the same place, and as the same radius where no tolerance is stated, mm.
const (
	samePlace = 1e-6
	rounded   = 1e-6
)

func (in *interpreter) toleranceKey() string {
	if in.rules.ArcTolerance > 0 {
		return ""
	}
	return ", or arc_tolerance in [program] of the machine file"
}

// sweepOf finds the angles and radii of an arc about its centre. An arc by its centre that ends
// where it begins is a full turn.
func (in *interpreter) sweepOf(a *arc, start, end [2]float64, ccw bool) error {
	s := [2]float64{start[0] - a.centre[0], start[1] - a.centre[1]}
	e := [2]float64{end[0] - a.centre[0], end[1] - a.centre[1]}
	a.radius = [2]float64{math.Hypot(s[0], s[1]), math.Hypot(e[0], e[1])}
	w := in.codeWord(motionG)
	differ := math.Abs(a.radius[1] - a.radius[0])
	switch {
	case min(a.radius[0], a.radius[1]) < samePlace:
		return in.fault(w, "an arc of radius 0", "a centre away from its ends")
	case differ > max(in.rules.ArcTolerance, rounded):
		return in.fault(w, fmt.Sprintf("an arc that is %.4f mm from its centre where it begins and %.4f mm where it ends", a.radius[0], a.radius[1]),
			"radii that differ by no more than %g mm%s", max(in.rules.ArcTolerance, rounded), in.toleranceKey())
	}
	a.loose += differ
	a.from = math.Atan2(s[1], s[0])
	a.sweep = math.Atan2(s[0]*e[1]-s[1]*e[0], s[0]*e[0]+s[1]*e[1])
	full := math.Hypot(end[0]-start[0], end[1]-start[1]) < samePlace
	switch {
	case !full && math.Abs(a.sweep)*max(a.radius[0], a.radius[1]) < samePlace:
		return in.fault(w, "an arc that ends straight beside where it begins", "the same place, for a full turn, or another one")
	case full && ccw:
		a.sweep = 2 * math.Pi
	case full:
		a.sweep = -2 * math.Pi
	case ccw && a.sweep < 0:
		a.sweep += 2 * math.Pi
	case !ccw && a.sweep > 0:
		a.sweep -= 2 * math.Pi
	}
	return nil
}

// mostChords is how many legs an arc is cut into at most; beyond that they are off by more.
const mostChords = 1 << 15

// chords is how many straight legs stand for the arc, and how far it is from them, mm.
//
// On a chord over the angle t let s go evenly from 0 to 1. The arc is p(s) = r(s) u(s), u a unit
// vector that turns by t s and r affine in s, going by d from chord to chord. Its second
// derivative is -t^2 r u + 2 d t u', |u'| = 1, so it is off the chord at the same s by no more
// than
//
//	(t^2 r + 2 |d| t) / 8
//
// with the larger radius: the error of linear interpolation. What goes evenly with s, the other
// axes, is not off at all. What the control makes of two radii that differ is not known: any curve
// between them is off this one by no more than they differ.
func (a *arc) chords() (n int, off float64) {
	r := max(a.radius[0], a.radius[1])
	sweep := math.Abs(a.sweep)
	n = int(min(mostChords, max(math.Ceil(sweep/(math.Pi/2)), math.Ceil(sweep/math.Sqrt(8*0.9*MostChord/r)), 1)))
	t, d := sweep/float64(n), math.Abs(a.radius[1]-a.radius[0])/float64(n)
	return n, (t*t*r+2*d*t)/8 + a.loose
}

// at returns the coordinates of the two axes a share f of the way along.
func (a *arc) at(f float64) (first, second float64) {
	r := a.radius[0] + (a.radius[1]-a.radius[0])*f
	sin, cos := math.Sincos(a.from + a.sweep*f)
	return a.centre[0] + r*cos, a.centre[1] + r*sin
}

// along returns the coordinates of a stroke a share f of the way from where the axes were led
// last: exactly to where it goes at the end.
func (in *interpreter) along(s *stroke, f float64) motion.Params {
	if f == 1 {
		return s.to
	}
	c := s.to
	for k := range in.setup.Axes {
		c[k] = in.led[k] + (s.to[k]-in.led[k])*f
	}
	if s.arc != nil {
		c[s.arc.first], c[s.arc.second] = s.arc.at(f)
	}
	return c
}

// leadArc adds the legs of an arc whose axes are the machine's own.
func (in *interpreter) leadArc(s *stroke, to *motion.Params) (motion.Params, error) {
	a := s.arc
	n, off := a.chords()
	var within motion.Params
	within[a.first], within[a.second] = off, off
	from := in.pos
	for i := 1; i <= n; i++ {
		f := float64(i) / float64(n)
		next := *to
		if i < n {
			for k := range in.setup.Axes {
				next[k] = in.pos[k] + (to[k]-in.pos[k])*f
			}
			x, y := a.at(f)
			next[a.first], next[a.second] = in.origin[a.first]+x, in.origin[a.second]+y
		}
		in.leg(s.kind, from, next, within)
		from = next
	}
	return from, nil
}
