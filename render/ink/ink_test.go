package ink

import (
	"fmt"
	"image/color"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// CIE L* of sRGB greys: #777777 is 50.03, #808080 is 53.59 (Lindbloom's CIE
// colour calculator, D65, from memory).
func TestLightness(t *testing.T) {
	for v, want := range map[uint8]float64{0: 0, 0x77: 50.03, 0x80: 53.59, 255: 100} {
		if got := Lightness(color.RGBA{v, v, v, 255}); math.Abs(got-want) > 0.01 {
			t.Errorf("L* of grey %d is %.3f, want %.2f", v, got, want)
		}
	}
}

func TestRampReachesTheLightness(t *testing.T) {
	for l := 5.0; l < 100; l += 5 {
		if got := Lightness(Ramp(Blue, l)); math.Abs(got-l) > 0.6 {
			t.Errorf("ramp to %v has L* %.2f", l, got)
		}
	}
}

// Lines of width w at distance p cover w/p of the ground, dots of radius r at
// distance p, two in each square, 2 pi r^2 / p^2.
func TestPatternsCoverTheirPart(t *testing.T) {
	for p, want := range map[Pattern]float64{Blank: 0, Hatch: 0.4, HatchDown: 0.4, CrossHatch: 1 - math.Pow(1-2.2/9, 2),
		Dots: 2 * math.Pi * 2.3 * 2.3 / 100, Fine: 2.0 / 14, Bars: 0.25, Rungs: 0.25, SectionUp: 1.0 / 6, SectionDown: 1.0 / 6} {
		const n = 630
		sum := 0.0
		for y := range n {
			for x := range n {
				c := p.Coverage(x, y)
				if c < 0 || c > 1 {
					t.Fatalf("pattern %d covers %v of pixel (%d, %d)", p, c, x, y)
				}
				sum += c
			}
		}
		if got := sum / n / n; math.Abs(got-want) > 0.01 {
			t.Errorf("pattern %d covers %.3f, want %.3f", p, got, want)
		}
	}
}

// Hatch rises to the right: along x + y = const it does not change.
func TestHatchRises(t *testing.T) {
	if Hatch.Coverage(10, 20) != Hatch.Coverage(13, 17) || HatchDown.Coverage(10, 20) != HatchDown.Coverage(13, 23) {
		t.Error("hatches do not run along their diagonals")
	}
}

func ink(c *Canvas) float64 {
	sum := 0.0
	for y := range c.Rect.Dy() {
		for x := range c.Rect.Dx() {
			sum += 1 - float64(c.RGBAAt(x, y).R)/255
		}
	}
	return sum
}

func blank() *Canvas { return NewCanvas(100, 100, color.RGBA{255, 255, 255, 255}) }

func TestShapesHaveTheirArea(t *testing.T) {
	tests := map[string]struct {
		draw func(c *Canvas)
		want float64
	}{
		"rectangle between pixels": {func(c *Canvas) { c.Fill(10.5, 10.25, 20, 30, Black) }, 9.5 * 19.75},
		"triangle":                 {func(c *Canvas) { c.Polygon([]Point{{10, 10}, {60, 15}, {30, 70}}, Black) }, 1450},
		"disc":                     {func(c *Canvas) { c.Disc(Point{50, 50}, 20, Black) }, math.Pi * 400},
		"line":                     {func(c *Canvas) { c.Line(3, Black, Point{10, 10}, Point{40, 50}) }, 150},
		"bent line":                {func(c *Canvas) { c.Line(1, Black, Point{10, 10}, Point{60, 10}, Point{60, 60}) }, 100},
		"dashes":                   {func(c *Canvas) { c.Dashed(2, 6, 4, Black, Point{10, 20}, Point{60, 20}) }, 60},
		"frame":                    {func(c *Canvas) { c.Frame(20, 20, 60, 50, 2, Black) }, 2 * (40 + 30) * 2},
		"outside":                  {func(c *Canvas) { c.Fill(-50, -50, -1, -1, Black) }, 0},
		"half outside":             {func(c *Canvas) { c.Fill(-50, 10, 10, 20, Black) }, 100},
		"far outside":              {func(c *Canvas) { c.Line(2, Black, Point{-1e12, 50}, Point{-1e9, 50}) }, 0},
		"half covered":             {func(c *Canvas) { c.Fill(10, 10, 30, 30, color.RGBA{0, 0, 0, 128}) }, 200.8},
	}
	for name, test := range tests {
		c := blank()
		test.draw(c)
		if got := ink(c); math.Abs(got-test.want) > 0.02*test.want+0.5 {
			t.Errorf("%s: area %.1f, want %.1f", name, got, test.want)
		}
	}
}

func TestTextStandsWhereItIsPut(t *testing.T) {
	letters := Type{Size: 24, Color: Black}
	w := letters.Width("HHH")
	for align, left := range map[Align]float64{Left: 50, Center: 50 - w/2, Right: 50 - w} {
		c := blank()
		c.Text(50, 60, align, letters, "HHH")
		x0, y0, x1, y1 := extent(c)
		if math.Abs(x0-left) > 3 || math.Abs(x1-left-w) > 3 || y1 != 60 || math.Abs(60-y0-letters.Ascent()) > 1 {
			t.Errorf("alignment %d: letters cover %v to %v, %v to %v", align, x0, x1, y0, y1)
		}
	}
	c := blank()
	c.TextUp(50, 50, letters, "HHH")
	x0, y0, x1, y1 := extent(c)
	if x1 != 50 || math.Abs((y0+y1)/2-50) > 2 || math.Abs(y1-y0-w) > 6 || math.Abs(50-x0-letters.Ascent()) > 1 {
		t.Errorf("upright: letters cover %v to %v, %v to %v", x0, x1, y0, y1)
	}
	// The foot of an L points to the right, so upright it points up: its bar is
	// at the right and the stroke that runs away from it lies at the bottom.
	c = blank()
	c.TextUp(50, 50, Type{Size: 40, Color: Black}, "L")
	x0, y0, x1, y1 = extent(c)
	top, bottom := 0.0, 0.0
	for x := int(x0); x < int(x1); x++ {
		top += 255 - float64(c.RGBAAt(x, int(y0)+1).R)
		bottom += 255 - float64(c.RGBAAt(x, int(y1)-2).R)
	}
	if bottom < 2*top {
		t.Error("upright type does not read from the bottom to the top")
	}
}

// extent returns the box of what is darker than half.
func extent(c *Canvas) (x0, y0, x1, y1 float64) {
	x0, y0 = 1e9, 1e9
	for y := range c.Rect.Dy() {
		for x := range c.Rect.Dx() {
			if c.RGBAAt(x, y).R < 128 {
				x0, y0 = min(x0, float64(x)), min(y0, float64(y))
				x1, y1 = max(x1, float64(x+1)), max(y1, float64(y+1))
			}
		}
	}
	return
}

func TestShorten(t *testing.T) {
	letters := Type{Size: 20, Color: Black}
	if got := Shorten(letters, "short", 500); got != "short" {
		t.Errorf("what fits became %q", got)
	}
	long := "a title that runs on and on and on"
	got := Shorten(letters, long, 150)
	if letters.Width(got) > 150 || len(got) < 8 || got == long {
		t.Errorf("shortened to %q, %v wide", got, letters.Width(got))
	}
}

// Wrapped text keeps every letter, in order, and no line is wider than it may be.
func TestWrap(t *testing.T) {
	letters := Type{Size: 20, Color: Black}
	for _, s := range []string{"", "short", "a text that runs on and on and on", "onewordthatiswiderthanaline and others"} {
		for _, width := range []float64{1, 60, 150, 5000} {
			lines := Wrap(letters, s, width)
			for _, l := range lines {
				if letters.Width(l) > width && len(l) > 1 {
					t.Errorf("%q in %v: line %q is %v wide", s, width, l, letters.Width(l))
				}
			}
			squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
			if len(lines) == 0 || squeeze(strings.Join(lines, "")) != squeeze(s) {
				t.Errorf("%q in %v became %q", s, width, lines)
			}
		}
	}
	if got := Wrap(letters, "two words", 5000); len(got) != 1 || got[0] != "two words" {
		t.Errorf("what fits became %q", got)
	}
}

// Labels at random anchors, many of them close to each other: those that are
// placed keep apart and inside, and the others are returned.
func TestLabelsKeepApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 20 {
		l := Labels{Inside: Area{0, 0, 900, 700}, Unit: 1}
		var wanted []Label
		for i := range 14 {
			wanted = append(wanted, Label{Words: fmt.Sprintf("%d body", i), Anchor: Point{200 + 500*rng.Float64(), 200 + 300*rng.Float64()}})
		}
		left := l.Place(wanted)
		if len(l.placed)+len(left) != len(wanted) || len(l.placed) < 8 {
			t.Fatalf("%d placed and %d returned of %d", len(l.placed), len(left), len(wanted))
		}
		for i := range l.placed {
			a := &l.placed[i]
			if !a.box.Within(l.Inside) {
				t.Errorf("label %q is clipped: %v", a.Words, a.box)
			}
			for k := range l.placed {
				b := &l.placed[k]
				if i != k && (a.box.Overlaps(b.box) || a.box.crosses(b.Anchor, b.foot())) {
					t.Errorf("labels %q and %q run into each other", a.Words, b.Words)
				}
			}
		}
	}
	l := Labels{Inside: Area{0, 0, 60, 60}, Unit: 1}
	if left := l.Place([]Label{{Words: "wider than the page", Anchor: Point{30, 30}}}); len(left) != 1 {
		t.Error("a label that fits nowhere was not returned")
	}
}

func TestSegmentThroughArea(t *testing.T) {
	a := Area{10, 10, 20, 20}
	for _, test := range []struct {
		p, q Point
		want bool
	}{
		{Point{0, 15}, Point{30, 15}, true}, {Point{0, 0}, Point{30, 30}, true}, {Point{15, 15}, Point{16, 16}, true},
		{Point{0, 5}, Point{30, 5}, false}, {Point{0, 15}, Point{9, 15}, false}, {Point{0, 25}, Point{12, 0}, false}, {Point{12, 0}, Point{12, 30}, true},
	} {
		if got := a.crosses(test.p, test.q); got != test.want {
			t.Errorf("from %v to %v: %v, want %v", test.p, test.q, got, test.want)
		}
	}
}
