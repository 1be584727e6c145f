package chart

import (
	"image/color"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
)

// On a dark ground and in grey a chart is the same chart: what can be told apart on paper can
// still be told apart.
func TestChartsOnOtherGrounds(t *testing.T) {
	for name, to := range map[string]func(color.RGBA) color.RGBA{"field-dark": ink.Turned, "field-grey": ink.Grey} {
		c := ink.NewCanvas(800, 600, to(ink.Paper))
		if err := invented(70, 60).DrawOn(t.Context(), ink.Recolored(c, to)); err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, c.RGBA)
	}
	for s := Clear; int(s) < len(looks); s++ {
		l := s.look()
		if l.pattern == ink.Blank {
			continue
		}
		ground := l.ground
		if l.shaded {
			ground = newShades(20).of(1)
		}
		for name, to := range map[string]func(color.RGBA) color.RGBA{"dark": ink.Turned, "grey": ink.Grey} {
			before := ink.Lightness(l.stroke) - ink.Lightness(ground)
			after := ink.Lightness(to(l.stroke)) - ink.Lightness(to(ground))
			if name == "dark" {
				after = -after
			}
			if after*before <= 0 || max(after, -after) < 0.85*max(before, -before) {
				t.Errorf("%s, %s: strokes differ from their ground by %.0f in L*, on paper by %.0f", l.words, name, after, before)
			}
		}
	}
}
