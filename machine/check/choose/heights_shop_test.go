package choose

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"testing/fstest"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/swing"
)

// onRiser stands the block of a shop on a straight riser of so many mm.
func (s sideShop) onRiser(t testing.TB, mm float64) sideShop {
	t.Helper()
	s["riser.stl"] = shoptest.Box(-42, -28, 0, 42, 28, mm)
	s["riser.toml"] = fmt.Sprintf(`
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "riser", file = "riser.stl", chord_error = 0 }]
seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0.02 }
grid = [{ name = "top", solid = "riser", origin = [-25, 0, %g], columns = 2, rows = 1, pitch = 50 }]
`, mm)
	return s.edit(t, "setup.toml", `{ name = "stock", component = "stock.toml", on = "unit/face", pins = ["A1", "B1"] }`,
		`{ name = "riser", component = "riser.toml", on = "unit/face", pins = ["A1", "B1"] },
  { name = "stock", component = "stock.toml", on = "riser/top", pins = ["A1", "B1"] }`)
}

// unitOnRiser stands the whole unit of a shop on a straight riser of so many mm.
func (s sideShop) unitOnRiser(t testing.TB, mm float64) sideShop {
	t.Helper()
	s["riser.stl"] = shoptest.Box(-180, -45, 0, 180, 45, mm)
	s["riser.toml"] = fmt.Sprintf(`
kind = "component"
name = "riser"
units = "mm"
role = "workholding"
material = "steel"
solid = [{ name = "riser", file = "riser.stl", chord_error = 0 }]
seat = { pins = [[-150, 0, 0], [150, 0, 0]], play = 0.02 }
grid = [{ name = "top", solid = "riser", origin = [-150, 0, %g], columns = 2, rows = 1, pitch = 300 }]
`, mm)
	return s.edit(t, "setup.toml", `{ name = "unit", component = "unit.toml", on = "table", pins = ["B3", "H3"] }`,
		`{ name = "riser", component = "riser.toml", on = "table", pins = ["B3", "H3"] },
  { name = "unit", component = "unit.toml", on = "riser/top", pins = ["A1", "B1"] }`)
}

func (s sideShop) same() sideShop {
	c := sideShop{}
	for name, text := range s {
		c[name] = text
	}
	return c
}

func (s sideShop) draft(t testing.TB) *machine.Draft {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range s {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	d, err := machine.DraftFS(files, "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// heightShop draws a shop in which not every height will do: towers beside the riser, little
// travel, ratings that a high one is over, features on several sides.
func heightShop(t testing.TB, r *rand.Rand) sideShop {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	w := newSideShop()
	w["faceplate.stl"] = shoptest.Box(-50, -45, 170, 75, 45, 180)
	for i := range r.IntN(2) {
		if r.IntN(2) == 0 {
			w.tower(t, fmt.Sprintf("tower%d", i), "unit/face", in(75, 80), in(-40, 0), 0, in(85, 97), in(10, 40), in(20, 90))
		} else {
			w.tower(t, fmt.Sprintf("post%d", i), "table", in(-60, 60), in(-140, -90), 0, in(60, 80), in(-88, -80), in(150, 290))
		}
	}
	switch r.IntN(3) {
	case 0:
		w.edit(t, "machine.toml", "travel = [0, 600], home = 600", fmt.Sprintf("travel = [0, %g], home = %[1]g", in(412, 445)))
	case 1:
		w.edit(t, "unit.toml", "solid = [", fmt.Sprintf("ratings = { tilt = \"A\", rotary = \"C\", load = 30, includes_own = false, tilt_acceleration = 180, rotary_acceleration = 360, tilt_moment = %g, rotary_moment = 50, faceplate_moment = %g, face = [0, 0, 180] }\nsolid = [", in(0.3, 1.5), in(0.6, 2)))
	}
	list := []string{front, back, right, left, upper}
	w.holes("op", upper, list[r.IntN(5)])
	w["setup.toml"] += fmt.Sprintf("\n[commanded]\nA = [%g, %g]\n", in(-95, -89.9), in(89.9, 95))
	return w
}

// alone is what the full check says of files read anew: the worst of the concerns of heights and
// what it is about, and the verdict of each.
func alone(t testing.TB, s *machine.Setup) (worst check.Verdict, why string, each map[string]check.Verdict) {
	t.Helper()
	r := check.NewReport(s)
	o := proof.Options{Tests: 300_000}
	for _, room := range []func(context.Context, *machine.Setup, *check.Report, proof.Options) error{loads.Check, swing.Check, reach.Check} {
		if err := room(context.Background(), s, r, o); err != nil {
			t.Fatal(err)
		}
	}
	worst, each = check.Clear, map[string]check.Verdict{}
	for _, j := range r.Judge() {
		each[j.Concern] = j.Verdict
		if j.Verdict.Worse(worst) {
			worst, why = j.Verdict, j.Concern+": "+j.Worst.Short()
		}
	}
	return worst, why, each
}
