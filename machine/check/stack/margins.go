package stack

import (
	"fmt"

	"gridswing/machine/check"
)

// seatMargins tells which screw has least of the thread that it needs. What keeps a
// component from going on, or from being held, leaves nothing.
func (c *checker) seatMargins() {
	for i := range c.out.Seats {
		seat := &c.out.Seats[i]
		for k := range seat.Fasteners {
			f := &seat.Fasteners[k]
			if f.Engaged == nil || f.Needed == nil {
				continue
			}
			c.report.Tighten(check.Margin{
				Concern: check.StackConcern, Share: check.ShareOf(*f.Engaged, *f.Needed), Has: *f.Engaged, Demand: *f.Needed, Unit: "mm",
				What: fmt.Sprintf("thread that holds fastener %s (%s) of %s", f.Name, f.Thread, seat.Unit),
			})
		}
	}
	for i := range c.report.Findings {
		if f := &c.report.Findings[i]; f.Question == check.Stacked && f.Verdict != check.Tight {
			c.report.Tighten(check.Margin{Concern: check.StackConcern, Unit: "mm", What: f.Short()})
		}
	}
}

// locationMargins tells how far off parts can be of what they may be, where that is
// asked.
func (c *checker) locationMargins() {
	for i := range c.out.Locations {
		l := &c.out.Locations[i]
		if l.Wanted == nil || l.To != check.FromTool {
			continue
		}
		c.report.Tighten(check.Margin{
			Concern: check.StackConcern, Share: check.ShareOf(*l.Wanted, l.Off), Has: *l.Wanted, Demand: l.Off, Unit: "mm",
			What: fmt.Sprintf("how far off the %s of %s can be before it is probed", l.Point, l.Part),
		})
	}
	for i := range c.out.Searches {
		s := &c.out.Searches[i]
		has := min(s.Before, s.Beyond)
		c.report.Tighten(check.Margin{
			Concern: check.StackConcern, Share: check.ShareOf(has, s.Off), Has: has, Demand: s.Off, Unit: "mm",
			What: fmt.Sprintf("where the surface can be along the search, %s, %s", s.Operation, s.Feature),
		})
	}
}
