package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/geom/stl"
	"gridswing/machine/check"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// schema compiles the schema that the program prints, of reports if no other is named.
func schema(t *testing.T, name ...string) *jsonschema.Schema {
	t.Helper()
	code, text, _ := call(t, t.Context(), append([]string{"schema"}, name...)...)
	if code != exitClear {
		t.Fatalf("schema: exit code %d", code)
	}
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("report.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("report.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// shop returns the small setup in a folder of its own.
func shop(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := openShop(dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

// rewrite replaces text in a file.
func rewrite(t testing.TB, path, old, new string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Count(data, []byte(old)) != 1 {
		t.Fatalf("%s does not have %q just once", path, old)
	}
	if err := os.WriteFile(path, bytes.Replace(data, []byte(old), []byte(new), 1), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestReportsFollowSchema checks setups that end in different verdicts and holds
// every report to the schema, by the validator
// github.com/santhosh-tekuri/jsonschema v6.0.3.
func TestReportsFollowSchema(t *testing.T) {
	s := schema(t)
	for _, c := range []struct {
		name    string
		prepare func(t *testing.T, dir string)
		want    check.Verdict
	}{
		{"clear", func(*testing.T, string) {}, check.Clear},
		{"tight", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "setup.toml"), "default = 2", "default = 50")
		}, check.Tight},
		{"contact", func(t *testing.T, dir string) {
			if err := stl.WriteFile(filepath.Join(dir, "base.stl"), box([6]float64{-100, -60, 0, 100, 60, 70})); err != nil {
				t.Fatal(err)
			}
		}, check.Contact},
		{"pair of its own", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "setup.toml"), "default = 2",
				"default = 2\n[[demand.pair]]\nbodies = [\"block\", \"trunnion/base\"]\nclearance = 60\nreason = \"chips\"")
		}, check.Tight},
		{"not modelled", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "machine.toml"), `"guards", `, "")
		}, check.Unproven},
		{"stands on nothing", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "setup.toml"), `pins = ["A1", "B1"]`, "at = [25, 25, 9]\nwithin = 0.1")
		}, check.Unproven},
		{"nothing turns", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "setup.toml"), "A = [-30, 120]\nC = [0, 360]", "A = [0, 0]\nC = [0, 0]")
		}, check.Clear},
		{"rated for less", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "trunnion.toml"), "[seat]", "[ratings]\ntilt = \"A\"\nrotary = \"C\"\nload = 1\ntilt_moment = 0.01\ntilt_acceleration = 90\nincludes_own = true\n[seat]")
			rewrite(t, filepath.Join(dir, "setup.toml"), "[commanded]", "[counterweight]\non = \"trunnion/faceplate\"\nradius = 30\nheight = 0\ndiameter = 10\nmaterial = \"brass\"\n[commanded]")
		}, check.Overload},
		{"weight not known", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "block.toml"), "material = \"aluminium\"", "")
			rewrite(t, filepath.Join(dir, "machine.toml"), "up = [0, 0, 1]", "up = [0, 0, 1]\ntable_load = 20")
		}, check.Unproven},
		{"only the rotary", func(t *testing.T, dir string) {
			rewrite(t, filepath.Join(dir, "setup.toml"), "A = [-30, 120]", "A = [0, 0]")
		}, check.Clear},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := shop(t)
			c.prepare(t, dir)
			_, out, errs := call(t, t.Context(), "check", "--json", filepath.Join(dir, "setup.toml"))
			if strings.Count(out, "\n") != 1 {
				t.Fatalf("%d lines of data, want 1; stderr: %s", strings.Count(out, "\n"), errs)
			}
			document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(document); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
			var r check.Report
			if err := json.Unmarshal([]byte(out), &r); err != nil {
				t.Fatal(err)
			}
			if r.Verdict != c.want {
				t.Errorf("verdict %v, want %v", r.Verdict, c.want)
			}
		})
	}
}

// TestReachFollowsSchema holds what is really found of tools to the schema: all clear, with either
// method of offsets in inches; a contact, a faulty operation, too little travel, and a
// part that cannot be presented.
func TestReachFollowsSchema(t *testing.T) {
	s := schema(t)
	for _, c := range []struct {
		name, file, old, new string
		want                 check.Verdict
	}{
		{"clear", "job.toml", "", "", check.Clear},
		{"turned by the control", "mill.toml", `"per-position"`, `"turned-by-control"`, check.Clear},
		{"touched off", "mill.toml", `"absolute"`, `"touched-off"`, check.Clear},
		{"no method", "mill.toml", "[offsets]\nmethod = \"per-position\"\nlengths = \"absolute\"\n", "", check.Unproven},
		{"contact", "job.toml", "depth = 21", "depth = 75", check.Contact},
		{"faulty", "job.toml", "axis = [0, -1, 0]", "axis = [0, 0, 0]", check.Unproven},
		{"too little travel", "mill.toml", "travel = [-100, 300]", "travel = [60, 300]", check.OverTravel},
		{"not presented", "job.toml", "axis = [0, -1, 0]", "axis = [0, -1, -1]", check.Unproven},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := shop(t)
			if c.old != "" {
				rewrite(t, filepath.Join(dir, c.file), c.old, c.new)
			}
			_, out, errs := call(t, t.Context(), "reach", "--json", filepath.Join(dir, "job.toml"))
			document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			if err != nil {
				t.Fatalf("%v; stderr: %s", err, errs)
			}
			if err := s.Validate(document); err != nil {
				t.Error(err)
			}
			var r check.Report
			if err := json.Unmarshal([]byte(out), &r); err != nil {
				t.Fatal(err)
			}
			if r.Verdict != c.want {
				t.Errorf("verdict %v, want %v", r.Verdict, c.want)
			}
			if code, page, errs := call(t, t.Context(), "reach", filepath.Join(dir, "job.toml")); code == exitWrong || !strings.HasPrefix(page, c.want.String()) {
				t.Errorf("exit code %d, stderr %q, page\n%s", code, errs, page)
			}
		})
	}
}

// TestFasteningFollowsSchema holds the list of screws to the schema, with everything
// in it and with what may be null or left out.
func TestFasteningFollowsSchema(t *testing.T) {
	s := schema(t)
	contact, length, newtons, torque := check.Contact, 40.0, 43080.0, 83.9
	whole := check.Screw{Of: "trunnion", Name: "1", Thread: "M12", Class: "8.8", Into: "plate/top C5", Length: &length,
		Preload: &newtons, Torque: &torque, Driver: "hex key 10", Verdict: &contact}
	for _, c := range []struct {
		name, old, new string
		follows        bool
	}{
		{"whole", "", "", true},
		{"verdict", `"verdict":"contact"}]`, `"verdict":"nearly"}]`, false},
		{"friction", `"friction":0.12`, `"friction":0`, false},
		{"missing", `"preload_n":43080,`, "", false},
		{"more", `"of":`, `"if":1,"of":`, false},
	} {
		r := specimen.Reach()
		r.Fastening = &check.Fastening{At: []check.Position{{Axis: "A", Value: 90, Unit: "deg"}}, Order: []string{"trunnion"},
			Friction: 0.12, Drivers: []string{"hex key 10"}, Screws: []check.Screw{{Of: "trunnion", Name: "2", Thread: "M30", Below: true}, whole}}
		r.Findings = append(r.Findings, check.Finding{Verdict: check.Unproven, Question: check.Driving, Bodies: [2]string{"trunnion"},
			At: r.Fastening.At, Over: []check.Range{}})
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Count(data, []byte(c.old)) == 0 {
			t.Fatalf("%s: the report has no %s", c.name, c.old)
		}
		document, err := jsonschema.UnmarshalJSON(bytes.NewReader(bytes.ReplaceAll(data, []byte(c.old), []byte(c.new))))
		if c.old == "" {
			document, err = jsonschema.UnmarshalJSON(bytes.NewReader(data))
		}
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(document); (err == nil) != c.follows {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestFullReportFollowsSchema holds a report with everything in it to the schema, with either
// method of offsets, and what is left out or null where it may be.
func TestFullReportFollowsSchema(t *testing.T) {
	s := schema(t)
	whole, turned, bare := specimen.Reach(), specimen.Reach(), specimen.Reach()
	turned.Offsets = specimen.TurnedOffsets()
	bare.Offsets = nil
	bare.Reach.Operations[0].StickOut = nil
	bare.Reach.Operations[1].StickOut.Tool = nil
	for _, r := range []*check.Report{whole, turned, bare} {
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
		for _, c := range [][2]string{{`"kind":"hole"`, `"kind":"thread"`}, {`"basis":"NOMINAL"`, `"basis":"nominal"`},
			{`"where":"depth"`, `"where":"deep"`}, {`"margin_mm":`, `"left_mm":`}, {`"kind":"index"`, `"kind":"turn"`}, {`"question":"travel"`, `"question":"way"`}} {
			old, new := []byte(c[0]), []byte(c[1])
			if r.Offsets == nil && strings.Contains(c[0], "basis") {
				continue
			}
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

// TestSchemaRefuses makes sure that the schema can fail: a report with a field
// more, one less, or a word that is no verdict is none.
func TestSchemaRefuses(t *testing.T) {
	s := schema(t)
	_, out, _ := call(t, t.Context(), "check", "--json", filepath.Join(shop(t), "setup.toml"))
	for _, c := range []struct{ name, old, new string }{
		{"verdict", `"verdict":"clear"`, `"verdict":"fine"`},
		{"version", `"format":1`, `"format":2`},
		{"missing", `"warnings":`, `"remarks":`},
		{"more", `"question":`, `"more":1,"question":`},
		{"length", `"proven_mm":`, `"proven_mm":"1","was":`},
	} {
		if !strings.Contains(out, c.old) {
			t.Fatalf("the report has no %s", c.old)
		}
		document, err := jsonschema.UnmarshalJSON(strings.NewReader(strings.Replace(out, c.old, c.new, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if s.Validate(document) == nil {
			t.Errorf("%s: %s passes for %s", c.name, c.new, c.old)
		}
	}
}
