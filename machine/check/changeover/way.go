package changeover

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// leastHeight is from how high, in mm, something is lowered at least where no way in and no
// free height are stated (common practice, no source: a hand fits under it).
const leastHeight = 50.0

// wayIn returns the points that lead to the seat: those that the setup file has, or one
// straight over it.
func (c *scene) wayIn(unit string, others []string) ([]machine.Waypoint, *Way) {
	if path := handling(c.setup, unit).Path; path != nil {
		return path, &Way{Stated: true, Words: "the way that " + c.setup.File + " states"}
	}
	w := &Way{FreeHeight: c.setup.Lifting.FreeHeight}
	why := "the free height that " + c.setup.File + " states"
	if w.FreeHeight == 0 {
		w.FreeHeight = c.freeHeight(unit, others)
		why = "no way in and no free height are stated; at that height it is over all that stands there"
	}
	w.Words = fmt.Sprintf("straight along the normal of its seat, %s mm: %s", number(w.FreeHeight), why)
	x := machine.Waypoint{}
	x.Shift.Z = w.FreeHeight
	return []machine.Waypoint{x, {}}, w
}

// freeHeight is how far above its seat a component is over all that stands there, the
// machine left out, by the demand and rounded up to 10 mm.
func (c *scene) freeHeight(unit string, others []string) float64 {
	_, _, normal := c.directions()
	along := c.atLoading(normal)
	top, foot := math.Inf(-1), math.Inf(1)
	for i := range c.setup.Bodies {
		b := &c.setup.Bodies[i]
		if b.Unit == machineUnit || b.OnTool {
			continue
		}
		chain := c.chain(i)
		box := boundsIn(b, chain.Pose(motion.Params{}), along)
		if b.Unit == unit {
			foot = min(foot, box[0])
		} else if slices.Contains(others, b.Unit) {
			top = max(top, box[1])
		}
	}
	return max(leastHeight, 10*math.Ceil((top-foot+c.setup.Demand.Loading)/10))
}

// boundsIn is from where to where the box around a body reaches along a direction.
func boundsIn(b *machine.Body, pose geom.Pose, along r3.Vector) (reach [2]float64) {
	reach = [2]float64{math.Inf(1), math.Inf(-1)}
	for _, corner := range b.Solid.Audit.Bounds.Corners() {
		at := pose.Point(corner).Dot(along)
		reach[0], reach[1] = min(reach[0], at), max(reach[1], at)
	}
	return reach
}

// beside is how far, in mm, beyond its clearance a locator may be beside its hole and
// still count as over it.
const beside = 0.01

// lowest is how low over its seat a component comes while a locator of it is not over its
// hole, mm; +Inf if it never is beside. A leg that begins beside counts with its lower end.
// Keys are only beside across their slot.
func (c *scene) lowest(in []machine.Waypoint) float64 {
	low := math.Inf(1)
	if !c.pinned() {
		return low
	}
	for i := 1; i < len(in); i++ {
		a, b := in[i-1], in[i]
		n := pieces(a, b)
		for piece := range n {
			f, g := float64(piece)/float64(n), float64(piece+1)/float64(n)
			for k := range c.seat.Locators {
				if max(c.off(k, a, b, f), c.off(k, a, b, g)) > c.seat.Locators[k].Clearance.Most+beside {
					down := b.Shift.Z - a.Shift.Z
					low = min(low, a.Shift.Z+f*down, a.Shift.Z+g*down)
				}
			}
		}
	}
	return low
}

// pieces is into how many a leg is cut so that each turns by a degree at most: what is over its
// hole at both ends of a whole turn, and not in between, is seen beside it.
func pieces(a, b machine.Waypoint) int {
	turn := math.Abs(b.Turn - a.Turn)
	if a.About != b.About {
		turn = math.Abs(a.Turn) + math.Abs(b.Turn)
	}
	return max(1, int(math.Ceil(turn*180/math.Pi)))
}

// engaged says that a way begins with pins or keys of its own in their holes already: how
// they come there is not told by it. Empty if it does not.
func (c *scene) engaged(in []machine.Waypoint) string {
	if !c.pinned() {
		return ""
	}
	l := &c.seat.Locators[0]
	out := l.Length
	if out == 0 {
		out = l.Diameter // common practice, no source: they stand out by one diameter at least
	}
	if l.Kind != machine.OwnPins && l.Kind != machine.Keys || in[0].Shift.Z >= out {
		return ""
	}
	return fmt.Sprintf("its way begins %s mm over the face with its %s in their holes: how it gets there is not told", number(in[0].Shift.Z), plainKind(l.Kind))
}

// off is how far beside its hole a locator is on the leg from a to b, f of it behind, mm.
func (c *scene) off(locator int, a, b machine.Waypoint, f float64) float64 {
	l := &c.seat.Locators[locator]
	way := motion.Chain{Joints: c.leg(a, b), Home: geom.Identity()}
	pose := way.Pose(motion.Params{f})
	d := pose.Point(l.At).Sub(l.At)
	x, y, _ := c.directions()
	if l.Kind == machine.Keys {
		return math.Abs(d.Dot(y))
	}
	return math.Hypot(d.Dot(x), d.Dot(y))
}

// slides reports whether a component comes in lower beside its holes than set pins stand out,
// so that they can only be set when it is there.
func (c *scene) slides(in []machine.Waypoint) bool {
	low := c.lowest(in)
	for _, p := range c.setup.Pins {
		if p.Locates == c.seat.Unit && low < p.Height {
			return true
		}
	}
	return false
}

// standsOut is how many diameters a pin or key whose length is not stated is taken to stand
// out at most (common practice, no source: pins that stand out by one to two locate).
const standsOut = 4.0

// pinsPass says whether pins or keys of its own get over the face: clear, or what is wrong.
// Assumed says that a length that is not stated was taken for one.
func (c *scene) pinsPass(in []machine.Waypoint) (v check.Verdict, reason string, assumed bool) {
	low := c.lowest(in)
	if math.IsInf(low, 1) {
		if reason = c.engaged(in); reason != "" {
			return check.Unproven, reason, false
		}
		return check.Clear, "", false
	}
	l := &c.seat.Locators[0]
	if l.Kind != machine.OwnPins && l.Kind != machine.Keys {
		return check.Clear, "", false
	}
	at := fmt.Sprintf("it comes in beside their holes, %s mm over the face", number(low))
	if l.Length > 0 {
		if low < l.Length {
			return check.Contact, fmt.Sprintf("its pins stand out %s mm, and %s", number(l.Length), at), false
		}
		return check.Clear, "", false
	}
	if l.Diameter == 0 || low < standsOut*l.Diameter {
		return check.Unproven, fmt.Sprintf("how far its %s stand out is not stated (pin_length of its seat), and %s", plainKind(l.Kind), at), false
	}
	return check.Clear, "", true
}

func plainKind(kind string) string {
	if kind == machine.Keys {
		return "keys"
	}
	return "pins"
}
