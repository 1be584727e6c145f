package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"testing"

	"gridswing/render/ink"
)

// printed returns what a swatch of an emphasis, with its pattern and line, is like in a black-and-white
// print, as lightness L*, on a ground.
func printed(e Emphasis, pattern ink.Pattern, theme ink.Theme) [][]float64 {
	const size = 120
	d := &drawing{Picture: &Picture{Theme: theme}, unit: 1}
	c := ink.NewCanvas(size, size, theme.Paper)
	d.swatch(c, ink.Area{X0: 20, Y0: 20, X1: size - 20, Y1: size - 20}, e, pattern)
	grey := ink.Repainted(c.RGBA, ink.Grey)
	out := make([][]float64, size)
	for y := range out {
		for x := range size {
			out[y] = append(out[y], ink.Lightness(grey.RGBAAt(x, y)))
		}
	}
	return out
}

// apart is how far two prints differ wherever one is laid over the other: the mean difference
// of lightness, at the best of all shifts by up to one period of any pattern, so that only what
// they look like counts, not where a line happens to be.
func apart(a, b [][]float64) float64 {
	best := math.Inf(1)
	for dy := range 20 {
		for dx := range 20 {
			sum := 0.0
			for y := 30; y < 70; y++ {
				for x := 30; x < 70; x++ {
					sum += math.Abs(a[y][x] - b[y+dy][x+dx])
				}
			}
			best = min(best, sum/1600)
		}
	}
	return best
}

// In black and white, on either ground, the looks of any two verdicts, and of none, differ by a mean of
// 6 in L*: a difference of 1 is about the least that is seen side by side (CIE 1976 L*, from memory).
func TestVerdictsDifferWithoutColour(t *testing.T) {
	type kind struct {
		name    string
		e       Emphasis
		pattern ink.Pattern
	}
	var kinds []kind
	for _, e := range append([]Emphasis{Plain}, worstFirst...) {
		kinds = append(kinds, kind{fmt.Sprintf("%q", e.look().words), e, e.look().pattern})
	}
	kinds = append(kinds, kind{"second in contact", Contact, ink.HatchDown})
	for _, theme := range []ink.Theme{ink.Light, ink.Dark} {
		for i, a := range kinds {
			for _, b := range kinds[:i] {
				if d := apart(printed(a.e, a.pattern, theme), printed(b.e, b.pattern, theme)); d < 6 {
					t.Errorf("%s and %s differ by %.1f only in black and white", a.name, b.name, d)
				}
			}
		}
	}
}

// On a dark ground letters, and every colour of bodies, stand out as they do on a light one: a ratio
// of contrast of 7 for letters and 3 for what is drawn (WCAG 2.2, 1.4.6 and 1.4.11), the ratio being
// (y + 0.05) / (y' + 0.05) of the relative luminances.
func TestDarkGroundHasContrast(t *testing.T) {
	luminance := func(c color.RGBA) float64 { // from L*, ISO/CIE 11664-4
		l := ink.Lightness(c)
		if l <= 8 {
			return l * 27 / 24389
		}
		return math.Pow((l+16)/116, 3)
	}
	ratio := func(a, b color.RGBA) float64 {
		x, y := luminance(a)+0.05, luminance(b)+0.05
		return max(x/y, y/x)
	}
	for _, theme := range []ink.Theme{ink.Light, ink.Dark} {
		if r := ratio(theme.Text, theme.Paper); r < 7 {
			t.Errorf("letters have a contrast of %.1f", r)
		}
		if r := ratio(theme.Faint, theme.Paper); r < 4.5 {
			t.Errorf("notes have a contrast of %.1f", r)
		}
	}
	p := &Picture{Theme: ink.Dark}
	for e := Plain; e <= Contact; e++ {
		for group := range groupColors {
			if c := p.color(e, group); !e.veil() && ratio(c, ink.Dark.Paper) < 3 {
				t.Errorf("bodies of group %d with look %d have a contrast of %.1f", group, e, ratio(c, ink.Dark.Paper))
			}
		}
	}
}

// A surface in other colours gets all that is drawn, turned: nothing keeps its own colour.
func TestRecoloredTurnsAll(t *testing.T) {
	r := newRig(t)
	p := Picture{Title: "Turned", Items: emphasised(r.items(70, 30), Tight, "faceplate"), Width: 400, Height: 300}
	straight, err := p.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	c := ink.NewCanvas(400, 300, ink.Grey(ink.Paper))
	if err := p.DrawOn(t.Context(), ink.Recolored(c, ink.Grey)); err != nil {
		t.Fatal(err)
	}
	want := ink.Repainted(straight, ink.Grey)
	worst := 0
	for i := range want.Pix {
		worst = max(worst, int(want.Pix[i])-int(c.Pix[i]), int(c.Pix[i])-int(want.Pix[i]))
	}
	// Blending before or after the turn differs a little where colours meet.
	if worst > 24 {
		t.Errorf("a picture drawn in grey and one made grey differ by %d", worst)
	}
	for i := 0; i < len(c.Pix); i += 4 {
		if c.Pix[i] != c.Pix[i+1] || c.Pix[i] != c.Pix[i+2] {
			t.Fatalf("pixel %d of %v has a colour", i/4, image.Pt(400, 300))
		}
	}
}
