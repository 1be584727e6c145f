package stack

import (
	"fmt"
	"strings"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// touching is the most, in mm, that may lie between a component and what it is said to
// stand against, and rounding the most that is no difference of drawn lengths.
const (
	touching = 0.1
	rounding = 1e-6
)

// locators says what locates a component, and looks whether that goes in: with its
// least clearances and the worst position of everything.
func (c *checker) locators(s *machine.Seat) {
	if len(s.Locators) == 0 {
		return
	}
	c.now.LocatedBy = s.Locators[0].Kind
	c.now.Play = &check.Play{
		Along: round(s.Off.Along), Across: [2]float64{round(s.Off.Across[0]), round(s.Off.Across[1])}, Angle: round(s.Off.Angle * toDegrees),
	}
	c.now.Distance = rounded(s.Fit.Distance)
	known, forced := true, false
	for i := range s.Locators {
		l := &s.Locators[i]
		one := check.Locator{Hole: l.Hole, Relieved: l.Relieved, Pin: l.Pin, Bores: l.Bores}
		if l.Kind != machine.Stops {
			one.Most = rounded(l.Clearance.Most)
		}
		if l.LeastKnown {
			one.Least = rounded(l.Clearance.Least)
			if l.Tightest.Least < 0 {
				one.Least = rounded(l.Tightest.Least)
			}
			if l.Tightest.Most < 0 {
				one.Most = rounded(l.Tightest.Most)
			}
		}
		known = known && l.LeastKnown
		c.now.Locators = append(c.now.Locators, one)
		forced = c.interferes(s, l) || forced
		if l.Kind == machine.OwnPins && (l.Length > 0) != (l.Depth > 0) {
			c.noBottom = append(c.noBottom, s.Unit)
		}
		if l.Length > 0 && l.Depth > 0 && l.Length > l.Depth+rounding {
			c.find(check.Contact, s.On, "the pin of %s in hole %s of %s bottoms: it is %s mm long, the bore %s mm deep",
				s.Unit, l.Hole, s.Grid, mm(l.Length), mm(l.Depth))
		}
	}
	switch {
	case c.now.LocatedBy == machine.Stops:
		c.stops(s)
	case c.now.LocatedBy == machine.Keys:
	case !known:
		c.played = append(c.played, s.Unit)
		c.apart(s)
	default:
		spare := s.Fit.Spare()
		c.now.Spare = rounded(spare)
		if spare < -rounding && !forced {
			c.find(check.WithinPlay, s.On, "%s may not go on: at the least clearance and the worst positions its locators are %s mm farther apart, or nearer, than holes %s and %s take (%s)",
				s.Unit, mm(-spare), s.Locators[0].Hole, s.Locators[1].Hole, remedy(s))
		}
	}
}

// interferes looks whether a locator goes into its bores at all. Pressing a component
// on, or choosing a thin pin, is for nobody to take for granted.
func (c *checker) interferes(s *machine.Seat, l *machine.Locator) bool {
	if !l.LeastKnown || l.Tightest.Least >= 0 {
		return false
	}
	where := fmt.Sprintf("hole %s of %s", l.Hole, s.Grid)
	if l.Kind == machine.Keys {
		where = fmt.Sprintf("slot %s of %s", l.Hole, s.Grid)
	}
	fit := fmt.Sprintf("%s in %s leaves %s to %s mm", l.Pin, strings.Join(l.Bores, " and "), mm(l.Tightest.Least), mm(l.Tightest.Most))
	if l.Tightest.Most <= 0 {
		c.find(check.Contact, s.On, "%s does not go on: its locator in %s is an interference fit, %s", s.Unit, where, fit)
	} else {
		c.find(check.WithinPlay, s.On, "%s may not go on: its locator in %s goes in with lucky sizes only, %s", s.Unit, where, fit)
	}
	return true
}

// apart looks whether a component whose files state the play goes on, even with the
// largest clearances: at the worst positions of everything its locators must not be farther
// off the distance of the holes than those take.
func (c *checker) apart(s *machine.Seat) {
	f := s.Fit // the least clearances are not known: with the largest
	for i := range f.Clearance {
		f.Clearance[i].Least = f.Clearance[i].Most
	}
	if spare := f.Spare(); spare < -rounding {
		c.find(check.WithinPlay, s.On, "%s may not go on: the distance of its locators and that of holes %s and %s differ by %s mm as drawn, and at the worst positions by %s mm more than their play takes",
			s.Unit, s.Locators[0].Hole, s.Locators[1].Hole, mm(f.Spread), mm(-spare))
	}
}

// remedy says what would let a component go on at worst.
func remedy(s *machine.Seat) string {
	if s.Fit.Relief == nil {
		return "a relieved second pin gives along the line of the two"
	}
	return "a narrower land gives more"
}

// stops looks whether a component touches each of the stops that it is said to stand
// against, as drawn.
func (c *checker) stops(s *machine.Seat) {
	for i := range s.Locators {
		at := s.Locators[i].At
		point := &machine.Solid{Mesh: shape.Box(at.Sub(grain), at.Add(grain)).Mesh()}
		point.Audit = geom.AuditOf(point.Mesh)
		body := machine.Body{Name: "stop", Solid: point}
		gap, inside := c.nearest(&body, geom.Identity(), c.bodies(s.Unit))
		c.trees.Forget(point)
		switch {
		case inside && gap > touching:
			c.find(check.Contact, s.On, "stop %d is inside %s as drawn", i+1, s.Unit)
		case gap > touching:
			c.find(check.Unproven, s.On, "%s does not touch stop %d: %s mm between them as drawn", s.Unit, i+1, mm(gap))
		}
	}
}

// grain is half the size of the cube that stands for a point, mm.
var grain = r3.Vector{X: 0.005, Y: 0.005, Z: 0.005}

// mm prints a length to a thousandth, without needless zeros.
func mm(x float64) string {
	text := fmt.Sprintf("%.3f", x)
	for len(text) > 1 && text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	if text[len(text)-1] == '.' {
		text = text[:len(text)-1]
	}
	return text
}
