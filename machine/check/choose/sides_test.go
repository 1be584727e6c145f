package choose

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// positionsOf lists where a plan stands, feature by feature: "A 90 C 0".
func positionsOf(b *BothSides, plan int) (list []string) {
	for i, k := range b.Plans[plan].Stands {
		var words []string
		for _, p := range b.Features[i].Stands[k].At {
			words = append(words, fmt.Sprintf("%s %g", p.Axis, p.Shown()))
		}
		list = append(list, strings.Join(words, " "))
	}
	return list
}

// stands fails where a plan does not stand as wanted, or does not turn so far.
func stands(t *testing.T, b *BothSides, plan int, turn float64, want ...string) {
	t.Helper()
	p := &b.Plans[plan]
	if got := positionsOf(b, plan); !slices.Equal(got, want) || math.Abs(p.Turn()-turn) > 1e-6 {
		t.Errorf("%s stands at %q and turns by %g (%+v), want %q and %g", p.Side, got, p.Turn(), p.Motion, want, turn)
	}
}

func verdicts(b *BothSides) (list []check.Verdict) {
	for i := range b.Plans {
		list = append(list, b.Plans[i].Verdict)
	}
	return list
}

// A hole in the front and one on top, with nothing about: the side that turns less is
// recommended, the hole on top fits either side, and C stays for it as it is.
func TestSidesOfAFreeBlock(t *testing.T) {
	b := newSideShop().holes("front", front).holes("top", upper).sides(t)
	if len(b.Plans) != 3 || b.Plans[0].Side != Above || b.Plans[1].Side != Below || b.Plans[2].Side != Mixed {
		t.Fatalf("%+v", b.Plans)
	}
	stands(t, b, 0, 180, "A 90 C 0", "A 0 C 0")
	stands(t, b, 1, 360, "A -90 C 180", "A 0 C 180") // A there and back, C half a turn
	stands(t, b, 2, 180, "A 90 C 0", "A 0 C 0")
	if b.Recommended != 0 || !slices.Equal(verdicts(b), []check.Verdict{check.Clear, check.Clear, check.Clear}) {
		t.Errorf("%d of %v: %s %s", b.Recommended, verdicts(b), b.Plans[0].Reason, b.Plans[1].Reason)
	}
	for i, sides := range [][]string{{Above, Below}, {Either, Either}} {
		for k, s := range b.Features[i].Stands {
			if s.Side != sides[k] {
				t.Errorf("feature %d stand %d is %s", i, k, s.Side)
			}
		}
	}
	if p := &b.Plans[0]; p.Indexes != 2 || p.Lines[0].Line != "positions = { A = 90, C = 0 }" || p.Lines[1].Line != "positions = { A = 0, C = 0 }" || p.Lines[0].Note != "" {
		t.Errorf("%+v", p)
	}
	if len(b.Tilts) != 1 || b.Tilts[0].Axis != "A" || b.Tilts[0].Pivot.Value != 0 {
		t.Errorf("%+v", b.Tilts)
	}
	if b.Confirmed.Verdict != check.Clear || len(b.Confirmed.Differs) > 0 {
		t.Errorf("%+v", b.Confirmed)
	}
}

// Where both sides turn alike and are alike, it is the one above.
func TestSidesThatAreEqual(t *testing.T) {
	b := newSideShop().holes("right", right).sides(t)
	stands(t, b, 0, 180, "A 90 C 90")
	stands(t, b, 1, 180, "A -90 C 270") // C the shorter way, through 0
	if b.Recommended != 0 {
		t.Errorf("plan %d recommended", b.Recommended)
	}
}

// From one hole to the next C goes the shorter way round if the file says so, and by value if
// it says that; then the other side may turn less.
func TestSidesWithAnEndlessRotary(t *testing.T) {
	// Axes 20 degrees on either side of the front.
	const east = "at = [10, -30, -20]\naxis = [0.3420201433256687, -0.9396926207859084, 0]" // C 20, or 200
	const west = "at = [-10, -30, -20]\naxis = [-0.3420201433256687, -0.9396926207859084, 0]"
	w := newSideShop().holes("east", east).holes("west", west)
	b := w.sides(t)
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	near("shorter, above", b.Plans[0].Turn(), 90+20+40)
	near("shorter, below", b.Plans[1].Turn(), 90+160+40)
	w.edit(t, "unit.toml", `roll_over = "shorter"`, `roll_over = "by value"`)
	b = w.sides(t)
	near("by value, above", b.Plans[0].Turn(), 90+20+320)
	near("by value, below", b.Plans[1].Turn(), 90+200+40)
	near("by value, mixed", b.Plans[2].Turn(), 90+200+40) // from one side to the other it is 90 + 20 + 180 + 140
	if b.Plans[b.Recommended].Side != Below {
		t.Errorf("%s is recommended", b.Plans[b.Recommended].Side)
	}
}

// What stands in the tool's way on one side does not on the other.
func TestSidesWithATowerInTheWay(t *testing.T) {
	// The hole is 15 off the line of A, to the one side or the other; the holder is 25 wide there, and
	// the post begins at 38.
	w := newSideShop().holes("front", "at = [0, -30, -5]\naxis = [0, -1, 0]").holes("right", right).
		tower(t, "post", "table", -60, 38, 10, 60, 58, 330)
	b := w.sides(t)
	if b.Plans[0].Verdict == b.Plans[1].Verdict {
		t.Fatalf("both sides are %v: no test", b.Plans[0].Verdict)
	}
	best := 0
	if b.Plans[0].Verdict.Worse(b.Plans[1].Verdict) {
		best = 1
	}
	worse := &b.Plans[1-best]
	if b.Recommended != best || b.Plans[best].Verdict != check.Clear || !b.Plans[best].Whole || !strings.Contains(worse.Reason, "post") {
		t.Errorf("plan %d recommended of %v, the other one since %q", b.Recommended, verdicts(b), worse.Reason)
	}
	if b.Confirmed.Verdict != check.Clear {
		t.Errorf("%+v", b.Confirmed)
	}
}

// A tilt that goes one way only leaves one side. So does a rotary without the travel for the
// half turn; where it leaves each feature another side, none is whole, and the mixed plan is
// recommended.
func TestSidesThatTravelLeaves(t *testing.T) {
	w := newSideShop().holes("front", front).holes("back", back)
	w.edit(t, "unit.toml", "travel = [-100, 100]", "travel = [-30, 100]")
	b := w.sides(t)
	stands(t, b, 0, 90+180, "A 90 C 0", "A 90 C 180")
	if b.Recommended != 0 || b.Plans[1].Whole || b.Plans[1].Verdict != check.OverTravel || !strings.HasPrefix(b.Plans[1].Reason, "front, hole 1: A would have to stand at -90.000 deg, 60.000 deg beyond") || b.Plans[1].Lines[0].Line != "" {
		t.Errorf("%+v", b.Plans[1])
	}

	w = newSideShop().holes("front", front).holes("top", upper).holes("back", back)
	w.edit(t, "unit.toml", `unlimited = true, roll_over = "shorter"`, "travel = [-100, 100]")
	b = w.sides(t)
	for i := range 2 {
		if b.Plans[i].Whole || b.Plans[i].Verdict != check.OverTravel {
			t.Errorf("%+v", b.Plans[i])
		}
	}
	stands(t, b, 2, 270, "A 90 C 0", "A 0 C 0", "A -90 C 0")
	if b.Recommended != 2 || !b.Plans[2].Whole || b.Plans[2].Verdict != check.Clear || b.Confirmed.Verdict != check.Clear || len(b.Confirmed.Differs) > 0 {
		t.Errorf("%+v, %+v", b.Plans[2], b.Confirmed)
	}
}

// A limited rotary is planned with whole turns: the one that is nearest all along.
func TestSidesWithWholeTurns(t *testing.T) {
	w := newSideShop().holes("left", left).holes("back", back)
	w.edit(t, "unit.toml", `unlimited = true, roll_over = "shorter"`, "travel = [-200, 300]")
	b := w.sides(t)
	stands(t, b, 0, 90+90+90, "A 90 C -90", "A 90 C -180")
	stands(t, b, 1, 90+90+90, "A -90 C 90", "A -90 C 0")
}

// What one line cannot hold for all features of an operation is said, and what comes of it.
func TestSideLines(t *testing.T) {
	b := newSideShop().holes("sides", front, right).holes("all", upper, front).sides(t)
	lines := b.Plans[0].Lines
	if len(lines) != 2 || lines[0].Line != "positions = { A = 90 }" || !strings.HasPrefix(lines[0].Note, "C stands differently") {
		t.Errorf("%+v", lines)
	}
	if lines[1].Line != "positions = { C = 0 }" || !strings.HasPrefix(lines[1].Note, "A stands differently") {
		t.Errorf("%+v", lines)
	}
	if b = newSideShop().holes("all", upper, right, front).sides(t); b.Plans[0].Lines[0].Line != "" || !strings.HasPrefix(b.Plans[0].Lines[0].Note, "A and C stand differently") {
		t.Errorf("%+v", b.Plans[0].Lines)
	}
}

// A contour that can be begun on either side, and one that goes over from one to the other.
func TestSidesOfContours(t *testing.T) {
	w := newSideShop()
	w["setup.toml"] += `
[[operation]]
name = "rim"
tool = 4
approach = 5
retract = 25
[[operation.contour]]
points = [[-20, 0, -1], [0, 0, -1], [20, 0, -1]]
axes = [[0.1, -0.3, 1], [0.2, -0.3, 1], [0.3, -0.3, 1]]
tip_control = true
[[operation]]
name = "saddle"
tool = 4
approach = 5
retract = 25
[[operation.contour]]
points = [[-20, 0, -1], [0, 0, -1], [20, 0, -1]]
axes = [[0, -0.3, 1], [0, 0, 1], [0, 0.3, 1]]
tip_control = true
`
	b := w.sides(t)
	for i := range 2 {
		s := b.Features[0].Stands[b.Plans[i].Stands[0]]
		if s.Side != b.Plans[i].Side || b.Plans[i].Whole {
			t.Errorf("the rim %s, the saddle whole %v for %s", s.Side, b.Plans[i].Whole, b.Plans[i].Side)
		}
	}
	for _, s := range b.Features[1].Stands {
		if s.Side != Over {
			t.Errorf("the saddle is %s at %+v", s.Side, s.At)
		}
	}
	if len(b.Confirmed.Differs) > 0 {
		t.Errorf("%+v", b.Confirmed)
	}
}

// Without two axes there is one way to stand; without operations there is nothing to choose.
func TestSidesOfOneAxis(t *testing.T) {
	w := newSideShop().holes("top", upper)
	w.edit(t, "unit.toml", `{ letter = "A", direction = [1, 0, 0], centre = [0, 0, 200], travel = [-100, 100] },`, "")
	w.edit(t, "unit.toml", `letter = "C", carried_by = "A"`, `letter = "C"`)
	b := w.sides(t)
	if len(b.Tilts) != 0 || len(b.Plans) != 1 || b.Plans[0].Side != Mixed || b.Plans[0].Verdict != check.Clear || !b.Plans[0].Whole {
		t.Errorf("%+v", b)
	}
	if _, err := Sides(t.Context(), newSideShop().load(t), proof.Options{}); err == nil || !strings.Contains(err.Error(), "setup.toml: found no operation") {
		t.Errorf("%v", err)
	}
}

// Two trunnions have a side each. While something is cut on the one the other stands where it was,
// or where the program has it.
func TestSidesOfTwoUnits(t *testing.T) {
	w := newSideShop().edit(t, "setup.toml", `pins = ["B3", "H3"]`, `pins = ["B1", "H1"]`).
		edit(t, "setup.toml", "]\npart = [", `  { name = "second", component = "unit2.toml", on = "table", pins = ["B5", "H5"] },
  { name = "other", component = "stock.toml", on = "second/face", pins = ["A1", "B1"] },
]
part = [{ name = "far", place = "other", at = [0, 0, 40] }, `)
	w["unit2.toml"] = strings.NewReplacer(`"A"`, `"A2"`, `"C"`, `"C2"`).Replace(w["unit.toml"])
	for i, hole := range []string{front, right, back} {
		for _, part := range []string{"part", "far"} {
			name := fmt.Sprintf("%s %d", part, i)
			w.holes(name, hole).edit(t, "setup.toml", fmt.Sprintf("name = %q\n", name), fmt.Sprintf("name = %q\npart = %q\n", name, part))
		}
	}
	s := w.load(t)
	b := sidesOf(t, s, proof.Options{Tests: 200_000})
	if len(b.Tilts) != 2 || len(b.Features) != 6 || len(b.Features[0].Stands[0].At) != 2 {
		t.Fatalf("%+v", b)
	}
	first := b.Features[0].Stands[0].At[1].Axis
	second := b.Features[1].Stands[0].At[1].Axis
	if first == second {
		t.Fatalf("both parts turn with %s", first)
	}
	for i := range b.Plans {
		if b.Plans[i].Verdict != check.Clear || !b.Plans[i].Whole {
			t.Errorf("%+v", b.Plans[i])
		}
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	near("above", b.Plans[0].Turn(), 2*(90+0+90+90))
	near("below", b.Plans[1].Turn(), 2*(90+180+90+90))
	if b.Recommended != 0 || b.Confirmed.Verdict != check.Clear || len(b.Confirmed.Differs) > 0 {
		t.Errorf("plan %d, %+v", b.Recommended, b.Confirmed)
	}
	if far, sure := turnedOn(reached(t, (&sideChoice{setup: s}).stated(&b.Plans[0]))); sure && math.Abs(far-b.Plans[0].Turn()) > 1e-6 {
		t.Errorf("turns by %g on its moves", far)
	}
}

// However many work at it, it is the same to the byte, and it can be read again.
func TestSidesAreTheSameForAnyNumberOfJobs(t *testing.T) {
	w := newSideShop().holes("front", front).holes("top", upper).holes("left", left, back).
		tower(t, "post", "table", -60, 38, 10, 60, 58, 330)
	s := w.load(t)
	var first []byte
	for _, jobs := range []int{1, 4} {
		b := sidesOf(t, s, proof.Options{Jobs: jobs, Tests: 200_000})
		text, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, text) {
			t.Errorf("%d jobs: %s\nnot %s", jobs, text, first)
		}
		first = text
		var back BothSides
		if err := json.Unmarshal(text, &back); err != nil {
			t.Error(err)
		}
	}
}
