package machine

import (
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// lines are places in a file.
var lines = regexp.MustCompile(`\.toml:\d+`)

// sameSetup compares two setups in all they say but the places in files: those of a variant
// are those of the file that it was made of.
func sameSetup(t testing.TB, got, want *Setup) {
	t.Helper()
	anywhere := cmpopts.AcyclicTransformer("Lines", func(s string) string { return lines.ReplaceAllString(s, ".toml") })
	meshes := cmp.Comparer(func(a, b *geom.Mesh) bool { return a == b || a != nil && b != nil && slices.Equal(a.Facets, b.Facets) })
	if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(Setup{}), cmpopts.IgnoreFields(Setup{}, "File", "Inputs"), anywhere, meshes); diff != "" {
		t.Errorf("a setup file written so gives another setup (-file +variant):\n%s", diff)
	}
}

// draft reads a world's setup to be varied.
func (w world) draft(t testing.TB) *Draft {
	t.Helper()
	d, err := DraftFS(w.fs(), "setup.toml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// variant returns a draft with changes.
func (d *Draft) variant(t testing.TB, changes ...Change) *Setup {
	t.Helper()
	s, err := d.With(changes...)
	if err != nil {
		t.Fatalf("%+v: %v", changes, err)
	}
	return s
}

// refusal returns the reason why a variant cannot be put together.
func refusal(t *testing.T, d *Draft, changes ...Change) error {
	t.Helper()
	s, err := d.With(changes...)
	if err == nil {
		t.Fatalf("%+v: a setup", changes)
	}
	if s != nil {
		t.Error("a setup beside an error")
	}
	var r *Refused
	if !errors.As(err, &r) {
		t.Fatalf("%T is no *Refused: %v", err, err)
	}
	if strings.Contains(err.Error(), ".toml:") {
		t.Errorf("%q names a place in a file", err)
	}
	return err
}

func seatOf(place, first, second string) Change {
	return Change{Seat: &SeatChange{Place: place, Pins: [2]string{first, second}}}
}

func stickOutOf(tool int, mm float64) Change {
	return Change{StickOut: &StickOutChange{Tool: tool, MM: mm}}
}

// sharesSolids checks that what is the same is the same solid.
func sharesSolids(t *testing.T, a, b *Setup) {
	t.Helper()
	solids := make(map[string]*Solid)
	for i := range a.Bodies {
		solids[a.Bodies[i].Name] = a.Bodies[i].Solid
	}
	for i := range b.Bodies {
		if s := solids[b.Bodies[i].Name]; s != nil && s.File == b.Bodies[i].Solid.File && s != b.Bodies[i].Solid {
			t.Errorf("%s is another solid", b.Bodies[i].Name)
		}
	}
	for i := range a.Tools {
		if a.Tools[i] != b.Tools[i] {
			t.Errorf("T%d is another tool", a.Tools[i].Number)
			continue
		}
		zones, others := a.ToolBodies(i), b.ToolBodies(i)
		for k := range zones {
			if zones[k].Solid != others[k].Solid {
				t.Errorf("%s is another solid", zones[k].Name)
			}
		}
	}
}

// A variant with other holes is what a file says that is written so.
func TestSeatIsAsWritten(t *testing.T) {
	w := example(t)
	d := w.draft(t)
	sameSetup(t, d.Setup(), w.load(t))
	for _, pins := range [][2]string{{"B1", "D1"}, {"D3", "B3"}, {"A1", "A3"}, {"C2", "C4"}} {
		got := d.variant(t, seatOf("vise", pins[0], pins[1]))
		written := w.with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["`+pins[0]+`", "`+pins[1]+`"]`)
		sameSetup(t, got, written.load(t))
		sharesSolids(t, d.Setup(), got)
	}
	sameSetup(t, d.Setup(), w.load(t)) // nothing has changed it
	sameSetup(t, d.variant(t), w.load(t))
}

// A variant with another stick-out is what a tool file says that is written so, the tool
// that covers all others included; the same stick-out twice is the same tool.
func TestStickOutIsAsWritten(t *testing.T) {
	w := example(t)
	d := w.draft(t)
	for _, mm := range []float64{58, 63.5, 50, 58} {
		got := d.variant(t, stickOutOf(4, mm))
		written := w.with(t, "tools.toml", "stick_out = 60\n", fmt.Sprintf("stick_out = %g\n", mm))
		sameSetup(t, got, written.load(t))
		sharesSolids(t, got, d.variant(t, stickOutOf(4, mm)))
		if got.Tools[0] != d.Setup().Tools[0] {
			t.Error("T1 is another tool")
		}
	}
	long := d.variant(t, stickOutOf(2, 41))
	if long.Tools[1].StickOut != 41 || d.Setup().Tools[1].StickOut != 40 {
		t.Errorf("stick-outs of %g and %g", long.Tools[1].StickOut, d.Setup().Tools[1].StickOut)
	}
	// Several changes of different things, and of one thing one after the other.
	both := d.variant(t, stickOutOf(4, 50), seatOf("vise", "B1", "D1"), stickOutOf(4, 63.5))
	written := w.with(t, "tools.toml", "stick_out = 60\n", "stick_out = 63.5\n").with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["B1", "D1"]`)
	sameSetup(t, both, written.load(t))
}

// Where a variant cannot be put together, the reason is told in words, of the place.
func TestRefusals(t *testing.T) {
	d := example(t).draft(t)
	for _, c := range []struct {
		change Change
		want   string
	}{
		{seatOf("vise", "B2", "D2"), `vise: pins: found hole "B2", expected a hole of grid "faceplate"`},
		{seatOf("vise", "B1", "C1"), `vise: pins: found holes B1 and C1, 50 mm apart, expected holes as far apart as`},
		{seatOf("vise", "", "\xff"), `vise: pins: found hole "", expected a hole`},
		{seatOf("vice", "B1", "D1"), `place: found "vice", expected "vise", perhaps`},
		{seatOf("stock", "B1", "D1"), `stock: found a place that stands by coordinates`},
		{stickOutOf(4, 1000), `T4: found a stick-out of 1000 mm, expected`},
		{stickOutOf(4, -1), `T4: stick_out: found -1 mm, expected more than 0`},
		{stickOutOf(77, 50), `tool: found T77, expected`},
		{Change{}, "found a change with 0 of its fields set"},
	} {
		if r := refusal(t, d, c.change); !strings.HasPrefix(r.Error(), c.want) {
			t.Errorf("got  %s\nwant %s", r, c.want)
		}
	}
	// A trunnion that stands across has other letters than those that the setup commands.
	w := example(t).with(t, "trunnion.toml", "pins = [[-250, 0, 0], [250, 0, 0]]", "pins = [[-100, 0, 0], [100, 0, 0]]").
		with(t, "setup.toml", `pins = ["B4", "L4"]`, `pins = ["E4", "I4"]`)
	if r := refusal(t, w.draft(t), seatOf("trunnion", "H2", "H6")); !strings.Contains(r.Error(), `found axis "A", expected`) {
		t.Error(r)
	}
}

func TestDraftOfNothing(t *testing.T) {
	_, err := DraftFS(world{}.fs(), "setup.toml")
	if !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	w := example(t).with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["B3", "E3"]`)
	d, err := DraftFS(w.fs(), "setup.toml")
	var e *Error
	if !errors.As(err, &e) || e.Line == 0 || d != nil {
		t.Error(d, err)
	}
}
