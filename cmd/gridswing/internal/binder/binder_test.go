package binder

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// What is unchanged is left alone, whatever its times; what differs in anything is made again.
func TestUnchanged(t *testing.T) {
	dir := shop(t, 6)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	s, made := run(t, o)
	if len(made) != 6 || !s.Clear() || !s.Whole() {
		t.Fatalf("made %v, %+v", made, s.Totals)
	}
	for _, c := range []struct {
		what   string
		change func()
		want   int
	}{
		{"nothing", func() {}, 0},
		{"times", func() {
			later := time.Now().Add(time.Hour)
			for _, name := range []string{"shared.txt", "line-0/op0.toml"} {
				if err := os.Chtimes(filepath.Join(dir, name), later, later); err != nil {
					t.Fatal(err)
				}
			}
		}, 0},
		{"one setup, its time as before", func() {
			path := filepath.Join(dir, "line-1", "op1.toml")
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			write(t, dir, "line-1/op1.toml", strings.Replace(read(t, path), "number = 1", "number = 7", 1))
			if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil {
				t.Fatal(err)
			}
		}, 1},
		{"what all read", func() { write(t, dir, "shared.txt", "something else") }, 6},
		{"a page is not there", func() { os.Remove(filepath.Join(out, "line-0", "op0.html")) }, 1},
		{"a page is another one of the same size", func() {
			page := read(t, filepath.Join(out, "line-2", "op2.pdf"))
			write(t, out, "line-2/op2.pdf", "!"+page[1:])
		}, 1},
		{"a record is gone", func() { os.Remove(filepath.Join(out, filepath.FromSlash(recordName("line-0/op3")))) }, 1},
		{"a record is nonsense", func() { write(t, out, recordName("line-0/op3"), "{") }, 1},
		{"a record is another setup's", func() {
			write(t, out, recordName("line-0/op3"), read(t, filepath.Join(out, filepath.FromSlash(recordName("line-0/op0")))))
		}, 1},
		{"another program", func() { o.Program = "two" }, 6},
		{"other options", func() { o.Settings = "paper Letter" }, 6},
		{"all is asked for", func() { o.All = true }, 6},
		{"nothing again", func() { o.All = false }, 0},
	} {
		c.change()
		if _, made := run(t, o); len(made) != c.want {
			t.Errorf("%s: made %v, expected %d", c.what, made, c.want)
		}
	}
}

// A file that was not there and is now is a change, too.
func TestMissingInput(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "a.toml", "kind = \"setup\"\nreads = \"later.txt\"\n")
	o := options([]string{dir}, filepath.Join(dir, "out"))
	run(t, o)
	if _, made := run(t, o); len(made) != 0 {
		t.Error("made again without a reason")
	}
	write(t, dir, "later.txt", "now")
	if _, made := run(t, o); len(made) != 1 {
		t.Error("not made again")
	}
}

// The hash does not depend on where the files are, nor on how their names are written.
func TestHashIsTheSameEverywhere(t *testing.T) {
	var hashes []string
	for _, dir := range []string{t.TempDir(), filepath.Join(t.TempDir(), "deeper", "down")} {
		write(t, dir, "setups/a.toml", "kind = \"setup\"\nreads = \"../shared.txt\"\n")
		write(t, dir, "shared.txt", "text")
		for _, file := range []string{filepath.Join(dir, "setups", "a.toml"), filepath.Join(dir, "setups") + "/./../setups/a.toml"} {
			m, err := fake(t.Context(), Job{File: file})
			if err != nil {
				t.Fatal(err)
			}
			hashes = append(hashes, m.Inputs.Hash())
		}
	}
	if len(slices.Compact(hashes)) != 1 {
		t.Errorf("hashes %v", hashes)
	}
	// Independently: sha256sum of the two lines that go in.
	//   printf '13 ../shared.txt %s\n6 a.toml %s\n' $(sha256sum < shared.txt | cut -c-64) $(sha256sum < setups/a.toml | cut -c-64) | sha256sum
	const want = "447f9ddc191fde4fea4fa8bd84e527adbab8c6ca3ca04a0de78950cd90ed9e2f"
	if hashes[0] != want {
		t.Errorf("hash %s, want %s", hashes[0], want)
	}
}

// One that fails, and one over which the program breaks down, do not stop the others; they are
// tried again each time, and pages that were made before stay.
func TestFaults(t *testing.T) {
	dir := shop(t, 4)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	run(t, o)
	old := read(t, filepath.Join(out, "line-1", "op1.pdf"))
	write(t, dir, "line-1/op1.toml", "kind = \"setup\"\nfails = \"found this, expected that\"\n")
	write(t, dir, "line-2/op2.toml", "kind = \"setup\"\npanics = \"nobody thought of it\"\n")
	write(t, dir, "broken.toml", "kind = \"setup\"\n[[[\nfails = \"no TOML\"\n")
	for range 2 {
		s, made := run(t, o)
		slices.Sort(made)
		if !slices.Equal(made, []string{"broken", "line-1/op1", "line-2/op2"}) || s.Whole() || s.Totals[FaultyState] != 3 || s.Totals["clear"] != 2 {
			t.Errorf("made %v, %v", made, s.Totals)
		}
		if len(s.Faults()) != 3 || !strings.HasSuffix(s.Faults()[1].Error(), "found this, expected that") {
			t.Errorf("faults %v", s.Faults())
		}
		broke := s.Setups[slices.IndexFunc(s.Setups, func(x Setup) bool { return x.Name == "line-2/op2" })]
		if !strings.Contains(broke.Fault, "nobody thought of it") || !strings.Contains(broke.Stack, "fake_test.go") {
			t.Errorf("%q, stack %q", broke.Fault, broke.Stack)
		}
	}
	if read(t, filepath.Join(out, "line-1", "op1.pdf")) != old {
		t.Error("the earlier pages did not stay")
	}
	write(t, dir, "line-1/op1.toml", "kind = \"setup\"\nverdict = \"tight\"\n")
	s, made := run(t, o)
	if len(made) != 3 || s.Setups[slices.IndexFunc(s.Setups, func(x Setup) bool { return x.Name == "line-1/op1" })].Was != FaultyState {
		t.Errorf("made %v", made)
	}
}

// Where a part of the front page cannot be written, the rest is, and what changed is told again.
func TestCannotWriteFront(t *testing.T) {
	dir := shop(t, 2)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	run(t, o)
	write(t, dir, "line-1/op1.toml", "kind = \"setup\"\nverdict = \"contact\"\n")
	os.Remove(filepath.Join(out, "binder.html"))
	write(t, out, "binder.html/in the way", "")
	s, err := Run(t.Context(), o)
	if err == nil || !strings.Contains(err.Error(), "binder.html") || s == nil || s.Totals["contact"] != 1 || !slices.Equal(s.Front, []string{"binder.pdf"}) {
		t.Fatalf("%v, %+v", err, s)
	}
	for _, name := range []string{"binder.pdf", summaryName, junitName} {
		if !strings.Contains(read(t, filepath.Join(out, name)), "contact") {
			t.Errorf("%s is that of before", name)
		}
	}
	os.RemoveAll(filepath.Join(out, "binder.html"))
	if s, made := run(t, o); len(made) > 0 || s.Setups[1].Was != "clear" {
		t.Errorf("made %v, %+v", made, s.Setups)
	}
}

// Of pages of before only those are removed that are nobody else's.
func TestOthersStay(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	write(t, dir, "op0.toml", "kind = \"setup\"\n")
	o := options([]string{dir}, out)
	o.Endings = []string{".pdf", "-letter.pdf"}
	o.Make = func(ctx context.Context, j Job) (*Made, error) {
		m, err := fake(ctx, j)
		m.Pages = nil
		for _, ending := range o.Endings {
			m.Pages = append(m.Pages, Page{ending, []byte(j.Name + ending)})
		}
		return m, err
	}
	run(t, o)
	// Its second paper is another setup's first by now; and a record is not believed that claims all else.
	write(t, dir, "op0-letter.toml", "kind = \"setup\"\n")
	o.Endings, o.Settings, o.Args = []string{".pdf"}, "one paper", []string{filepath.Join(dir, "op0-letter.toml")}
	run(t, o)
	record := read(t, filepath.Join(out, filepath.FromSlash(recordName("op0"))))
	claims := `{"file": "op0/../../outside.txt"}, {"file": "../outside.txt"}, {"file": "other.pdf"}, {"file": "op0-a4.pdf"}, `
	write(t, out, recordName("op0"), strings.Replace(record, `"pages": [`, `"pages": [`+claims, 1))
	for _, name := range []string{"outside.txt", "out/op0/inside.txt", "out/other.pdf", "out/op0-a4.pdf"} {
		write(t, dir, name, "")
	}
	o.Args = []string{dir}
	if s, made := run(t, o); !slices.Equal(made, []string{"op0"}) || !s.Whole() {
		t.Errorf("made %v, %v", made, s.Faults())
	}
	want := []string{"binder.html", "binder.pdf", "op0-letter.pdf", "op0.pdf", "op0/inside.txt", "other.pdf"}
	if got := slices.Sorted(maps.Keys(pages(t, out))); !slices.Equal(got, want) {
		t.Errorf("there is %v", got)
	}
	read(t, filepath.Join(dir, "outside.txt"))
}

// What cannot be written is a fault of that setup.
func TestCannotWrite(t *testing.T) {
	dir := shop(t, 3)
	out := filepath.Join(t.TempDir(), "binder")
	write(t, out, "line-1/op1.pdf/in the way", "")
	s, _ := run(t, options([]string{dir}, out))
	if s.Totals[FaultyState] != 1 || s.Totals["clear"] != 2 || !strings.Contains(s.Faults()[0].Error(), "op1.pdf") {
		t.Errorf("%v, %v", s.Totals, s.Faults())
	}
}

// The front page is compared with the one before.
func TestChanges(t *testing.T) {
	dir := shop(t, 5)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	told := func(s *Summary) map[string]string {
		m := map[string]string{}
		for _, x := range s.Setups {
			m[x.Name] = strings.TrimSpace(x.Change + " " + x.Was)
		}
		for _, g := range s.Gone {
			m[g.Name] = strings.TrimSpace("gone " + g.Was + " " + strings.Join(g.Pages, " "))
		}
		return m
	}
	s, _ := run(t, o)
	if got := slices.Compact(slices.Sorted(maps.Values(told(s)))); !slices.Equal(got, []string{NewSetup}) {
		t.Errorf("at first: %v", told(s))
	}
	os.Remove(filepath.Join(dir, "line-0", "op0.toml"))
	write(t, dir, "line-1/op1.toml", "kind = \"setup\"\nverdict = \"contact\"\n")
	write(t, dir, "line-2/op2.toml", read(t, filepath.Join(dir, "line-2", "op2.toml"))+"# no matter\n")
	write(t, dir, "new.toml", "kind = \"setup\"\n")
	s, _ = run(t, o)
	want := map[string]string{
		"line-0/op0": "gone clear line-0/op0.pdf line-0/op0.html", "line-1/op1": ChangedInputs + " clear", "line-2/op2": ChangedInputs, "new": NewSetup,
		"line-0/op3": Unchanged, "line-1/op4": Unchanged,
	}
	if diff := cmp.Diff(want, told(s)); diff != "" {
		t.Error(diff)
	}
	// What is gone is told of while there are pages of it, and no longer.
	os.Remove(filepath.Join(out, "line-0", "op0.pdf"))
	s, _ = run(t, o)
	if got := told(s)["line-0/op0"]; got != "gone clear line-0/op0.html" {
		t.Errorf("gone before: %q", got)
	}
	os.Remove(filepath.Join(out, "line-0", "op0.html"))
	o.Program = "two"
	s, _ = run(t, o)
	if got := slices.Compact(slices.Sorted(maps.Values(told(s)))); !slices.Equal(got, []string{ChangedProgram}) {
		t.Errorf("another program: %v", told(s))
	}
}

// Pages on other paper go when that is not asked for any more.
func TestOtherPaper(t *testing.T) {
	dir := shop(t, 1)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	run(t, o)
	o.Settings, o.Endings = "no HTML", []string{".pdf"}
	o.Make = func(ctx context.Context, j Job) (*Made, error) {
		m, err := fake(ctx, j)
		m.Pages = m.Pages[:1]
		return m, err
	}
	run(t, o)
	if got := slices.Sorted(maps.Keys(pages(t, out))); !slices.Equal(got, []string{"binder.html", "binder.pdf", "line-0/op0.pdf"}) {
		t.Errorf("there is %v", got)
	}
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"b.toml": "kind = \"setup\"", "A/c.TOML": "\ufeff# first\r\n 'kind' = 'setup'\r\n", "machine.toml": "kind = \"machine\"\n",
		"table.toml": "kind = \"machine\"\n[x]\nkind = \"setup\"\n", "broken.toml": "kind = \"setup\"\n = = =", "notes.txt": "kind = \"setup\"",
		"out/old.toml": "kind = \"setup\"", "empty.toml": "",
	} {
		write(t, dir, name, text)
	}
	find := func(args ...string) string {
		o := options(args, filepath.Join(dir, "out"))
		list, err := find(&o)
		var names []string
		for _, it := range list {
			names = append(names, it.name)
		}
		if err != nil {
			return err.Error()
		}
		return strings.Join(names, " ")
	}
	if got := find(dir); got != "A/c b broken" {
		t.Errorf("found %s", got)
	}
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(dir, link); err != nil {
		t.Fatal(err)
	}
	if got := find(link); got != "A/c b broken" {
		t.Errorf("by a link: %s", got)
	}
	if got := find(dir, filepath.Join(dir, "b.toml")); got != "A/c b broken" {
		t.Errorf("one twice: %s", got)
	}
	if got := find(filepath.Join(dir, "A", "..", "A", "c.TOML"), dir, filepath.Join(dir, "A")); got != "A/c b broken" {
		t.Errorf("one by three names: %s", got)
	}
	for want, args := range map[string][]string{
		"b.pdf, as of":            {filepath.Join(dir, "b.toml"), filepath.Join(dir, "A", "..", "sub", "B.toml")},
		"no such file":            {filepath.Join(dir, "nowhere")},
		"found no setup":          {filepath.Join(dir, "none")},
		"the front page or the s": {filepath.Join(dir, "sub", "binder.toml")},
		"another name of the fol": {filepath.Join(dir, "sub")},
	} {
		write(t, dir, "sub/B.toml", "kind = \"setup\"")
		write(t, dir, "sub/binder.toml", "kind = \"setup\"")
		write(t, dir, "sub/.binder/x.toml", "kind = \"setup\"")
		write(t, dir, "none/x.toml", "kind = \"tools\"")
		if got := find(args...); !strings.Contains(got, want) {
			t.Errorf("%v: %q, expected %q", args, got, want)
		}
		os.RemoveAll(filepath.Join(dir, "sub"))
	}
	if got := find(dir, filepath.Join(dir, "none")); !strings.Contains(got, "found no setup") {
		t.Errorf("a folder without: %q", got)
	}
	// Pages that differ in the end of their names only.
	o := options([]string{dir}, filepath.Join(dir, "out"))
	write(t, dir, "b-letter.toml", "kind = \"setup\"")
	o.Endings = []string{".pdf", "-letter.pdf"}
	if _, err := Run(t.Context(), o); err == nil || !strings.Contains(err.Error(), "b-letter.pdf") {
		t.Errorf("pages of one name: %v", err)
	}
}

// Whoever interrupts a run finds nothing half done, and the next one goes on.
func TestInterrupted(t *testing.T) {
	dir := shop(t, 20)
	out := filepath.Join(t.TempDir(), "binder")
	o := options([]string{dir}, out)
	o.Jobs = 2
	ctx, cancel := context.WithCancel(t.Context())
	done := 0
	o.Done = func(*Setup) {
		if done++; done == 5 {
			cancel()
		}
	}
	if _, err := Run(ctx, o); !errors.Is(err, context.Canceled) {
		t.Fatalf("it ended with %v", err)
	}
	if _, err := os.Stat(filepath.Join(out, "binder.html")); err == nil {
		t.Error("there is a front page")
	}
	_, made := run(t, o)
	if len(made) > 15 || len(made) < 12 {
		t.Errorf("made %d of 20 after 5", len(made))
	}
}

// The last ones get the cores that are left, and nobody more than there are.
func TestCores(t *testing.T) {
	dir := t.TempDir()
	for i := range 9 {
		write(t, dir, fmt.Sprintf("op%d.toml", i), "kind = \"setup\"\n")
	}
	o := options([]string{dir}, filepath.Join(dir, "out"))
	o.Jobs = 4
	given := make(chan int, 9)
	o.Make = func(ctx context.Context, j Job) (*Made, error) {
		given <- j.Jobs
		return fake(ctx, j)
	}
	run(t, o)
	close(given)
	count := map[int]int{}
	for n := range given {
		count[n]++
	}
	if !maps.Equal(count, map[int]int{1: 7, 2: 1, 4: 1}) {
		t.Errorf("cores given: %v", count)
	}
}
