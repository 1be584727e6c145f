package driver

import (
	"gridswing/machine/check"
)

// tighten takes down, in brief, what the driver that is used for a screw leaves. Nothing is
// left where none fits, or where it is not known where the head is.
func (c *checker) tighten(w *screw) {
	if !c.options.Brief {
		return
	}
	if w.best == nil {
		c.lack(w.words())
		return
	}
	for i := range w.best.met {
		m := &w.best.met[i]
		has := m.Left()
		share := check.ShareOf(has, m.question.Demand)
		if c.least.Unit != "" && !check.Less(share, c.least.Share) {
			continue
		}
		c.least = check.Margin{Share: share, Has: has, Demand: m.question.Demand, Unit: "mm", What: check.Plenty}
		if share < check.MostShare {
			c.least.What = check.Between(w.best.driver.Name+" at "+w.words(), c.setup.Bodies[m.other].Name, nil)
		}
	}
}

// lack takes down that nothing is left.
func (c *checker) lack(what string) {
	if c.least.Unit == "" || c.least.Share > 0 {
		c.least = check.Margin{Unit: "mm", What: what}
	}
}

// margins adds the tightest margin to the report. Of heads only what is wrong with them
// counts: no clearance is asked of them.
func (c *checker) margins(r *check.Report) {
	for _, w := range c.screws {
		if len(w.headed) > 0 {
			c.lack("the head of " + w.words())
		}
	}
	if c.least.Unit != "" {
		c.least.Concern = check.DriverConcern
		r.Tighten(c.least)
	}
}
