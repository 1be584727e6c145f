package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridswing/machine/check"
	"gridswing/models"
)

// TestDemo runs the demo as a user does: the good setup is clear, the other one
// fails standing still, while it swings and while it is cut, and both are drawn.
func TestDemo(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a folder")
	code, out, errs := call(t, t.Context(), "demo", dir)
	if code != exitClear || errs != "" {
		t.Fatalf("exit code %d, stderr %q\n%s", code, errs, out)
	}
	for _, want := range []string{
		"clear: Bracket NB-214, op 10\n",
		"contact: Bracket NB-214, op 10, one hole off\n",
		"   Standing still:\n   - contact: vise/moving jaw and stock: ",
		"   While the rotary axes move:\n   - contact: ",
		"   On the way in, at depth and out:\n   - tight: T2 cutting part and vise/moving jaw (rough the walls, shelf, back, T2)",
		"gridswing check \"" + filepath.Join(dir, "setups", "bracket-op10.toml") + "\"",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if words := strings.Join(strings.Fields(out), " "); !strings.Contains(words, "bracket-op10.nc, read to its end: ") || !strings.Contains(words, "on every move of the program") {
		t.Errorf("nothing is said of the program in\n%s", out)
	}
	var names []string
	list, err := os.ReadDir(filepath.Join(dir, "pictures"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		names = append(names, f.Name())
	}
	want := []string{
		"bracket-op10-loads.png", "bracket-op10-machine.png",
		"bracket-op10-one-hole-off-finding-1.png", "bracket-op10-one-hole-off-finding-2.png",
		"bracket-op10-one-hole-off-finding-3.png", "bracket-op10-one-hole-off-loads.png", "bracket-op10-one-hole-off-machine.png",
		"bracket-op10-one-hole-off-operation-finish-the-walls-ends.png", "bracket-op10-one-hole-off-operation-rough-the-walls.png",
		"bracket-op10-one-hole-off-setup.png", "bracket-op10-one-hole-off-swing-chart.png",
		"bracket-op10-one-hole-off-worst-position.png",
		"bracket-op10-program-clearance.png", "bracket-op10-program-stock.png",
		"bracket-op10-setup.png", "bracket-op10-swing-chart.png",
	}
	if !slices.Equal(names, want) {
		t.Errorf("pictures %v, want %v", names, want)
	}
	front, err := os.ReadFile(filepath.Join(dir, demoBinder, "binder.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, link := range []string{"bracket-op10.html", "bracket-op10-one-hole-off.html"} {
		if !bytes.Contains(front, []byte(`href="`+link+`"`)) {
			t.Errorf("the front page does not lead to %s", link)
		}
		if _, err := os.Stat(filepath.Join(dir, demoBinder, link)); err != nil {
			t.Error(err)
		}
	}
}

// TestDemoFiles: writing the demo a second time changes nothing, and restores
// what is missing.
func TestDemoFiles(t *testing.T) {
	dir := t.TempDir()
	if err := writeDemo(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
	setup := filepath.Join(dir, filepath.FromSlash(models.GoodSetup))
	kept, err := os.Stat(filepath.Join(dir, filepath.FromSlash(models.BadSetup)))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(setup); err != nil {
		t.Fatal(err)
	}
	if err := writeDemo(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(setup); err != nil {
		t.Error(err)
	}
	now, err := os.Stat(filepath.Join(dir, filepath.FromSlash(models.BadSetup)))
	if err != nil {
		t.Fatal(err)
	}
	if !os.SameFile(kept, now) {
		t.Error("a file that was there already was written again")
	}
}

// TestAsMeant: the demo does not call itself good if it turns out otherwise.
func TestAsMeant(t *testing.T) {
	rest := check.Finding{Verdict: check.Contact, Question: check.Rest}
	swing := check.Finding{Verdict: check.Contact, Question: check.Swing}
	tight := check.Finding{Verdict: check.Tight, Question: check.Rest}
	for _, c := range []struct {
		name string
		r    check.Report
		want bool
	}{
		{models.GoodSetup, check.Report{Verdict: check.Clear}, true},
		{models.GoodSetup, check.Report{Verdict: check.Tight}, false},
		{models.GoodSetup, check.Report{Verdict: check.Unproven}, false},
		{models.BadSetup, check.Report{Verdict: check.Contact, Findings: []check.Finding{rest, swing}}, true},
		{models.BadSetup, check.Report{Verdict: check.Contact, Findings: []check.Finding{rest}}, false},
		{models.BadSetup, check.Report{Verdict: check.Contact, Findings: []check.Finding{swing, tight}}, false},
		{models.BadSetup, check.Report{Verdict: check.Clear}, false},
	} {
		if got := asMeant(c.name, &c.r); got != c.want {
			t.Errorf("%s, %v, %d findings: %v", c.name, c.r.Verdict, len(c.r.Findings), got)
		}
	}
}
