package loads

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/machine"
	"gridswing/machine/check"
)

// noRating is the reason of what cannot be judged.
const noRating = "no rating given"

// rounding is by how much of itself a load may be above its rating and still be at it.
const rounding = 1e-9

// judge gives a line its verdict.
func judge(q *check.Rated) {
	v := check.Clear
	switch {
	case q.Load != nil && q.Rating != nil:
		margin := *q.Rating - *q.Load
		q.Margin = &margin
		if *q.Load > *q.Rating*(1+rounding) {
			v, q.Reason = check.Overload, ""
		} else if q.Reason != "" {
			v = check.Unproven
		}
	case q.Rating == nil:
		v, q.Reason = check.Unproven, noRating
	default:
		v = check.Unproven
	}
	q.Verdict = &v
}

// stated returns a rating, nil for one that is not stated.
func stated(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}

// table tells what the table carries, and judges it if it is stated what it may.
func (c *checker) table() {
	q := check.Rated{Unit: machineUnit, Kind: check.TableLoad, Measure: "kg", Rating: stated(c.setup.TableLoad), At: []check.Position{}}
	kg, unknown := c.weights.mass(onTable(c.setup))
	if len(unknown) > 0 {
		q.Reason = notKnown(unknown)
	}
	if len(unknown) == 0 || q.Rating != nil && kg > *q.Rating*(1+rounding) { // what is known is too much already
		q.Load = &kg
	}
	if q.Rating != nil {
		judge(&q)
	}
	c.add(q)
}

func notKnown(bodies []string) string { return "mass not known: " + strings.Join(bodies, ", ") }

// rate lists what a unit carries, and judges it if the unit states ratings.
func (c *checker) rate(u *unit) {
	c.faceplateLoad(u)
	r := u.ratings
	if r == nil {
		r = &machine.Ratings{}
	}
	st, unknown := u.stands(c.weights, r.IncludesOwn)
	why := u.why
	if why == "" && len(unknown) > 0 {
		why = notKnown(unknown)
	}
	if u.tilt != nil {
		c.moments(u, check.TiltMoment, why, r.TiltMoment, r.TiltAcceleration, func() (*surface, trig) { return st.tiltMoment(), st.tiltInertia() })
	}
	if u.rotary != nil {
		c.moments(u, check.RotaryMoment, why, r.RotaryMoment, r.RotaryAcceleration, func() (*surface, trig) { return st.rotaryMoment(), constant(st.rotaryInertia()) })
		c.onFaceplate(u)
	}
}

// faceplateLoad lists the mass on the faceplate. Its rating is the least within the
// commanded tilt.
func (c *checker) faceplateLoad(u *unit) {
	q := check.Rated{Unit: u.name, Kind: check.FaceplateLoad, Measure: "kg", At: []check.Position{}}
	kg, unknown := c.weights.mass(u.onFaceplate())
	if len(unknown) == 0 {
		q.Load = &kg
	} else {
		q.Reason = notKnown(unknown)
	}
	if u.ratings != nil && u.ratings.Load != nil {
		least, at, lacks := leastLoad(u.ratings.Load, u.tilt)
		q.Rating = &least
		if u.tilt != nil && !math.IsInf(at, 0) {
			q.At = append(q.At, check.PositionOf(&c.setup.Axes[u.tilt.index], at))
		}
		if lacks != nil && q.Reason == "" {
			a := &c.setup.Axes[u.tilt.index]
			from := check.RangeOf(a, lacks.lo, lacks.hi)
			q.Reason = fmt.Sprintf("%s beyond %s %g to %g deg", noRating, a.Letter, from.From, from.To)
		}
	}
	c.settle(u, &q)
}

// leastLoad returns the least mass that is rated within the commanded tilt, and where; and
// where the ratings begin and end if that is not all of it. Between two entries the load is
// on a straight line, so that the least is at an entry or at an end of the range.
func leastLoad(load []machine.RatedLoad, tilt *pivot) (least, at float64, lacks *reach) {
	first, last := load[0], load[len(load)-1]
	if math.IsInf(first.Tilt, 0) {
		return first.Mass, first.Tilt, nil
	}
	over := reach{first.Tilt, last.Tilt}
	if tilt != nil {
		if tilt.over.lo < first.Tilt-1e-12 || tilt.over.hi > last.Tilt+1e-12 {
			lacks = &reach{over.lo, over.hi}
		}
		over = reach{max(over.lo, tilt.over.lo), min(over.hi, tilt.over.hi)}
	}
	least, at = math.Inf(1), first.Tilt
	try := func(where, mass float64) {
		if mass < least {
			least, at = mass, where
		}
	}
	for i, l := range load {
		if l.Tilt >= over.lo && l.Tilt <= over.hi {
			try(l.Tilt, l.Mass)
		}
		if i == 0 {
			continue
		}
		before := load[i-1]
		for _, end := range []float64{over.lo, over.hi} {
			if end > before.Tilt && end < l.Tilt {
				try(end, before.Mass+(l.Mass-before.Mass)*(end-before.Tilt)/(l.Tilt-before.Tilt))
			}
		}
	}
	if math.IsInf(least, 1) { // nothing of the commanded range is rated
		least = min(first.Mass, last.Mass)
	}
	return least, at, lacks
}

// moments lists a moment about an axis standing still, and one with inertia where an
// acceleration is stated. The surface and the inertia are asked for only if they are known.
func (c *checker) moments(u *unit, kind, why string, rating, acceleration float64, of func() (*surface, trig)) {
	q := check.Rated{Unit: u.name, Kind: kind, Measure: "N m", Rating: stated(rating), Reason: why, At: []check.Position{}}
	axis, across := u.tilt, u.rotary
	if kind == check.RotaryMoment {
		axis, across = u.rotary, u.tilt
	}
	q.Axis = c.setup.Axes[axis.index].Letter
	q.Own = u.ratings != nil && u.ratings.IncludesOwn
	inertial := q
	inertial.Inertia = true
	if why == "" {
		f, inertia := of()
		still := largest(f, axis.over, over(across))
		q.Load, q.At = &still.load, c.positions(axis, across, still.peak)
		f.k = inertia.times(acceleration * perMetre2)
		if kind == check.RotaryMoment { // it is of x, and constant
			f.k = constant(f.k.cos[0])
		}
		moving := largest(f, axis.over, over(across))
		inertial.Load, inertial.At = &moving.load, c.positions(axis, across, moving.peak)
	}
	c.settle(u, &q)
	if acceleration > 0 {
		c.settle(u, &inertial)
	}
}

// extreme is the largest load either way, and where; sign is that of the moment there.
type extreme struct {
	load, sign float64
	peak
}

// largest returns the largest moment either way, k adding to both.
func largest(f *surface, x, y reach) extreme {
	a, b := f.highest(x, y), f.negative().highest(x, y)
	if b.value > a.value {
		return extreme{b.value, -1, b}
	}
	return extreme{a.value + 0, 1, a}
}

// over returns the range of an axis; one that is not there stands at 0.
func over(p *pivot) reach {
	if p == nil {
		return reach{}
	}
	return p.over
}

// positions says where the two axes stand, that of x first.
func (c *checker) positions(x, y *pivot, at peak) []check.Position {
	list := []check.Position{check.PositionOf(&c.setup.Axes[x.index], at.x)}
	if y != nil {
		list = append(list, check.PositionOf(&c.setup.Axes[y.index], at.y))
	}
	return list
}

// onFaceplate lists the moment on the faceplate of what stands on it. Without a rating it
// is not known where the face is.
func (c *checker) onFaceplate(u *unit) {
	if u.ratings == nil {
		return
	}
	q := check.Rated{Unit: u.name, Kind: check.FaceplateMoment, Measure: "N m", Rating: stated(u.ratings.FaceplateMoment), Reason: u.why, At: []check.Position{}}
	turns, unknown := c.weights.sum(u.turns)
	if q.Reason == "" && len(unknown) > 0 {
		q.Reason = notKnown(unknown)
	}
	if q.Reason == "" && q.Rating != nil {
		st := &stand{tilt: u.tilt, rotary: u.rotary, turns: turns, up: c.setup.Up}
		top := st.faceplateMoment(u.ratings.Face).highest(u.rotary.over, over(u.tilt))
		load := math.Sqrt(max(0, top.value))
		q.Load, q.At = &load, c.positions(u.rotary, u.tilt, top)
	}
	c.settle(u, &q)
}

// keys are the keys of ratings by kind.
var keys = map[string]string{
	check.FaceplateLoad: machine.LoadKey, check.TiltMoment: machine.TiltMomentKey,
	check.RotaryMoment: machine.RotaryMomentKey, check.FaceplateMoment: machine.FaceplateMomentKey,
}

// settle judges a line of a unit that states ratings, and lists it. What its maker is said
// not to rate is not judged.
func (c *checker) settle(u *unit, q *check.Rated) {
	switch {
	case u.ratings == nil:
	case q.Rating == nil && slices.Contains(u.ratings.NotRated, keys[q.Kind]):
		if !q.Inertia {
			c.unrated = append(c.unrated, fmt.Sprintf("%s of %s: its maker rates none, so that it is not judged", q.Words(), u.name))
		}
		if q.Reason == "" && q.Load == nil {
			q.Reason = noRating
		}
	default:
		judge(q)
	}
	c.add(*q)
}
