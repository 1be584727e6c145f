package stack

import (
	"fmt"
	"math"

	"gridswing/collide"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"

	"github.com/golang/geo/r3"
)

// pinRound is how far a pin's polygon may lie outside of the pin, mm.
const pinRound = 0.02

// setPins looks whether a pin that is set and locates nothing stands under a
// component, or in its way down. Lowered along its seat's normal, a component meets a pin
// if and only if it meets it where it comes to stand: what the pin passes on its way
// into the component is below its end.
func (c *checker) setPins(s *machine.Seat) {
	for i := range c.setup.Pins {
		p := &c.setup.Pins[i]
		if p.Unit != s.On || p.Withdrawn || p.Locates == s.Unit {
			continue
		}
		body := c.pinBody(p)
		gap, inside := c.nearest(&body, body.Chain.Home, c.bodies(s.Unit))
		if gap <= touching/2 || inside {
			c.find(check.Contact, s.On, "the pin at %s/%s of %s is set and stands under %s, or in its way down: withdraw it",
				p.Grid, p.Hole, p.Unit, s.Unit)
		}
	}
}

// pinSize is what pins of one size have in common.
type pinSize struct{ diameter, height float64 }

// pinBody is a set pin, a little above the face so that what lies flat on the face is
// not taken for it.
func (c *checker) pinBody(p *machine.Pin) machine.Body {
	solid := proof.Fact(c.trees, pinSize{p.Diameter, p.Height}, func() *machine.Solid {
		mesh := shape.Cylinder(p.Diameter/2, min(touching, p.Height/2), p.Height, shape.Round{Chord: pinRound, Side: shape.Circumscribed}).Mesh()
		return &machine.Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	})
	x := p.Normal.Ortho()
	y := p.Normal.Cross(x)
	upright := geom.Pose{T: p.At, R: geom.Rotation{
		{x.X, y.X, p.Normal.X}, {x.Y, y.Y, p.Normal.Y}, {x.Z, y.Z, p.Normal.Z},
	}}
	return machine.Body{Name: "pin", Solid: solid, Chain: motion.Chain{Home: upright}}
}

// nearest returns how far a body that stands at a pose of the bed frame is from the
// nearest of others, with every axis at zero, chord errors taken off, and whether one is
// inside the other.
func (c *checker) nearest(a *machine.Body, pose geom.Pose, others []int) (gap float64, inside bool) {
	gap = math.Inf(1)
	back := pose.Inverse()
	for _, i := range others {
		b := &c.setup.Bodies[i]
		rel := back.Mul(c.setup.Pose(i, motion.Params{}))
		near := collide.Distance(c.trees.Of(a.Solid), c.trees.Of(b.Solid), rel)
		gap = min(gap, near.Distance-b.Solid.ChordError)
		if in, _, _ := c.trees.Inside(a, b, rel); in != "" {
			inside = true
		}
	}
	return gap, inside
}

// hole names one hole of the setup.
type hole struct{ unit, grid, label string }

func (h hole) String() string { return fmt.Sprintf("hole %s of %s/%s", h.label, h.unit, h.grid) }

// claim is what wants a hole.
type claim struct{ unit, what string }

// claim lists what wants which hole.
func (c *checker) claim() {
	c.claims, c.told = map[hole][]claim{}, map[hole]bool{}
	add := func(h hole, unit, what string) { c.claims[h] = append(c.claims[h], claim{unit, what}) }
	for i := range c.setup.Seats {
		s := &c.setup.Seats[i]
		for k := range s.Locators {
			if l := &s.Locators[k]; l.Kind != machine.Stops && l.Kind != machine.Keys {
				add(hole{s.On, s.Grid, l.Hole}, s.Unit, "a locator")
			}
		}
		for k := range s.Fasteners {
			if f := &s.Fasteners[k]; f.Under != nil && !f.Under.Slot && (f.Under.Thread != "" || f.Under.Through > 0) {
				add(hole{f.Under.Unit, f.Under.Grid, f.Under.Hole}, s.Unit, "fastener "+f.Name)
			}
		}
	}
	for i := range c.setup.Pins {
		// Where the pin is set, nothing else goes in; that a component goes over it
		// is what it is for.
		if p := &c.setup.Pins[i]; !p.Withdrawn && p.Locates == "" {
			add(hole{p.Unit, p.Grid, p.Hole}, p.Unit, "its own pin, which is set")
		}
	}
}

// claimed tells, once each, the holes of a component that something else claims too.
func (c *checker) claimed(s *machine.Seat) {
	for k := range s.Locators {
		c.contested(s, hole{s.On, s.Grid, s.Locators[k].Hole})
	}
	for k := range s.Fasteners {
		if u := s.Fasteners[k].Under; u != nil {
			c.contested(s, hole{u.Unit, u.Grid, u.Hole})
		}
	}
}

func (c *checker) contested(s *machine.Seat, h hole) {
	list := c.claims[h]
	if len(list) < 2 || c.told[h] {
		return
	}
	c.told[h] = true
	words := ""
	for i, one := range list {
		if i > 0 {
			words += " and "
		}
		words += one.what + " of " + one.unit
	}
	other := s.On
	for _, one := range list {
		if one.unit != s.Unit {
			other = one.unit
		}
	}
	c.find(check.Contact, other, "%s is claimed twice: by %s", h, words)
}

// overhang tells how far a component stands out beyond what is under it.
func (c *checker) overhang(s *machine.Seat) {
	if s.Under < 0 || len(s.Locators) == 0 && s.Gripped != nil {
		return
	}
	frame := s.Chain.Pose(motion.Params{})
	back := frame.Inverse()
	under := c.extent([]int{s.Under}, &back)
	over := c.extent(c.bodies(s.Unit), &back)
	if under.Empty() || over.Empty() {
		return
	}
	for _, side := range []struct {
		along r3.Vector
		by    float64
		name  string
	}{
		{r3.Vector{X: -1}, under.Min.X - over.Min.X, "u-"}, {r3.Vector{X: 1}, over.Max.X - under.Max.X, "u+"},
		{r3.Vector{Y: -1}, under.Min.Y - over.Min.Y, "v-"}, {r3.Vector{Y: 1}, over.Max.Y - under.Max.Y, "v+"},
	} {
		if side.by > touching {
			c.now.Overhang = append(c.now.Overhang, check.Beyond{Side: sideName(frame.Dir(side.along), side.name), By: round(side.by)})
		}
	}
}

// sideName is a direction of the bed frame by its letter, or the name it has along the grid.
func sideName(d r3.Vector, name string) string {
	for k, v := range [3]float64{d.X, d.Y, d.Z} {
		if math.Abs(math.Abs(v)-1) < 1e-9 {
			return "XYZ"[k:k+1] + map[bool]string{true: "+", false: "-"}[v > 0]
		}
	}
	return name
}

// extent is a box around bodies in the frame that a pose leads to, every axis at zero.
func (c *checker) extent(bodies []int, to *geom.Pose) geom.Box {
	box := geom.EmptyBox()
	for _, i := range bodies {
		pose := to.Mul(c.setup.Pose(i, motion.Params{}))
		b := c.trees.BoxOf(c.setup.Bodies[i].Solid, pose.R)
		if !b.Empty() {
			box = box.Include(b.Min.Add(pose.T)).Include(b.Max.Add(pose.T))
		}
	}
	return box
}
