package text

import (
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

func loadsPage(look terminal.Look) string {
	var b strings.Builder
	p := &page{w: &b, look: look, full: true}
	p.loads(&check.Report{Loads: specimen.Loads()})
	return b.String()
}

// What a counterweight that stands there leaves, that none is needed, and that it cannot be told.
func TestCounterweightWords(t *testing.T) {
	for want, c := range map[string]check.Counterweight{
		"leaves 1.30 kg mm about C, without it they are 160.20":       {Stands: true, Axis: "C", With: 1.2999, Without: 160.2, Mass: 1.9, Radius: 85},
		"C is balanced: it needs no counterweight.":                   {Axis: "C", Radius: 85},
		"cannot be told, mass not known: stock":                       {Axis: "C", Reason: "mass not known: stock"},
		"add mass = 1.913, angle = 359.5 and within = how far off it": {Axis: "C", Radius: 85, Mass: 1.9126, Angle: 359.5},
	} {
		var b strings.Builder
		(&page{w: &b, look: terminal.Look{Width: 1000}}).said(Counterweight(&c))
		if !strings.Contains(b.String(), want) {
			t.Errorf("%s\ndoes not say %q", b.String(), want)
		}
	}
}

// A load is rounded up and a margin down; a report without loads says nothing of them.
func TestLoadsAreRoundedTowardsTheWorse(t *testing.T) {
	words := loadsPage(terminal.Look{Width: 200})
	for _, want := range []string{"308.08    800  491.92", " 41.76     40   -1.76  A 80.54, C 180.00 deg", "not rated  second trunnion: faceplate load, kg"} {
		if !strings.Contains(words, want) {
			t.Errorf("%s\ndoes not say %q", words, want)
		}
	}
	var b strings.Builder
	if (&page{w: &b}).loads(&check.Report{}); b.Len() > 0 {
		t.Errorf("without loads: %q", b.String())
	}
}
