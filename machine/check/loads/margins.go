package loads

import (
	"fmt"
	"slices"

	"gridswing/machine/check"
)

// margins tells of all loads that are judged the one that leaves least of its rating. What
// cannot be judged leaves nothing.
func (c *checker) margins(r *check.Report) {
	for i := range c.out.Rated {
		q := &c.out.Rated[i]
		if q.Verdict == nil {
			continue
		}
		m := check.Margin{Concern: check.LoadConcern, Unit: q.Measure, What: q.Words() + " of " + q.Unit}
		if *q.Verdict == check.Unproven || q.Load == nil || q.Rating == nil {
			m.What += ": " + q.Reason
			r.Tighten(m)
			continue
		}
		m.Has, m.Demand, m.Share = *q.Rating, *q.Load, check.ShareOf(*q.Rating, *q.Load)
		if *q.Verdict == check.Clear && c.common(q) {
			continue
		}
		for k := range q.At {
			m.What += fmt.Sprintf("%s%s %+g", map[bool]string{true: " at ", false: " "}[k == 0], q.At[k].Axis, q.At[k].Shown())
		}
		r.Tighten(m)
	}
}

// common reports whether a load is the same in all that is chosen between: a unit's where all
// that it carries stands on it in the same way, the table's where nothing on it is another one.
func (c *checker) common(q *check.Rated) bool {
	if c.options.Common == nil {
		return false
	}
	bodies, on := onTable(c.setup), ""
	if q.Kind != check.TableLoad {
		u := c.units[slices.IndexFunc(c.units, func(u *unit) bool { return u.name == q.Unit })]
		bodies, on = slices.Concat(u.carried(), u.ownTilt, u.ownTurn), u.name
	}
	for _, i := range bodies {
		unit := c.setup.Bodies[i].Unit
		if !c.options.Common.Units(unit, unit) || on != "" && !c.options.Common.Units(on, unit) {
			return false
		}
	}
	return true
}
