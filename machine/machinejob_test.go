package machine

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Where each component stands, for saying what a hole farther would do: by hand
// from the example's files (see TestExample).
func TestSeats(t *testing.T) {
	s := example(t).with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["C4", "C2"]`).load(t)
	var zero motion.Params
	want := map[string]struct {
		on    string
		at    r3.Vector
		pitch float64
	}{
		"plate": {"machine", vec(0, 0, 0), 50}, "trunnion": {"plate", vec(0, 0, 40), 50},
		"vise": {"trunnion", vec(25, 25, 240), 50}, "stock": {"vise", vec(0, 0, 0), 0},
	}
	for _, seat := range s.Seats {
		w, known := want[seat.Unit]
		if !known || seat.On != w.on || seat.Pitch != [2]float64{w.pitch, w.pitch} {
			t.Errorf("%+v", seat)
			continue
		}
		pose := seat.Chain.Pose(zero)
		// X runs along the letters of the grid, however the component is turned on it.
		if seat.Unit != "stock" {
			near(t, seat.Unit, pose.T, w.at, 1e-12)
			near(t, seat.Unit+" X", pose.Dir(vec(1, 0, 0)), vec(1, 0, 0), 1e-15)
		}
		near(t, seat.Unit+" Z", pose.Dir(vec(0, 0, 1)), vec(0, 0, 1), 1e-15)
	}
	// What the vise stands on turns: at A 90 its seat faces away from the operator.
	vise := s.Seats[slices.IndexFunc(s.Seats, func(x Seat) bool { return x.Unit == "vise" })]
	pose := vise.Chain.Pose(s.params(t, map[string]float64{"A": 90}))
	near(t, "normal", pose.Dir(vec(0, 0, 1)), vec(0, 1, 0), 1e-15)
	// The table under the plate goes against X (ISO 841).
	pose = s.Seats[0].Chain.Pose(s.params(t, map[string]float64{"X": 10}))
	near(t, "plate", pose.T, vec(-10, 0, 0), 1e-12)
}

// What the machine file says of cutting.
func TestMachineJob(t *testing.T) {
	w := example(t).with(t, "machine.toml", "# rapid = ", "rapid = ").
		with(t, "machine.toml", `["changer", "hoses"]`, `["hoses"]`).
		with(t, "setup.toml", "# [offsets]\n# shift = 0 ", "[offsets]\nshift = 12.5 #")
	w["machine.toml"] += "[[tool_change.zone]]\nname = \"arm\"\nfrom = [-250, 80, 600]\nto = [-80, -80, 800]\n" +
		"[[tool_change.zone]]\nname = \"gripper\"\ncarried_by = \"Z\"\nfile = \"nose.stl\"\nchord_error = 0.1\nat = [0, 0, 10]\n"
	s := w.load(t)
	if s.Rapid != Interpolated || example(t).load(t).Rapid != Independent {
		t.Errorf("rapid %q", s.Rapid)
	}
	if a := s.axis(t, "C"); a.RollOver != ShorterWay || s.axis(t, "A").RollOver != EitherWay {
		t.Errorf("C rolls over %q", a.RollOver)
	}
	if want := (Magazine{Longest: 300, Heaviest: 8, Diameter: 80, Alone: 125}); s.Magazine == nil || *s.Magazine != want {
		t.Errorf("magazine %+v", s.Magazine)
	}
	offsets := OffsetRules{Method: PerPosition, Lengths: AbsoluteLengths, Numbers: standardOffsets(), Decimals: 3, Shift: 12.5, Unit: geom.Millimetre}
	if s.Offsets == nil || !reflect.DeepEqual(*s.Offsets, offsets) {
		t.Errorf("offsets %+v", s.Offsets)
	}
	c := s.ToolChange
	if c == nil || !slices.Equal(c.At, []AxisPosition{{1, 0}, {2, 550}}) || len(c.Zones) != 2 {
		t.Fatalf("tool change %+v", c)
	}
	arm, gripper := c.Zones[0], c.Zones[1]
	if arm.Name != "machine/arm" || arm.Unit != machineUnit || arm.Role != "changer" || !arm.Fixed || gripper.Fixed {
		t.Errorf("%+v", c.Zones)
	}
	if want := (geom.Box{Min: vec(-250, -80, 600), Max: vec(-80, 80, 800)}); arm.Solid.Audit.Bounds != want || !arm.Solid.Audit.Closed || arm.Solid.Audit.InsideOut {
		t.Errorf("arm %+v", arm.Solid.Audit)
	}
	// Half of a float32's last digit at 800 is 3e-5.
	if e := arm.Solid.ChordError; e < 800.0/(1<<24) || e > 1e-3 {
		t.Errorf("chord error %g", e)
	}
	pose := gripper.Chain.Pose(s.params(t, map[string]float64{"Z": 100}))
	near(t, "gripper", pose.T, vec(0, 0, 110), 0)
	for _, b := range s.Bodies {
		if b.Role == "changer" {
			t.Error("a zone among the bodies")
		}
	}
}

// Without its method nobody knows what to key in: a warning with its place; the
// rest loads.
func TestNoOffsetMethod(t *testing.T) {
	for _, c := range []struct{ old, new, at, says string }{
		{"method = \"per-position\" ", "#", "machine.toml:100", "no method"},
		{"lengths = \"absolute\" ", "#", "machine.toml:100", "no lengths"},
	} {
		w := example(t).with(t, "machine.toml", c.old, c.new)
		s := w.load(t)
		at, _, _ := strings.Cut(w.place(t, "machine.toml", "offsets]"), ":2")
		if s.Offsets != nil || len(s.Operations) != 5 || len(s.Warnings) != 1 ||
			!strings.HasPrefix(s.Warnings[0], at+": ") || !strings.Contains(s.Warnings[0], c.says) {
			t.Errorf("offsets %+v, warnings %q", s.Offsets, s.Warnings)
		}
	}
	// Nothing is asked where nothing is cut.
	if s := example(t).uncut(t).with(t, "machine.toml", "method = \"per-position\" ", "#").load(t); len(s.Warnings) > 0 {
		t.Errorf("warnings %q", s.Warnings)
	}
}

func TestMayBeCut(t *testing.T) {
	s := example(t).with(t, "setup.toml", "# [[may_be_cut]]", mayCut("vise/fixed jaw", "soft jaws")).load(t)
	if want := []MayBeCut{{Body: s.body(t, "vise/fixed jaw"), Depth: 1, Reason: "soft jaws"}}; !slices.Equal(s.MayBeCut, want) {
		t.Errorf("%+v", s.MayBeCut)
	}
}

// Demands that are not stated are the default.
func TestDemandsByKind(t *testing.T) {
	w := example(t)
	for _, line := range []string{"swing = 3", "rest = 1", "rapid = 2", "approach = 2", "cutting = 0.5", "holder = 1.5", "tool_change = 5", "travel = 1"} {
		w = w.with(t, "setup.toml", "\n"+line, "\n#")
	}
	d, stated := w.load(t).Demand, example(t).load(t).Demand
	for kind, want := range map[string]float64{
		Swing: 3, Rest: 1, DemandRapid: 2, DemandApproach: 2, DemandCutting: 0.5, DemandHolder: 1.5, DemandChange: 5, "other": 2,
	} {
		if mm, _ := d.For(kind, "a", "b"); mm != 2 {
			t.Errorf("%s: %g, want the default", kind, mm)
		}
		if mm, _ := stated.For(kind, "a", "b"); mm != want {
			t.Errorf("%s: %g, want %g", kind, mm, want)
		}
	}
	if d.Travel != 2 || example(t).with(t, "setup.toml", "travel = 1 ", "travel = 0 ").load(t).Demand.Travel != 0 {
		t.Error("travel")
	}
}
