package machine

import (
	"slices"
	"testing"
)

// Each tolerance that is left out is told, once for each key. The example leaves
// out some: the plate's and the faceplate's grids have theirs, the vise's seat
// has none, nor have C and the jaw an accuracy.
func TestUnstated(t *testing.T) {
	check := func(what string, w world, want ...string) {
		t.Helper()
		if got := w.load(t).Unstated; !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %q\nwant %q", what, got, want)
		}
	}
	cutting := example(t).with(t, "setup.toml", "# What is cut.", "[[measured]]\naxis = \"A\"\nposition = { Y = 0, Z = 100 }\n# What is cut.").
		with(t, "tools.toml", "# within = 0.05 ", "within = 0 ")
	w := example(t).uncut(t)
	check("example", w,
		"no accuracy stated for C, jaw of vise: taken as 0",
		"no height_tolerance stated for the seat of vise: taken as 0",
		"no parallelism stated for the seat of vise: taken as 0")
	// A stated 0 is a statement.
	stated := w.with(t, "trunnion.toml", "unlimited = true", "accuracy = 0\nunlimited = true").
		with(t, "vise.toml", "setting = true", "setting = true\naccuracy = 0.02").
		with(t, "vise.toml", "play = 0.035", "play = 0.035\nheight_tolerance = 0\nparallelism = 0")
	check("all stated", stated)
	// A unit's axis goes by its letter as seated.
	check("axes and grids", stated.
		with(t, "machine.toml", "accuracy = 0.005  ", "#").
		with(t, "machine.toml", "position_tolerance = 0.02", "").
		with(t, "trunnion.toml", "\nposition_tolerance = 0.01 ", "\n#").
		with(t, "trunnion.toml", "accuracy = 0.008", "#").
		with(t, "setup.toml", `pins = ["B4", "L4"]`, `pins = ["G2", "G6"]`).
		with(t, "trunnion.toml", "[[-250, 0, 0], [250, 0, 0]]", "[[-100, 0, 0], [100, 0, 0]]").
		with(t, "setup.toml", "A = [-30, 110]", ""),
		"no accuracy stated for Y, B: taken as 0",
		"no position_tolerance stated for the holes of machine/table top, trunnion/faceplate: taken as 0")
	// Where something is cut, the lengths of the tools count too.
	check("tools", cutting,
		"no accuracy stated for C, jaw of vise: taken as 0",
		"no height_tolerance stated for the seat of vise: taken as 0",
		"no parallelism stated for the seat of vise: taken as 0",
		"no within stated for the measured line of A: taken as 0",
		"no within stated for the length of T2, T4, T20: taken as 0")
}
