package render

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/internal/golden"

	"github.com/golang/geo/r3"
)

// united returns the rig with the trunnion's bodies as one unit.
func united(r *rig) []Item {
	items := r.items(20, 30)
	for i := range items {
		it := &items[i]
		switch it.Unit = it.Name; it.Name {
		case "trunnion base", "trunnion cradle", "faceplate":
			it.Unit = "trunnion"
		}
	}
	return items
}

func words(d *drawing) (list []string) {
	for _, l := range d.unitLabels(d.findSpots()) {
		list = append(list, l.Words)
	}
	return list
}

func TestUnitsAreNamedOnce(t *testing.T) {
	r := newRig(t)
	items := united(&r)
	got := words(scene(t, Picture{Items: items}))
	slices.Sort(got)
	if want := []string{"grid plate", "part", "riser", "table", "trunnion", "vise"}; !slices.Equal(got, want) {
		t.Errorf("named are %q, want %q", got, want)
	}
	// The trunnion is named by the body that fails; a veil has no name.
	items = emphasised(emphasised(items, Contact, "faceplate"), Ghost, "vise")
	got = words(scene(t, Picture{Items: items}))
	slices.Sort(got)
	if want := []string{"grid plate", "part", "riser", "table"}; !slices.Equal(got, want) {
		t.Errorf("named are %q, want %q", got, want)
	}
}

// The label of a unit leads to a pixel that shows one of its bodies.
func TestUnitLabelsLeadToTheUnit(t *testing.T) {
	r := newRig(t)
	for _, v := range Views() {
		d := scene(t, Picture{Items: united(&r), View: v, Width: 801, Height: 603})
		for _, l := range d.unitLabels(d.findSpots()) {
			body := d.seen.Body(int(l.Anchor.X), int(l.Anchor.Y))
			if body < 0 || d.Items[body].Unit != l.Words {
				t.Errorf("%s: the label %s leads to body %d", v, l.Words, body)
			}
		}
	}
}

// Of many units the ten seen best are named; what is a few pixels large never is.
func TestNotTooManyUnitsAreNamed(t *testing.T) {
	var items []Item
	for i := range 15 {
		half := 4 + float64(i)
		items = append(items, Item{Unit: fmt.Sprint(i), Shape: Prepare(sharp(r3.Vector{}, half), true), Pose: geom.Shift(r3.Vector{X: 60 * float64(i)})})
	}
	d := scene(t, Picture{Items: items, View: Front})
	if got := words(d); len(got) != mostUnits || got[0] != "14" || got[9] != "5" {
		t.Errorf("named are %q, want 14 down to 5", got)
	}
	d = scene(t, Picture{Items: append(items[:2:2], Item{Unit: "table", Shape: Prepare(sharp(r3.Vector{}, 5000), true), Pose: geom.Shift(r3.Vector{Y: 5100})}), View: Front})
	if got := words(d); !slices.Equal(got, []string{"table"}) {
		t.Errorf("named are %q, want the table", got)
	}
}

func TestUnitsPicture(t *testing.T) {
	r := newRig(t)
	p := Picture{Title: "Bracket, second side", Items: united(&r), Width: 800, Height: 600}
	img, err := p.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "units", img)
}

// Where labels would cover too much of a close-up, the bodies that are seen best have theirs, in the order of the items.
func TestPlainLabelsLeaveRoom(t *testing.T) {
	p := closing(t, r3.Vector{X: 5, Y: 400, Z: 10})
	p.Items = append([]Item(nil), p.Items[0], p.Items[0], p.Items[0])
	for i, name := range []string{"one", "two", "three"} {
		p.Items[i].Name, p.Items[i].Emphasis = name, Plain
	}
	d := scene(t, p)
	spots := []spot{{inset: 5}, {inset: 1}, {inset: 9}}
	each := (&ink.Labels{Unit: d.unit}).Size(&ink.Label{Words: "three"})
	for room, want := range map[float64]string{0: "", 1.1: "three", 2.1: "one three", 3: "one two three", 100: "one two three"} {
		var got []string
		for _, l := range d.plainLabels(spots, room*each) {
			got = append(got, l.Words)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("room for %g labels: %q, want %s", room, got, want)
		}
	}
}
