package machine

import (
	"slices"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// The commented examples load, and stand where their comments say.
func TestExample(t *testing.T) {
	s := example(t).load(t)
	if len(s.Warnings) != 0 {
		t.Errorf("warnings: %q", s.Warnings)
	}
	var letters string
	for _, a := range s.Axes {
		letters += a.Letter
	}
	if letters != "YXZAC" {
		t.Errorf("axes %s", letters)
	}
	var names []string
	for _, b := range s.Bodies {
		names = append(names, b.Name)
	}
	want := []string{
		"machine/table", "machine/column", "machine/head", "machine/nose", "machine/door frame", "tool",
		"plate", "trunnion/base", "trunnion/cradle", "trunnion/faceplate",
		"vise/body", "vise/fixed jaw", "vise/moving jaw", "stock",
	}
	if !slices.Equal(names, want) {
		t.Errorf("bodies %q", names)
	}
	for _, p := range s.Presence {
		want := Modelled
		if p.What == "changer" || p.What == "hoses" {
			want = DeclaredAbsent
		}
		if p.State != want {
			t.Errorf("%s is %s", p.What, p.State)
		}
	}
	var zero motion.Params
	// By hand, from the files: plate C5 to O5 of the table, middle I5 at
	// (0, 0, 0); trunnion B4 to L4 of the plate, middle G4 at (0, 0, 40);
	// vise B3 to D3 of the faceplate, middle C3 at (25, 25, 200).
	for name, at := range map[string]r3.Vector{
		"plate":           {},
		"trunnion/base":   {Z: 40},
		"vise/body":       {X: 25, Y: 25, Z: 240},
		"vise/moving jaw": {X: 25, Y: 85, Z: 240},
		"stock":           {X: 25, Y: 25, Z: 300},
	} {
		pose := s.Pose(s.body(t, name), zero)
		if pose.T != at || pose.R != [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} {
			t.Errorf("%s stands at %+v, want %v", name, pose, at)
		}
	}
}

// Masses from the volumes of boxes by hand.
func TestMass(t *testing.T) {
	s := example(t).load(t)
	stock := s.Bodies[s.body(t, "stock")]
	// 80 x 60 x 40 mm at 2810 kg/m3.
	nearly(t, "stock", stock.Mass, 0.080*0.060*0.040*2810, 1e-9)
	total := 0.0
	for _, b := range s.Bodies {
		if b.Unit == "trunnion" {
			total += b.Mass
		}
	}
	nearly(t, "trunnion", total, 165, 1e-9)
	// Plate 300 x 200 x 38 of steel at 7850 kg/m3: 17.898 kg (worked from
	// Gere's density, Mechanics of Materials, appendix H).
	w := example(t)
	w["plate.stl"] = string(box(0, 0, 0, 300, 200, 38))
	s = w.load(t)
	nearly(t, "plate", s.Bodies[s.body(t, "plate")].Mass, 17.898, 1e-6)
	// Neither mass nor material, or a material of one of three solids only.
	s = example(t).with(t, "stock.toml", "material = \"aluminium 7075\"\n", "").
		with(t, "vise.toml", "material = \"steel\"\n", "").
		with(t, "vise.toml", "file = \"fixed-jaw.stl\"", "file = \"fixed-jaw.stl\"\nmaterial = \"steel\"").load(t)
	for name, want := range map[string]float64{"stock": 0, "vise/body": 0, "vise/moving jaw": 0, "vise/fixed jaw": 0.120 * 0.020 * 0.030 * 7850} {
		nearly(t, name, s.Bodies[s.body(t, name)].Mass, want, 1e-9)
	}
}
