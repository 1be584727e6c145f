//go:build !windows

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"gridswing/models/varied"
)

// TestInterruptedBinder sends a signal to a binder at work: it ends with exit code 130, what is there
// is whole, and the next run makes the rest.
func TestInterruptedBinder(t *testing.T) {
	dir := t.TempDir()
	const setups = 3
	if err := varied.Write(dir, setups, 1); err != nil {
		t.Fatal(err)
	}
	cmd := process(t, dir, "binder", "setups", "--out", "out", "--jobs", "1")
	signalled(t, cmd, syscall.SIGINT, 2, "3 setups, 0 unchanged") // the second line is of the first that is made
	t.Chdir(dir)
	made := wholePages(t, "out")
	if made == 0 || made >= setups {
		t.Errorf("%d of %d were made", made, setups)
	}
	if _, err := os.Stat(filepath.Join("out", "binder.html")); !os.IsNotExist(err) {
		t.Errorf("there is a front page: %v", err)
	}
	code, text, told := call(t, t.Context(), "binder", "setups", "--out", "out")
	if code == exitWrong || !strings.Contains(text, "3 setups, ") || strings.Contains(text, "3 setups, 0 unchanged") {
		t.Errorf("the next run: exit code %d, %s%s", code, text, told)
	}
	if n := wholePages(t, "out"); n != setups {
		t.Errorf("%d of %d have pages", n, setups)
	}
	if left, err := os.ReadDir(filepath.Join("out", ".binder", "runs")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// wholePages counts setups with pages, all of which must be whole.
func wholePages(t *testing.T, out string) (n int) {
	t.Helper()
	for ending, last := range map[string]string{".pdf": "%%EOF\n", ".html": "</html>\n"} {
		names, err := filepath.Glob(filepath.Join(out, "line-*", "*"+ending))
		if err != nil {
			t.Fatal(err)
		}
		n = max(n, len(names))
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.HasSuffix(strings.TrimRight(string(data), "\n")+"\n", last) {
				t.Errorf("%s is not whole: it ends in %q", name, data[max(0, len(data)-20):])
			}
		}
	}
	return n
}
