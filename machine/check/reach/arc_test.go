package reach

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// arc is a contour whose tip stays at a point of the part, dz above its zero, while the unit
// tilts from one angle to another: linear axes go along an arc about A of radius 20 + dz.
func arc(s shop, dz, from, to float64) shop {
	axis := func(deg float64) string {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return fmt.Sprintf("[0, %.15g, %.15g]", -sin, cos)
	}
	return s.operation("op", 1, "", fmt.Sprintf(
		"[[operation.contour]]\npoints = [[0, 0, %g], [0, 0, %g]]\naxes = [%s, %s]\ntip_control = true\n", dz, dz, axis(from), axis(to)))
}

// Between two points of a contour axes leave the straight line, and what is there counts:
// from 50 to 130 degrees a tip 22 from A goes from 16.9 to 22 beside it and back. A post whose
// face is at 24.4 is 2.5 away from the cutter at either point, and met in the middle.
func TestContoursLeaveTheStraightLine(t *testing.T) {
	for face, want := range map[float64]bool{24.4: true, 45: false} {
		s := newShop().edit(t, "unit.toml", "[-100, 100]", "[-140, 140]").
			box(t, "front", "table", -5, -face-8, 150, 5, -face, 215, 0).
			box(t, "back", "table", -5, face, 150, 5, face+8, 215, 0)
		_, r := arc(s, 2, 50, 130).check(t)
		f, b := met(r, "op", "T1 cutting part", "front"), met(r, "op", "T1 cutting part", "back")
		if (f != nil || b != nil) != want || f != nil && b != nil {
			t.Errorf("posts at %g: %+v, %+v\n%s", face, f, b, summary(r))
		}
	}
}

// So does their travel: from -40 to 40 degrees a tip 20 under A is 15.3 under it at both
// points and 20 in the middle, where Z is at 290.
func TestTravelBetweenThePointsOfAContour(t *testing.T) {
	_, r := arc(newShop().edit(t, "machine.toml", "[0, 500], home = 500", "[292, 500], home = 500"), -40, -40, 40).check(t)
	if tr := tightest(t, operation(t, r, "op"), "Z"); tr.Where != check.AtDepth || tr.Margin > -2 {
		t.Errorf("%+v", tr)
	}
	_, r = arc(newShop().edit(t, "machine.toml", "[0, 500], home = 500", "[250, 500], home = 500"), -40, -40, 40).check(t)
	if tr := tightest(t, operation(t, r, "op"), "Z"); tr.Margin < 20 || tr.Margin > 40 {
		t.Errorf("%+v", tr)
	}
}

// A contour beyond what one of its points can be presented at is told, with the point.
func TestContoursThatCannotBeFollowed(t *testing.T) {
	for name, s := range map[string]shop{
		"a point beyond the travel of A": arc(newShop(), 2, 90, 110),
		"a point that four axes do not present": fourAxes(t).operation("op", 1, "",
			"[[operation.contour]]\npoints = [[0, 0, 2], [5, 0, 2]]\naxes = [[0, 0, 1], [0.2, 0, 1]]\ntip_control = true\n"),
	} {
		_, r := s.check(t)
		if f := operation(t, r, "op").Features[0]; f.Verdict != check.OverTravel || f.Reason == "" {
			t.Errorf("%s: %v %s", name, f.Verdict, f.Reason)
		}
	}
	// One that begins elsewhere than is stated, and one that does not.
	for stated, want := range map[string]check.Verdict{"A = 5": check.Unproven, "A = 0": check.Clear} {
		_, r := arc(newShop(), 2, 0, 4).edit(t, "setup.toml", "[[operation.contour]]", "positions = { "+stated+" }\n[[operation.contour]]").check(t)
		if f := operation(t, r, "op").Features[0]; f.Verdict != want {
			t.Errorf("%s: %v %s", stated, f.Verdict, f.Reason)
		}
	}
}

// So does what is commanded: from 80 to 100 degrees a tip 100 from A is 98.5 beside it at both
// points and 100 in the middle.
func TestContoursBeyondWhatIsCommanded(t *testing.T) {
	for y, want := range map[string]bool{"[-99, 99]": false, "[-110, 110]": true} {
		s := newShop().edit(t, "unit.toml", "[-100, 100]", "[-140, 140]").edit(t, "setup.toml", "part = [", "commanded = { Y = "+y+" }\npart = [")
		_, r := arc(s, 80, 80, 100).check(t)
		f := operation(t, r, "op").Features[0]
		if said := strings.Contains(f.Reason, "outside the range that the setup commands"); said == want {
			t.Errorf("Y %s: %v %s\n%s", y, f.Verdict, f.Reason, summary(r))
		}
	}
}

// A neck follows where the cutting part has been as long as the tool's axis stays as it is,
// and not where it changes.
func TestNeckOnATiltingContour(t *testing.T) {
	for axes, want := range map[string]check.Verdict{"[[0, 0, 1], [0, 0, 1]]": check.Clear, "[[0, 0, 1], [0, 0.01, 1]]": check.Contact} {
		_, r := newShop().operation("op", 1, "", "[[operation.contour]]\npoints = [[0, -10, -26], [0, 10, -26]]\naxes = "+axes+"\ntip_control = true\n").check(t)
		f := met(r, "op", "T1 neck", "stock")
		if want == check.Contact && (f == nil || f.Verdict != want) {
			t.Errorf("%s: %+v\n%s", axes, f, summary(r))
		}
	}
}

// Heights count from the stock as large as it may be.
func TestHeightsCountFromTheStock(t *testing.T) {
	_, r := newShop().edit(t, "stock.toml", "chord_error = 0", "chord_error = 0.5").hole("op", 1, "[0, 0, 0]", upward, 10).check(t)
	for _, tr := range operation(t, r, "op").Features[0].Travel {
		want := map[string]float64{check.AtRetract: 355.5, check.AtApproach: 335.5, check.AtDepth: 320}[tr.Where]
		if tr.Axis == "Z" {
			nearly(t, "Z at "+tr.Where, tr.Position, want, 1e-9)
		}
	}
}

// Everything between the floor of an area and the retract height counts: a bar over a pocket that a
// wide cutter is under when it is deep, and meets on its way up.
func TestBarOverAnArea(t *testing.T) {
	for x, want := range map[float64]check.Verdict{55: check.Contact, 85: check.Clear} {
		s := newShop().edit(t, "tools.toml", "APMX = 6, OAL = 35", "APMX = 6, DN = 16, LU = 35, OAL = 35").
			edit(t, "tools.toml", "[30, 30], [70, 30]]", "[30, 16], [70, 16]]").
			box(t, "bar", "unit/face", x, -60, 48, x+4, 60, 50, 0).
			operation("op", 3, "", "[[operation.face]]\nfrom = [-1, -1, 0]\nto = [1, 1, -1]\naxis = [0, 0, 1]\noverrun = 0\n")
		_, r := s.check(t)
		if got := operation(t, r, "op").Verdict; got != want {
			t.Errorf("a bar at %g: %v, want %v\n%s", x, got, want, summary(r))
		}
	}
}

// Before it turns and after it, the tool goes to where the setup has X and Y index: past a post
// that is nowhere else in its way.
func TestWayToWhereAxesIndex(t *testing.T) {
	for y, want := range map[float64]check.Verdict{50: check.Contact, -80: check.Clear} {
		s := newShop().more("\n[index]\nX = -280\nY = 100\n").box(t, "post", "table", -185, y-5, 350, -175, y+5, 400, 0).tilted("op", 1)
		_, r := s.check(t)
		if m := moveTo(t, r, check.IndexMove, "op"); m.Verdict != want {
			t.Errorf("a post at y %g: %v, want %v\n%s", y, m.Verdict, want, summary(r))
		}
	}
}

// A contour tells between what the rotary axes go along it, by hand: from 10 to 60 degrees of
// tilt. A feature with one axis has no such range.
func TestRangeAlongAContour(t *testing.T) {
	_, r := arc(newShop(), 2, 10, 60).hole("hole", 1, "[0, 0, 0]", upward, 5).check(t)
	along := operation(t, r, "op").Features[0].Along
	if len(along) != 2 || along[0].Axis != "A" || along[1].Axis != "C" {
		t.Fatalf("%+v", along)
	}
	nearly(t, "A from", along[0].From, 10, 1e-6)
	nearly(t, "A to", along[0].To, 60, 1e-6)
	nearly(t, "C", along[1].From, along[1].To, 1e-6)
	if along := operation(t, r, "hole").Features[0].Along; along != nil {
		t.Errorf("of a hole: %+v", along)
	}
}
