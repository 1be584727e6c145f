package machine

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// The example has a wrench in its tool file and a key of its own.
func TestDrivers(t *testing.T) {
	s := example(t).load(t)
	if len(s.Drivers) != 2 {
		t.Fatalf("%d drivers", len(s.Drivers))
	}
	wrench, key := s.Drivers[0], s.Drivers[1]
	if wrench.Name != "socket wrench M16" || !wrench.Fits("M16", 14) || wrench.Fits("M12", 10) || wrench.Free != 100 {
		t.Errorf("%+v", wrench)
	}
	if !key.Fits("M12", 10) || key.Fits("M12", 0) || key.Fits("M10", 8) || key.Free != 60 {
		t.Errorf("%+v", key)
	}
	for d, want := range map[*Driver][3]float64{wrench: {90, -16, 220}, key: {110, 0, 135}} {
		a := d.Solid.Audit
		// From outside, and by no more than 72 sides make: 1/cos(2.5 deg) of the radius.
		if !a.Closed || !a.Oriented || a.Bounds.Max.X < want[0] || a.Bounds.Max.X > want[0]/math.Cos(math.Pi/72)+0.01 ||
			math.Abs(a.Bounds.Min.Z-want[1]) > 0.01 || math.Abs(a.Bounds.Max.Z-want[2]) > 0.01 {
			t.Errorf("%s: %+v", d.Name, a)
		}
	}
	if !wrench.Fits("M16x1.5", 0) {
		t.Error("the head of a fine thread is another one")
	}
}

// A tool file in inches says the same as one in mm.
func TestDriverInInches(t *testing.T) {
	w := example(t).with(t, "setup.toml", `["tools.toml"]`, `["tools.toml", "keys.toml"]`)
	w["keys.toml"] = "kind = \"tools\"\nname = \"keys\"\nunits = \"inch\"\n[[driver]]\nname = \"key in inches\"\nkey = 0.394\n" +
		"profile = [[0, 0.5], [10, 0.5]]\nfree_height = 2\n"
	d := w.load(t).Drivers[1]
	if !d.Fits("M12", 10) || d.Fits("M10", 8) || d.Free != 50.8 {
		t.Errorf("%+v", d)
	}
	size := d.Solid.Audit.Bounds.Size()
	nearly(t, "length", size.Z, 254, 0.01)
	nearly(t, "width", size.X, 12.7, 0.02)
	// A name that both files have.
	w["keys.toml"] = strings.Replace(w["keys.toml"], "key in inches", "socket wrench M16", 1)
	if e := w.onlyError(t); !strings.Contains(e.Found, "second time") || e.File != "setup.toml" {
		t.Error(e)
	}
}

// Axes stand at home unless it is stated otherwise; what stands on something is loaded
// after it.
func TestLoading(t *testing.T) {
	s := example(t).load(t)
	for k := range s.Axes {
		if s.Loading.At[k] != s.Axes[k].Home {
			t.Errorf("%s at %v", s.Axes[k].Letter, s.Loading.At[k])
		}
	}
	want := []string{"plate", "trunnion", "vise", "stock"}
	if !slices.Equal(s.Loading.Order, want) || len(s.Loading.Stated) != 0 || s.Friction != 0.12 || s.Demand.Loading != 1 {
		t.Errorf("%+v, friction %v, demand %v", s.Loading, s.Friction, s.Demand.Loading)
	}
	w := example(t).with(t, "setup.toml", "# [loading] ", "[loading]\nC = 90\nX = -120 # ")
	s = w.load(t)
	if at := s.params(t, map[string]float64{"C": 90, "X": -120, "Y": 250, "Z": 550}); s.Loading.At != at || len(s.Loading.Stated) != 2 {
		t.Errorf("%+v, want %v", s.Loading, at)
	}
	// Without the table of demands, and with the vise first in the file.
	w = example(t).with(t, "setup.toml", "loading = 1 ", "# ").with(t, "setup.toml", "friction = 0.12", "# ")
	text := w["setup.toml"]
	i, j := strings.Index(text, "[[place]]\nname = \"vise\""), strings.Index(text, "[[place]]\nname = \"stock\"")
	k := strings.Index(text, "[[place]]\nname = \"plate\"")
	w["setup.toml"] = text[:k] + text[i:j] + text[k:i] + text[j:]
	s = w.load(t)
	if !slices.Equal(s.Loading.Order, want) || s.Demand.Loading != 2 || s.Friction != 0 {
		t.Errorf("%+v, friction %v, demand %v", s.Loading, s.Friction, s.Demand.Loading)
	}
}

func TestLoadingFaults(t *testing.T) {
	w := example(t)
	order := "# loading_order = "
	stated := `loading_order = ["plate", "trunnion", "vise", "stock"] #`
	for _, c := range []faulty{
		{"driver without size", "setup.toml", "key = 10 ", "# ", "driver]]", "", []string{"neither fits nor key"}},
		{"driver of two sizes", "setup.toml", "key = 10 ", "fits = \"M12\"\nkey = 10 ", "key = 10", "", []string{"one of the two"}},
		{"driver of no thread", "tools.toml", `fits = "M16"`, `fits = "M13"`, "fits", "", []string{`"M13"`, `"M1`}},
		{"driver of no key", "setup.toml", "key = 10 ", "key = 0 ", "key = 0", "", []string{"more than 0"}},
		{"one point", "setup.toml", "[[0, 11.5], [120, 11.5], [120, 220], [135, 220]]", "[[0, 11.5]]", "profile", "", []string{"1 point", "two or more"}},
		{"backwards", "setup.toml", "[135, 220]", "[119, 220]", "profile", "", []string{"goes backwards", "growing"}},
		{"thin", "setup.toml", "[135, 220]", "[135, -1]", "135, -1]", "", []string{"diameter"}},
		{"nothing", "setup.toml", "[[0, 11.5], [120, 11.5], [120, 220], [135, 220]]", "[[0, 0], [9, 0]]", "profile", "", []string{"encloses nothing"}},
		{"no free height", "setup.toml", "free_height = 60", "free_height = 0", "free_height", "", []string{"more than 0"}},
		{"two drivers of a name", "setup.toml", `name = "hex key 10"`, `name = "socket wrench M16"`, `name = "socket wrench M16"`, "", []string{"second time"}},
		{"loading beyond travel", "setup.toml", "# [loading] ", "[loading]\nA = 121 # ", "A = 121", "", []string{"121", "-30 to 120"}},
		{"loading of no axis", "setup.toml", "# [loading] ", "[loading]\nB = 0 # ", "B = 0", "", []string{`axis "B"`}},
		{"no such place", "setup.toml", order, strings.Replace(stated, `"vise", "stock"`, `"vise", "stock", "stok"`, 1), `"stok"`, "", []string{`"stock"`}},
		{"loaded twice", "setup.toml", order, strings.Replace(stated, `"vise", "stock"`, `"vise", "stock", "vise"`, 1), `"vise"] #`, "", []string{"second time"}},
		{"forgotten", "setup.toml", order, strings.Replace(stated, `, "stock"`, ``, 1), "loading_order", "", []string{`no "stock"`}},
		{"before what it stands on", "setup.toml", order, strings.Replace(stated, `"vise", "stock"`, `"stock", "vise"`, 1), `"stock", "vise"`, "", []string{`"stock" before "vise"`}},
		{"slippery", "setup.toml", "friction = 0.12", "friction = 0", "friction", "", []string{"0.04 to 0.4"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}
