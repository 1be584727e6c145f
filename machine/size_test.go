package machine

import (
	"strings"
	"testing"
)

// Solids in inch that are read in mm are 25.4 times too small (the inch: ISO
// 80000-3). What is drawn 25.4 times too large, or small and yet real, too.
func TestImplausibleSizes(t *testing.T) {
	const inch = 25.4
	for _, c := range []struct {
		solid   string
		x, y, z float64
		want    string // "" for no warning
	}{
		{"block.stl", 100 / inch, 60 / inch, 50 / inch, `stock.toml: solid "block": implausibly small: largest extent 3.94 mm, the file being read in mm; in inch it would be 100 mm`},
		{"block.stl", 10, 5, 5, `solid "block": implausibly small: largest extent 10 mm`},
		{"block.stl", 10.1, 5, 5, ""},
		{"block.stl", 1499, 60, 50, ""},
		{"block.stl", 60, 1500, 50, `solid "block": implausibly large: largest extent 1500 mm`},
		{"vise-body.stl", 250 / inch, 120 / inch, 90 / inch, `vise.toml: solid "body": implausibly small: largest extent 9.84 mm`},
		{"nose.stl", 19, 19, 10, `machine.toml: solid "nose": implausibly small: largest extent 19 mm`},
		{"nose.stl", 21, 21, 10, ""},
		{"table.stl", 2000 / inch, 600 / inch, 90 / inch, `machine.toml: solid "table": implausibly small: largest extent 78.7 mm`},
		{"column.stl", 900, 900, 3000, ""},
		{"column.stl", 900, 900, 6000, `machine.toml: solid "column": implausibly large: largest extent 6000 mm`},
	} {
		w := example(t)
		w[c.solid] = string(box(0, 0, 0, c.x, c.y, c.z))
		var told []string
		for _, text := range w.load(t).Warnings {
			if strings.Contains(text, "implausibly") {
				told = append(told, text)
			}
		}
		all := strings.Join(told, "\n")
		if c.want == "" && all != "" || c.want != "" && !strings.Contains(all, c.want) || len(told) > 1 {
			t.Errorf("%s of %g x %g x %g: warnings %q, want %q", c.solid, c.x, c.y, c.z, told, c.want)
		}
	}
}

// The stock, drawn 100 x 60 x 50, has 300 cm3: 2.355 kg of steel at 7850 kg/m3 (Gere, Mechanics
// of Materials, appendix H).
func TestImplausibleMass(t *testing.T) {
	for _, c := range []struct {
		mass string
		want string // "" for no warning
	}{
		{"mass = 2.4", ""},
		{"mass = 11.7", ""},  // less than 5 times it, 11.775
		{"mass = 0.472", ""}, // more than a fifth, 0.471
		{"mass = 11.8", "stock.toml: mass = 11.8 kg, but 300 cm3, as drawn, weigh 2.35 kg of steel"},
		{"mass = 0.47", "stock.toml: mass = 0.47 kg, but 300 cm3"},
		{"mass = 2400", "stock.toml: mass = 2400 kg"}, // in grams
		{`material = "polyethylene"`, ""},
	} {
		w := example(t)
		w["block.stl"] = string(box(0, 0, 0, 100, 60, 50))
		var told []string
		for _, text := range w.with(t, "stock.toml", `material = "aluminium 7075"`, c.mass).load(t).Warnings {
			if strings.Contains(text, "as drawn, weigh") && strings.HasPrefix(text, "stock.toml") {
				told = append(told, text)
			}
		}
		if all := strings.Join(told, "\n"); c.want == "" && all != "" || c.want != "" && !strings.Contains(all, c.want) || len(told) > 1 {
			t.Errorf("%s: warnings %q, want %q", c.mass, told, c.want)
		}
	}
}
