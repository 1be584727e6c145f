package pictures

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/screws"
	"gridswing/render"
	"gridswing/render/drafting"
	"gridswing/render/measure"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// lengthsOf is how drawings write lengths where words do as told.
func lengthsOf(l text.Lengths) measure.Lengths { return measure.Lengths{Unit: l.Unit} }

// planner makes the drawing of one plan.
type planner struct {
	*machine.HolePlan
	setup  *machine.Setup
	shapes map[*machine.Solid]*raster.Shape
	back   geom.Pose // from the bed frame to the plan's
	plan   *drafting.Plan
	words  []string
	lines  map[int][][]drafting.Point // in the face, by body
}

// linesOf returns the edges of a body that lie in the face.
func (q *planner) linesOf(body int) [][]drafting.Point {
	if _, known := q.lines[body]; !known {
		q.lines[body] = linesIn(q.shapes[q.setup.Bodies[body].Solid].Edges(), q.in(body))
	}
	return q.lines[body]
}

// planOf returns the drawing of a plan of holes, and what is to be said of it.
func (sc *Scene) planOf(p *machine.HolePlan, l text.Lengths) (*drafting.Plan, []string) {
	pose := p.Pose()
	q := &planner{HolePlan: p, setup: sc.setup, shapes: sc.shapes, lines: map[int][][]drafting.Point{}, back: pose.Inverse(), plan: &drafting.Plan{
		Pitch: drafting.Point{X: p.Pitch[0], Y: p.Pitch[1]}, Rings: p.Rings, Lengths: lengthsOf(l)}}
	q.holes()
	q.directions()
	q.face()
	var seats []*machine.Seat
	for i := range sc.setup.Seats {
		if s := &sc.setup.Seats[i]; p.Carries(s) {
			seats = append(seats, s)
		}
	}
	for _, s := range seats {
		q.stand(s, len(seats) > 1)
	}
	q.pins()
	return q.plan, q.words
}

// at is where a point of the bed frame is on the plan.
func (q *planner) at(p r3.Vector) drafting.Point {
	p = q.back.Point(p)
	return drafting.Point{X: p.X, Y: p.Y}
}

// along is a direction of the bed frame on the plan.
func (q *planner) along(d r3.Vector) drafting.Point {
	d = q.back.Dir(d)
	return drafting.Point{X: d.X, Y: d.Y}
}

// nominal is the diameter of a thread, mm; 0 where it is none that the tables know.
func nominal(thread string) float64 {
	if size, err := screws.Find(thread); err == nil {
		return size.Diameter
	}
	d := 0.0
	_, _ = fmt.Sscanf(thread, "M%f", &d) // a thread begins so; 0 where it does not
	return d
}

func (q *planner) holes() {
	for i := range q.Places {
		h := &q.Places[i]
		q.plan.Holes = append(q.plan.Holes, drafting.Hole{
			Name: h.Name, At: drafting.Point{X: h.X, Y: h.Y}, Bore: h.Bore, Thread: nominal(h.Thread), Through: h.Through})
	}
	for _, s := range q.Slots {
		q.plan.Slots = append(q.plan.Slots, drafting.Slot{Name: s.Name, Y: s.Y, Width: s.Width})
	}
	for _, c := range q.Columns {
		q.plan.Columns = append(q.plan.Columns, drafting.Label{Name: c.Name, At: c.At})
	}
	for _, r := range q.Rows {
		q.plan.Rows = append(q.plan.Rows, drafting.Label{Name: r.Name, At: r.At})
	}
}

// directions turns the plan so that the operator's side is at the bottom, or up is up of a face that
// looks sideways, and shows where the machine's axes point.
func (q *planner) directions() {
	_, upward, toward := render.Front.Axes(q.setup.Up)
	pose := q.Pose()
	normal := pose.Dir(r3.Vector{Z: 1})
	up := q.along(upward)
	if math.Abs(normal.Dot(upward)) > math.Sqrt2/2 {
		up = q.along(toward.Mul(-1))
	}
	q.plan.Turn = int(math.Round((math.Pi/2 - math.Atan2(up.Y, up.X)) / (math.Pi / 2)))
	q.plan.Operator = q.along(toward)
	for _, a := range machineAxes {
		q.plan.Axes = append(q.plan.Axes, drafting.Axis{Name: a.name, Along: q.along(a.along)})
	}
}

// in returns a body's pose in the plan's frame, every axis at zero.
func (q *planner) in(body int) geom.Pose { return q.back.Mul(q.setup.Bodies[body].Chain.Home) }

// face takes the edges of the face from its solid, but for the mouths of the holes that are drawn anyway.
func (q *planner) face() {
	mesh := q.setup.Bodies[q.Body].Solid.Mesh
	for _, line := range q.linesOf(q.Body) {
		if !q.mouth(line) {
			q.plan.Face = append(q.plan.Face, line)
		}
	}
	if len(q.plan.Face) == 0 {
		q.plan.Body = hull(mesh, q.in(q.Body), math.Inf(1))
	}
}

// mouth reports whether a line is round one of the holes, and not much larger.
func (q *planner) mouth(line []drafting.Point) bool {
	if line[0] != line[len(line)-1] {
		return false
	}
	low, high := line[0], line[0]
	for _, p := range line {
		low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
		high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
	}
	width, height := high.X-low.X, high.Y-low.Y
	return slices.ContainsFunc(q.plan.Holes, func(h drafting.Hole) bool {
		d := max(h.Bore, h.Thread, h.Through)
		return math.Hypot((low.X+high.X)/2-h.At.X, (low.Y+high.Y)/2-h.At.Y) < 0.02*d && max(width, height) < 1.25*d
	})
}

// stand adds a component: where it stands, what locates and what holds it.
func (q *planner) stand(s *machine.Seat, several bool) {
	whose := ""
	if several {
		whose = " of " + s.Unit
	}
	located := q.locators(s, whose)
	held := q.screws(s)
	q.plan.Stands = append(q.plan.Stands, drafting.Stand{Name: s.Unit, Outline: q.footprint(s.Unit), Spots: q.spots(s)})
	words := "Here stands " + s.Unit
	if len(located) > 0 {
		words += ": " + strings.Join(located, ", ")
	}
	if held != "" {
		words += "; " + held
	}
	q.words = append(q.words, words)
}

// locatorNames are what locators are called on a plan.
var locatorNames = map[string]string{
	machine.OwnPins: "pin", machine.SetPins: "set pin", machine.Dowels: "dowel", machine.Keys: "key", machine.Stops: "stop",
}

// locators adds what locates a component, and words it.
func (q *planner) locators(s *machine.Seat, whose string) (words []string) {
	for i := range s.Locators {
		l := &s.Locators[i]
		name := fmt.Sprintf("%s %d", locatorNames[l.Kind], i+1)
		d := drafting.Locator{At: q.at(l.At), Diameter: l.Diameter, Hole: l.Hole, Words: name + whose}
		kind := ""
		switch {
		case l.Kind == machine.Keys:
			d.Mark, d.Hole = drafting.Key, ""
			d.Words += ", slot " + l.Hole
			words = append(words, name+" in slot "+l.Hole)
		case l.Kind == machine.Stops:
			d.Mark, d.Hole = drafting.Stop, ""
			words = append(words, name)
		case l.Relieved:
			d.Mark, kind = drafting.Relieved, " (relieved)"
			d.Words += ", relieved"
			fallthrough
		default:
			if kind == "" {
				kind = " (round)"
			}
			words = append(words, name+" in "+l.Hole+kind)
		}
		q.plan.Locators = append(q.plan.Locators, d)
	}
	return words
}

// screws adds what holds a component, and words it: of each size which holes.
func (q *planner) screws(s *machine.Seat) string {
	holes := map[string][]string{}
	var sizes []string
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		size := f.Thread
		if f.Length > 0 {
			size += " × " + text.Demanded(f.Length)
		}
		d := drafting.Screw{At: q.at(f.At), Diameter: nominal(f.Thread), Words: f.Thread}
		hole := ""
		switch u := f.Under; {
		case u == nil && f.Optional:
			continue
		case u == nil:
			d.Words += ", over no hole"
			hole = "over no hole"
		case u.Slot:
			d.Words, hole = "slot "+u.Hole+" "+d.Words, "slot "+u.Hole
		case u.Grid != q.Grid:
			d.Words, hole = u.Grid+" "+u.Hole+" "+d.Words, u.Grid+" "+u.Hole
		default:
			d.Hole, hole = u.Hole, u.Hole
		}
		if f.FromBelow {
			d.Words += " from below"
			size += " from below"
		}
		if holes[size] == nil {
			sizes = append(sizes, size)
		}
		holes[size] = append(holes[size], hole)
		q.plan.Screws = append(q.plan.Screws, d)
	}
	var list []string
	for _, size := range sizes {
		words := "screws"
		if len(holes[size]) == 1 {
			words = "screw"
		}
		list = append(list, fmt.Sprintf("%d %s %s: %s", len(holes[size]), words, size, strings.Join(holes[size], ", ")))
	}
	return strings.Join(list, "; ")
}

// footprint is the outline of what of a component lies on the face.
func (q *planner) footprint(unit string) (list [][]drafting.Point) {
	lowest := math.Inf(1)
	for i := range q.setup.Bodies {
		if b := &q.setup.Bodies[i]; b.Unit == unit {
			list = append(list, outer(q.linesOf(i))...)
			for _, c := range b.Solid.Audit.Bounds.Corners() {
				pose := q.in(i)
				lowest = min(lowest, pose.Point(c).Z)
			}
		}
	}
	if len(list) > 0 {
		return list
	}
	for i := range q.setup.Bodies { // nothing flat lies there
		if b := &q.setup.Bodies[i]; b.Unit == unit {
			if line := hull(b.Solid.Mesh, q.in(i), lowest+1); line != nil {
				list = append(list, line)
			}
		}
	}
	return list
}

// pins adds the retractable pins of the face that locate nothing.
func (q *planner) pins() {
	holes := map[bool][]string{}
	for i := range q.setup.Pins {
		p := &q.setup.Pins[i]
		if p.Unit != q.Unit || p.Grid != q.Grid || p.Locates != "" {
			continue
		}
		d := drafting.Locator{At: q.at(p.At), Diameter: p.Diameter, Hole: p.Hole, Mark: drafting.Set, Words: "set"}
		if p.Withdrawn {
			d.Mark, d.Words = drafting.Withdrawn, "withdrawn"
		}
		holes[p.Withdrawn] = append(holes[p.Withdrawn], p.Hole)
		q.plan.Locators = append(q.plan.Locators, d)
	}
	if list := holes[false]; len(list) > 0 {
		q.words = append(q.words, "Pins that stand up and locate nothing: "+strings.Join(list, ", "))
	}
	if list := holes[true]; len(list) > 0 {
		q.words = append(q.words, "Pins withdrawn: "+strings.Join(list, ", "))
	}
}
