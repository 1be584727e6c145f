package machine

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
)

// What a practitioner types that is no TOML (its syntax: TOML v1.0.0), told in
// his words and at the place.
func TestSyntax(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"jaw = 25,5", `1:7: found "25,5", expected a decimal point: 25.5`},
		{"a = 1\njaw = -25,50 # mm", `2:7: found "-25,50", expected a decimal point: -25.50`},
		{"set = { jaw = 25,5 }", `1:15: found "25,5", expected a decimal point: 25.5`},
		{"set = { jaw = 25,5, stop = 1 }", `1:15: found "25,5", expected a decimal point: 25.5`},
		{"name = \"a = 1,5\" x", `1:18: found "x" after the value`},
		{`file = "..\komponenten"`, "1:11: found a backslash in a text in double quotes, expected forward slashes in paths"},
		{`file = "C:\units\a.stl"`, "1:11: found a backslash in a text in double quotes, expected forward slashes in paths"},
		{`file = "..\xyz"`, "expected forward slashes in paths"},
		{"name = \"vise\nkind = 1", "1:13: found a text without its closing quote, expected a quote at each end"},
		{"name = 'vise\nkind = 1", "found a text without its closing quote"},
		{"name = \"vise", "found a text without its closing quote"},
		{`name = vise"`, `1:8: found "vise\"", expected a text in straight quotes: "vise"`},
		{"on = table", `1:6: found "table", expected a text in straight quotes: "table"`},
		{"a = [1, vise]", `1:9: found "vise", expected a text in straight quotes: "vise"`},
		{"name = \u201cvise\u201d", "1:8: found \"\u201cvise\u201d\", expected a text in straight quotes: \"vise\""},
		{"opposite = True", `1:12: found "True", expected true`},
		{"play =\n", "found no value, expected a value after ="},
		{"play = .035", `1:8: found ".035", expected a digit before the decimal point: 0.035`},
		{"play = 35 mm # or so", `1:11: found "mm # or so" after the value, expected the end of the line`},
		{"größe = 3", `1:3: found "größe = 3", expected '=' after key`},
		{"a = [1, 2\nb = 3", `found "b = 3", expected ',' or ']' after array value`},
		{"[place]\nname = \"a\"\n[place]\nname = \"b\"", "3:2: found [place] beside another [place], expected double brackets for each: [[place]]"},
		{"[[place]]\n[place]", "2:2: found [place] beside another [place], expected double brackets for each: [[place]]"},
		{"[place]\n[[place]]", "[[place]]"},
		{"[demand]\n[demand]", "2:2: found [demand] a second time, expected each table once"},
		{"a = 1\na = 2", `2:1: found "a" a second time, expected each key once`},
	} {
		s := parse("a.toml", []byte(c.text))
		if s.values != nil || len(s.list) != 1 {
			t.Errorf("%q: %d faults, values %v", c.text, len(s.list), s.values)
			continue
		}
		if got := s.list[0].Error(); !strings.HasPrefix(got, "a.toml:") || !strings.Contains(got, c.want) {
			t.Errorf("%q: %s\nwant %s", c.text, got, c.want)
		}
	}
}

// A file that an editor saved in another encoding than TOML's, which is UTF-8
// (TOML v1.0.0, "Spec").
func TestEncodings(t *testing.T) {
	text := "kind = \"setup\"\nname = \"Schwenkbr\u00fccke\"\n"
	wide := func(low, high int) string {
		var out []byte
		for _, u := range utf16.Encode([]rune(text)) {
			b := [2]byte{byte(u), byte(u >> 8)}
			out = append(out, b[low], b[high])
		}
		return string(out)
	}
	for name, c := range map[string]struct{ data, want string }{
		"UTF-16, little end first":           {"\xff\xfe" + wide(0, 1), "1:1: found text in UTF-16, expected UTF-8: save the file as UTF-8"},
		"UTF-16, big end first":              {"\xfe\xff" + wide(1, 0), "1:1: found text in UTF-16"},
		"UTF-16 without a mark":              {wide(0, 1), "1:1: found text in UTF-16"},
		"UTF-16 without a mark, the other":   {wide(1, 0), "1:1: found text in UTF-16"},
		"Latin-1":                            {strings.Replace(text, "\u00fc", "\xfc", 1), "2:18: found byte 0xFC, which is not in UTF-8, expected UTF-8: save the file as UTF-8"},
		"Latin-1 in a comment":               {"# gr\xfcn\n" + text, "1:5: found byte 0xFC"},
		"no text":                            {"kind = \x00", "1:8: found a byte 0"},
		"cut off in the middle of an umlaut": {"# \xc3", "1:3: found byte 0xC3"},
	} {
		s := parse("a.toml", []byte(c.data))
		if s.values != nil || len(s.list) != 1 || !strings.HasPrefix(s.list[0].Error(), "a.toml:"+c.want) {
			t.Errorf("%s: %v, want %s", name, s.list, c.want)
		}
	}
	for _, good := range []string{text, "\ufeff" + text, strings.ReplaceAll(text, "\n", "\r\n")} {
		if s := parse("a.toml", []byte(good)); s.values == nil || s.any() {
			t.Errorf("%q: %v", good, s.list)
		}
	}
}

// What is TOML and yet not what was meant.
func TestWrittenOtherwise(t *testing.T) {
	w := example(t)
	text := w["setup.toml"]
	first := strings.Index(text, "[[place]]\nname = \"trunnion\"")
	last := strings.Index(text, "[commanded]")
	single := strings.Replace(text[:first]+text[last:], "[[place]]", "[place]", 1)
	w = w.with(t, "setup.toml", text, single)
	c := faulty{"one place", "setup.toml", single, single, "place]", "", []string{"one [place]", "double brackets for each: [[place]]"}}
	c.told(t, w)
	w = example(t)
	for _, c := range []faulty{
		{"one pair", "setup.toml", "[[demand.pair]]", "[demand.pair]", "pair]", "", []string{"[[demand.pair]]"}},
		{"two demands", "setup.toml", "[demand] ", "[[demand]] ", "demand]]", "", []string{"a list", "[demand] with default = 2"}},
		{"gripped", "setup.toml", "gripped = { bite = 0 }", "gripped = true", "gripped", "", []string{"true", "gripped = { bite = 0 }"}},
		{"set", "setup.toml", "set = { jaw = 60 }", "set = 60", "set = 60", "", []string{"60", "set = { jaw = 60 }"}},
		{"commas in a point", "setup.toml", "at = [0, 0, 60] ", "at = [0, 0, 60,5] ", "at = [0", "", []string{"4 entries", "decimals with a point"}},
		{"a tab in a path", "setup.toml", `"plate.toml"`, `"..\table.toml"`, `component = "..\table`, "", []string{`"..\table.toml"`, "forward slashes"}},
		{"a line's end in a path", "setup.toml", `"plate.toml"`, `"..\new.toml"`, `component = "..\new`, "", []string{`"..\new.toml"`, "forward slashes"}},
		{"no units", "setup.toml", "units = \"mm\" ", "# ", "# A setup file", "", []string{"no units", `units = "mm" or "inch"`}},
		{"no machine", "setup.toml", "machine = ", "# ", "# A setup file", "", []string{"no machine", `machine = "file.toml"`}},
		{"no on", "setup.toml", "on = \"plate\"", "", "place]]\nname = \"trunnion\"", "", []string{"no on", `on = "..."`}},
		{"no up", "machine.toml", "up = ", "# ", "# A machine file", "", []string{"no up", "up = [0, 0, 1]"}},
		{"no chord error", "stock.toml", "chord_error = 0", "", "solid]]", "", []string{"chord_error = 0.02"}},
	} {
		t.Run(c.name, func(t *testing.T) { c.told(t, w) })
	}
}

// Without a demand: the table and what must be in it.
func TestNoDemand(t *testing.T) {
	w := example(t)
	text := w["setup.toml"]
	w = w.with(t, "setup.toml", text[strings.Index(text, "[demand]"):strings.Index(text, "[[place]]")], "")
	if e := w.onlyError(t); !strings.Contains(e.Error(), "setup.toml:1:1: found no demand, expected [demand] with default = 2") {
		t.Error(e)
	}
}

// Every key that a file must have has an example, every list of tables is known
// as one, and nothing else is.
func TestExamplesAreComplete(t *testing.T) {
	k := keysOf[machineFile]()
	for _, more := range []keys{keysOf[componentFile](), keysOf[setupFile](), keysOf[toolFile]()} {
		k.required = append(k.required, more.required...)
		k.lists = append(k.lists, more.lists...)
		k.all = append(k.all, more.all...)
	}
	for _, key := range k.required {
		if key != "kind" && examples[key] == "" { // kind is asked for before all others
			t.Errorf("no example of %s", key)
		}
	}
	for key := range examples {
		if !slices.Contains(k.all, key) {
			t.Errorf("an example of %s, which no file has", key)
		}
	}
	slices.Sort(k.lists)
	want, got := slices.Compact(k.lists), slices.Sorted(slices.Values(lists))
	if !slices.Equal(got, want) {
		t.Errorf("lists %q, want %q", got, want)
	}
}
