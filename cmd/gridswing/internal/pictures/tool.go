package pictures

import (
	"fmt"
	"math"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"

	"github.com/golang/geo/r3"
)

// toolBodies returns the zones of one of the setup's tools, ready to be drawn.
func (sc *Scene) toolBodies(tool int) []machine.Body {
	if known, ok := sc.tools[tool]; ok {
		return known
	}
	var list []machine.Body
	for _, b := range sc.setup.ToolBodies(tool) {
		list = append(list, b.Body)
	}
	sc.ready(list)
	sc.tools[tool] = list
	return list
}

// ready prepares the solids of bodies that are not in the setup.
func (sc *Scene) ready(bodies []machine.Body) {
	for i := range bodies {
		if solid := bodies[i].Solid; sc.shapes[solid] == nil {
			sc.shapes[solid] = sc.shapeOf(solid)
		}
	}
}

// toolIndex returns the place of a tool by its number, -1 if there is none.
func (sc *Scene) toolIndex(number int) int {
	for i, t := range sc.setup.Tools {
		if t.Number == number {
			return i
		}
	}
	return -1
}

// cast is who is in the picture of a finding.
type cast struct {
	tool   int             // index into Setup.Tools; -1: none
	zones  []machine.Body  // of the tool
	others []machine.Body  // of another tool, or what the changer sweeps
	names  map[string]bool // of the two bodies that the finding is of
}

// castOf returns the tool of a finding, and those of its bodies that are not in the setup.
func (sc *Scene) castOf(f *check.Finding) *cast {
	c := &cast{tool: -1, names: map[string]bool{}}
	if f.Tool != nil {
		c.tool = sc.toolIndex(*f.Tool)
	}
	if c.tool >= 0 {
		c.zones = sc.toolBodies(c.tool)
	}
	for _, name := range f.Bodies {
		if name == "" {
			continue
		}
		c.names[name] = true
		if sc.body(name) < 0 && !named(c.zones, name) {
			c.others = append(c.others, sc.elsewhere(name)...)
		}
	}
	return c
}

func named(bodies []machine.Body, name string) bool {
	for i := range bodies {
		if bodies[i].Name == name {
			return true
		}
	}
	return false
}

// elsewhere finds a body among the other tools and in what the changer sweeps.
func (sc *Scene) elsewhere(name string) []machine.Body {
	if s := sc.setup.ToolChange; s != nil && named(s.Zones, name) {
		for i := range s.Zones {
			if s.Zones[i].Name == name {
				sc.ready(s.Zones[i : i+1])
				return s.Zones[i : i+1]
			}
		}
	}
	for i, t := range sc.setup.Tools {
		if strings.HasPrefix(name, fmt.Sprintf("T%d ", t.Number)) {
			return sc.toolBodies(i)
		}
	}
	return nil
}

// withTool reports whether a finding is of a tool that can be shown where it is.
func (sc *Scene) withTool(f *check.Finding) bool {
	return f.Tool != nil && sc.toolIndex(*f.Tool) >= 0 && sc.setup.Spindle != nil && len(f.At) > 0
}

// atTool shows a tool where a finding has it: upright on the page, cut through its axis and
// the tightest place, so that the gap lies in the plane of the page. The tool stands
// whole in the cut; of what meets, all is cut, so that the overlap is seen. What is
// taken away before the cut stays as a veil.
func (sc *Scene) atTool(r *check.Report, f *check.Finding) *render.Picture {
	c := sc.castOf(f)
	g := sc.geometryOf(f, c.tool)
	return &render.Picture{
		Lengths: lengthsOf(sc.lengths),
		Title:   subject(f),
		Caption: sc.explain(r, f, &g, c.tool),
		Up:      sc.setup.Up,
		Items:   sc.staged(f, c),
		Marks:   sc.toolMarks(f, g),
		Close:   &render.CloseUp{Center: g.center, Radius: g.radius, Across: g.gap, Facing: g.facing, Upright: g.axis},
	}
}

// explain says where the axes stand, why, which tool it is, and how it is looked at.
func (sc *Scene) explain(r *check.Report, f *check.Finding, g *geometry, tool int) []string {
	t, through := sc.setup.Tools[tool], "the tool's axis"
	if math.Abs(g.tip.Sub(g.center).Dot(g.facing)) > throughAxis {
		through = "the tightest place"
	}
	lines := []string{r.Setup + ", " + sc.positions(f.Params)}
	stock := "as it is loaded"
	if f.Line > 0 {
		lines = append(lines, "Line "+text.LineOf(f))
		if len(sc.stockAt(f)) > 0 {
			stock = "as it is then"
		}
		if f.Question == check.Gouging {
			stock = "shown as it is to be when it is finished"
		}
	}
	if f.Reason != "" {
		lines = append(lines, f.Reason)
	}
	return append(lines, fmt.Sprintf("T%d %s, stick-out %s. Cut through %s; what stood before the cut is a veil, the stock is %s.",
		t.Number, t.Name, sc.length(t.StickOut), through, stock))
}

// staged places the tool and all that may be near it.
func (sc *Scene) staged(f *check.Finding, c *cast) []render.Item {
	var items []render.Item
	cut := sc.stockAt(f)
	add := func(b *machine.Body, it render.Item) {
		it.Shape, it.Pose = sc.shapes[b.Solid], b.Chain.Pose(f.Params)
		if shape, is := cut[sc.body(b.Name)]; is {
			it.Shape = shape
		}
		if part := sc.finished(f, b); part != nil {
			it.Name, it.Shape, it.Pose = "finished "+part.Name, sc.shapes[part.Finished], part.Chain.Pose(f.Params)
		}
		if c.names[b.Name] && it.Emphasis != render.Ghost {
			it.Emphasis = emphasisOf[f.Verdict]
		}
		it.Yields = !c.names[b.Name]
		if it.Shape != nil {
			items = append(items, it)
		}
	}
	for i := range sc.setup.Bodies {
		b := &sc.setup.Bodies[i]
		if b.Role == "tool" || b.Unit == "machine" && b.Role != "table" && !b.OnTool && !c.names[b.Name] {
			continue
		}
		it := render.Item{Name: b.Name, Unit: unitName(b), Group: sc.groups[b.Unit]}
		if onTable(b) && b.Unit != "machine" {
			add(b, render.Item{Emphasis: render.Ghost, Group: it.Group})
		}
		add(b, it)
	}
	for _, list := range [][]machine.Body{c.others, c.zones} {
		for i := range list {
			b := &list[i]
			whole := f.Verdict != check.Contact || !c.names[b.Name]
			add(b, render.Item{Name: b.Name, Unit: b.Unit, Whole: whole && b.Role == "tool"})
		}
	}
	return items
}

// geometry is where a tool stands and how it is looked at; bed frame, mm.
type geometry struct {
	axis        r3.Vector // unit, from the tip to the spindle
	tip, place  r3.Vector // foremost point; tightest place, the tip if none is known
	known       bool      // a tightest place is known
	gap, facing r3.Vector
	center      r3.Vector
	radius      float64
}

// Of a picture, in mm: how much more than tip and place is shown on either side, and the
// least and greatest radius.
const (
	around      = 30.0
	closest     = 55.0
	widest      = 400.0
	leastMiss   = 0.1 // degrees that can be seen
	throughAxis = 0.5 // so far the cut may be from the tool's axis to be called one through it
)

func (sc *Scene) geometryOf(f *check.Finding, tool int) geometry {
	pose := sc.setup.Spindle.Chain.Pose(f.Params)
	g := geometry{axis: pose.Dir(r3.Vector{Z: 1})}
	g.tip = pose.Point(r3.Vector{Z: -sc.setup.Tools[tool].LPR()})
	g.place = g.tip
	if a, b, ok := f.Witness(); ok {
		g.known, g.place, g.gap = true, a.Add(b).Mul(0.5), b.Sub(a)
	}
	apart := g.place.Sub(g.tip).Norm()
	g.center = g.tip.Add(g.place).Mul(0.5)
	g.radius = min(max(0.5*apart+around, closest, 1.5*g.gap.Norm()), widest)
	if !g.known { // all of the tool, and what it stands over
		length := sc.setup.Tools[tool].LPR()
		g.center = g.tip.Add(g.axis.Mul(0.35 * length))
		g.radius = min(0.6*length+around, widest)
	}
	g.facing = g.axis.Cross(sc.beside(f, &g))
	if _, _, toward := render.Isometric.Axes(sc.setup.Up); g.facing.Dot(toward) < 0 {
		g.facing = g.facing.Mul(-1)
	}
	g.center = g.center.Add(g.facing.Mul(g.place.Sub(g.center).Dot(g.facing))) // the cut goes through the place
	return g
}

// beside returns the direction that is to lie across the page, square to the tool: that
// of the gap if it is not along the tool; else that of the tightest place seen from the tool's axis, in
// whose plane the normal of a round body lies; else that in which the
// tool's axis is off the feature's; else the operator's right.
func (sc *Scene) beside(f *check.Finding, g *geometry) r3.Vector {
	square := func(v r3.Vector) r3.Vector { return v.Sub(g.axis.Mul(v.Dot(g.axis))) }
	const least = 0.05 // mm
	right, _, toward := render.Front.Axes(sc.setup.Up)
	off := r3.Vector{}
	if axis, ok := sc.featureAxis(f); ok {
		off = square(axis).Mul(20) // a degree is 0.35
	}
	for _, v := range []r3.Vector{square(g.gap), square(g.place.Sub(g.tip)), off, square(right), square(toward)} {
		if v.Norm() > least {
			return v.Normalize()
		}
	}
	return square(toward)
}

// featureAxis returns the axis of a finding's feature in the bed frame.
func (sc *Scene) featureAxis(f *check.Finding) (axis r3.Vector, ok bool) {
	if o, q := sc.feature(f.Operation, f.Feature); q != nil && len(q.Axes) > 0 {
		pose := sc.setup.Parts[o.Part].Chain.Pose(f.Params)
		return pose.Dir(q.Axes[0]), true
	}
	return r3.Vector{}, false
}

// toolMarks points at the tightest place and at the tip, and draws the axis of a feature
// that the tool's is not along.
func (sc *Scene) toolMarks(f *check.Finding, g geometry) []render.Mark {
	list := append(sc.marks(f), render.Mark{Point: g.tip, Label: "tip"})
	if axis, ok := sc.featureAxis(f); ok && f.Question == check.Presents && axis.Angle(g.axis).Degrees() > leastMiss {
		half := axis.Mul(0.5 * g.radius)
		list = append(list, render.Mark{Point: g.tip.Add(half), Gap: half.Mul(2), Label: "axis of " + f.Feature})
	}
	return list
}
