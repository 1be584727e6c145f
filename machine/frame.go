package machine

import (
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// frame is somewhere a body can be fixed: the joints from the bed out to it,
// and where it stands in the bed frame with every axis at zero.
type frame struct {
	joints []motion.Joint
	home   geom.Pose
	onTool bool
}

func bedFrame() frame { return frame{home: geom.Identity()} }

// then returns the frame with further joints after those it has. The joints'
// axes are given in the bed frame.
func (f frame) then(joints ...motion.Joint) frame {
	f.joints = slices.Concat(f.joints, joints)
	return f
}

// at returns the frame that stands in f at the given pose.
func (f frame) at(local geom.Pose) frame {
	f.home = f.home.Mul(local)
	return f
}

// placed is an assembly in its place.
type placed struct {
	*assembly
	unit   string // "machine", or the name of the place
	base   frame
	set    map[string]float64 // positions of the setting axes, mm or radians
	params []int              // the parameter of each programmed axis
	bodies []int              // the body of each part, an index into Setup.Bodies
	// located is what its locators are and allow; nil if it has none.
	located *located
}

// axisFrame returns the frame that an axis carries, with opposite the one
// that moves against it; -1 stands for the base. Axes that carry others are
// never circular here.
func (p *placed) axisFrame(i int, opposite bool) frame {
	if i < 0 {
		return p.base
	}
	a := p.axes[i]
	f := p.axisFrame(a.carriedBy, false)
	if !a.setting {
		return f.then(p.joint(i, f))
	}
	name, value := p.jointName(a)+" setting", p.set[a.id]
	if opposite {
		name, value = name+" opposite", -value
	}
	if a.accuracy > 0 {
		f = f.then(motion.Joint{
			Name: name, Kind: a.kind, Slack: a.accuracy,
			Axis: f.home.Dir(a.direction), Point: f.home.Point(a.centre),
		})
	}
	if a.kind == motion.Linear {
		return f.at(geom.Shift(a.direction.Mul(value)))
	}
	return f.at(geom.Turn(a.centre, a.direction, value))
}

// joint returns the joint of a programmed axis that stands in f.
func (p *placed) joint(i int, f frame) motion.Joint {
	a := p.axes[i]
	j := motion.Joint{Name: p.jointName(a), Kind: a.kind, Slack: a.accuracy}
	direction, reversed := p.iso(i, f)
	j.Axis = direction
	j.Point = f.home.Point(a.centre)
	// ISO 841: the program moves the tool against the workpiece, so an axis
	// that carries the workpiece moves it the other way.
	gain := 1.0
	if !p.onTool(i, f) {
		gain = -gain
	}
	if reversed {
		gain = -gain
	}
	j.Gain[p.params[i]] = gain
	return j
}

func (p *placed) jointName(a *axis) string {
	if p.unit == machineUnit {
		return a.id
	}
	return p.unit + "/" + a.id
}

// onTool reports on which branch an axis stands: a machine's says so, a
// unit's stands where the unit does.
func (p *placed) onTool(i int, f frame) bool {
	if p.unit == machineUnit {
		return p.axes[i].onTool
	}
	return f.onTool
}

// iso returns the direction of an axis in the bed frame and whether the axis
// turns against it. ISO 841 counts A, B and C about +X, +Y and +Z, so a rotary
// axis that points the other way is one about the ISO direction, in reverse:
// the same motion, said in the standard's words.
func (p *placed) iso(i int, f frame) (direction r3.Vector, reversed bool) {
	a := p.axes[i]
	direction = f.home.Dir(a.direction)
	if a.kind == motion.Rotary {
		if _, sign := parallel(direction); sign < 0 {
			return direction.Mul(-1), !a.reversed
		}
	}
	return direction, a.reversed
}

// parallelTo is how far, in radians, an axis may lean and still count as
// parallel to a coordinate axis: less than any machine could be set to.
const parallelTo = 1e-6

// parallel returns which coordinate axis a unit vector is parallel to, 0, 1 or
// 2, and whether it points along it (1) or against it (-1); -1, 0 if to none.
func parallel(d r3.Vector) (axis, sign int) {
	for k, v := range [3]float64{d.X, d.Y, d.Z} {
		off := d
		switch k {
		case 0:
			off.X = 0
		case 1:
			off.Y = 0
		default:
			off.Z = 0
		}
		if off.Norm() <= parallelTo {
			if v < 0 {
				return k, -1
			}
			return k, 1
		}
	}
	return -1, 0
}

// carrierFrame returns the assembly's own frame as it moves with a part: what
// is drawn in the assembly's coordinates on that part stands in it.
func (p *placed) carrierFrame(i int) frame {
	s := p.parts[i]
	f := p.axisFrame(s.carriedBy, s.opposite)
	if p.unit == machineUnit && s.carriedBy >= 0 {
		f.onTool = p.axes[s.carriedBy].onTool
	}
	return f
}

// partFrame returns the frame of a part's solid.
func (p *placed) partFrame(i int) frame {
	return p.carrierFrame(i).at(geom.Shift(p.parts[i].at))
}
