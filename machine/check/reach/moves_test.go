package reach

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// over returns what an axis passes through on a move.
func over(t testing.TB, m *check.Move, axis string) (from, to float64) {
	t.Helper()
	for _, r := range m.Over {
		if r.Axis == axis {
			return r.From, r.To
		}
	}
	t.Fatalf("%s to %s says nothing of %s", m.Kind, m.To, axis)
	return 0, 0
}

func moveTo(t testing.TB, r *check.Report, kind, to string) *check.Move {
	t.Helper()
	for i := range r.Reach.Moves {
		if m := &r.Reach.Moves[i]; m.Kind == kind && m.To == to {
			return m
		}
	}
	t.Fatalf("no %s to %s\n%s", kind, to, summary(r))
	return nil
}

// Every tool is fetched, every turn is an index, everything else a rapid: in the order of
// the file.
func TestMovesInTheirOrder(t *testing.T) {
	s := newShop().hole("first", 1, "[0, 0, 0], [20, 0, 0]", upward, 5).hole("second", 2, "[0, 0, 0]", upward, 5).
		hole("third", 2, "[40, 0, -20]", "[1, 0, 0]", 5)
	_, r := s.check(t)
	var got []string
	for _, m := range r.Reach.Moves {
		got = append(got, fmt.Sprintf("%s: %s > %s, T%d", m.Kind, m.From, m.To, m.Tool))
	}
	want := []string{
		"tool change: home > first, hole 1, T1", "rapid: tool change > first, hole 1, T1",
		"rapid: first, hole 1 > first, hole 2, T1",
		"tool change: first, hole 2 > second, T2", "rapid: tool change > second, T2",
		"index: second > third, T2", "rapid: third > home, T2",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s", strings.Join(got, "\n"))
	}
}

// sides is a shop with a hole in one side of the block and then one in another, the tilt
// the same: C turns by the angle between the two.
func sides(t testing.TB, rollOver string, turn float64) (shop, *check.Report) {
	s := newShop()
	if rollOver != "" {
		s.edit(t, "unit.toml", "unlimited = true", fmt.Sprintf("unlimited = true, roll_over = %q", rollOver))
	}
	axis := map[float64]string{90: "[1, 0, 0]", 180: "[0, 1, 0]", 270: "[-1, 0, 0]"}
	at := map[float64]string{90: "[40, 0, -20]", 180: "[0, 30, -20]", 270: "[-40, 0, -20]"}
	s.operation("first", 1, "positions = { A = 90 }\n", "[[operation.hole]]\nat = [[0, -30, -20]]\naxis = [0, -1, 0]\ndepth = 5\ndepth_to = \"tip\"\n")
	s.operation("second", 1, "positions = { A = 90 }\n", fmt.Sprintf("[[operation.hole]]\nat = [%s]\naxis = %s\ndepth = 5\ndepth_to = \"tip\"\n", at[turn], axis[turn]))
	_, r := s.check(t)
	return s, r
}

// Which way round C goes: not stated, both ways count; shorter, less than half a turn, and
// both ways at half a turn, which is as far either way.
func TestWhichWayRound(t *testing.T) {
	for _, c := range []struct {
		rollOver string
		turn     float64
		width    float64
	}{
		{"", 90, 360}, {"", 180, 360}, {"shorter", 90, 90}, {"shorter", 180, 360}, {"shorter", 270, 90},
	} {
		_, r := sides(t, c.rollOver, c.turn)
		from, to := over(t, moveTo(t, r, check.IndexMove, "second"), "C")
		if math.Abs(to-from-c.width) > 1e-6 {
			t.Errorf("%q, sides at %g: C from %g to %g, want %g wide", c.rollOver, c.turn, from, to, c.width)
		}
	}
	// By value an axis goes where the number says, however far.
	_, r := sides(t, "by value", 90)
	m := moveTo(t, r, check.IndexMove, "second")
	from, to := over(t, m, "C")
	if w := to - from; math.Abs(w-90) > 1e-6 && math.Abs(w-270) > 1e-6 {
		t.Errorf("by value: C from %g to %g", from, to)
	}
}

// What C carries is looked at by the swing where the setup commands it to go. If it may go
// the other way round, it leaves that.
func TestTurningBeyondWhatIsCommanded(t *testing.T) {
	for rollOver, want := range map[string]check.Verdict{"shorter": check.Clear, "": check.Unproven} {
		s := newShop().edit(t, "setup.toml", "part = [", "commanded = { C = [-100, 100] }\npart = [")
		if rollOver != "" {
			s.edit(t, "unit.toml", "unlimited = true", fmt.Sprintf("unlimited = true, roll_over = %q", rollOver))
		}
		for i, axis := range []string{"[0, -1, 0]", "[1, 0, 0]"} {
			at := []string{"[0, -30, -20]", "[40, 0, -20]"}[i]
			s.operation(fmt.Sprintf("op%d", i), 1, "positions = { A = 90 }\n", fmt.Sprintf("[[operation.hole]]\nat = [%s]\naxis = %s\ndepth = 5\ndepth_to = \"tip\"\n", at, axis))
		}
		_, r := s.check(t)
		if m := moveTo(t, r, check.IndexMove, "op1"); m.Verdict != want {
			t.Errorf("%q: the way that is not commanded: %v, want %v\n%s", rollOver, m.Verdict, want, summary(r))
		}
	}
}

// A rapid whose axes need not arrive together passes everything between its ends, an
// interpolated one only its line: a post beside the diagonal.
func TestRapids(t *testing.T) {
	for rapid, want := range map[string]check.Verdict{"": check.Contact, "rapid = \"interpolated\"\n": check.Clear} {
		s := newShop().edit(t, "machine.toml", "spindle =", rapid+"spindle =").
			box(t, "post", "unit/face", 55, -26, 0, 59, -22, 70, 0).
			hole("op", 1, "[-30, -20, 0], [30, 20, 0]", upward, 5)
		// The post is at x 30 to 34, y -26 to -22 of the part: at the other corner of the rectangle.
		_, r := s.check(t)
		if m := moveTo(t, r, check.RapidMove, "op, hole 2"); m.Verdict != want {
			t.Errorf("%q: %v, want %v\n%s", rapid, m.Verdict, want, summary(r))
		}
	}
}

// An area may be entered anywhere: a post that stands beside its middle, on the way to its far
// end.
func TestAreasAreEnteredAnywhere(t *testing.T) {
	for _, c := range []struct {
		y    float64
		want check.Verdict
	}{{22, check.Contact}, {120, check.Clear}} {
		// The post is 60 high, 20 more than the stock; the tool comes from the hole at x -35 at the
		// retract height of 10, along y -25 to the middle of the pocket, but its far end is at y 20.
		s := newShop().box(t, "post", "unit/face", 5, c.y-3, 40, 11, c.y+3, 60, 0).
			operation("from", 1, "approach = 3\nretract = 10\n", "[[operation.hole]]\nat = [[-35, -25, 0]]\naxis = [0, 0, 1]\ndepth = 2\ndepth_to = \"tip\"\n").
			operation("op", 1, "approach = 3\nretract = 10\n", "[[operation.pocket]]\nfrom = [10, -30, 0]\nto = [35, 30, -3]\naxis = [0, 0, 1]\n")
		_, r := s.check(t)
		if m := moveTo(t, r, check.RapidMove, "op"); m.Verdict != c.want {
			t.Errorf("post at y %g: %v, want %v\n%s", c.y, m.Verdict, c.want, summary(r))
		}
	}
}

// Where tools are changed: what the changer sweeps, and the way there with the old tool.
func TestToolChange(t *testing.T) {
	change := func(at, zone string) shop {
		s := newShop().hole("first", 1, "[0, 0, 0]", upward, 5).hole("second", 2, "[0, 0, 0]", upward, 5)
		if zone != "" {
			s.edit(t, "machine.toml", `"changer", `, "")
		}
		s["machine.toml"] += "\n[tool_change]\nat = " + at + "\n" + zone
		return s
	}
	zone := func(top float64) string {
		return fmt.Sprintf("[[tool_change.zone]]\nname = \"arm\"\nfrom = [-60, -60, %g]\nto = [60, 60, 480]\n", top)
	}
	// The stock's top is at 220, where X and Y stand at 0.
	_, r := change("{ X = 0, Y = 0 }", zone(223)).check(t)
	if m := moveTo(t, r, check.ChangeMove, "second"); m.Verdict != check.Clear {
		t.Errorf("3 mm over the stock: %v\n%s", m.Verdict, summary(r))
	}
	_, r = change("{ X = 0, Y = 0 }", zone(221)).check(t)
	if f := met(r, "second", "machine/arm", "stock"); f == nil || f.Verdict != check.Tight || f.Question != check.Changing {
		t.Errorf("1 mm over the stock\n%s", summary(r))
	}
	_, r = change("{ X = 240, Y = 0 }", zone(221)).check(t)
	if m := moveTo(t, r, check.ChangeMove, "second"); m.Verdict != check.Clear {
		t.Errorf("the stock is far to the side: %v\n%s", m.Verdict, summary(r))
	}
	// On its way the old tool passes at the height of the change: it ends at Z 320 with its tip at 210.
	_, r = change("{ X = 230, Y = 0, Z = 320 }", "").box(t, "post", "table", 225, -5, 0, 235, 5, 215, 0).check(t)
	if f := met(r, "second", "T1 cutting part", "post"); f == nil || f.Question != check.Changing {
		t.Errorf("the old tool met nothing\n%s", summary(r))
	}
	// Across where it is high, then down: not down into the stock first.
	if f := met(r, "second", "T1 cutting part", "stock"); f != nil {
		t.Errorf("on the way to the change: %+v", f)
	}
}

// Nothing is proven of what the table carries where the setup does not command it to go.
func TestMovesBeyondWhatIsCommanded(t *testing.T) {
	for commanded, want := range map[string]check.Verdict{"X = [-50, 50], Y = [-50, 150]": check.Clear, "X = [-50, 50], Y = [-50, 100]": check.Unproven} {
		s := newShop().edit(t, "setup.toml", "part = [", "commanded = { "+commanded+" }\npart = [").hole("op", 1, "[0, 0, 0]", upward, 5)
		_, r := s.check(t)
		m := moveTo(t, r, check.RapidMove, "op")
		if m.Verdict != want || want == check.Unproven && !strings.Contains(m.Reason, "Y goes from 0.000 to 150.000 mm") {
			t.Errorf("%s: %v, %s\n%s", commanded, m.Verdict, m.Reason, summary(r))
		}
	}
}

// Of two axes that may each go either way round, all four ways count.
func TestTwoAxesEitherWayRound(t *testing.T) {
	turning := machine.Axis{Kind: motion.Rotary, Unlimited: true}
	c := checker{setup: &machine.Setup{Rapid: machine.Interpolated, Axes: []machine.Axis{turning, turning, {Kind: motion.Rotary}}}}
	got := map[[2]float64]bool{}
	for _, l := range c.turns(motion.Params{0, 1, 2}, motion.Params{1, 0, 2.5}) {
		end := l.at(motion.Params{1})
		got[[2]float64{math.Round(end[0] * 100), math.Round(end[1] * 100)}] = true
		if end[2] != 2.5 {
			t.Errorf("the axis with ends goes to %g", end[2])
		}
	}
	for _, want := range [][2]float64{{100, 0}, {-528, 0}, {100, 628}, {-528, 628}} {
		if !got[want] {
			t.Errorf("nothing goes to %v of %v", want, got)
		}
	}
}
