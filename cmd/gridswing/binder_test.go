package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestSummaryFollowsSchema holds summaries to the schema that the program prints, by the validator
// github.com/santhosh-tekuri/jsonschema v6.0.3: of what is clear, is not, cannot be read, is missing,
// out of date, gone.
func TestSummaryFollowsSchema(t *testing.T) {
	s := schema(t, "binder")
	dir := shop(t)
	t.Chdir(dir)
	edited := func(name, old, new string) {
		t.Helper()
		data, err := os.ReadFile("setup.toml")
		if err != nil {
			t.Fatal(err)
		}
		if strings.Count(string(data), old) != 1 {
			t.Fatalf("%q is not there once", old)
		}
		if err := os.WriteFile(filepath.Join("setups", name), []byte(strings.Replace(string(data), old, new, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir("setups", 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"machine.toml", "trunnion.toml", "block.toml"} {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join("setups", name), []byte(strings.ReplaceAll(string(data), `file = "`, `file = "../`)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	edited("clear.toml", "units", "units")
	edited("tight.toml", "default = 2", "default = 30")
	edited("faulty.toml", "pins = [\"A1\", \"B1\"]", "pins = [\"A1\"]")
	states := map[string]bool{}
	valid := func(code int, args ...string) {
		t.Helper()
		got, _, errs := call(t, t.Context(), append([]string{"binder", "setups", "--out", "out", "--quiet"}, args...)...)
		if got != code {
			t.Fatalf("%v: exit code %d, want %d: %s", args, got, code, errs)
		}
		data, err := os.ReadFile(filepath.Join("out", "summary.json"))
		if err != nil {
			t.Fatal(err)
		}
		document, err := jsonschema.UnmarshalJSON(strings.NewReader(string(data)))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(document); err != nil {
			t.Errorf("%v: %v\n%s", args, err, data)
		}
		for _, x := range document.(map[string]any)["setups"].([]any) {
			states[x.(map[string]any)["state"].(string)] = true
		}
	}
	valid(exitWrong)
	edited("clear.toml", "name = \"small setup\"", "name = \"another one\"")
	edited("new.toml", "units", "units")
	valid(exitWrong, "--join")
	if len(states) != 4 {
		t.Errorf("states %v, expected all four", states)
	}
	if err := os.Remove(filepath.Join("setups", "faulty.toml")); err != nil {
		t.Fatal(err)
	}
	valid(exitNotClear)
	if err := os.Remove(filepath.Join("setups", "tight.toml")); err != nil {
		t.Fatal(err)
	}
	valid(exitClear)
	if s.Validate(map[string]any{"format": 1}) == nil {
		t.Error("the schema takes anything")
	}
}
