package loads

import (
	"math"
	"slices"

	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// counterweight says what would balance a rotary axis at the stated radius. What turns
// with the axis, mass times lever, is a vector S (kg mm) that goes round with it; a mass
// S/radius against it leaves nothing, at every position and tilt.
func (c *checker) counterweight(units []*unit) *check.Counterweight {
	w := c.setup.Counterweight
	if w == nil {
		return nil
	}
	a := &c.setup.Axes[w.Rotary]
	out := &check.Counterweight{On: w.On, Axis: a.Letter, Radius: w.Radius, Stands: w.Body >= 0}
	var others, own, stands []int
	for _, i := range moved(c.setup, w.Rotary) {
		switch {
		case i == w.Body:
		case c.setup.Bodies[i].Unit == unitOf(a):
			own = append(own, i)
		default:
			stands = append(stands, i)
		}
	}
	others = slices.Concat(stands, own)
	if _, unknown := c.weights.sum(own); len(unknown) > 0 {
		others = stands
		c.note("the counterweight is reckoned without what turns of the unit itself, as if that were balanced: %s", notKnown(unknown))
	}
	all, unknown := c.weights.sum(others)
	why := ""
	for _, u := range units {
		if u.rotary != nil && u.rotary.index == w.Rotary {
			why = u.why
		}
	}
	if why == "" && len(unknown) > 0 {
		why = notKnown(unknown)
	}
	if out.Reason = why; why != "" {
		return out
	}
	lever := all.Centroid.Sub(w.Foot)
	lever = lever.Sub(w.Normal.Mul(lever.Dot(w.Normal)))
	s := lever.Mul(all.Mass)
	out.Without = s.Norm()
	out.Mass = out.Without / w.Radius
	out.Angle = angle(s.Mul(-1), w.Along, w.Normal)
	out.Length = w.Length(out.Mass)
	carried, _ := c.weights.mass(stands)
	out.Carried = carried + out.Mass
	if out.Stands {
		arm := w.At(w.Angle, w.Mass).Sub(w.Foot)
		arm = arm.Sub(w.Normal.Mul(arm.Dot(w.Normal)))
		out.With = s.Add(arm.Mul(w.Mass)).Norm()
		out.Carried = carried + w.Mass
	}
	return out
}

// angle returns where a vector points, in degrees from 0 up to 360, from along,
// counter-clockwise seen against normal; 0 for a vector that is 0.
func angle(v, along, normal r3.Vector) float64 {
	if v.Norm() == 0 {
		return 0
	}
	return turn(math.Atan2(v.Dot(normal.Cross(along)), v.Dot(along)), 0) * 180 / math.Pi
}
