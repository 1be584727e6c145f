package machine

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// sameSetup compares two setups in all they say but the places in files: those of a variant
// are those of the file that it was made of.
func sameSetup(t *testing.T, got, want *Setup) {
	t.Helper()
	diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(Setup{}),
		cmpopts.IgnoreFields(Setup{}, "File"),
		cmpopts.IgnoreFields(Operation{}, "Where"), cmpopts.IgnoreFields(Feature{}, "Where"),
		cmpopts.IgnoreFields(FaultyOperation{}, "Where"))
	if diff != "" {
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

// refusal returns the reason why a variant cannot be put together.
func refusal(t *testing.T, d *Draft, changes ...Change) *Refused {
	t.Helper()
	s, err := d.With(changes...)
	if err == nil {
		t.Fatal("a setup")
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
	return r
}

func seatOf(place, first, second string) Change {
	return Change{Seat: &SeatChange{Place: place, Pins: [2]string{first, second}}}
}

func stickOutOf(tool int, mm float64) Change {
	return Change{StickOut: &StickOutChange{Tool: tool, MM: mm}}
}

// What a draft has and what a file says that is written so are the same.
func TestSeatIsAsWritten(t *testing.T) {
	w := example(t)
	d := w.draft(t)
	sameSetup(t, d.Setup(), w.load(t))
	for _, pins := range [][2]string{{"B1", "D1"}, {"D3", "B3"}, {"A1", "A3"}, {"C2", "C4"}} {
		got, err := d.With(seatOf("vise", pins[0], pins[1]))
		if err != nil {
			t.Fatal(err)
		}
		written := w.with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["`+pins[0]+`", "`+pins[1]+`"]`)
		sameSetup(t, got, written.load(t))
		sharesSolids(t, d.Setup(), got)
	}
	sameSetup(t, d.Setup(), w.load(t)) // nothing has changed it
}

// sharesSolids checks that what is the same is the same solid.
func sharesSolids(t *testing.T, a, b *Setup) {
	t.Helper()
	for i := range a.Bodies {
		if a.Bodies[i].Name == b.Bodies[i].Name && a.Bodies[i].Solid != b.Bodies[i].Solid {
			t.Errorf("%s is another solid", a.Bodies[i].Name)
		}
	}
	for i := range a.Tools {
		if a.Tools[i] != b.Tools[i] {
			t.Errorf("T%d is another tool", a.Tools[i].Number)
		}
		zones, others := a.ToolBodies(i), b.ToolBodies(i)
		for k := range zones {
			if zones[k].Solid != others[k].Solid {
				t.Errorf("%s is another solid", zones[k].Name)
			}
		}
	}
}

func TestStickOutIsAsWritten(t *testing.T) {
	w := example(t)
	d := w.draft(t)
	now := d.Setup().Tools[1].StickOut
	for _, mm := range []float64{now - 3, now, now + 2.5, now - 3} {
		got, err := d.With(stickOutOf(2, mm))
		if err != nil {
			t.Fatal(err)
		}
		again, err := d.With(stickOutOf(2, mm))
		if err != nil {
			t.Fatal(err)
		}
		sharesSolids(t, got, again)
		if got.Tools[1].StickOut != mm || d.Setup().Tools[1].StickOut != now {
			t.Errorf("stick-outs of %g and %g", got.Tools[1].StickOut, d.Setup().Tools[1].StickOut)
		}
		if got.Tools[0] != d.Setup().Tools[0] {
			t.Error("T1 is another tool")
		}
	}
}

func TestRefusals(t *testing.T) {
	d := example(t).draft(t)
	for _, c := range []struct {
		change Change
		want   string
	}{
		{seatOf("vise", "B2", "D2"), `vise: pins: found hole "B2", expected a hole of grid "faceplate"`},
		{seatOf("vise", "B1", "C1"), `vise: pins: found holes B1 and C1, 50 mm apart, expected holes as far apart as`},
		{seatOf("vice", "B1", "D1"), `place: found "vice", expected "vise", perhaps`},
		{seatOf("stock", "B1", "D1"), `stock: found a place that stands by coordinates`},
		{stickOutOf(2, 1000), `T2: found a stick-out of 1000 mm, expected`},
		{stickOutOf(2, -1), `T2: stick_out: found -1 mm, expected more than 0`},
		{stickOutOf(77, 50), `tool: found T77, expected`},
		{Change{}, "found a change with 0 of its fields set"},
	} {
		if r := refusal(t, d, c.change); !strings.HasPrefix(r.Error(), c.want) {
			t.Errorf("got  %s\nwant %s", r, c.want)
		}
	}
}

func TestDraftOfNothing(t *testing.T) {
	_, err := DraftFS(world{}.fs(), "setup.toml")
	if !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	w := example(t).with(t, "setup.toml", `pins = ["B3", "D3"]`, `pins = ["B3", "E3"]`)
	_, err = DraftFS(w.fs(), "setup.toml")
	var e *Error
	if !errors.As(err, &e) || e.Line == 0 {
		t.Error(err)
	}
}
