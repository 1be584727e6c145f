package render

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/internal/golden"
	"gridswing/render/measure"

	"github.com/golang/geo/r3"
)

// A close-up that is read in inches has a round bar of them, and says in them where it is cut: 45 mm
// are 1.772 inch (25.4 mm each, ISO 80000-3). Nothing is in mm.
func TestGoldenInches(t *testing.T) {
	r := newRig(t)
	gap := Mark{Point: r3.Vector{Y: -105.5, Z: 72.36}, Gap: r3.Vector{Z: 8.72}, Label: "0.3433 inch"} // that of TestGoldenEffects
	p := Picture{Title: "Faceplate and trunnion base", Width: 800, Height: 600, View: Right, Lengths: measure.Lengths{Unit: geom.Inch},
		Items: emphasised(r.items(30, 0), Tight, "trunnion base", "faceplate"), Marks: []Mark{gap},
		Close: &CloseUp{Center: gap.Point, Radius: 45, Across: gap.Gap}}
	img, err := p.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "closeup-inch", img)
	cut, err := p.Cut()
	if err != nil {
		t.Fatal(err)
	}
	if want := "Close-up within 1.772 inch of the point, cut at X = 0 inch; what stands before the cut is taken away."; cut != want {
		t.Errorf("%q, want %q", cut, want)
	}
	seen := &notes{Surface: ink.NewCanvas(800, 600, ink.Paper)}
	if err := p.DrawOn(t.Context(), seen); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{cut, "0.5 inch", gap.Label} {
		if !slices.ContainsFunc(seen.words, func(w note) bool { return w.words == want }) {
			t.Errorf("%q is not among %v", want, seen.words)
		}
	}
	for _, w := range seen.words {
		if regexp.MustCompile(`\bmm\b`).MatchString(w.words) {
			t.Errorf("in mm: %q", w.words)
		}
	}
	p.Close, p.View, p.Plane = nil, Right, &Plane{Name: "X", Normal: r3.Vector{X: 1}, At: 6.35}
	if cut, err = p.Cut(); err != nil || !strings.HasPrefix(cut, "Cut at X = 0.25 inch;") {
		t.Errorf("%q, %v", cut, err)
	}
}
