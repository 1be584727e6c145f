package choose

import (
	"context"
	"math"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/check/loads"
)

// Between two heights no load is more than at the greater of them and the bulge, with risers
// read from files; and the bulge of what is far from straight is not nothing.
func TestLoadsBetweenHeights(t *testing.T) {
	w := newSideShop().holes("op", upper).edit(t, "unit.toml", "solid = [",
		`ratings = { tilt = "A", rotary = "C", load = 300, includes_own = true, tilt_moment = 600, rotary_moment = 500, faceplate_moment = 600, face = [0, 0, 180], tilt_acceleration = 3000, rotary_acceleration = 3000 }
solid = [`)
	w["block.stl"] = shoptest.Box(-10, 20, 0, 70, 60, 40) // beside the axes, so that all moments count
	d := w.same().onRiser(t, 20).draft(t)
	h := newHeightSearch(d, "riser", 5, 105, Options{})
	look := func(mm float64) *heightLook {
		s, err := d.Spacer("riser", mm, mm)
		if err != nil {
			t.Fatal(err)
		}
		r := check.NewReport(s)
		if err := loads.Check(context.Background(), s, r, h.hard(0)); err != nil {
			t.Fatal(err)
		}
		return &heightLook{at: mm, setup: s, loads: r.Loads}
	}
	low, high := look(5), look(105)
	if why := loadsBetween(low, high); why != "" {
		t.Fatal(why)
	}
	rows, inertial := 0, 0
	for mm := 5.0; mm <= 105; mm += 12.5 {
		r := check.NewReport(w.same().onRiser(t, mm).load(t))
		if err := loads.Check(context.Background(), w.same().onRiser(t, mm).load(t), r, h.hard(0)); err != nil {
			t.Fatal(err)
		}
		for i := range r.Loads.Rated {
			q, a, b := &r.Loads.Rated[i], &low.loads.Rated[i], &high.loads.Rated[i]
			if q.Load == nil {
				t.Fatalf("%+v", q)
			}
			if most := math.Max(*a.Load, *b.Load) + bulge(low, high, b); *q.Load > most+1e-9 {
				t.Errorf("%s at %g mm: %g, bound %g", q.Words(), mm, *q.Load, most)
			}
			if mm == 5 && math.Abs(*q.Load-*a.Load) > 1e-9**q.Load {
				t.Errorf("%s: %g as a spacer, %g as a riser", q.Words(), *a.Load, *q.Load)
			}
			rows++
			if q.Inertia {
				inertial++
			}
		}
	}
	if rows == 0 || inertial == 0 {
		t.Error("no loads were looked at")
	}
}
