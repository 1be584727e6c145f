package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/machine/check"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// What is really found of programs follows the schema: one that is clear, one whose holder meets the block, one
// beyond the travel, one that cannot be read to its end, by the validator github.com/santhosh-tekuri/jsonschema v6.0.3.
func TestProgramFollowsSchema(t *testing.T) {
	s := schema(t)
	dir := shop(t)
	control := "\n[program]\nstarts_with = [\"G17\", \"G21\", \"G40\", \"G49\", \"G80\", \"G90\", \"G94\"]\nlength_moves = \"with next move\"\nchange_moves = false\n"
	mill := filepath.Join(dir, "mill.toml")
	data, err := os.ReadFile(mill)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(mill, append(data, control...), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		blocks string
		want   check.Verdict
	}{
		{"G1 Z-20. F200.\nG0 Z20.\nM30\n", check.Clear},
		{"G1 Z-65. F200.\nG0 Z20.\nM30\n", check.Contact},
		{"G0 X150.\nM30\n", check.OverTravel},
		{"G1 Z-20. F200.\nG333\nM30\n", check.Unproven},
	} {
		name := filepath.Join(dir, "holes.nc")
		text := "T4 M6\nS2000 M3\nG54\nG0 A0. C0.\nG0 X-15. Y0.\nG0 G43 H4 Z20.\n" + c.blocks
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, out, errs := call(t, t.Context(), "check", "--json", "--cell", "2", "--program", name, filepath.Join(dir, "job.toml"))
		document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if err != nil {
			t.Fatalf("%v; stderr: %s", err, errs)
		}
		if err := s.Validate(document); err != nil {
			t.Errorf("%q: %v\n%s", c.blocks, err, out)
		}
		var r check.Report
		if err := json.Unmarshal([]byte(out), &r); err != nil {
			t.Fatal(err)
		}
		if r.Verdict != c.want || r.Program == nil || len(r.Program.Strip) == 0 || len(r.Program.Tools) == 0 || len(r.Program.Offsets) != 1 && c.want != check.OverTravel {
			t.Errorf("%q: verdict %v, want %v; %+v", c.blocks, r.Verdict, c.want, r.Program)
		}
	}
}

// The schema of a program can fail: a field by another name, a word or number that is none of those it knows.
func TestProgramSchemaRefuses(t *testing.T) {
	s := schema(t)
	for _, r := range []*check.Report{specimen.Program(), specimen.BrokenProgram()} {
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		document, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(document); err != nil {
			t.Error(err)
		}
		for _, c := range [][2]string{{`"format":"word address"`, `"format":"other"`}, {`"seconds_known":`, `"sure":`}, {`"source":"keyed in"`, `"source":"guess"`},
			{`"line":14,`, `"line":"14",`}, {`"strip_cap_mm":10,`, `"strip_cap_mm":-1,`}, {`"lpr_mm":`, `"length_mm":`}, {`"removed_mm3":`, `"removed":`}} {
			old, new := []byte(c[0]), []byte(c[1])
			if !bytes.Contains(data, old) {
				t.Fatalf("the report has no %s", old)
			}
			document, err := jsonschema.UnmarshalJSON(bytes.NewReader(bytes.ReplaceAll(data, old, new)))
			if err != nil {
				t.Fatal(err)
			}
			if s.Validate(document) == nil {
				t.Errorf("%s passes for %s", new, old)
			}
		}
	}
}

// The format of a program is told by how it begins.
func TestFormatOf(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   check.WordAddress,
		"%\nO1234\nG0 X1\n":                  check.WordAddress,
		"(GOTO/1,2,3)\nG1\n":                 check.WordAddress,
		"\r\n N10 G0 X1\r\n":                 check.WordAddress,
		"#1=[GOTO]\n":                        check.WordAddress,
		"PARTNO BRACKET\nGOTO/1,2,3\n":       check.CutterLocation,
		"$$ made by hand\n\nUNITS/MM\n":      check.CutterLocation,
		"  GOTO / 1.0, 2.0, 3.0\r\n":         check.CutterLocation,
		"MULTAX\n":                           check.CutterLocation,
		"$$\n$$\nLOADTL/4\n":                 check.CutterLocation,
		strings.Repeat("\n", 70000) + "FINI": check.WordAddress, // as long a beginning nobody has
	} {
		r := strings.NewReader(text)
		got, err := formatOf(r)
		if err != nil || got != want || r.Len() != len(text) {
			t.Errorf("%.40q: %q, %v, want %q; %d of %d bytes left", text, got, err, want, r.Len(), len(text))
		}
	}
}
