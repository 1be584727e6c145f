package loads

import (
	"math"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// The block is 30 off along the way of the letters: 1.884 x 30 kg mm. At a radius of 60 half its mass
// cures that on the other side, and once it stands there nothing is left about C.
func TestCounterweight(t *testing.T) {
	weight := "counterweight = { on = \"unit/face\", radius = 60, height = 0, diameter = 30, material = \"steel\"%s }\nplace = ["
	s := newShop().edit(t, "setup.toml", "place = [", strings.Replace(weight, "%s", "", 1))
	c := s.check(t).Loads.Counterweight
	if c == nil || c.Reason != "" || c.Stands {
		t.Fatalf("%+v", c)
	}
	if !close(c.Without, block*30, 1e-6) || !close(c.Mass, block/2, 1e-9) || !close(c.Angle, 180, 1e-6) || c.With != 0 || !close(c.Carried, 1.5*block, 1e-9) {
		t.Errorf("%+v", c)
	}
	if want := c.Mass / (7850e-9 * math.Pi / 4 * 900); !close(c.Length, want, 1e-9) {
		t.Errorf("length %v, want %v", c.Length, want)
	}
	s = newShop().edit(t, "setup.toml", "place = [", strings.Replace(weight, "%s", ", mass = 0.942, angle = 180, within = 0.5", 1))
	setup := s.load(t)
	r := s.check(t)
	c = r.Loads.Counterweight
	if !c.Stands || c.With > 1e-6 || !close(c.Carried, 1.5*block, 1e-9) {
		t.Errorf("%+v", c)
	}
	if q := rated(t, r, check.RotaryMoment, false); !close(*q.Load, 0, 1e-6) {
		t.Errorf("%v N m are left about C", *q.Load)
	}
	has(t, rated(t, r, check.FaceplateLoad, false), 1.5*block, 2.2, check.Overload)
	if b := setup.Bodies[setup.Counterweight.Body]; b.Name != "counterweight" || !b.Solid.Audit.Closed {
		t.Errorf("%+v", b)
	}
}

// A counterweight for something whose mass nobody knows is not made up.
func TestCounterweightOfUnknown(t *testing.T) {
	weight := "counterweight = { on = \"unit/face\", radius = 60, height = 0, diameter = 30, material = \"steel\" }\nplace = ["
	s := newShop().edit(t, "setup.toml", "place = [", weight)
	c := s.edit(t, "stock.toml", `material = "steel"`, "").check(t).Loads.Counterweight
	if c.Mass != 0 || !strings.Contains(c.Reason, "mass not known: stock") {
		t.Errorf("%+v", c)
	}
}
