package loads

import (
	"fmt"

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
		for k := range q.At {
			m.What += fmt.Sprintf("%s%s %+g", map[bool]string{true: " at ", false: " "}[k == 0], q.At[k].Axis, q.At[k].Shown())
		}
		r.Tighten(m)
	}
}
