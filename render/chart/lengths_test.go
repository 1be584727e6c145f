package chart

import (
	"image/color"
	"math"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/internal/golden"
	"gridswing/render/internal/proof"
	"gridswing/render/measure"

	"pgregory.net/rapid"
)

var inches = measure.Lengths{Unit: geom.Inch}

// inInches are charts that are read in inches, by name. The checks' caps are round in mm: 20 mm are
// 0.787 inch, 10 mm 0.394 (an inch is 25.4 mm, ISO 80000-3).
func inInches() map[string]drawn {
	list := map[string]drawn{}
	for name, s := range map[string]*Swing{"inch-field": invented(70, 60), "inch-tilt": invented(70, 1), "inch-rotary": invented(1, 60)} {
		s.Lengths, s.Caption, s.Width, s.Height = inches, nil, 800, 600
		s.Marks[1].Label = "2  vise, column"
		if s.Rows == 1 {
			s.Cap = 10
		}
		list[name] = s
	}
	r := program()
	r.Lengths, r.Caption = inches, nil
	list["inch-run"] = r
	return list
}

func TestGoldenInches(t *testing.T) {
	for name, c := range inInches() {
		if name == "inch-rotary" {
			continue // it is the other curve
		}
		img, err := c.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}

// Ticks in inches are round, the scale ends at one, and nothing is in mm.
func TestTicksOfInches(t *testing.T) {
	mm := regexp.MustCompile(`\bmm\b`)
	for name, want := range map[string][]string{
		"inch-field":  {"Proven clearance, inch", "0.0787 demanded", "0", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7 or more"},
		"inch-tilt":   {"Smallest clearance, inch", "0.0787 inch demanded", "0", "0.05", "0.1", "0.15", "0.2", "0.25", "0.3", "≥ 0.35"},
		"inch-rotary": {"Smallest clearance, inch", "0.0787 inch demanded", "0", "0.2", "0.4", "0.6", "≥ 0.7"},
		"inch-run":    {"Smallest clearance, inch", "0.0787 inch demanded", "0", "0.1", "0.2", "0.3", "≥ 0.35"},
	} {
		seen := proof.Noted(ink.NewCanvas(1600, 1200, ink.Paper))
		if err := inInches()[name].DrawOn(t.Context(), seen); err != nil {
			t.Fatal(err)
		}
		for _, w := range want {
			if !slices.Contains(seen.Words, w) {
				t.Errorf("%s: %q is not among %q", name, w, seen.Words)
			}
		}
		for _, w := range seen.Words {
			if mm.MatchString(w) {
				t.Errorf("%s: %q", name, w)
			}
		}
	}
}

// heights is a surface that keeps how high dashed lines are, and words right of which is the plot.
type heights struct {
	ink.Surface
	dashed []float64
	ticks  map[string]float64
}

func (h *heights) Dashed(width, dash, gap float64, col color.RGBA, a, b ink.Point) {
	if b.X-a.X > 300 { // not that of the key
		h.dashed = append(h.dashed, a.Y)
	}
	h.Surface.Dashed(width, dash, gap, col, a, b)
}

func (h *heights) Text(x, y float64, align ink.Align, t ink.Type, s string) {
	if align == ink.Right {
		h.ticks[s] = y - t.Ascent()/2
	}
	h.Surface.Text(x, y, align, t, s)
}

// The demand is drawn at its true place among the ticks: 2 mm are 0.078740 inch, not 0.08.
func TestDemandIsWhereItIs(t *testing.T) {
	for _, name := range []string{"inch-tilt", "inch-run"} {
		h := &heights{Surface: ink.NewCanvas(1600, 1200, ink.Paper), ticks: map[string]float64{}}
		if err := inInches()[name].DrawOn(t.Context(), h); err != nil {
			t.Fatal(err)
		}
		zero, tenth := h.ticks["0"], h.ticks["0.1"]
		if want := zero + (tenth-zero)*0.7874015748; len(h.dashed) != 1 || math.Abs(h.dashed[0]-want) > 1e-6 {
			t.Errorf("%s: the demand is at %v, want %v; 0 is at %v, 0.1 at %v", name, h.dashed, want, zero, tenth)
		}
	}
}

// What is at the checks' cap or between it and the chart's is at the cap, and neither the caller's
// cells nor what is known to be farther are changed.
func TestCapIsLowered(t *testing.T) {
	s := invented(4, 1)
	s.Lengths, s.Cap = inches, 10
	for i, lower := range []float64{10, 9.5, 3, math.Inf(1)} {
		s.Cells[i] = Cell{State: Clear, Lower: lower, Upper: lower}
	}
	c := *s
	c.roundCap()
	const limit = 0.35 * 25.4
	if c.Cap != limit || s.Cap != 10 || s.Cells[0].Lower != 10 {
		t.Errorf("the cap is %v, want %v; the caller's is %v, its cells %v", c.Cap, limit, s.Cap, s.Cells)
	}
	for i, want := range []float64{limit, limit, 3, math.Inf(1)} {
		if got := c.Cells[i].Lower; got != want {
			t.Errorf("cell %d: %v, want %v", i, got, want)
		}
	}
	r := &Run{Lengths: inches, Cap: 10, Cells: []RunCell{{State: Clear, Lower: 9.5, To: 1}}}
	if got := r.rounded(); got.Cap != limit || got.Cells[0].Lower != limit || r.Cells[0].Lower != 9.5 {
		t.Errorf("the cap is %v, the cell %v; the caller's %v", got.Cap, got.Cells[0], r.Cells[0])
	}
}

// Ticks of any range in either unit begin at 0, go up by even steps of 1, 2 or 5 and zeros, stay inside
// of the axis and reach to less than a step from its end, and no two read alike. The cap in inches is a
// tick, no greater than in mm and no less than half of it.
func TestTicksOfAnyRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Lengths{Unit: rapid.SampledFrom([]geom.Unit{0, geom.Millimetre, geom.Inch}).Draw(t, "unit")}
		limit := math.Pow(10, rapid.Float64Range(-3, 5).Draw(t, "power"))
		n := rapid.IntRange(3, 20).Draw(t, "intervals")
		top := roundCap(l, limit, rapid.Float64Range(0, 0.4).Draw(t, "demand")*limit)
		if top > limit || top < 0.5*limit || l.In(1) == 1 && top != limit {
			t.Fatalf("the cap of %v is %v %s", limit, top, l.Name())
		}
		d := &sheet{Swing: &Swing{Cap: top, Lengths: l}}
		ticks := d.clearances(n)
		if len(ticks) < 2 || len(ticks) > n+1 || ticks[0].mm != 0 || ticks[0].words != "0" {
			t.Fatalf("ticks %v of %v", ticks, top)
		}
		step := ticks[1].mm
		first := strconv.FormatFloat(l.In(step), 'e', 9, 64)[:11]
		if first != "1.000000000" && first != "2.000000000" && first != "5.000000000" {
			t.Fatalf("steps of %v %s", l.In(step), l.Name())
		}
		for i, tick := range ticks {
			v, err := strconv.ParseFloat(tick.words, 64)
			if err != nil || math.Abs(v-l.In(tick.mm)) > 1e-9*v || math.Abs(tick.mm-float64(i)*step) > 1e-9*top {
				t.Fatalf("tick %d of %v is %v, steps are of %v", i, top, tick, step)
			}
		}
		if last := ticks[len(ticks)-1].mm; last > top*(1+1e-9) || last+step*(1+1e-9) < top {
			t.Fatalf("the last tick of %v is at %v, steps are of %v", top, last, step)
		}
		if l.Unit != geom.Inch {
			return
		}
		if ends := lengths(l.In(top), 10); math.Abs(l.MM(ends[len(ends)-1])-top) > 1e-9*top {
			t.Fatalf("the cap %v is no tick", top)
		}
	})
}
