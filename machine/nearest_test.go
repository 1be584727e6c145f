package machine

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"steel", "tool steel", "titanium", "vise", "default", "jaw", "X", "Z", "A1", "trunnion/cradle", "units"}
	for word, want := range map[string]string{
		"stel": "steel", "stele": "steel", "toolsteel": "tool steel", "Steel": "steel", "defualt": "default",
		"untis": "units", "trunion/cradel": "trunnion/cradle", "vis": "vise", "x": "X", "a1": "A1",
		"C": "", "riser": "", "unobtainium": "", "jwa": "", "A2": "", "": "", "stone": "", "dfealut": "default",
		strings.Repeat("steel", 1000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("%.20q: %q, want %q", word, got, want)
		}
	}
}

// Slips by hand: each is one letter too many, one too few, one that is another,
// or two exchanged.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"plate", "plate", 0}, {"plate", "plat", 1}, {"plat", "plate", 1}, {"plate", "plade", 1},
		{"plate", "paltte", 2}, {"riser", "vise", 2}, {"ab", "ba", 1}, {"abcd", "badc", 2}, {"ab", "abcd", 2}, {"grid", "grip", 1},
	} {
		if got := slips(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
	for _, c := range [][2]string{{"trunnion", "vise"}, {"abcdefgh", "hgfedcba"}, {"a", "abcde"}} {
		if got := slips(c[0], c[1]); got < 3 {
			t.Errorf("%q to %q: %d", c[0], c[1], got)
		}
	}
}

// A list to choose from, with a suggestion only where there is one.
func TestOneOf(t *testing.T) {
	for _, c := range []struct {
		word  string
		known []string
		want  string
	}{
		{"C", []string{"X", "Z"}, "one of X, Z"},
		{"riser", []string{"plate", "vise"}, "one of plate, vise"},
		{"vice", []string{"plate", "vise"}, `"vise", perhaps (known: plate, vise)`},
		{"left", []string{"", "right", "right"}, `"right"`},
		{"sadle", []string{"bed", "saddle", "bed"}, `"saddle", perhaps (known: bed, saddle)`},
		{"left", nil, "none: there are none"},
	} {
		if got := oneOf(c.word, c.known); got != c.want {
			t.Errorf("%s: %s, want %s", c.word, got, c.want)
		}
	}
}

// Two places of one name: the other things that stand on what was meant are no
// further faults.
func TestPlaceTwice(t *testing.T) {
	w := example(t).with(t, "setup.toml", `name = "trunnion"`, `name = "plate"`)
	e := w.onlyError(t)
	if at := w.place(t, "setup.toml", "name = \"plate\"\ncomponent = \"trunnion"); !strings.HasPrefix(e.Error(), at) || !strings.Contains(e.Found, "second time") {
		t.Error(e)
	}
}

// What a grid has, where a hole is asked for that it has not.
func TestHoleExpected(t *testing.T) {
	g := &grid{name: "top", u: vec(1, 0, 0), v: vec(0, 1, 0), columns: 20, rows: 2, pitch: pitch{50, 50}, omit: map[string]bool{}}
	check := func(name, want string) {
		t.Helper()
		if got := g.expected(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	check("Z9", `a hole of grid "top", A1 to T2`)
	g.omit["C2"], g.omit["B1"] = true, true
	check("C2", `a hole of grid "top", A1 to T2 without B1, C2`)
	check("c2", `a hole of grid "top", A1 to T2 without B1, C2`)
	check("c1", `"C1", perhaps: a hole of grid "top", A1 to T2`)
	for i := range 12 {
		g.omit[columnLetters(7+i)+"1"] = true
	}
	check("C2", `a hole of grid "top", A1 to T2 without C2 and 13 more`)
	check("A3", `a hole of grid "top", A1 to T2 without 14 that are omitted`)
}
