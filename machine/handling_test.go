package machine

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Ways in are read as tables and as points; inches are mm then, degrees radians.
func TestPath(t *testing.T) {
	w := example(t).with(t, "setup.toml", "pins = [\"B4\", \"L4\"]\n", `pins = ["B4", "L4"]
minutes = 25
[[place.path]]
at = [0, -300, 60]
[[place.path]]
at = [0, 0, 0]
turned = 10
about = 2
[[place.path]]
at = [0, 0, 0]
`)
	s := w.load(t)
	h := s.Handling[1]
	want := []Waypoint{{Shift: r3.Vector{Y: -300, Z: 60}}, {Turn: math.Pi / 18, About: 1}, {}}
	if h.Unit != "trunnion" || *h.Minutes != 25 || len(h.Path) != 3 || h.Path[0] != want[0] || h.Path[1] != want[1] || h.Path[2] != want[2] {
		t.Errorf("%+v", h)
	}
	if filepath.Base(h.Component) != "trunnion.toml" || filepath.Base(s.MachineFile) != "machine.toml" || h.Frame.T != (r3.Vector{Z: 40}) {
		t.Errorf("%+v of %s", h, s.MachineFile)
	}
	w = example(t).with(t, "setup.toml", "pins = [\"C5\", \"O5\"]", "pins = [\"C5\", \"O5\"]\npath = [[0, 0, 25], [0, 0, 0]] #").
		with(t, "setup.toml", "[commanded] ", "[lifting]\nby_hand = 20\nfree_height = 80\n[commanded] ")
	s = w.load(t)
	if p := s.Handling[0].Path; len(p) != 2 || p[0].Shift != (r3.Vector{Z: 25}) || s.Handling[0].Minutes != nil || s.Handling[1].Path != nil {
		t.Errorf("%+v", s.Handling)
	}
	if s.Lifting != (Lifting{ByHand: 20, FreeHeight: 80}) {
		t.Errorf("%+v", s.Lifting)
	}
}

// The example's jaw opens along Y of the vise, which is Y of the machine there.
func TestSettings(t *testing.T) {
	s := example(t).load(t)
	if len(s.Settings) != 1 {
		t.Fatalf("%+v", s.Settings)
	}
	jaw := s.Settings[0]
	if move := jaw.Move(&jaw.Moves[0], 63); move != geom.Shift(r3.Vector{Y: 3}) {
		t.Errorf("%v", move)
	}
	if jaw.Unit != "vise" || jaw.Axis != "jaw" || jaw.Kind != motion.Linear || jaw.At != 60 || jaw.Travel != [2]float64{0, 150} {
		t.Errorf("%+v", jaw)
	}
	if len(jaw.Moves) != 1 || s.Bodies[jaw.Moves[0].Body].Name != "vise/moving jaw" || jaw.Moves[0].Along != (r3.Vector{Y: 1}) {
		t.Errorf("%+v", jaw.Moves)
	}
}

// A door of the machine that swings about Z: closed for the work, open while it is loaded.
func TestDoorForLoading(t *testing.T) {
	w := example(t).with(t, "machine.toml", "[spindle] ", `[[axis]]
name = "door"
setting = true
kind = "rotary"
carried_by = "bed"
direction = [0, 0, 1]
centre = [-400, -600, 0]
travel = [0, 110]

[spindle] `).with(t, "machine.toml", "file = \"guards.stl\"\ncarried_by = \"bed\"", "file = \"guards.stl\"\ncarried_by = \"door\"").
		with(t, "setup.toml", "# set = { ... } ", "set = { door = 0 } # ").with(t, "setup.toml", "# [loading] ", "[loading]\ndoor = 90 # ")
	s := w.load(t)
	if at := s.Loading.Set["door"]; at != math.Pi/2 || len(s.Loading.Stated) != 0 {
		t.Errorf("%+v", s.Loading)
	}
	door := s.Settings[0]
	if door.Unit != "machine" || len(door.Moves) != 1 {
		t.Fatalf("%+v", door)
	}
	// A point 400 to the right of its hinge is 400 behind it then.
	move := door.Move(&door.Moves[0], math.Pi/2)
	if p := move.Point(r3.Vector{X: 0, Y: -600}); p.Sub(r3.Vector{X: -400, Y: -200}).Norm() > 1e-9 {
		t.Errorf("%v", p)
	}
	c := faulty{"", "setup.toml", "door = 90", "door = 120", "door = 120", "", []string{"120", "travel of \"door\""}}
	c.told(t, w)
}

func TestHandlingFaults(t *testing.T) {
	w := example(t)
	pins := `pins = ["B4", "L4"]`
	for _, c := range []faulty{
		{"one point", "setup.toml", pins, pins + "\npath = [[0, 0, 0]]", "path", "", []string{"1 point", "two or more"}},
		{"ends elsewhere", "setup.toml", pins, pins + "\npath = [[0, 0, 80], [0, 0, 1]]", "0, 0, 1]", "", []string{"[0, 0, 1]", "[0, 0, 0]"}},
		{"ends turned", "setup.toml", pins, pins + "\npath = [[0, 0, 80], { at = [0, 0, 0], turned = 5 }]", "{ at", "", []string{"turned 5"}},
		{"third pin", "setup.toml", pins, pins + "\npath = [{ at = [0, 0, 80], about = 3 }, [0, 0, 0]]", "about", "", []string{"3", "1 or 2"}},
		{"no point", "setup.toml", pins, pins + "\npath = [{ turned = 3 }, [0, 0, 0]]", "{ turned", "", []string{"no at"}},
		{"two pins", "setup.toml", pins, pins + "\npath = [{ at = [0, 0, 0], turned = 3 }, { at = [0, 0, 0], turned = 3, about = 2 }, [0, 0, 0]]", "{ at = [0, 0, 0], turned = 3, about", "", []string{"locator 2", "in between"}},
		{"no list", "setup.toml", pins, pins + "\npath = 5", "path", "", []string{"5", "points"}},
		{"unknown key", "setup.toml", pins, pins + "\npath = [{ at = [0, 0, 80], turn = 3 }, [0, 0, 0]]", "turn", "", []string{"unknown key", "turned"}},
		{"minutes", "setup.toml", pins, pins + "\nminutes = -1", "minutes", "", []string{"-1"}},
		{"by hand", "setup.toml", "[commanded] ", "[lifting]\nby_hand = 0\n[commanded] ", "by_hand", "", []string{"more than 0"}},
		{"free height", "setup.toml", "[commanded] ", "[lifting]\nfree_height = -5\n[commanded] ", "free_height", "", []string{"more than 0"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}

// What stands on two places is loaded after both, and they cannot stand on each other.
func TestOrderOfTwoSupports(t *testing.T) {
	second := "[[place]]\nname = \"block\"\ncomponent = \"stock.toml\"\non = \"plate\"\nat = [0, 200, 0]\nwithin = 0.1\n\n[commanded] "
	w := example(t).with(t, "setup.toml", "[commanded] ", second).with(t, "setup.toml", "gripped = { bite = 0 } ", "also_on = [\"block\"] # ")
	s := w.load(t)
	if want := []string{"plate", "trunnion", "vise", "block", "stock"}; !slices.Equal(s.Loading.Order, want) {
		t.Errorf("%q", s.Loading.Order)
	}
	c := faulty{"", "setup.toml", "at = [0, 200, 0]\n", "at = [0, 200, 0]\nalso_on = [\"stock\"]\n", "on = \"vise\"", "", []string{"stock on block on stock"}}
	c.told(t, w)
	c = faulty{"", "setup.toml", "# loading_order = ", "loading_order = [\"plate\", \"trunnion\", \"vise\", \"stock\", \"block\"] # ", "\"stock\", \"block\"", "", []string{`"stock" before "block"`}}
	c.told(t, w)
}
