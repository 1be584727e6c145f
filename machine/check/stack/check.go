package stack

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Options say how hard to look.
type Options = proof.Options

// Check looks at every placed component and adds what it finds to the report. Rotary
// positions at which tools are used are those of Report.Reach, where it is known
// already, otherwise the corners of the commanded ranges. A setup without components
// gets no Report.Stack. The only error is the context's.
//
// In brief, how far off parts can be is worked out only where something is asked of it, and
// not at all where Report.Reach is still missing for the operations of the setup: then call
// Locate once it is there. How much there is of what is asked goes into Report.Margins.
func Check(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	if len(s.Seats) == 0 {
		return ctx.Err()
	}
	c := newChecker(s, r, o)
	c.claim()
	for i := range c.setup.Seats {
		if err := ctx.Err(); err != nil {
			return err
		}
		c.seat(&c.setup.Seats[i])
	}
	r.Stack = c.out
	if c.brief {
		c.seatMargins()
	}
	if !c.brief || r.Reach != nil || len(s.Operations) == 0 {
		c.locations()
	}
	c.assume()
	r.Conclude()
	return ctx.Err()
}

// Locate adds to a report in brief how far off parts can be, at the rotary positions of its
// Reach: what Check has left out if it was called before that was known.
func Locate(ctx context.Context, s *machine.Setup, r *check.Report, o Options) error {
	if r.Stack == nil {
		return ctx.Err()
	}
	c := newChecker(s, r, o)
	c.out = r.Stack
	c.locations()
	r.Conclude()
	return ctx.Err()
}

func newChecker(s *machine.Setup, r *check.Report, o Options) *checker {
	s = s.Drawn()  // whether it goes together is asked before anything is probed
	o = o.Ready(0) // it asks nothing that needs a budget
	o.Trees.Plant(o.Jobs, s.Bodies)
	return &checker{setup: s, report: r, trees: o.Trees, brief: o.Brief, out: &check.Stack{
		Seats: []check.Seat{}, Locations: []check.Location{}, Searches: []check.Search{},
	}}
}

// locations says how far off parts can be.
func (c *checker) locations() {
	c.locate()
	c.searches()
	if c.brief {
		c.locationMargins()
	}
}

// checker holds one check while it runs.
type checker struct {
	setup  *machine.Setup
	report *check.Report
	trees  *proof.Trees
	brief  bool
	out    *check.Stack
	now    *check.Seat // the one that is looked at
	claims map[hole][]claim
	told   map[hole]bool // claims of which more than one is told
	// What the files leave open, by component.
	played, unscrewed, noDepth, noClass, noBottom []string
}

// seat looks at one component.
func (c *checker) seat(s *machine.Seat) {
	c.out.Seats = append(c.out.Seats, check.Seat{
		Unit: s.Unit, On: s.On, Grid: s.Grid, Verdict: check.Clear, LocatedBy: byHand,
		Locators: []check.Locator{}, Fasteners: []check.Fastener{}, Overhang: []check.Beyond{}, Notes: []string{},
	})
	c.now = &c.out.Seats[len(c.out.Seats)-1]
	c.locators(s)
	c.setPins(s)
	c.fasteners(s)
	c.claimed(s)
	c.overhang(s)
	c.axes(s)
	c.lying(s)
	c.grip(s)
}

// byHand is what locates a component without locators.
const byHand = "by hand"

// find adds a finding about the component that is looked at.
func (c *checker) find(v check.Verdict, on, format string, args ...any) {
	if v.Worse(c.now.Verdict) {
		c.now.Verdict = v
	}
	c.report.Findings = append(c.report.Findings, check.Finding{
		Verdict: v, Question: check.Stacked, Bodies: [2]string{c.now.Unit, on},
		Reason: fmt.Sprintf(format, args...), Index: [2]int{c.first(c.now.Unit), c.first(on)}, Params: home(c.setup),
	})
}

// note adds to what is said of the component, without a verdict.
func (c *checker) note(format string, args ...any) {
	c.now.Notes = append(c.now.Notes, fmt.Sprintf(format, args...))
}

// first is the first body of a unit, or the body of that name; 0 if there is none.
func (c *checker) first(name string) int {
	return max(0, slices.IndexFunc(c.setup.Bodies, func(b machine.Body) bool { return b.Unit == name || b.Name == name }))
}

// bodies lists the bodies of a unit.
func (c *checker) bodies(unit string) (list []int) {
	for i := range c.setup.Bodies {
		if c.setup.Bodies[i].Unit == unit {
			list = append(list, i)
		}
	}
	return list
}

// assume tells what the files leave open.
func (c *checker) assume() {
	say := func(names []string, format string) {
		if len(names) > 0 {
			c.report.Assumed = append(c.report.Assumed, fmt.Sprintf(format, list(names)))
		}
	}
	say(c.played, "that locators go in at the least clearance, too, is left to the maker of %s: the files state the play, not the fit")
	say(c.noBottom, "the pins of %s bottom nowhere: of pin_length and bore_depth only one is stated")
	say(c.unscrewed, "no screw is looked at of %s: no fastener is stated, or no thread of what is under it")
	say(c.noDepth, "the screws of %s go in as deep as they should, and bottom nowhere: no length is stated")
	say(c.noClass, "the screws of %s are of class 8.8: none is stated")
}

// list words names: "a, b and c".
func list(names []string) string {
	var distinct []string
	for _, n := range names {
		if !slices.Contains(distinct, n) {
			distinct = append(distinct, n)
		}
	}
	last := len(distinct) - 1
	if last < 1 {
		return fmt.Sprint(distinct[0])
	}
	words := distinct[0]
	for _, n := range distinct[1:last] {
		words += ", " + n
	}
	return words + " and " + distinct[last]
}

// home returns the position of every axis at rest.
func home(s *machine.Setup) (p motion.Params) {
	for k := range s.Axes {
		p[k] = s.Axes[k].Home
	}
	return p
}

// round takes off what float64 arithmetic leaves of a round number: to 1e-9 mm or
// degrees. It never returns -0.
func round(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }

// rounded is a rounded number that is known.
func rounded(x float64) *float64 { x = round(x); return &x }

// stated is a number where 0 means that the file does not state it.
func stated(x float64) *float64 {
	if x == 0 {
		return nil
	}
	return rounded(x)
}

const toDegrees = 180 / math.Pi
