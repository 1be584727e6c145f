package render

import (
	"math"
	"testing"

	"gridswing/geom/envelope"
	"gridswing/geom/motion"
	"gridswing/geom/shape"
	"gridswing/render/ink"
	"gridswing/render/internal/golden"

	"github.com/golang/geo/r3"
)

// swept returns what the rig's riser, vise and part sweep from one tilt to another.
func (r *rig) swept(t testing.TB, from, to float64) Item {
	t.Helper()
	chain := motion.Chain{Home: r.items(0, 0)[4].Pose, Joints: []motion.Joint{
		{Name: "A", Kind: motion.Rotary, Axis: r3.Vector{X: 1}, Point: r3.Vector{Z: 230}, Gain: motion.Params{1}},
		{Name: "C", Kind: motion.Rotary, Axis: r3.Vector{Z: 1}, Gain: motion.Params{0, 1}},
	}}
	load := shape.Join(block(t, -70, -70, 178, 70, 70, 218), block(t, -50, -90, 218, 50, 90, 285), block(t, -40, -50, 285, 40, 40, 330), shape.Cylinder(24, 330, 352, fine)).Mesh()
	h, err := envelope.Of([]envelope.Load{{Mesh: load, Chain: chain}}, envelope.Sweep{Tilt: 0, Rotary: 1, Lo: from * math.Pi / 180, Hi: to * math.Pi / 180, Cells: 64})
	if err != nil {
		t.Fatal(err)
	}
	return Item{Name: "swept", Shape: Prepare(h.Mesh, true), Pose: h.Pose, Emphasis: Swept}
}

// numbered numbers items from 1 as they stand.
func numbered(items []Item) []Item {
	for i := range items {
		items[i].Number = i + 1
	}
	return items
}

// The pictures in testdata are looked at by a person whenever they change.
func TestGoldenEffects(t *testing.T) {
	r := newRig(t)
	near := func(tilt float64) []Item { return emphasised(r.items(tilt, 0), Tight, "trunnion base", "faceplate") }
	// The faceplate's lower edge, at a radius of 168 mm, 80 mm under the tilt axis, and the base's top.
	gap := Mark{Point: r3.Vector{Y: -105.5, Z: 72.36}, Gap: r3.Vector{Z: 8.72}, Label: "8.71 mm"}
	narrow := Mark{Point: r3.Vector{Y: -97.3, Z: 69.7}, Gap: r3.Vector{Z: 3.41}, Label: "3.40 mm"}
	pictures := map[string]Picture{
		"dark": {Title: "Bracket, second side: contact", Caption: []string{"A +85.0°  C 30.0°"}, Theme: ink.Dark, View: Right, Items: emphasised(r.items(85, 30), Contact, "trunnion base", "faceplate"), Marks: []Mark{{Point: r3.Vector{Y: 70, Z: 66}, Label: "1"}}},
		"dark-closeup": {Title: "Faceplate meets trunnion base", Theme: ink.Dark, Items: emphasised(r.items(85, 30), Contact, "trunnion base", "faceplate"),
			Close: &CloseUp{Center: r3.Vector{Y: 70, Z: 66}, Radius: 45, Across: r3.Vector{Y: 0.1, Z: 1}}, Marks: []Mark{{Point: r3.Vector{Y: 70, Z: 66}, Label: "1"}}},
		"plane":      {Title: "Bracket, cut", Items: r.items(20, 30), Plane: &Plane{Name: "X", Normal: r3.Vector{X: 1}, At: 10}},
		"veils":      {Title: "Bracket, trunnion as a veil", Items: emphasised(r.items(20, 30), Ghost, "trunnion base", "trunnion cradle", "faceplate")},
		"swept":      {Title: "Bracket, what is swept", Items: append(r.items(0, 0), r.swept(t, -30, 90))},
		"swept-dark": {Title: "Bracket, what is swept", Theme: ink.Dark, View: Right, Items: append(r.items(0, 0), r.swept(t, -30, 90))},
		"numbers":    {Title: "Bracket, numbered", Items: numbered(r.items(20, 30)), Numbers: true},
		"dimension": {Title: "Faceplate and trunnion base", Items: near(30), View: Right, Marks: []Mark{gap},
			Close: &CloseUp{Center: gap.Point, Radius: 25, Across: gap.Gap}},
		"dimension-narrow": {Title: "Faceplate and trunnion base", Items: near(33), View: Right, Marks: []Mark{narrow},
			Close: &CloseUp{Center: narrow.Point, Radius: 40, Across: narrow.Gap}},
	}
	for name, p := range pictures {
		p.Width, p.Height = 800, 600
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
		if name == "veils" {
			golden.Check(t, "grey", ink.Repainted(img, ink.Grey))
		}
	}
}
