package render

import (
	"testing"

	"gridswing/render/internal/golden"

	"github.com/golang/geo/r3"
)

// The pictures in testdata are looked at by a person whenever they change.
func TestGoldenPictures(t *testing.T) {
	r := newRig(t)
	at := r3.Vector{X: 0, Y: 70, Z: 66}
	pictures := map[string]Picture{
		"clear": {Title: "Bracket, second side: clear", Caption: []string{"A +20.0°  C 30.0°", "Demanded clearance 2 mm."},
			Items: r.items(20, 30)},
		"contact": {Title: "Bracket, second side: contact", Caption: []string{"A +85.0°  C 30.0°"},
			Items: emphasised(r.items(85, 30), Contact, "trunnion base", "faceplate"), View: Right,
			Marks: []Mark{{Point: at, Label: "1  X 0.0  Y 70.0  Z 66.0"}}},
		"tight": {Title: "Bracket, second side: tight", Caption: []string{"A +70.0°  C 30.0°", "Smallest clearance 1.24 mm; demanded 2 mm."},
			Items: emphasised(emphasised(r.items(70, 30), Tight, "trunnion base", "faceplate"), Ghost, "table"), View: Top},
		"closeup": {Title: "Bracket, second side: faceplate meets trunnion base", Caption: []string{"A +85.0°  C 30.0°"},
			Items: emphasised(r.items(85, 30), Contact, "trunnion base", "faceplate"),
			Close: &CloseUp{Center: at, Radius: 45, Across: r3.Vector{Y: 0.1, Z: 1}}, Marks: []Mark{{Point: at, Label: "1  contact"}}},
		"closeup-isometric": {Title: "The same, at a slant", View: Isometric,
			Items: emphasised(r.items(85, 30), Contact, "trunnion base", "faceplate"),
			Close: &CloseUp{Center: at, Radius: 60, Across: r3.Vector{Y: 1, Z: 1}}},
	}
	for name, p := range pictures {
		p.Width, p.Height = 800, 600
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}

func emphasised(items []Item, e Emphasis, names ...string) []Item {
	for i := range items {
		for _, n := range names {
			if items[i].Name == n {
				items[i].Emphasis = e
			}
		}
	}
	return items
}
