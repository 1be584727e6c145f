package machine

import (
	"fmt"
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// counterweightUnit is the unit of the counterweight, and its body.
const counterweightUnit = "counterweight"

// Counterweight is what balances a rotary axis: a plain cylinder that stands on a grid
// square to the axis. Where its mass and angle are not stated, it is still to be
// found what they would be.
type Counterweight struct {
	On     string // the grid, such as "trunnion/faceplate"
	Rotary int    // the axis, an index into Setup.Axes
	Body   int    // in Setup.Bodies; -1 as long as its mass and angle are not stated
	// Foot is where the axis meets the grid's face; Along is the way in which the
	// grid's letters count, Normal points away from the face. Bed frame with every axis
	// at zero.
	Foot, Along, Normal r3.Vector
	Radius              float64 // of its middle about the axis, mm
	Height              float64 // of its underside above the face, mm
	Diameter            float64 // mm
	Density             float64 // kg/m3
	Mass                float64 // kg
	// Angle is where it stands, from Along, counter-clockwise as one looks at the face.
	Angle  float64
	Within float64 // mm; how far off it can stand, either way
}

// Length returns how long a cylinder of the given mass is, in mm.
func (c *Counterweight) Length(mass float64) float64 {
	return mass / (c.Density * 1e-9) / (math.Pi / 4 * c.Diameter * c.Diameter)
}

// At returns where the middle of a counterweight of the given mass is, bed frame with
// every axis at zero, when it stands at an angle.
func (c *Counterweight) At(angle, mass float64) r3.Vector {
	sin, cos := math.Sincos(angle)
	across := c.Normal.Cross(c.Along)
	return c.Foot.Add(c.Along.Mul(c.Radius * cos)).Add(across.Mul(c.Radius * sin)).
		Add(c.Normal.Mul(c.Height + c.Length(mass)/2))
}

// addCounterweight reads the counterweight; one whose mass and angle are stated
// becomes a body.
func (b *builder) addCounterweight() {
	t := b.file.Counterweight
	if t == nil {
		return
	}
	src := b.src
	c := &Counterweight{
		On: t.On, Body: -1,
		Radius:   b.unit.mm(src.positive(t.Path+".radius", t.Radius)),
		Height:   b.unit.mm(src.notNegative(t.Path+".height", t.Height)),
		Diameter: b.unit.mm(src.positive(t.Path+".diameter", t.Diameter)),
		Density:  src.density(t.Path+".material", t.Material),
	}
	u := b.support(&placeTable{spot: t.spot, On: t.On})
	if u == nil || !b.standsSquare(c, u, t) {
		return
	}
	switch {
	case t.Mass == nil && t.Angle == nil && t.Within == nil:
	case t.Mass == nil || t.Angle == nil || t.Within == nil:
		src.fault(t.Path, "not all of mass, angle and within", "all three, once it stands there, or none, to be told what they should be")
	default:
		c.Mass, c.Angle = src.positive(t.Path+".mass", *t.Mass), radians(*t.Angle)
		c.Within = b.unit.mm(src.notNegative(t.Path+".within", *t.Within))
		if _, taken := b.tables[counterweightUnit]; taken {
			src.fault(t.Path, "a place of the name "+quoted(counterweightUnit), "another name for that place")
		}
		if src.any() {
			return
		}
		b.placeCounterweight(c, u)
	}
	b.setup.Counterweight = c
}

// standsSquare finds the rotary axis that carries a grid and is square to it.
func (b *builder) standsSquare(c *Counterweight, u *support, t *counterweightTable) bool {
	if u.grid == nil {
		b.src.fault(t.Path+".on", quoted(t.On)+", which is no grid", "a grid on a face that turns, such as %q", "trunnion/faceplate")
		return false
	}
	f := u.frame()
	c.Rotary = -1
	var joint *motion.Joint
	for i := range f.joints {
		for k, gain := range f.joints[i].Gain {
			if gain != 0 && f.joints[i].Kind == motion.Rotary {
				c.Rotary, joint = k, &f.joints[i]
			}
		}
	}
	if c.Rotary < 0 {
		b.src.fault(t.Path+".on", quoted(t.On)+", which no rotary axis carries", "a grid on a face that turns")
		return false
	}
	c.Along, c.Normal = f.home.Dir(r3.Vector{X: 1}), f.home.Dir(r3.Vector{Z: 1})
	if off := c.Normal.Cross(joint.Axis).Norm(); off > parallelTo {
		b.src.fault(t.Path+".on", fmt.Sprintf("%q, at %.4f degrees to square to axis %s", t.On, degrees(math.Asin(min(1, off))), b.setup.Axes[c.Rotary].Letter),
			"a grid square to the axis to be balanced")
		return false
	}
	up := f.home.T.Sub(joint.Point).Dot(c.Normal)
	c.Foot = joint.Point.Add(c.Normal.Mul(up))
	return true
}

// placeCounterweight adds the body.
func (b *builder) placeCounterweight(c *Counterweight, u *support) {
	f := u.frame()
	length := c.Length(c.Mass)
	middle := c.At(c.Angle, c.Mass)
	f.home = geom.Pose{R: f.home.R, T: middle.Sub(c.Normal.Mul(length / 2))}
	f = f.then(within(counterweightUnit, &f.home, c.Within)...)
	c.Body = len(b.setup.Bodies)
	b.setup.Bodies = append(b.setup.Bodies, Body{
		Name: counterweightUnit, Unit: counterweightUnit, Role: "workholding", OnTool: f.onTool,
		Solid: b.setup.made.prism(c.Diameter, 0, length),
		Chain: motion.Chain{Joints: f.joints, Home: f.home},
		Mass:  c.Mass, Density: c.Density,
	})
	b.setup.Matings = append(b.setup.Matings, Mating{
		A: c.Body, B: u.on.bodies[u.part], Lift: c.Normal, Reason: "the counterweight stands on " + c.On,
	})
}
