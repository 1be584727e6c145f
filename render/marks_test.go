package render

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/render/ink"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// notes is a surface that keeps what is written and what polygons are drawn on it.
type notes struct {
	ink.Surface
	words    []note
	polygons [][]ink.Point
}

type note struct {
	at    ink.Point
	align ink.Align
	t     ink.Type
	words string
}

func (n *notes) Text(x, y float64, align ink.Align, t ink.Type, s string) {
	n.words = append(n.words, note{ink.Point{X: x, Y: y}, align, t, s})
	n.Surface.Text(x, y, align, t, s)
}

func (n *notes) Polygon(outline []ink.Point, col color.RGBA) {
	if col == ink.Text {
		n.polygons = append(n.polygons, outline)
	}
	n.Surface.Polygon(outline, col)
}

// noted draws a picture and returns what was drawn.
func noted(t *testing.T, p *Picture, width, height int) *notes {
	t.Helper()
	n := &notes{Surface: ink.NewCanvas(width, height, ink.Paper)}
	if err := p.DrawOn(t.Context(), n); err != nil {
		t.Fatal(err)
	}
	return n
}

// components returns n towers on a plate, numbered from 1; towers stand in a row of eight and
// are as high as their place in it.
func components(n int) []Item {
	solid := func(x0, y0, z0, x1, y1, z1 float64) Item {
		m := shape.Box(r3.Vector{X: x0, Y: y0, Z: z0}, r3.Vector{X: x1, Y: y1, Z: z1}).Mesh()
		return Item{Shape: Prepare(m, true), Pose: geom.Identity()}
	}
	items := []Item{solid(-20, -20, -30, 420, 320, 0)}
	for len(items) < n {
		k := len(items) - 1
		x, y := float64(k%8)*50, float64(k/8)*60
		items = append(items, solid(x, y, 0, x+26, y+26, 10+float64(k%8)*4))
	}
	for i := range items {
		items[i].Name, items[i].Number = fmt.Sprintf("component %d", i+1), i+1
		items[i].Unit = items[i].Name
	}
	return items
}

// Up to 40 numbers: all are there, each once, in circles that keep apart from each other and
// inside of the picture.
func TestNumbersAreAllPlaced(t *testing.T) {
	for _, n := range []int{2, 12, 40} {
		for _, view := range []View{Isometric, Top} {
			p := Picture{Title: "Numbers", Items: components(n), Numbers: true, View: view}
			seen := noted(t, &p, 1600, 1200)
			at := map[int]ink.Point{}
			for _, w := range seen.words {
				if k, err := strconv.Atoi(w.words); err == nil && w.align == ink.Center && w.t.Size == 21 {
					if _, twice := at[k]; twice {
						t.Errorf("%d of %d is named twice", k, n)
					}
					at[k] = ink.Point{X: w.at.X, Y: w.at.Y - w.t.Ascent()/2}
				}
				if strings.HasPrefix(w.words, "Not to be seen") {
					t.Errorf("%s, %d numbers: %s", view, n, w.words)
				}
			}
			if len(at) != n {
				t.Errorf("%s: %d of %d numbers are placed", view, len(at), n)
			}
			for k, a := range at {
				if a.X < 18 || a.X > 1582 || a.Y < 96+18 || a.Y > 1064-18 {
					t.Errorf("%s: %d stands at %v, outside of the scene", view, k, a)
				}
				for l, b := range at {
					if k < l && math.Hypot(a.X-b.X, a.Y-b.Y) < 36 {
						t.Errorf("%s: %d and %d overlap", view, k, l)
					}
				}
			}
		}
	}
}

// A component that another one hides is told of by number and name.
func TestHiddenNumberIsTold(t *testing.T) {
	items := components(3)
	items[2].Pose = geom.Shift(r3.Vector{X: -50})
	items[2].Shape, items[2].Name, items[2].Unit = Prepare(shape.Box(r3.Vector{X: 60, Y: 8, Z: 1}, r3.Vector{X: 70, Y: 16, Z: 5}).Mesh(), true), "pin", "pin"
	seen := noted(t, &Picture{Title: "Hidden", Items: items, Numbers: true}, 1600, 1200)
	if !slices.ContainsFunc(seen.words, func(w note) bool { return w.words == "Not to be seen or labelled in this view: 3 (pin)" }) {
		t.Errorf("nothing is said of the hidden one: %v", seen.words)
	}
}

// gapped is two blocks and the gap between them, dimensioned, at so many pixels per mm.
func gapped(gap, radius float64) *Picture {
	items := components(1)
	items = append(items, components(2)[1])
	items[1].Pose = geom.Shift(r3.Vector{X: 150, Y: 150, Z: gap})
	for i := range items {
		items[i].Emphasis = Tight
	}
	at := r3.Vector{X: 163, Y: 150, Z: gap / 2}
	return &Picture{Title: "Gap", Items: items, View: Front, Marks: []Mark{{Point: at, Label: "the value", Gap: r3.Vector{Z: gap}}},
		Close: &CloseUp{Center: at, Radius: radius, Across: r3.Vector{Z: 1}}}
}

// Arrow heads touch the two points with their tips: from between them where there is room,
// and otherwise from outside; they are filled and open by less than 30 degrees (the widest of ISO
// 129-1's slender heads; from memory). The value keeps off the line.
func TestDimension(t *testing.T) {
	for _, test := range []struct {
		gap, radius float64
		outside     bool
		heads       int
	}{{20, 30, false, 2}, {1.5, 30, true, 2}, {0.05, 30, true, 0}} {
		p := gapped(test.gap, test.radius)
		seen := noted(t, p, 1600, 1200)
		perMM := (1064 - 126 - 100) / (2 * test.radius) // the scene's height less its border
		middle := (126 + 1064) / 2.0
		ends := [2]float64{middle + test.gap/2*perMM, middle - test.gap/2*perMM}
		heads := 0
		for _, outline := range seen.polygons {
			if len(outline) != 3 || math.Abs(outline[0].X-800) > 2 {
				continue
			}
			for k, y := range ends {
				if math.Abs(outline[0].Y-y) > 1.5 {
					continue
				}
				heads++
				back := outline[1].Y - outline[0].Y // positive: down on the page, away from the gap for the lower end
				if (back > 0 == (k == 0)) != test.outside {
					t.Errorf("gap %v: the head at %v is on the wrong side", test.gap, y)
				}
				if high := math.Abs(outline[1].X - outline[2].X); 2*math.Atan2(high/2, math.Abs(back)) > math.Pi/6 {
					t.Errorf("a head of %v is %v high", back, high)
				}
			}
		}
		if heads != test.heads {
			t.Errorf("gap %v: %d arrow heads, want %d", test.gap, heads, test.heads)
		}
		k := slices.IndexFunc(seen.words, func(w note) bool { return w.words == "the value" })
		if k < 0 {
			t.Fatalf("gap %v: no value", test.gap)
		}
		w := seen.words[k]
		right := w.at.X + w.t.Width(w.words)
		above, below := ends[1]-37, ends[0]+37
		if !test.outside {
			above, below = ends[1], ends[0]
		}
		if test.heads > 0 && w.at.X < 810 && right > 790 && w.at.Y > above && w.at.Y-w.t.Ascent() < below {
			t.Errorf("gap %v: the value stands on its line, at %v", test.gap, w.at)
		}
	}
}

// A gap behind something is marked with a dashed ring, and not dimensioned.
func TestHiddenGapIsNotDimensioned(t *testing.T) {
	p := gapped(20, 30)
	wall := components(1)[0]
	wall.Pose, wall.Name, wall.Whole = geom.Shift(r3.Vector{Y: -400, Z: 20}), "wall", true
	p.Items = append(p.Items, wall)
	seen := noted(t, p, 1600, 1200)
	for _, outline := range seen.polygons {
		if len(outline) == 3 && math.Abs(outline[0].X-800) < 2 {
			t.Errorf("an arrow head at %v", outline)
		}
	}
	if !slices.ContainsFunc(seen.words, func(w note) bool { return w.words == "the value (hidden)" }) {
		t.Error("it is not said that the gap is hidden")
	}
}

func TestPlaneThatCannotBeSeenIsRefused(t *testing.T) {
	for name, test := range map[string]struct {
		plane Plane
		want  string
	}{
		"edge-on": {Plane{Name: "X", Normal: r3.Vector{X: 1}, At: 10}, `picture "": the cut at X = 10 mm is seen edge-on in the view front: it must be another view, such as right`},
		"beside":  {Plane{Name: "Y", Normal: r3.Vector{Y: 1}, At: 400}, `picture "": the cut at Y = 400 mm meets nothing: it must be between -20 and 320 mm`},
		"nowhere": {Plane{Name: "Y", At: 400}, "it must be a direction and a place"},
	} {
		p := Picture{Items: components(3), View: Front, Plane: &test.plane}
		if _, err := p.Draw(t.Context()); err == nil || !strings.HasSuffix(err.Error(), test.want) {
			t.Errorf("%s: %v, want %s", name, err, test.want)
		}
	}
}

// What is cut off is not seen, and what is behind the cut is.
func TestPlaneTakesAwayWhatStandsBefore(t *testing.T) {
	items := components(17) // two rows, the second at y = 60
	p := Picture{Title: "Cut", Items: items, View: Front, Numbers: true, Plane: &Plane{Name: "Y", Normal: r3.Vector{Y: 1}, At: 50}}
	seen := noted(t, &p, 1600, 1200)
	got := map[string]bool{}
	for _, w := range seen.words {
		got[w.words] = true
	}
	if got["5"] || !got["13"] || !got["1"] {
		t.Errorf("before, behind, and cut: %v %v %v", got["5"], got["13"], got["1"])
	}
	if words, err := p.Cut(); err != nil || words != "Cut at Y = 50 mm; what stands before the cut is taken away." || !got[words] {
		t.Errorf("%q, %v", words, err)
	}
}

// Where two axes lead the same way on the page, the name of the shorter one is not on the arrow of the
// other.
func TestNamesOfAxesKeepOffArrows(t *testing.T) {
	along := r3.Vector{X: 0.92, Y: 0.39}.Normalize()
	d := &drawing{Picture: &Picture{}, unit: 1, low: 400}
	d.Theme = ink.Light
	d.camera = raster.Camera{Right: along, Up: r3.Vector{Z: 1}, Toward: along.Cross(r3.Vector{Z: 1})}
	n := &notes{Surface: ink.NewCanvas(400, 400, ink.Paper)}
	d.page = n
	d.triad()
	at := map[string]note{}
	for _, w := range n.words {
		at[w.words] = w
	}
	if len(at) != 3 {
		t.Fatalf("%v", n.words)
	}
	base := at["X"].at.Y - at["X"].t.Ascent()/2 // the height of the arrow
	if top := at["Y"].at.Y - at["Y"].t.Ascent(); top < base+5 {
		t.Errorf("Y begins at %g, the arrow of X is at %g", top, base)
	}
}
