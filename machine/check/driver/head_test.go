package driver

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"gridswing/geom/shape"
	"gridswing/geom/stl"
	"gridswing/machine/check"

	"github.com/golang/geo/r2"
)

// headOf returns the finding about a head and a body; nil if there is none.
func headOf(r *check.Report, body string) *check.Finding {
	for i := range r.Findings {
		if r.Findings[i].Question == check.Heads && r.Findings[i].Bodies[1] == body {
			return &r.Findings[i]
		}
	}
	return nil
}

// The head of an M12 is 12 high (ISO 4762): on the base, it goes from 20 to 32 above the
// table. A block that is loaded later stands over it.
func TestHeadUnderBlock(t *testing.T) {
	for _, c := range []struct {
		from    float64 // where the block begins
		verdict check.Verdict
	}{
		{20, check.Contact}, {31.9, check.Contact}, {32, check.Unproven}, {32.6, check.Clear},
	} {
		block := solidBox(-30, 20, c.from, 30, 60, 90)
		for _, drivers := range []bool{true, false} {
			s := newShop().with("block.stl", block)
			if text := s["setup.toml"]; !drivers {
				s["setup.toml"] = text[:strings.Index(text, "driver = ")] + text[strings.Index(text, "place = "):]
			}
			r, f := s.check(t), (*check.Finding)(nil)
			if f = headOf(r, "block"); f == nil {
				if c.verdict != check.Clear {
					t.Errorf("from %v: clear\n%s", c.from, summary(r))
				}
				continue
			}
			if f.Verdict != c.verdict || f.Bodies[0] != "head of screw 1 (M12) of unit" || f.Reason == "" || len(r.Findings) != 1 {
				t.Errorf("from %v, drivers %v\n%s", c.from, drivers, summary(r))
			}
		}
	}
}

// A block beside the head: knurled, it is 18.27 across (ISO 4762).
func TestHeadBesideBlock(t *testing.T) {
	for _, c := range []struct {
		side    float64
		contact bool
	}{{30 + 18.27/2 - 0.01, true}, {30 + 18.27/2 + 0.1, false}} {
		r := newShop().with("block.stl", solidBox(-30, c.side, 20, 30, 90, 80)).check(t)
		if f := headOf(r, "block"); (f != nil && f.Verdict == check.Contact) != c.contact {
			t.Errorf("%v\n%s", c.side, summary(r))
		}
	}
}

// The base is 20 high: 20 clamped puts the head on it, all else does not.
func TestHeadOnFace(t *testing.T) {
	for _, c := range []struct {
		clamped, more string
		verdict       check.Verdict
		says          string
	}{
		{"20", "", check.Clear, ""},
		{"20.04", "", check.Clear, ""},
		{"35", "", check.Unproven, "rests on no face: 15.00 mm"},
		{"19.9", "", check.Contact, "clamped = 19.9"},
		{"4", "", check.Contact, "within the solid"}, // from 4 to 16, all of it
		{"4", "counterbore = [20, 16],", check.Unproven, "a counterbore is stated"},
	} {
		r := newShop().edit(t, "unit.toml", "clamped = 20,", "clamped = "+c.clamped+","+c.more).check(t)
		f := headOf(r, "unit/base")
		switch {
		case c.verdict == check.Clear:
			if f != nil {
				t.Errorf("%s\n%s", c.clamped, summary(r))
			}
		case f == nil || f.Verdict != c.verdict || !strings.Contains(f.Reason, c.says):
			t.Errorf("%s\n%s", c.clamped, summary(r))
		}
	}
}

// A counterbore of 19 across and 13 deep in the base of 20: the head rests at 7, and ends
// below the face. Screws that are equally wrong are told together.
func TestHeadInCounterbore(t *testing.T) {
	at := []r2.Point{{X: 0, Y: 30}, {X: 100, Y: 30}}
	plate := shape.Plate{Outline: shape.Rect(-180, -40, 180, 40), Thickness: 20, Round: shape.Round{Chord: 0.02}}
	for _, p := range at {
		plate.Holes = append(plate.Holes, shape.Hole{At: p, Radius: 6.75, HeadRadius: 9.5, HeadDepth: 13})
	}
	surface, err := plate.Surface()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := stl.EncodeText(&out, surface.Mesh(), "base"); err != nil {
		t.Fatal(err)
	}
	bored := func(clamped string) *check.Report {
		screws := `{ at = [0, 30, 0], thread = "M12", clamped = N }, { at = [100, 30, 0], thread = "M12", clamped = N }`
		s := newShop().with("base.stl", out.String()).with("block.stl", solidBox(-30, 20, 20, 30, 60, 90))
		return s.edit(t, "unit.toml", `{ at = [0, 30, 0], thread = "M12", length = 40, clamped = 20, class = "8.8" }`, strings.ReplaceAll(screws, "N", clamped)).check(t)
	}
	if r := bored("7"); headOf(r, "unit/base") != nil || headOf(r, "block") != nil {
		t.Errorf("%s", summary(r))
	}
	for clamped, verdict := range map[string]check.Verdict{"6": check.Contact, "7.5": check.Unproven} {
		f := headOf(bored(clamped), "unit/base")
		if f == nil || f.Verdict != verdict || f.Bodies[0] != "head of screws 1, 2 (M12) of unit" {
			t.Errorf("%s: %+v", clamped, f)
		}
	}
	if f := headOf(bored("20"), "unit/base"); f == nil || f.Verdict != check.Unproven {
		t.Error("a head over its counterbore, which is wider, hangs in the air", f)
	}
}

// One that comes from below rests on what is under its component: the table is 50 thick.
func TestHeadFromBelow(t *testing.T) {
	below := func(clamped string) *check.Finding {
		return headOf(newShop().edit(t, "unit.toml", "at = [0, 30, 0]", "at = [0, 0, 0]").edit(t, "unit.toml", "clamped = 20,", "from = \"below\", clamped = "+clamped+",").check(t), "machine/table")
	}
	if f := below("50"); f != nil {
		t.Errorf("%+v", f)
	}
	if f := below("20"); f == nil || f.Verdict != check.Contact {
		t.Errorf("%+v", f)
	}
	if f := below("60"); f == nil || f.Verdict != check.Unproven {
		t.Errorf("%+v", f)
	}
}

// Numbers beyond anything leave it unproven.
func TestHeadsOfExtremes(t *testing.T) {
	for _, c := range []string{"clamped = 1e9,", "clamped = 20, head = [1e9, 1e9],", "clamped = 1e-300,"} {
		r := newShop().edit(t, "unit.toml", "clamped = 20,", c).check(t)
		if !slices.ContainsFunc(r.Findings, func(f check.Finding) bool { return f.Question == check.Heads && f.Verdict != check.Clear }) || r.Verdict == check.Clear {
			t.Errorf("%s %v\n%s", c, r.Verdict, summary(r))
		}
	}
}

// Whose heads are not looked at is said.
func TestHeadsNotPlaced(t *testing.T) {
	r := newShop().edit(t, "unit.toml", "clamped = 20,", "").check(t)
	if !slices.ContainsFunc(r.Assumed, func(a string) bool {
		return strings.HasPrefix(a, "heads of screws are not in the model") && strings.HasSuffix(a, ": of unit")
	}) {
		t.Errorf("%q", r.Assumed)
	}
}
