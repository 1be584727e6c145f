package drafting

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
	"gridswing/render/measure"

	"pgregory.net/rapid"
)

// words is a surface that keeps where words are written, and nothing else.
type words struct {
	*ink.Canvas
	width, height float64
	list          []written
	least         float64 // size of type, pt on paper
}

type written struct {
	words string
	box   ink.Area
}

func (w *words) Size() (width, height float64)                      { return w.width, w.height }
func (w *words) Fill(x0, y0, x1, y1 float64, col color.RGBA)        {}
func (w *words) Polygon(outline []ink.Point, col color.RGBA)        {}
func (w *words) Disc(at ink.Point, radius float64, col color.RGBA)  {}
func (w *words) Line(width float64, col color.RGBA, _ ...ink.Point) {}
func (w *words) Image(a ink.Area, img *image.RGBA)                  {}

func (w *words) Text(x, y float64, align ink.Align, t ink.Type, s string) {
	width := t.Width(s)
	switch align {
	case ink.Center:
		x -= width / 2
	case ink.Right:
		x -= width
	}
	w.list = append(w.list, written{s, ink.Area{X0: x, Y0: y - t.Ascent(), X1: x + width, Y1: y}})
	w.sized(t)
}

func (w *words) TextUp(x, y float64, t ink.Type, s string) {
	width := t.Width(s)
	w.list = append(w.list, written{s, ink.Area{X0: x - t.Ascent(), Y0: y - width/2, X1: x, Y1: y + width/2}})
	w.sized(t)
}

func (w *words) sized(t ink.Type) {
	if pt := t.Size / perMM * 72 / 25.4; w.least == 0 || pt < w.least {
		w.least = pt
	}
}

// drawing is a plan or an elevation.
type drawing interface {
	Sheet() Sheet
	DrawOn(ctx context.Context, s ink.Surface) error
}

// pixels draws with five pixels to a mm of paper.
func pixels(d drawing) (*image.RGBA, error) {
	s := d.Sheet()
	c := ink.NewCanvas(int(math.Round(5*s.Width)), int(math.Round(5*s.Height)), ink.Paper)
	return c.RGBA, d.DrawOn(context.Background(), c)
}

// drawn draws and returns all words.
func drawn(t interface {
	Helper()
	Fatal(...any)
}, d drawing) *words {
	t.Helper()
	s := d.Sheet()
	w := &words{Canvas: ink.NewCanvas(1, 1, ink.Paper), width: s.Width * perMM, height: s.Height * perMM}
	if err := d.DrawOn(context.Background(), w); err != nil {
		t.Fatal(err)
	}
	return w
}

// apart checks that no words overlap others and none is cut off.
func (w *words) apart(t interface {
	Helper()
	Errorf(string, ...any)
}) {
	t.Helper()
	if w.least < 6.5 {
		t.Errorf("letters of %.2f pt on paper", w.least)
	}
	width, height := w.Size()
	sheet := ink.Area{X1: width, Y1: height}
	for i, a := range w.list {
		if !a.box.Within(sheet) {
			t.Errorf("%q is cut off: %v of %v", a.words, a.box, sheet)
		}
		for _, b := range w.list[:i] {
			if a.words != "" && b.words != "" && a.box.Shrunk(0.6).Overlaps(b.box.Shrunk(0.6)) {
				t.Errorf("%q and %q overlap: %v, %v", a.words, b.words, a.box, b.box)
			}
		}
	}
}

func (w *words) has(part string) bool {
	for _, a := range w.list {
		if strings.Contains(a.words, part) {
			return true
		}
	}
	return false
}

func mm() measure.Lengths { return measure.Lengths{} }

func letters(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letters(i/26-1) + string(rune('A'+i%26))
}

// faceOf is an invented face of so many columns and rows.
func faceOf(columns, rows int, pitch float64) *Plan {
	p := &Plan{Pitch: Point{pitch, pitch}, Lengths: mm(), Operator: Point{0, -1},
		Axes: []Axis{{"X", Point{1, 0}}, {"Y", Point{0, 1}}, {"Z", Point{}}}}
	for c := range columns {
		p.Columns = append(p.Columns, Label{letters(c), float64(c) * pitch})
	}
	for r := range rows {
		p.Rows = append(p.Rows, Label{fmt.Sprint(r + 1), float64(r) * pitch})
		for c := range columns {
			p.Holes = append(p.Holes, Hole{Name: fmt.Sprint(letters(c), r+1), At: Point{float64(c) * pitch, float64(r) * pitch}, Bore: 16, Thread: 12})
		}
	}
	a, x, y := 0.75*pitch, float64(columns-1)*pitch, float64(rows-1)*pitch
	p.Face = [][]Point{{{-a, -a}, {x + a, -a}, {x + a, y + a}, {-a, y + a}, {-a, -a}}}
	return p
}

// peopled sets an invented component on a face: two pins, four screws.
func peopled() *Plan {
	p := faceOf(9, 7, 50)
	p.Stands = []Stand{{Name: "riser 50", Outline: [][]Point{{{80, 30}, {320, 30}, {320, 170}, {80, 170}, {80, 30}}}, Spots: []Spot{{Point{100, 150}, "B1 of riser 50"}}}}
	p.Locators = []Locator{
		{At: Point{100, 100}, Diameter: 16, Hole: "C3", Words: "pin 1"},
		{At: Point{300, 100}, Diameter: 16, Hole: "G3", Words: "pin 2, relieved", Mark: Relieved},
		{At: Point{0, 300}, Diameter: 16, Hole: "A7", Words: "set", Mark: Set},
		{At: Point{400, 300}, Diameter: 16, Hole: "I7", Words: "withdrawn", Mark: Withdrawn},
	}
	for _, s := range []struct {
		hole string
		at   Point
	}{{"C2", Point{100, 50}}, {"G2", Point{300, 50}}, {"C4", Point{100, 150}}, {"G4", Point{300, 150}}} {
		p.Screws = append(p.Screws, Screw{At: s.at, Diameter: 12, Hole: s.hole, Words: "M12"})
	}
	return p
}

func TestGoldenPlan(t *testing.T) {
	img, err := pixels(peopled())
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "plan", img)
}

// Everything that is set is told at its hole, however the plan is turned.
func TestPlanTellsWhatIsSet(t *testing.T) {
	for turn := range 4 {
		p := peopled()
		p.Turn = turn
		w := drawn(t, p)
		w.apart(t)
		for _, want := range []string{"C3 pin 1", "G3 pin 2, relieved", "A7 set", "I7 withdrawn", "C2 M12", "G2 M12", "C4 M12", "G4 M12", "riser 50", "8 × 50 = 400 mm", "6 × 50 = 300 mm", "operator"} {
			if !w.has(want) {
				t.Errorf("turned %d: no %q", turn, want)
			}
		}
	}
}

// Words keep apart on plans of any size, with long names, and whatever cannot be written at its
// place is told below.
func TestPlanWordsKeepApart(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		columns, rows := rapid.IntRange(1, 40).Draw(r, "columns"), rapid.IntRange(1, 24).Draw(r, "rows")
		p := faceOf(columns, rows, rapid.SampledFrom([]float64{25, 50, 100}).Draw(r, "pitch"))
		p.Turn = rapid.IntRange(0, 3).Draw(r, "turn")
		name := strings.Repeat("a long name ", rapid.IntRange(0, 6).Draw(r, "name"))
		for range rapid.IntRange(0, 14).Draw(r, "set") {
			h := &p.Holes[rapid.IntRange(0, len(p.Holes)-1).Draw(r, "hole")]
			if rapid.Bool().Draw(r, "screw") {
				p.Screws = append(p.Screws, Screw{At: h.At, Diameter: 12, Hole: h.Name, Words: "M12"})
			} else {
				p.Locators = append(p.Locators, Locator{At: h.At, Diameter: 16, Hole: h.Name, Words: "pin of " + name, Mark: Mark(rapid.IntRange(0, 5).Draw(r, "mark"))})
			}
			p.Stands = append(p.Stands, Stand{Name: "unit " + name, Outline: [][]Point{{h.At, {h.At.X + 150, h.At.Y}, {h.At.X + 150, h.At.Y + 90}, h.At}}})
		}
		w := drawn(r, p)
		w.apart(r)
	})
}

// 240 holes, all with pins: every one is told at its place, or as one for which there is no room.
func TestPlanOfManyPins(t *testing.T) {
	p := faceOf(20, 12, 50)
	for i := range p.Holes {
		h := &p.Holes[i]
		p.Locators = append(p.Locators, Locator{At: h.At, Diameter: 16, Hole: h.Name, Words: "withdrawn", Mark: Withdrawn})
	}
	drawn(t, p).apart(t)
	s := p.Sheet()
	d := newPlanSheet(p, ink.NewCanvas(int(s.Width*perMM), int(s.Height*perMM), ink.Paper))
	d.holes()
	d.marks()
	d.words()
	told := map[string]bool{}
	for _, w := range d.notes.placed {
		told[w.words] = true
	}
	for _, w := range d.notes.left {
		told[w] = true
	}
	for i := range p.Holes {
		if want := p.Holes[i].Name + " withdrawn"; !told[want] {
			t.Errorf("nothing is said of %s", want)
		}
	}
	if len(d.notes.left) > 0 && !drawn(t, p).has("no room for: ") {
		t.Error("it is not said that there is no room")
	}
}

// A plan is as large as its sheet says: two holes are as far apart on it as the scale has it.
func TestPlanIsToScale(t *testing.T) {
	p := peopled()
	s := p.Sheet()
	if s.Scale != 5 || s.Width != 175 {
		t.Errorf("sheet %+v", s) // 475 x 375 mm into 149 x 85 mm
	}
	c := ink.NewCanvas(int(s.Width*perMM), int(s.Height*perMM), ink.Paper)
	d := newPlanSheet(p, c)
	a, b := d.on(Point{0, 0}), d.on(Point{400, 300})
	if math.Abs(b.X-a.X-400*perMM/s.Scale) > 1e-9 || math.Abs(a.Y-b.Y-300*perMM/s.Scale) > 1e-9 {
		t.Errorf("from %v to %v", a, b)
	}
	p.Turn = 1 // letters run upward then
	d = newPlanSheet(p, c)
	a, b = d.on(Point{0, 0}), d.on(Point{400, 0})
	if math.Abs(a.X-b.X) > 1e-9 || b.Y >= a.Y {
		t.Errorf("turned: from %v to %v", a, b)
	}
}

// Scales are those of ISO 5455 or between them; what is too large for all gets its own.
func TestScaleFor(t *testing.T) {
	for _, c := range []struct{ width, height, want float64 }{{100, 50, 1}, {150.1, 50, 2}, {400, 100, 4}, {100, 1200, 15}, {1e6, 1, 6667}} {
		if got := scaleFor(c.width, c.height, 150, 100); got != c.want {
			t.Errorf("%g x %g: 1 : %g, want %g", c.width, c.height, got, c.want)
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	for name, p := range map[string]*Plan{
		"nothing":   {},
		"no number": {Lengths: mm(), Holes: []Hole{{At: Point{math.NaN(), 0}}}},
		"endless":   {Lengths: mm(), Holes: []Hole{{Name: "A1"}}, Locators: []Locator{{At: Point{math.Inf(1), 0}}}},
	} {
		if err := p.DrawOn(t.Context(), ink.NewCanvas(600, 400, ink.Paper)); err == nil {
			t.Errorf("%s was drawn", name)
		}
	}
}

// Rings are named hole by hole, slots at both ends.
func TestPlanOfRingsAndSlots(t *testing.T) {
	p := &Plan{Lengths: mm(), Rings: []float64{40, 80}}
	for ring, radius := range p.Rings {
		for i := range 12 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 6)
			p.Holes = append(p.Holes, Hole{Name: fmt.Sprint(letters(ring), i+1), At: Point{radius * cos, radius * sin}, Bore: 12})
		}
	}
	w := drawn(t, p)
	w.apart(t)
	for i := range p.Holes {
		if !w.has(p.Holes[i].Name) {
			t.Errorf("%s is not named", p.Holes[i].Name)
		}
	}
	p = &Plan{Lengths: mm(), Face: [][]Point{{{-400, -150}, {400, -150}, {400, 150}, {-400, 150}, {-400, -150}}}}
	for i := range 3 {
		p.Slots = append(p.Slots, Slot{fmt.Sprint(i + 1), float64(i-1) * 63, 18})
	}
	w = drawn(t, p)
	w.apart(t)
	n := 0
	for _, a := range w.list {
		if strings.HasPrefix(a.words, "slot ") {
			n++
		}
	}
	if n != 6 {
		t.Errorf("%d names of slots", n)
	}
}
