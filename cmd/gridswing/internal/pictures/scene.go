// Package pictures draws a setup, and what a check found of it, and writes the
// pictures as PNG.
//
// Start with Prepare, once for a setup; Scene.Whole and Scene.Setup
// show it in any position and view, Scene.WriteSet draws what goes with a report.
package pictures

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/render"
	"gridswing/render/raster"
)

// Scene is a setup whose solids are ready to be drawn.
type Scene struct {
	Animate bool // WriteSet animates the way through the critical positions, too: it takes as long as all other pictures
	setup   *machine.Setup
	shapes  map[*machine.Solid]*raster.Shape
	trees   *proof.Trees           // keep shapes, too
	groups  map[string]int         // by unit; 0 is the machine
	order   []int                  // of the axes in captions
	tools   map[int][]machine.Body // zones of the tools that are drawn, by their place in the setup
	jobs    int
	lengths text.Lengths                  // in which lengths are written
	stocks  *Stocks                       // nil unless a program was looked at
	cut     map[int]map[int]*raster.Shape // stocks of findings that are ready to be drawn, by line and body
}

// hues is how many colours there are for what stands on the table; the machine
// and the tool are neutral.
const hues = 5

// Prepare makes every solid of the setup ready, each once, on so many cores (0: all).
func Prepare(ctx context.Context, s *machine.Setup, jobs int) (*Scene, error) {
	return PrepareShared(ctx, s, proof.NewTrees(), jobs)
}

// PrepareShared is Prepare for setups that have solids in common: those that are known from another
// setup with the same trees are ready already.
func PrepareShared(ctx context.Context, s *machine.Setup, trees *proof.Trees, jobs int) (*Scene, error) {
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	sc := &Scene{setup: s, jobs: jobs, lengths: text.NewLengths(geom.Millimetre, nil), trees: trees, shapes: map[*machine.Solid]*raster.Shape{}, groups: map[string]int{"machine": 0}, tools: map[int][]machine.Body{}}
	for k := range s.Axes {
		sc.order = append(sc.order, k)
	}
	slices.SortStableFunc(sc.order, func(a, b int) int { return check.ByLetter(s.Axes[a].Letter, s.Axes[b].Letter) })
	var solids []*machine.Solid
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if _, known := sc.shapes[b.Solid]; !known {
			sc.shapes[b.Solid] = nil
			solids = append(solids, b.Solid)
		}
		if _, known := sc.groups[b.Unit]; !known && !b.OnTool {
			sc.groups[b.Unit] = 1 + (len(sc.groups)-1)%hues
		}
	}
	shapes := make([]*raster.Shape, len(solids))
	err := proof.InParallel(ctx, jobs, len(solids), func(i int) error {
		shapes[i] = sc.shapeOf(solids[i])
		return nil
	})
	for i, solid := range solids {
		sc.shapes[solid] = shapes[i]
	}
	return sc, err
}

// shapeKey is all that a shape depends on.
type shapeKey struct {
	mesh  *geom.Mesh
	solid bool
}

func (sc *Scene) shapeOf(s *machine.Solid) *raster.Shape {
	a := &s.Audit
	key := shapeKey{s.Mesh, a.Closed && a.Oriented && !a.InsideOut}
	return proof.Fact(sc.trees, key, func() *raster.Shape { return render.Prepare(key.mesh, key.solid) })
}

// Home returns the position in which every axis rests.
func Home(s *machine.Setup) motion.Params {
	var p motion.Params
	for k := range s.Axes {
		p[k] = s.Axes[k].Home
	}
	return p
}

// Whole shows everything with the axes at p, no body emphasised. What encloses
// the rest, guards and doors, is a veil.
func (sc *Scene) Whole(p motion.Params, view render.View) *render.Picture {
	return sc.plain(p, view, func(*machine.Body) bool { return true })
}

// Setup shows the table and what stands on it with the axes at p, no body
// emphasised.
func (sc *Scene) Setup(p motion.Params, view render.View) *render.Picture {
	return sc.plain(p, view, onTable)
}

func (sc *Scene) plain(p motion.Params, view render.View, wanted func(*machine.Body) bool) *render.Picture {
	return &render.Picture{
		Title:   sc.setup.Name,
		Caption: []string{sc.setup.Machine + ", " + sc.positions(p)},
		View:    view,
		Up:      sc.setup.Up,
		Lengths: lengthsOf(sc.lengths),
		Items:   sc.items(p, nil, wanted),
	}
}

func onTable(b *machine.Body) bool { return b.Role == "table" || b.Unit != "machine" && !b.OnTool }

// items places the wanted bodies, emphasised as told.
func (sc *Scene) items(p motion.Params, emphasis map[int]render.Emphasis, wanted func(*machine.Body) bool) []render.Item {
	var items []render.Item
	for i := range sc.setup.Bodies {
		b := &sc.setup.Bodies[i]
		e := emphasis[i]
		if e == render.Plain {
			if !wanted(b) {
				continue
			}
			if b.Role == "guards" {
				e = render.Ghost
			}
		}
		items = append(items, render.Item{
			Name: b.Name, Unit: unitName(b), Shape: sc.shapes[b.Solid], Pose: sc.setup.Pose(i, p),
			Emphasis: e, Group: sc.groups[b.Unit],
		})
	}
	return items
}

// unitName is what pictures call the unit of a body. The machine's own bodies
// have a name each.
func unitName(b *machine.Body) string {
	if b.Unit == "machine" {
		return b.Name
	}
	return b.Unit
}

// positions words where every axis stands, as a caption has it: "X −100 mm, A 92.5°".
func (sc *Scene) positions(p motion.Params) string {
	var parts []string
	for _, k := range sc.order {
		at := check.PositionOf(&sc.setup.Axes[k], p[k])
		words := number(at.Shown()) + "°"
		if at.Unit != "deg" {
			words = sc.length(at.Shown())
		}
		parts = append(parts, at.Axis+" "+words)
	}
	return strings.Join(parts, ", ")
}

// length prints a length with its unit, to 0.01 mm or 0.0001 inch, as number does.
func (sc *Scene) length(mm float64) string {
	return strings.Replace(sc.lengths.Size(mm), "-", "−", 1) + " " + sc.lengths.Name()
}

// number prints to 0.01, without needless zeros and with a real minus sign.
func number(v float64) string {
	s := fmt.Sprintf("%.2f", v)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// body returns the index of a body by its name.
func (sc *Scene) body(name string) int {
	return slices.IndexFunc(sc.setup.Bodies, func(b machine.Body) bool { return b.Name == name })
}

// bounds returns the box round a body at p, bed frame.
func (sc *Scene) bounds(body int, p motion.Params) geom.Box {
	return sc.shapes[sc.setup.Bodies[body].Solid].BoundsIn(sc.setup.Pose(body, p))
}
