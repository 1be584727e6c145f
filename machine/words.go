package machine

import (
	"fmt"
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// words says what a rotary axis does at +90 degrees, every other axis at zero,
// to an operator who sees +X to the right and `up` up: one at -Y of a vertical
// machine, looking along +Y; one behind the spindle of a horizontal machine.
//
// An axis that carries the workpiece is described by a face of the part, one
// that carries the tool by the way the tool's tip points, or by a face of the
// head where the tip does not move.
func words(a *Axis, up r3.Vector) string {
	right := r3.Vector{X: 1}
	toward := right.Cross(up) // to the operator
	if toward.Norm() < 1e-6 { // +X is up: no left and right of this kind
		right = r3.Vector{Y: 1}
		toward = right.Cross(up)
	}
	toward = toward.Normalize()
	right = up.Cross(toward)
	names := []named{
		{up, "up"}, {up.Mul(-1), "down"},
		{right, "to the right"}, {right.Mul(-1), "to the left"},
		{toward, "towards the operator"}, {toward.Mul(-1), "away from the operator"},
	}
	angle := radians(90)
	if a.Reversed {
		angle = -angle
	}
	side, normal := "towards the operator", toward
	if math.Abs(a.Direction.Dot(toward)) > 0.9 {
		side, normal = "on top", up
	}
	subject := "the face " + side
	if !a.OnTool {
		angle = -angle // ISO 841: the workpiece moves the other way
	} else if subject = "the tip of the tool"; math.Abs(a.Direction.Dot(tip)) < 0.9 {
		normal = tip
	} else {
		subject = "the side of the head " + side
	}
	turn := geom.Turn(r3.Vector{}, a.Direction, angle)
	return fmt.Sprintf("%s +90: %s turns %s", a.Letter, subject, direction(turn.Dir(normal), names))
}

// tip is where the tool points: ISO 841 lays Z along the spindle, + away from
// the workpiece.
var tip = r3.Vector{Z: -1}

type named struct {
	direction r3.Vector
	name      string
}

// direction words a unit vector by the nearest name, in coordinates if none
// is within half a degree.
func direction(d r3.Vector, names []named) string {
	for _, n := range names {
		if d.Dot(n.direction) > math.Cos(radians(0.5)) {
			return n.name
		}
	}
	return fmt.Sprintf("to face along (%.2f, %.2f, %.2f)", d.X+0, d.Y+0, d.Z+0)
}
