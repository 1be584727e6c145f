package binder

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gofrs/flock"
	"github.com/google/go-cmp/cmp"
)

// A run is killed, again and again, at any moment. Never is there a page that is not whole under
// its name; what is left for the last run, that makes all the same to the byte as if nothing had
// happened; and nothing that nobody needs is left.
func TestKilled(t *testing.T) {
	dir := shop(t, 24)
	undisturbed := filepath.Join(t.TempDir(), "binder")
	begun := time.Now()
	if err := process(t, nil, undisturbed, dir).Wait(); err != nil {
		t.Fatal(err)
	}
	took := time.Since(begun)
	want := pages(t, undisturbed)
	random := rand.New(rand.NewPCG(7, 7))
	killed := 0
	for range 12 {
		out := filepath.Join(t.TempDir(), "binder")
		for range 4 {
			cmd := process(t, nil, out, dir)
			time.Sleep(time.Duration(random.Float64() * 1.1 * float64(took)))
			if err := cmd.Process.Kill(); err == nil {
				killed++
			}
			_ = cmd.Wait()
			for name, page := range pages(t, out) {
				if !strings.HasPrefix(name, "binder.") && page != want[name] {
					t.Fatalf("%s has %d bytes, expected %d, or none", name, len(page), len(want[name]))
				}
			}
			if _, err := os.Stat(filepath.Join(out, folder, saidName)); err == nil {
				break // it had ended: the next front page would tell of no changes
			}
		}
		_, ended := os.Stat(filepath.Join(out, folder, saidName))
		if err := process(t, nil, out, dir).Wait(); err != nil {
			t.Fatal(err)
		}
		got := pages(t, out)
		if ended == nil {
			for _, front := range []string{"binder.html", "binder.pdf"} {
				got[front] = want[front]
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal(diff)
		}
		if left, err := os.ReadDir(filepath.Join(out, folder, "runs")); err != nil || len(left) > 0 {
			t.Errorf("left behind: %v, %v", left, err)
		}
	}
	if killed < 12 {
		t.Errorf("only %d runs were killed", killed)
	}
}

// Two runs at once do the work once, and each ends with the whole of it; neither clears away what
// the other is at work on.
func TestTwoAtOnce(t *testing.T) {
	dir := shop(t, 30)
	alone := filepath.Join(t.TempDir(), "binder")
	if err := process(t, nil, alone, dir).Wait(); err != nil {
		t.Fatal(err)
	}
	for range 5 {
		out := filepath.Join(t.TempDir(), "binder")
		first, second := process(t, nil, out, dir), process(t, nil, out, dir)
		if err := first.Wait(); err != nil {
			t.Fatal(err)
		}
		if err := second.Wait(); err != nil {
			t.Fatal(err)
		}
		want, got := pages(t, alone), pages(t, out)
		for _, front := range []string{"binder.html", "binder.pdf"} {
			if want[front] != got[front] && !strings.Contains(got[front], Unchanged) { // begun after the other one had ended
				t.Errorf("%s: %s", front, got[front])
			}
			delete(want, front)
			delete(got, front)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal(diff)
		}
	}
}

// What another run is at work on is waited for, and is not made a second time.
func TestWaitsForAnother(t *testing.T) {
	dir := shop(t, 3)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	h, err := begin(t.Context(), out)
	if err != nil {
		t.Fatal(err)
	}
	defer h.end()
	unlock, ok, err := h.try(t.Context(), "line-1/op1", 0)
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	other := &batch{Options: &o, hold: h}
	it := item{name: "line-1/op1", file: filepath.Join(dir, "line-1", "op1.toml")}
	rest := make(chan bool)
	o2 := o
	told := 0
	o2.Done = func(s *Setup) {
		if told++; told == 2 {
			close(rest) // the others are done, it waits
		}
		if s.Name == it.name && s.MadeNow {
			t.Error("made a second time")
		}
	}
	ended := make(chan error)
	go func() {
		_, err := Run(t.Context(), o2)
		ended <- err
	}()
	<-rest
	made, _, err := other.made(t.Context(), &it, 1)
	if err != nil {
		t.Fatal(err)
	}
	r := &record{Format: recordFormat, Program: o.Program, Settings: o.Settings, Inputs: made.Inputs.sorted(), Facts: made.Facts}
	if err := other.keep(t.Context(), it.name, r, made.Pages); err != nil {
		t.Fatal(err)
	}
	unlock()
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	if told != 3 {
		t.Errorf("told of %d", told)
	}
}

// What a run that hangs, or was stopped, does not let go of is waited for so long, and the rest is made.
func TestHeld(t *testing.T) {
	dir := shop(t, 6)
	out := filepath.Join(t.TempDir(), "binder")
	h, err := begin(t.Context(), out)
	if err != nil {
		t.Fatal(err)
	}
	defer h.end()
	var unlocks []func()
	for _, name := range []string{"line-1/op1", "line-2/op2"} {
		unlock, ok, err := h.try(t.Context(), name, 0)
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		unlocks = append(unlocks, unlock)
	}
	o := options([]string{dir}, out)
	o.Patience = 300 * time.Millisecond
	s, _ := run(t, o)
	if s.Totals["clear"] != 4 || s.Totals[FaultyState] != 2 || !strings.Contains(s.Faults()[1].Error(), "another run") {
		t.Errorf("%v, %v", s.Totals, s.Faults())
	}
	for _, unlock := range unlocks {
		unlock()
	}
	if s, made := run(t, o); len(made) != 2 || !s.Clear() {
		t.Errorf("made %v, %v", made, s.Totals)
	}
}

// A setup over which every run dies does not keep the others from being made, night by night.
func TestDiesOver(t *testing.T) {
	dir := shop(t, 12)
	write(t, dir, "all.toml", "kind = \"setup\"\ndies = \"each time\"\n")
	out := filepath.Join(t.TempDir(), "binder")
	for range 3 {
		cmd := process(t, nil, out, dir)
		if _ = cmd.Wait(); cmd.ProcessState.ExitCode() != 137 {
			t.Fatal(cmd.ProcessState)
		}
	}
	if made := pages(t, out); len(made) != 24 {
		t.Errorf("after three runs there are %d pages of 24", len(made))
	}
	write(t, dir, "all.toml", "kind = \"setup\"\n")
	if s, made := run(t, options([]string{dir}, out)); !slices.Equal(made, []string{"all"}) || !s.Clear() {
		t.Errorf("made %v, %v", made, s.Totals)
	}
}

// Leftovers of dead runs go, those of living ones stay.
func TestLeftovers(t *testing.T) {
	out := filepath.Join(t.TempDir(), "binder")
	living, err := begin(t.Context(), out)
	if err != nil {
		t.Fatal(err)
	}
	defer living.end()
	write(t, living.dir, ".gridswing-1", "half")
	dead := filepath.Join(out, folder, "runs", "run-dead")
	write(t, dead, ".gridswing-2", "half")
	write(t, filepath.Dir(dead), "run-dead"+lockEnding, "")
	next, err := begin(t.Context(), out)
	if err != nil {
		t.Fatal(err)
	}
	next.end()
	if _, err := os.Stat(filepath.Join(living.dir, ".gridswing-1")); err != nil {
		t.Error("a living run's:", err)
	}
	if _, err := os.Stat(dead); err == nil {
		t.Error("a dead run's is still there")
	}
}

// Shards at once, and a joining run, make what a single run makes.
func TestShards(t *testing.T) {
	dir := shop(t, 21)
	write(t, dir, "bad.toml", "kind = \"setup\"\nfails = \"it cannot be read\"\n")
	alone, out := filepath.Join(t.TempDir(), "binder"), filepath.Join(t.TempDir(), "binder")
	run(t, options([]string{dir}, alone))
	const shards = 4
	var cmds []interface{ Wait() error }
	for i := range shards {
		cmds = append(cmds, process(t, []string{fmt.Sprintf("SHARD=%d/%d", i, shards)}, out, dir))
	}
	for _, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := os.Stat(filepath.Join(out, "binder.html")); err == nil {
		t.Error("a shard made a front page")
	}
	o := options([]string{dir}, out)
	o.Join = true
	s, made := run(t, o)
	if len(made) != 0 || s.Totals[FaultyState] != 1 || s.Totals["clear"] != 21 {
		t.Errorf("joining made %v: %v", made, s.Totals)
	}
	if diff := cmp.Diff(pages(t, alone), pages(t, out)); diff != "" {
		t.Error(diff)
	}
	// What is missing and what is out of date is told.
	write(t, dir, "late.toml", "kind = \"setup\"\n")
	write(t, dir, "line-0/op0.toml", "kind = \"setup\"\n")
	s, made = run(t, o)
	if len(made) != 0 || s.Totals[MissingState] != 1 || s.Totals[OutdatedState] != 1 || s.Whole() || len(s.Faults()) != 3 {
		t.Errorf("made %v: %v, %v", made, s.Totals, s.Faults())
	}
}

// Where locks keep nobody out, that is said, and nothing is made.
func TestNoLocks(t *testing.T) {
	out := filepath.Join(t.TempDir(), "binder")
	h := &hold{root: filepath.Join(out, folder)}
	err := h.failed(fmt.Errorf("function not implemented"))
	if !strings.Contains(err.Error(), "cannot be locked") || !strings.HasPrefix(err.Error(), out) {
		t.Error(err)
	}
	write(t, out, folder+"/locks", "a file in the way")
	if _, err := Run(t.Context(), options([]string{shop(t, 1)}, out)); err == nil {
		t.Error("it began")
	}
	l := flock.New(filepath.Join(t.TempDir(), "x"))
	if !locked(l) || locked(flock.New(l.Path())) {
		t.Error("two hold one lock")
	}
}
