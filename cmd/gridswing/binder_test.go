package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"gridswing/geom/shape"
	"gridswing/geom/stl"

	"github.com/golang/geo/r3"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// rewritten writes a file as another one, some of its words changed wherever they are.
func rewritten(t *testing.T, from, to, old, new string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), old) {
		t.Fatalf("%s has no %q", from, old)
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, []byte(strings.ReplaceAll(string(data), old, new)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestSummaryFollowsSchema holds summaries to the schema that the program prints, by the validator
// github.com/santhosh-tekuri/jsonschema v6.0.3: of what is clear, is not, cannot be read, is missing,
// out of date, gone.
func TestSummaryFollowsSchema(t *testing.T) {
	s := schema(t, "binder")
	dir := shop(t)
	t.Chdir(dir)
	edited := func(name, old, new string) { rewritten(t, "setup.toml", filepath.Join("setups", name), old, new) }
	for _, name := range []string{"machine.toml", "trunnion.toml", "block.toml"} {
		rewritten(t, name, filepath.Join("setups", name), `file = "`, `file = "../`)
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

// TestPagesWhereverMade: pages with warnings of files are the same, whatever the setup file is called in the call.
func TestPagesWhereverMade(t *testing.T) {
	dir := shop(t)
	t.Chdir(dir)
	open := box(boxes["block.stl"])
	open.Facets = open.Facets[1:]
	if err := stl.WriteFile("block.stl", open); err != nil {
		t.Fatal(err)
	}
	for out, name := range map[string]string{"here": "setup.toml", "there": filepath.Join(dir, "..", filepath.Base(dir), "setup.toml")} {
		if code, text, errs := call(t, t.Context(), "binder", name, "--out", out, "--quiet"); code != exitClear {
			t.Fatalf("%s: exit code %d: %s%s", name, code, text, errs)
		}
	}
	for _, page := range []string{"setup.html", "setup.pdf", "binder.html"} {
		here, err := os.ReadFile(filepath.Join("here", page))
		if err != nil {
			t.Fatal(err)
		}
		if there, err := os.ReadFile(filepath.Join("there", page)); err != nil || string(there) != string(here) {
			t.Errorf("%s is another one, or none: %v", page, err)
		}
		if page == "setup.html" && !strings.Contains(string(here), "3 open edges") {
			t.Error("there is no warning")
		}
	}
}

// TestBinderDoesNotGrow looks at many setups, each with a block of its own of some thousand facets:
// what is kept of them does not get more.
func TestBinderDoesNotGrow(t *testing.T) {
	dir := shop(t)
	t.Chdir(dir)
	b := newBinderer(&binderOptions{})
	heap := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc) / 1e6
	}
	const setups, settled = 160, 60
	early, facets := 0.0, 0
	for i := range setups {
		block := shape.Box(r3.Vector{X: -20, Y: -20}, r3.Vector{X: 20, Y: 20, Z: 40 - 0.01*float64(i)}).Refined(3).Mesh()
		facets = len(block.Facets)
		if err := stl.WriteFile("own.stl", block); err != nil {
			t.Fatal(err)
		}
		solid, component, setup := fmt.Sprintf("own-%d.stl", i), fmt.Sprintf("own-%d.toml", i), fmt.Sprintf("job-%d.toml", i)
		if err := os.Rename("own.stl", solid); err != nil {
			t.Fatal(err)
		}
		rewritten(t, "block.toml", component, "block.stl", solid)
		rewritten(t, "setup.toml", setup, "block.toml", component)
		if _, inputs, err := b.look(t.Context(), b.looker, setup); err != nil || inputs.Hash() == "" {
			t.Fatal(err)
		}
		b.forget()
		if i == settled {
			early = heap()
		}
	}
	if facets < 2000 {
		t.Errorf("only %d facets", facets)
	}
	// Of each facet there are at least 36 bytes, so that would be ten times as much if they stayed.
	late, most := heap(), 0.1*(setups-settled)*float64(facets)*36/1e6
	if t.Logf("%.2f MB after %d setups, %.2f MB after %d", early, settled, late, setups); late > early+most {
		t.Errorf("more than %.2f MB were added", most)
	}
	runtime.KeepAlive(b)
}
