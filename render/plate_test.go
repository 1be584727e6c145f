package render

import (
	"bytes"
	"image/png"
	"math"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
	"gridswing/render/internal/proof"
	"gridswing/render/page"

	"github.com/golang/geo/r3"
)

// printable returns pictures with all that is drawn beside the bodies.
func printable(t *testing.T) map[string]Picture {
	t.Helper()
	r := newRig(t)
	at := r3.Vector{Y: 70, Z: 66}
	return map[string]Picture{
		"contact": {Title: "Bracket, second side: contact", Caption: []string{"A +85.0°  C 30.0°"},
			Items: emphasised(r.items(85, 30), Contact, "trunnion base", "faceplate"), View: Right,
			Marks: []Mark{{Point: at, Label: "1  X 0.0  Y 70.0  Z 66.0"}}},
		"veil": {Title: "Bracket, second side: tight", Caption: []string{"A +70.0°  C 30.0°", "Smallest clearance 1.24 mm; demanded 2 mm."},
			Items: emphasised(emphasised(r.items(70, 30), Tight, "trunnion base", "faceplate"), Ghost, "table"),
			Ways:  []Way{{{X: -300, Z: 450}, {Z: 450}, {Z: 350}}}},
		"close-up": {Title: "Bracket, second side: faceplate meets trunnion base", Items: emphasised(r.items(85, 30), WithinPlay, "trunnion base", "faceplate"),
			Close: &CloseUp{Center: at, Radius: 45, Across: r3.Vector{Y: 0.1, Z: 1}}, Marks: []Mark{{Point: at, Label: "1  within play"}}},
		"bare": {Title: "not to be seen", Items: emphasised(r.items(20, 30), Unproven, "vise"), Bare: true, Lettering: 1.2},
	}
}

// A picture on a plate is the same as on pixels, and all of its lettering is words.
func TestPrintedPictures(t *testing.T) {
	for name, p := range printable(t) {
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		canvas := ink.NewCanvas(img.Rect.Dx(), img.Rect.Dy(), ink.Paper)
		noted := proof.Noted(canvas)
		if err := p.DrawOn(t.Context(), noted); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(canvas.Pix, img.Pix) {
			t.Errorf("%s: what DrawOn draws on a canvas is not what Draw draws", name)
		}
		plate := page.NewPlate(float64(img.Rect.Dx()), float64(img.Rect.Dy()))
		if err := p.DrawOn(t.Context(), plate); err != nil {
			t.Fatal(err)
		}
		d := plate.Drawing(180)
		proof.Same(t, name, img, proof.Print(t, d, img.Rect.Dx()), proof.ByUs)
		proof.SameWords(t, name, noted.Words, d)
		proof.Within(t, name, d)
	}
}

// A finer plate gets finer pixels of the bodies, and everything else where it was.
func TestFinerPictures(t *testing.T) {
	p := printable(t)["contact"]
	var drawings []*page.Drawing
	for _, fineness := range []float64{1, 1.7} {
		plate := page.NewPlate(800, 600)
		plate.Fineness = fineness
		if err := p.DrawOn(t.Context(), plate); err != nil {
			t.Fatal(err)
		}
		d := plate.Drawing(90)
		drawings = append(drawings, d)
		m := d.Items[0].(*page.Image)
		c, err := png.DecodeConfig(bytes.NewReader(m.PNG))
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(c.Width) / (m.Area.X1 - m.Area.X0) * 90 / 800; math.Abs(got-fineness) > 0.01 {
			t.Errorf("%.3f pixels to one of the plate, want %g", got, fineness)
		}
		if got := float64(c.Height) / (m.Area.Y1 - m.Area.Y0) * 90 / 800; math.Abs(got-fineness) > 0.01 {
			t.Errorf("%.3f pixels to one of the plate downward, want %g", got, fineness)
		}
	}
	// The thin lines of edges are a pixel of the image wide, so they are paler; patterns are not.
	coarse, fine := proof.Print(t, drawings[0], 1600), proof.Print(t, drawings[1], 1600)
	if worst, at, _ := proof.Differ(coarse, fine, proof.ByUs); worst > 25 {
		t.Errorf("squares differ by up to %.1f, most at %v; see %s and %s", worst, at, golden.Keep(t, "coarse", coarse), golden.Keep(t, "fine", fine))
	}
}

// What narrow pictures explain does not overlap.
func TestLegendsOfNarrowPictures(t *testing.T) {
	for name, p := range printable(t) {
		for _, wide := range []float64{500, 620, 900, 1300, 1700} {
			p.Bare, p.Lettering = true, 1
			plate := page.NewPlate(wide, 700)
			if err := p.DrawOn(t.Context(), plate); err != nil {
				t.Fatal(err)
			}
			var boxes []page.Area
			for _, it := range plate.Drawing(wide).Items {
				if words, is := it.(*page.Text); is {
					boxes = append(boxes, proof.TextBounds(words))
				}
			}
			for i, a := range boxes {
				for k, b := range boxes[:i] {
					if ink.Area(a).Shrunk(2).Overlaps(ink.Area(b).Shrunk(2)) {
						t.Errorf("%s, %g wide: words %d and %d overlap: %v, %v", name, wide, k, i, a, b)
					}
				}
			}
		}
	}
}
