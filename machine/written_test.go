package machine

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// varied is a world with its draft, and what can be chosen there.
type varied struct {
	files  world
	draft  *Draft
	stacks []StackOption
	seats  []SeatOption // of the trunnion
}

func (w world) varied(t *testing.T) (v varied) {
	t.Helper()
	st := NewStoreFS(w.fs())
	v.files = w
	var err error
	if v.draft, err = st.Draft("setup.toml"); err != nil {
		t.Fatal(err)
	}
	c, err := st.Catalogue("risers")
	if err != nil {
		t.Fatal(err)
	}
	if v.stacks, _, err = v.draft.Stacks("riser", c, 3); err != nil {
		t.Fatal(err)
	}
	if v.seats, err = v.draft.Seats("trunnion"); err != nil {
		t.Fatal(err)
	}
	return v
}

// Whatever is chosen of stacks, seats and stick-outs, together: the variant is what files say
// that are written so, or is refused as they are.
func TestVariantsAreAsWritten(t *testing.T) {
	plain := risen(t, high, wide)
	worlds := []varied{
		plain.varied(t),
		plain.with(t, "setup.toml", "# [[probed]]", "[[probed]]\npart = \"bearing block\"\nshift = [0.02, -0.01, 0]\nskew = [0, 0, 0.05]\n#").
			with(t, "setup.toml", "# [[measured]]", "[[measured]]\naxis = \"A\"\nposition = { Y = 0.012, Z = 100.006 }\nwithin = 0.003\n#").varied(t),
		plain.with(t, "setup.toml", "# temperature = 30 ", "temperature = 30 #").
			with(t, "trunnion.toml", "mass = 165 ", "material = \"cast iron\" #").varied(t),
	}
	rapid.Check(t, func(rt *rapid.T) {
		v := worlds[rapid.IntRange(0, len(worlds)-1).Draw(rt, "world")]
		stack := v.stacks[rapid.IntRange(0, len(v.stacks)-1).Draw(rt, "stack")].Change
		seat := v.seats[rapid.IntRange(0, len(v.seats)-1).Draw(rt, "seat")]
		mm := float64(rapid.IntRange(470, 640).Draw(rt, "stick-out")) / 10
		w := v.files.written(t, &stack).
			with(t, "setup.toml", `pins = ["B4", "L4"]`, fmt.Sprintf("pins = [%q, %q]", seat.Pins[0], seat.Pins[1])).
			with(t, "tools.toml", "stick_out = 60\n", fmt.Sprintf("stick_out = %g\n", mm))
		want, err := LoadFS(w.fs(), "setup.toml")
		got, refused := v.draft.With(Change{Stack: &stack}, seatOf("trunnion", seat.Pins[0], seat.Pins[1]), stickOutOf(4, mm))
		if (err == nil) != (refused == nil) {
			rt.Fatalf("%v, but a file: %v", refused, err)
		}
		if err == nil {
			sameSetup(t, got, want)
		}
	})
}
