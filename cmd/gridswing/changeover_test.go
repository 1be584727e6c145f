package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestPlansFollowSchema holds plans to the schema that the program prints, by the
// validator github.com/santhosh-tekuri/jsonschema v6.0.3.
func TestPlansFollowSchema(t *testing.T) {
	s := schema(t, "changeover")
	for _, c := range []struct {
		name, old, new string
		from           bool
		code           int
	}{
		{"from empty", "", "", false, exitClear},
		{"the same", "", "", true, exitClear},
		{"the other way round", `pins = ["A1", "B1"]`, `pins = ["B1", "A1"]`, true, exitClear},
		{"blocked", `pins = ["A1", "B1"]`, "pins = [\"A1\", \"B1\"]\npath = [{ at = [0, 0, 400], turned = 20, about = 2 }, [0, 0, 0]]", false, exitNotClear},
		{"by hand", "[commanded]", "[lifting]\nby_hand = 5\n[commanded]", true, exitClear},
		{"far apart", "default = 2", "default = 40", false, exitNotClear},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := shop(t)
			second := filepath.Join(dir, "second.toml")
			data, err := os.ReadFile(filepath.Join(dir, "setup.toml"))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(second, data, 0o644); err != nil {
				t.Fatal(err)
			}
			if c.old != "" {
				rewrite(t, second, c.old, c.new)
			}
			args := []string{"changeover", "--json", "--from-empty", second}
			if c.from {
				args = []string{"changeover", "--json", filepath.Join(dir, "setup.toml"), second}
			}
			code, out, errs := call(t, t.Context(), args...)
			if code != c.code || errs != "" {
				t.Fatalf("exit code %d, want %d; stderr %q\n%s", code, c.code, errs, out)
			}
			document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(document); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
}

var pageCount = regexp.MustCompile(`/Type /Pages[^>]*/Count ([0-9]+)`)

// TestPages counts the pages of a plan: one for the whole and one for each step, which is
// two components and where the axes go. The size of A4 is that of ISO 216, in points.
func TestPages(t *testing.T) {
	dir := shop(t)
	file := filepath.Join(dir, "pages.pdf")
	if code, out, errs := call(t, t.Context(), "changeover", "--from-empty", filepath.Join(dir, "setup.toml"), "--pages", file); code != exitClear {
		t.Fatalf("exit code %d\n%s\n%s", code, out, errs)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(data, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
		t.Errorf("begins %q, ends %q", data[:8], data[len(data)-8:])
	}
	flat := bytes.ReplaceAll(data, []byte("\n"), []byte(" "))
	m := pageCount.FindSubmatch(flat)
	if m == nil || string(m[1]) != "4" {
		t.Errorf("pages: %q", m)
	}
	if !bytes.Contains(flat, []byte("/MediaBox [0 0 595.28 841.89]")) {
		t.Error("no A4")
	}
	if n := bytes.Count(data, []byte("/Subtype /Image")); n != 3 {
		t.Errorf("%d pictures, want 3", n)
	}
}
