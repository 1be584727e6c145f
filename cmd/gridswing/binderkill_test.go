package main

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// TestKilledBinder kills the program itself at its work, once at each kind of thing that it does.
// Whatever has a page's name then is a whole page, and the last run makes the same to the byte as one
// that nobody disturbed.
func TestKilledBinder(t *testing.T) {
	dir := shop(t)
	t.Chdir(dir)
	for name, clearance := range map[string]string{"a.toml": "default = 2", "b.toml": "default = 30"} {
		data, err := os.ReadFile("setup.toml")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
		rewrite(t, name, "default = 2", clearance)
	}
	if code := finished(t, begun(t, "alone")); code != exitNotClear {
		t.Fatalf("undisturbed: exit code %d", code)
	}
	want, killed := binderFiles(t, "alone"), 0
	for _, moment := range []string{
		".binder/locks/*", ".binder/runs/run-*/.gridswing-*", "[ab].pdf", ".binder/records/*", "binder.pdf", "summary.json",
	} {
		if killedAt(t, filepath.Join("out", filepath.FromSlash(moment))) {
			killed++
		}
		for name, data := range binderFiles(t, "out") {
			if (name[0] == 'a' || name[0] == 'b' && name[1] == '.') && data != want[name] {
				t.Fatalf("killed at %s: %s has %d bytes, expected %d, or none", moment, name, len(data), len(want[name]))
			}
		}
	}
	if killed < 4 {
		t.Errorf("it was killed %d times", killed)
	}
	_, told := os.Stat(filepath.Join("out", ".binder", "front.json"))
	if code := finished(t, begun(t, "out")); code != exitNotClear {
		t.Errorf("after all: exit code %d", code)
	}
	got := binderFiles(t, "out")
	for _, name := range []string{"binder.pdf", "binder.html"} {
		if told == nil { // the last front page tells of no changes
			got[name] = want[name]
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if left, err := os.ReadDir(filepath.Join("out", ".binder", "runs")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// begun is the program at work on a binder.
func begun(t *testing.T, out string) *exec.Cmd {
	t.Helper()
	cmd := process(t, "", "binder", "a.toml", "b.toml", "--out", out, "--quiet")
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd
}

func finished(t *testing.T, cmd *exec.Cmd) int {
	t.Helper()
	_ = cmd.Wait()
	return cmd.ProcessState.ExitCode()
}

// killedAt begins a run and kills it as soon as there is a file of this pattern that was not there
// before. It reports whether there was one before the run ended.
func killedAt(t *testing.T, pattern string) bool {
	t.Helper()
	there := func() []string {
		names, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		return names
	}
	before := there()
	fresh := func(name string) bool { return !slices.Contains(before, name) }
	cmd := begun(t, "out")
	ended := make(chan error)
	go func() { ended <- cmd.Wait() }()
	for {
		if slices.ContainsFunc(there(), fresh) {
			killed := cmd.Process.Kill() == nil
			<-ended
			return killed
		}
		select {
		case <-ended:
			return false
		case <-time.After(time.Millisecond / 2):
		}
	}
}

// binderFiles are the pages of a binder, by name. The summary, which tells how long things took, is
// left out.
func binderFiles(t *testing.T, out string) map[string]string {
	t.Helper()
	all := map[string]string{}
	names, err := filepath.Glob(filepath.Join(out, "*.*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		base := filepath.Base(name)
		if base == ".binder" || base == "summary.json" || base == "junit.xml" {
			continue
		}
		data, err := fs.ReadFile(os.DirFS(out), base)
		if err != nil {
			t.Fatal(err)
		}
		all[base] = string(data)
	}
	return all
}
