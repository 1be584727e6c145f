package machine

import (
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Where direct placement counts from. By hand, from the example: the vise's zero
// is at (25, 25, 240) in the bed frame, the plate's at 0, hole A1 of the plate at
// (-300, -150, 40), that of the machine's table at (-400, -200, 0).
func TestDirectPlacement(t *testing.T) {
	w := example(t)
	for _, c := range []struct {
		on   string
		want r3.Vector
	}{
		{"vise", vec(26, 27, 303)},
		{"vise/body", vec(26, 27, 303)},
		{"plate", vec(1, 2, 63)},
		{"plate/plate", vec(1, 2, 63)},
		{"plate/top", vec(-299, -148, 103)},
		{"table", vec(1, 2, 63)},
		{"bed", vec(1, 2, 63)},
		{"table top", vec(-399, -198, 63)},
		// The grid, not the solid of the same name: A1 at (-75, -75, 200), on
		// the plate's 40.
		{"trunnion/faceplate", vec(-74, -73, 303)},
	} {
		w := w.with(t, "setup.toml", `on = "vise"`, `on = "`+c.on+`"`).
			with(t, "setup.toml", "at = [0, 0, 60] ", "at = [1, 2, 63] ").
			with(t, "setup.toml", "gripped = { bite = 0 }", "")
		s := w.load(t)
		var zero motion.Params
		pose := s.Pose(s.body(t, "stock"), zero)
		near(t, c.on, pose.T, c.want, 0)
	}
}

// A grid on an upright face whose letters run down: X of direct placement along
// u, Y along v, Z off the face, and turned about that Z; it comes free along Z
// and can be off along all three.
func TestDirectPlacementOnUprightGrid(t *testing.T) {
	w := example(t)
	// u = -Z, v = X, so u x v = -Y: the plate's front face, at y = -200.
	w["plate.toml"] += "[[grid]]\nname = \"front\"\nsolid = \"plate\"\norigin = [-300, -200, 30]\n" +
		"columns = 1\nrows = 3\npitch = 50\nu = [0, 0, -1]\nv = [1, 0, 0]\n"
	w = w.with(t, "setup.toml", `on = "plate"`, `on = "plate/top"`).with(t, "setup.toml", `on = "vise"`, `on = "plate/front"`).
		with(t, "setup.toml", "at = [0, 0, 60] ", "at = [1, 2, 0] ").
		with(t, "setup.toml", "turned = 0 ", "turned = 90 ").
		with(t, "setup.toml", "gripped = { bite = 0 }", "")
	s := w.load(t)
	i := s.body(t, "stock")
	var zero motion.Params
	pose := s.Pose(i, zero)
	near(t, "zero", pose.T, vec(-298, -200, 29), 0)
	near(t, "x, turned from u to v", pose.Dir(vec(1, 0, 0)), vec(1, 0, 0), 0)
	near(t, "z, off the face", pose.Dir(vec(0, 0, 1)), vec(0, -1, 0), 0)
	mated := false
	for _, m := range s.Matings {
		if m.A == i && s.Bodies[m.B].Name == "plate" {
			mated = true
			near(t, "lift", m.Lift, vec(0, -1, 0), 0)
		}
	}
	if !mated {
		t.Error("the stock does not belong to the plate that it stands on")
	}
}
