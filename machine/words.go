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
// head where the tip does not move. For whoever stands elsewhere, the same is
// said in the directions of the bed frame, in brackets.
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
	subject, what := "the face "+side, "part"
	if !a.OnTool {
		angle = -angle // ISO 841: the workpiece moves the other way
	} else if subject, what = "the tip of the tool", "head"; math.Abs(a.Direction.Dot(tip)) < 0.9 {
		normal = tip
	} else {
		subject = "the side of the head " + side
	}
	turn := geom.Turn(r3.Vector{}, a.Direction, angle)
	at := squarest(a.Direction)
	return fmt.Sprintf("%s +90: %s turns %s (a point of the %s at %s goes to %s)",
		a.Letter, subject, direction(turn.Dir(normal), names, "to face along "),
		what, direction(at, coordinates, ""), direction(turn.Dir(at), coordinates, ""))
}

// squarest returns the first of +X, +Y and +Z that is squarest to a direction.
func squarest(d r3.Vector) r3.Vector {
	best := directions[0]
	for _, c := range directions[1:] {
		if math.Abs(d.Dot(c)) < math.Abs(d.Dot(best))-parallelTo {
			best = c
		}
	}
	return best
}

// coordinates are the directions of the bed frame.
var coordinates = []named{
	{r3.Vector{X: 1}, "+X"}, {r3.Vector{X: -1}, "-X"},
	{r3.Vector{Y: 1}, "+Y"}, {r3.Vector{Y: -1}, "-Y"},
	{r3.Vector{Z: 1}, "+Z"}, {r3.Vector{Z: -1}, "-Z"},
}

// tip is where the tool points: ISO 841 lays Z along the spindle, + away from
// the workpiece.
var tip = r3.Vector{Z: -1}

type named struct {
	direction r3.Vector
	name      string
}

// direction words a unit vector by the nearest name; if none is within half a
// degree, by its coordinates, after a word that leads to them.
func direction(d r3.Vector, names []named, otherwise string) string {
	for _, n := range names {
		if d.Dot(n.direction) > math.Cos(radians(0.5)) {
			return n.name
		}
	}
	// Rounded first, so that nothing prints as -0.00.
	c := [3]float64{d.X, d.Y, d.Z}
	for i, v := range c {
		c[i] = math.Round(v*100)/100 + 0
	}
	return fmt.Sprintf("%s(%.2f, %.2f, %.2f)", otherwise, c[0], c[1], c[2])
}
