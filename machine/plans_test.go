package machine

import (
	"math"
	"os"
	"testing"

	"gridswing/geom/bores"

	"github.com/golang/geo/r3"
)

func demoSetup(t *testing.T) *Setup {
	t.Helper()
	s, err := LoadFS(os.DirFS("../models/demo"), "setups/bracket-op10.toml")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Plans are of the grids that something stands on, and of no others: the demo's stock stands in a
// vise, without any holes.
func TestPlans(t *testing.T) {
	s := demoSetup(t)
	var names []string
	for _, p := range s.Plans() {
		names = append(names, p.Name)
	}
	want := []string{"machine/bores", "plate/top", "trunnion/faceplate holes", "riser/top"}
	if len(names) != len(want) {
		t.Fatalf("plans %q", names)
	}
	for i := range want {
		if names[i] != want[i] {
			t.Errorf("plan %d is %s, want %s", i, names[i], want[i])
		}
	}
}

// Holes of a plan are where bores are in the solid as it stands, of the same diameter: the bores are
// fitted to the facets, and know nothing of the files. The other way round, every bore of that
// diameter in the face of a rectangular grid that has none left out is on the plan.
func TestPlansAgainstSolids(t *testing.T) {
	s := demoSetup(t)
	for _, p := range s.Plans() {
		body := &s.Bodies[p.Body]
		found := bores.Find(body.Solid.Mesh)
		back, pose := p.frame.Inverse(), body.Chain.Home
		type bore struct{ x, y, diameter float64 }
		var list []bore
		for _, o := range found.Openings() {
			at := back.Point(pose.Point(o.At))
			if axis := back.Dir(pose.Dir(o.Axis)); axis.Z > 1-1e-6 && math.Abs(at.Z) < 0.05 {
				list = append(list, bore{at.X, at.Y, o.Diameter})
			}
		}
		if len(list) == 0 {
			t.Errorf("%s: no bores found in its solid", p.Name)
		}
		for _, h := range p.Places {
			near := false
			for _, b := range list {
				near = near || math.Hypot(b.x-h.X, b.y-h.Y) < 0.02 && math.Abs(b.diameter-h.Bore) < 0.1
			}
			if !near {
				t.Errorf("%s: no bore of %g mm at %s, %g, %g", p.Name, h.Bore, h.Name, h.X, h.Y)
			}
		}
		if p.Name == "plate/top" {
			for _, b := range list {
				on := math.Abs(b.diameter-16) > 0.1
				for _, h := range p.Places {
					on = on || math.Hypot(b.x-h.X, b.y-h.Y) < 0.02
				}
				if !on {
					t.Errorf("%s: the bore at %g, %g is not on the plan", p.Name, b.x, b.y)
				}
			}
		}
	}
}

// Locators and screws of what stands there are at the holes that they name.
func TestPlansAgainstSeats(t *testing.T) {
	s := demoSetup(t)
	told := 0
	for _, p := range s.Plans() {
		at := func(name string) (x, y float64) {
			for _, h := range p.Places {
				if h.Name == name {
					return h.X, h.Y
				}
			}
			t.Fatalf("%s has no %s", p.Name, name)
			return 0, 0
		}
		check := func(what, hole string, point r3.Vector) {
			x, y := p.At(point)
			if hx, hy := at(hole); math.Hypot(x-hx, y-hy) > 0.05 {
				t.Errorf("%s of %s at %g, %g, not in %s", what, p.Name, x, y, hole)
			}
			told++
		}
		for _, seat := range s.Seats {
			if !p.Carries(&seat) {
				continue
			}
			for _, l := range seat.Locators {
				check("a locator of "+seat.Unit, l.Hole, l.At)
			}
			for _, f := range seat.Fasteners {
				if f.Under != nil && !f.Under.Slot {
					check("a screw of "+seat.Unit, f.Under.Hole, f.At)
				}
			}
		}
	}
	if told < 8+14 {
		t.Errorf("%d locators and screws looked at", told)
	}
}

// Slots are a plan, too, if something stands over them.
func TestPlanOfSlots(t *testing.T) {
	w := example(t)
	if len(w.load(t).Plans()) != 3 {
		t.Errorf("%d plans of the example", len(w.load(t).Plans()))
	}
	w = w.with(t, "machine.toml", "# [[slots]]                 # T-slots (optional); a component may have them, too", "[[slots]]\nname = \"slots\"\nsolid = \"table\"\norigin = [0, -126, 0]\ncount = 5\npitch = 63\nwidth = \"18 H8\"\nthread = \"M16\"").
		with(t, "setup.toml", "on = \"table\" ", "on = \"slots\" ").with(t, "setup.toml", "pins = [\"C5\", \"O5\"]", "at = [0, 0, 0]\nwithin = 0.1")
	s := w.load(t)
	var p *HolePlan
	for _, q := range s.Plans() {
		if q.Grid == "slots" {
			p = q
		}
	}
	if p == nil || len(p.Slots) != 5 || len(p.Places) != 0 || p.Slots[4].Y != 4*63 || p.Slots[0].Width != 18 || p.Slots[0].Thread != "M16" {
		t.Fatalf("%+v", p)
	}
	if _, y := p.At(r3.Vector{X: 100, Y: 63}); math.Abs(y-3*63) > 1e-9 {
		t.Errorf("slot 4 at %g", y)
	}
}
