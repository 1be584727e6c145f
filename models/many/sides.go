package many

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"
)

// side is an operation of a tool: a direction from which two features of a
// part are cut, or one of each part.
type side struct {
	tool    int // as numbered
	name    string
	parts   string // as a setup file says it
	axis, u r3.Vector
	// at are points on the part's face, in the part's coordinates.
	at []r3.Vector
}

// sides returns what a tool does: four features on top, two at an end, two on a
// side, two at an angle. Ends, sides and angles go by turns.
func (t *tool) sides(i int) []side {
	both := `parts = ["front", "back"]`
	x, y, z := r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	here := i % 2
	out := float64(2*here - 1) // the end of a part that is one of the block's
	left := float64(1 - 2*(i/2%2))
	slant := i
	if t.kind == "reamer" || t.kind == "tap" {
		slant -= 4 // into the holes of the drills four places before
	}
	sin, cos := math.Sincos(float64(25+5*(slant%7)) * math.Pi / 180)
	s, c := math.Sincos(float64(45*slant) * math.Pi / 180)
	own := fmt.Sprintf("part = %q", parts[here].name)
	list := []side{
		{name: "top", parts: both, axis: z, u: x, at: []r3.Vector{{X: -14, Z: 62}, {X: 14, Z: 62}}},
		{name: "end", parts: own, axis: y.Mul(out), u: x, at: []r3.Vector{{X: -12, Y: 25 * out, Z: 50}, {X: 12, Y: 25 * out, Z: 50}}},
		{name: "side", parts: both, axis: x.Mul(left), u: y, at: []r3.Vector{{X: 30 * left, Z: 50}}},
		{
			name: "angle", parts: own, axis: r3.Vector{X: sin * c, Y: sin * s, Z: cos}, u: r3.Vector{X: -s, Y: c},
			at: []r3.Vector{{X: 8 * c, Y: 8 * s, Z: 62}, {X: 15 * c, Y: 15 * s, Z: 62}},
		},
	}
	for k := range list {
		list[k].tool = i + 1
	}
	return list
}

// operation writes an operation with its features.
func (t *tool) operation(w *strings.Builder, s *side) {
	fmt.Fprintf(w, "\n[[operation]]\nname = \"T%d %s\"\n%s\ntool = %d\napproach = 5\nretract = 25\n", s.tool, s.name, s.parts, s.tool)
	for i, p := range s.at {
		switch t.kind {
		case "face mill":
			t.path(w, s, p, 6)
		case "end mill":
			if s.name == "angle" && i == 0 {
				t.contour(w, s, p)
			} else {
				t.pocket(w, s, p)
			}
		case "ball end mill":
			t.contour(w, s, p)
		case "chamfer mill":
			t.path(w, s, p, 4)
		default:
			fmt.Fprintf(w, "\n[[operation.hole]]\nat = [%s]\naxis = %s\ndepth = 12\ndepth_to = \"tip\"\n", vector(p), vector(s.axis))
		}
	}
}

// pocket is 4 wider than the cutter and 6 deep.
func (t *tool) pocket(w *strings.Builder, s *side, p r3.Vector) {
	half := s.u.Add(s.axis.Cross(s.u)).Mul(t.dc/2 + 2)
	fmt.Fprintf(w, "\n[[operation.pocket]]\nfrom = %s\nto = %s\naxis = %s\nalong = %s\n",
		vector(p.Sub(half)), vector(p.Add(half).Sub(s.axis.Mul(6))), vector(s.axis), vector(s.u))
}

// path leads 1 deep round a small square.
func (t *tool) path(w *strings.Builder, s *side, p r3.Vector, half float64) {
	u, v := s.u.Mul(half), s.axis.Cross(s.u).Mul(half)
	p = p.Sub(s.axis)
	var points []string
	for _, d := range []r3.Vector{u.Add(v), v.Sub(u), u.Add(v).Mul(-1), u.Sub(v), u.Add(v)} {
		points = append(points, vector(p.Add(d)))
	}
	fmt.Fprintf(w, "\n[[operation.face]]\npoints = [%s]\nin_layers = true\naxis = %s\n", strings.Join(points, ", "), vector(s.axis))
}

// contour leads along u, 2 deep, and leans the tool by 20 degrees more on the way,
// never downward.
func (t *tool) contour(w *strings.Builder, s *side, p r3.Vector) {
	var points, axes []string
	lean := s.axis.Cross(s.u)
	if lean.Z < 0 {
		lean = lean.Mul(-1)
	}
	lean = lean.Add(s.u).Normalize()
	for k := range 5 {
		a := float64(5*k+5) * math.Pi / 180
		points = append(points, vector(p.Sub(s.axis.Mul(2)).Add(s.u.Mul(float64(4*k-8)))))
		axes = append(axes, vector(s.axis.Mul(math.Cos(a)).Add(lean.Mul(math.Sin(a)))))
	}
	fmt.Fprintf(w, "\n[[operation.contour]]\npoints = [%s]\naxes = [%s]\ntip_control = true\n", strings.Join(points, ", "), strings.Join(axes, ", "))
}

func vector(v r3.Vector) string { return fmt.Sprintf("[%.9f, %.9f, %.9f]", v.X, v.Y, v.Z) }
