package machine

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/models"
)

// demoFolder writes the demo's files into a folder and returns the file of its setup.
func demoFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, models.Demo); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, "setups", "bracket-op10.toml")
}

var table = regexp.MustCompile(`(?m)^\[\[?[^\n]*\n(?:[^\[\n][^\n]*\n|\n)*`)

// perform follows edits as somebody with an editor would.
func perform(t *testing.T, edits []Edit) {
	t.Helper()
	for _, e := range edits {
		data, err := os.ReadFile(e.File)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		header, key, lines := "", "", strings.Join(e.Lines, "\n")+"\n"
		for _, lead := range []string{"in place of ", "after ", "in "} {
			if rest, ok := strings.CutPrefix(e.Do, lead); ok {
				header, key, _ = strings.Cut(rest, "]] ")
				break
			}
		}
		switch {
		case e.Do == "at the top":
			text = lines + text
		case e.Do == "in [counterweight]":
			text = regexp.MustCompile(`(?m)^on = "riser"$`).ReplaceAllLiteralString(text, strings.TrimSpace(lines))
		case header != "":
			found := 0
			named := "\nname = " + key + "\n"
			if n, ok := strings.CutPrefix(key, "number "); ok {
				named = "\nnumber = " + n + "\n"
			}
			text = table.ReplaceAllStringFunc(text, func(block string) string {
				if !strings.HasPrefix(block, header+"]]") || !strings.Contains(block, named) {
					return block
				}
				found++
				switch {
				case strings.HasPrefix(e.Do, "after "):
					return block + "\n" + lines + "\n"
				case strings.HasPrefix(e.Do, "in place of "):
					return lines + "\n"
				}
				for _, l := range e.Lines {
					k, _, _ := strings.Cut(l, " = ")
					block = regexp.MustCompile(`(?m)^`+k+` = .*$`).ReplaceAllLiteralString(block, l)
				}
				return block
			})
			if found != 1 {
				t.Fatalf("%s: %d tables for %q", e.File, found, e.Do)
			}
		default:
			t.Fatalf("%q is not understood", e.Do)
		}
		if err := os.WriteFile(e.File, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Whoever follows the edits has the setup that was looked at.
func TestEditsAreTheChanges(t *testing.T) {
	stack := func(above [2]string, levels ...Level) Change {
		return Change{Stack: &StackChange{Place: "riser", Levels: levels, Above: map[string][2]string{"vise": above}}}
	}
	const risers = "components/risers/"
	for name, changes := range map[string]func(dir string) []Change{
		"seat":                         func(string) []Change { return []Change{seatOf("vise", "D2", "B2")} },
		"stick-out":                    func(string) []Change { return []Change{stickOutOf(2, 71.5)} },
		"seat of a place that carries": func(string) []Change { return []Change{seatOf("trunnion", "C3", "M3")} },
		"another riser": func(dir string) []Change {
			return []Change{stack([2]string{"B2", "D2"}, Level{filepath.Join(dir, risers+"riser-75.toml"), [2]string{"C5", "C1"}})}
		},
		"one on the other": func(dir string) []Change {
			return []Change{stack([2]string{"B2", "D2"},
				Level{filepath.Join(dir, risers+"riser-30.toml"), [2]string{"C5", "C1"}},
				Level{filepath.Join(dir, "components/riser-50.toml"), [2]string{"A2", "E2"}})}
		},
		"on the present one": func(dir string) []Change {
			return []Change{stack([2]string{"B2", "D2"},
				Level{filepath.Join(dir, "components/riser-50.toml"), [2]string{"C5", "C1"}},
				Level{filepath.Join(dir, risers+"riser-20.toml"), [2]string{"A2", "E2"}}), stickOutOf(3, 60)}
		},
	} {
		t.Run(name, func(t *testing.T) {
			file := demoFolder(t)
			dir := filepath.Dir(filepath.Dir(file))
			d, err := NewStore().Draft(file)
			if err != nil {
				t.Fatal(err)
			}
			all := changes(dir)
			want, err := d.With(all...)
			if err != nil {
				t.Fatal(err)
			}
			edits, err := d.Edits(all...)
			if err != nil {
				t.Fatal(err)
			}
			if len(edits) == 0 {
				t.Fatal("nothing to do")
			}
			perform(t, edits)
			got, err := Load(file)
			if err != nil {
				t.Fatalf("%v\n%v", err, edits)
			}
			sameSetup(t, want, got)
		})
	}
}

func TestEditsOfNothing(t *testing.T) {
	d, err := NewStore().Draft(demoFolder(t))
	if err != nil {
		t.Fatal(err)
	}
	if list, err := d.Edits(); err != nil || len(list) > 0 {
		t.Errorf("%v, %v", list, err)
	}
	if list, err := d.Edits(seatOf("vise", "B2", "D2")); err != nil || len(list) > 0 {
		t.Errorf("%v, %v", list, err)
	}
	if _, err := d.Edits(seatOf("nothing", "B2", "D2")); err == nil {
		t.Error("a place that is not there has a seat")
	}
}

// A tool file in inches gets its stick-outs in inches, 25.4 mm each (ISO 80000-3).
func TestEditsInInches(t *testing.T) {
	file := demoFolder(t)
	crib := filepath.Join(filepath.Dir(filepath.Dir(file)), "tools", "crib.toml")
	data, err := os.ReadFile(crib)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(crib, []byte(strings.Replace(string(data), `units = "mm"`, `units = "inch"`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	d, err := NewStore().Draft(file) // of far too large tools, whose operations are left out
	if err != nil {
		t.Fatal(err)
	}
	edits, err := d.Edits(stickOutOf(2, 100*25.4))
	if err != nil {
		t.Fatal(err)
	}
	if len(edits) != 1 || !slices.Equal(edits[0].Lines, []string{"stick_out = 100"}) || filepath.Base(edits[0].File) != "crib.toml" {
		t.Errorf("%v", edits)
	}
	if edits, err = d.Edits(stickOutOf(2, d.Setup().Tools[1].StickOut)); err != nil || len(edits) != 0 {
		t.Errorf("%v, %v: what the tool file has already is to be written", edits, err)
	}
}

// Names are quoted as TOML has them (toml.io, v1.0.0, "String").
func TestBasicStrings(t *testing.T) {
	for in, want := range map[string]string{`a "b"`: `"a \"b\""`, `c\d`: `"c\\d"`, "e\x01": `"e\u0001"`, "ö": `"ö"`} {
		if got := basic(in); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// The plan of holes has them where the pitch and the omitted ones say, and a seat's
// middle between its holes.
func TestHolePlan(t *testing.T) {
	d, err := NewStore().Draft(demoFolder(t))
	if err != nil {
		t.Fatal(err)
	}
	p, err := d.HolePlan("vise")
	if err != nil {
		t.Fatal(err)
	}
	at := map[string][2]float64{}
	for _, h := range p.Places {
		at[h.Name] = [2]float64{h.X, h.Y}
	}
	if p.Name != "riser/top" || len(p.Places) != 11 || at["B2"] != [2]float64{50, 50} || at["D3"] != [2]float64{150, 100} {
		t.Errorf("%s: %v", p.Name, slices.Sorted(maps.Keys(at)))
	}
	if len(p.Columns) != 5 || p.Columns[4] != (Mark{"E", 200}) || len(p.Rows) != 3 || p.Rows[2] != (Mark{"3", 100}) {
		t.Errorf("%v, %v", p.Columns, p.Rows)
	}
	for _, place := range []string{"vise", "riser", "trunnion"} {
		p, err := d.HolePlan(place)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range p.Places {
			at[h.Name] = [2]float64{h.X, h.Y}
		}
		seats, err := d.Seats(place)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range seats {
			x, y := p.At(s.Middle)
			a, b := at[s.Pins[0]], at[s.Pins[1]]
			if dx, dy := x-(a[0]+b[0])/2, y-(a[1]+b[1])/2; max(dx, -dx) > 1e-9 || max(dy, -dy) > 1e-9 {
				t.Errorf("%s in %v: middle at %g, %g", place, s.Pins, x, y)
			}
		}
	}
	if _, err := d.HolePlan("stock"); err == nil {
		t.Error("holes of what stands in none")
	}
}
