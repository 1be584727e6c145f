package envelope

import (
	"errors"
	"fmt"
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Load is one of the solids that are carried.
type Load struct {
	Mesh   *geom.Mesh
	Chain  motion.Chain // its frame to the bed's; the slack of its joints is counted
	Margin float64      // mm that its true surface may be outside of the mesh
}

// Sweep says what moves: Tilt and Rotary are parameters of the chains. Tilt carries Rotary, which
// turns all the way round; Tilt goes from Lo to Hi (radians). With Tilt -1 only Rotary moves.
// All other parameters are as At has them. Cells is how finely the space is divided, 0: Cells.
type Sweep struct {
	Tilt, Rotary int
	Lo, Hi       float64
	At           motion.Params
	Cells        int
}

// Hull is a closed mesh round everything that the loads sweep.
type Hull struct {
	Mesh *geom.Mesh
	Pose geom.Pose // frame of the mesh to the bed's
	// Beyond is how far, at most, the mesh lies outside of what the outline of the loads
	// about the rotary axis sweeps, mm.
	Beyond float64
}

// sides of the polygon that stands for a circle where nothing tilts.
const sides = 96

// Of returns the hull of what the loads sweep. All must be carried by the same tilt and
// rotary joint. It is an error if they are not, if there is nothing with a facet, or if an
// axis is no single rotary joint.
//
// Every point of every solid is inside or on the hull, at every rotary position and every
// tilt of the range, whatever their joints' slack does and with their margins.
func Of(loads []Load, s Sweep) (*Hull, error) {
	if len(loads) == 0 {
		return nil, errors.New("nothing is carried")
	}
	c, err := joint(&loads[0].Chain, s.Rotary, "rotary")
	if err != nil {
		return nil, err
	}
	a := 0
	if s.Tilt >= 0 {
		if a, err = joint(&loads[0].Chain, s.Tilt, "tilt"); err != nil {
			return nil, err
		}
		if a >= c {
			return nil, errors.New("the tilt axis does not carry the rotary axis")
		}
		if !(s.Lo <= s.Hi) || math.IsInf(s.Hi-s.Lo, 0) {
			return nil, fmt.Errorf("a tilt of %g to %g is no range", s.Lo, s.Hi)
		}
		s.At[s.Tilt] = 0
	}
	for i := range loads {
		if k, err := joint(&loads[i].Chain, s.Rotary, "rotary"); err != nil {
			return nil, err
		} else if !sameUpTo(&loads[0].Chain, &loads[i].Chain, c) || k != c {
			return nil, errors.New("the solids are not carried by the same axes")
		}
	}
	if s.Cells <= 0 {
		s.Cells = Cells
	}
	o, err := outlineOf(loads, c, s.At)
	if err != nil {
		return nil, err
	}
	if s.Tilt < 0 {
		return spun(loads, o, c, s.At)
	}
	return tilted(loads, o, a, c, s)
}

// joint finds the one joint that a parameter turns.
func joint(c *motion.Chain, param int, name string) (int, error) {
	found := -1
	for i := range c.Joints {
		if c.Joints[i].Gain[param] == 0 {
			continue
		}
		if found >= 0 || c.Joints[i].Kind != motion.Rotary || math.Abs(math.Abs(c.Joints[i].Gain[param])-1) > 1e-12 {
			return 0, fmt.Errorf("the %s axis is not one that turns by itself", name)
		}
		found = i
	}
	if found < 0 {
		return 0, fmt.Errorf("the %s axis does not carry all of it", name)
	}
	return found, nil
}

// sameUpTo reports whether two chains have their joints up to the last in common.
func sameUpTo(a, b *motion.Chain, last int) bool {
	if len(a.Joints) <= last || len(b.Joints) <= last {
		return false
	}
	for i := range last + 1 {
		if a.Joints[i] != b.Joints[i] {
			return false
		}
	}
	return true
}

// part returns the motion of the joints from first up to and without last, at p.
func part(c *motion.Chain, first, last int, p motion.Params) geom.Pose {
	some := motion.Chain{Joints: c.Joints[first:last], Home: geom.Identity()}
	return some.Pose(p)
}

// standing returns the pose that leads from the frame of an axis, which runs along its Z
// through its origin, to the frame that the axis is given in.
func standing(point, axis r3.Vector) geom.Pose {
	z := axis.Normalize()
	x := z.Ortho().Normalize()
	y := z.Cross(x)
	return geom.Pose{R: geom.Rotation{{x.X, y.X, z.X}, {x.Y, y.Y, z.Y}, {x.Z, y.Z, z.Z}}, T: point}
}

// loose bounds how far slack and margins carry any point of the loads, all of which are in a
// ball round a point of the bed, at any position of the two axes: the ball's centre is on the axes that
// move it, and how far a solid is from a joint that it is carried by does not depend on the joints outside.
func loose(loads []Load, at motion.Params, center r3.Vector, radius float64) float64 {
	most := 0.0
	box := motion.At(at)
	for i := range loads {
		e := loads[i].Chain.Over(&box, nil)
		most = max(most, e.Plain(center, radius)+loads[i].Margin)
	}
	return most
}

// spun returns the hull of what only the rotary axis moves.
func spun(loads []Load, o outline, c int, at motion.Params) (*Hull, error) {
	first := &loads[0].Chain
	j := &first.Joints[c]
	pre := part(first, 0, c, at)
	center := r3.Vector{Z: (o.low() + o.high()) / 2}
	pose := pre.Mul(standing(j.Point, j.Axis))
	o = o.grown(loose(loads, at, pose.Point(center), o.reach(center.Z)) + 1e-3)
	var contour shape.Contour
	for _, d := range o {
		contour = append(contour, r2.Point{X: d.radius, Y: d.from}, r2.Point{X: d.radius, Y: d.to})
	}
	mesh, err := shape.Enclose(contour, sides)
	if err != nil {
		return nil, err
	}
	beyond := 0.0
	for i := range mesh.Facets {
		for _, v := range &mesh.Facets[i] {
			p := v.Vector()
			beyond = max(beyond, o.distance(math.Hypot(p.X, p.Y), p.Z, math.Inf(1)))
		}
	}
	return &Hull{Mesh: mesh, Pose: pose, Beyond: beyond + loose(loads, at, pose.Point(center), o.reach(center.Z))}, nil
}
