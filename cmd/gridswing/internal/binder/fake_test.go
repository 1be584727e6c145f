package binder

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A setup of these tests is a file with lines: what its verdict is, which other files it reads, and
// what befalls the program over it.

// asRun makes the test binary make a binder of the arguments.
const asRun = "GRIDSWING_TEST_RUN"

func TestMain(m *testing.M) {
	if os.Getenv(asRun) == "" {
		os.Exit(m.Run())
	}
	o := options(os.Args[2:], os.Args[1])
	if shard := os.Getenv("SHARD"); shard != "" {
		if _, err := fmt.Sscanf(shard, "%d/%d", &o.Shard, &o.Shards); err != nil {
			panic(err)
		}
	}
	if _, err := Run(context.Background(), o); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

// process begins to make a binder in another process.
func process(t *testing.T, env []string, out string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self, append([]string{out}, args...)...)
	cmd.Env = append(append(os.Environ(), asRun+"=1"), env...)
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return cmd
}

func options(args []string, out string) Options {
	return Options{
		Args: args, Out: out, Make: fake, Endings: []string{".pdf", ".html"}, Front: fakeFront,
		Program: "one", Settings: "paper A4", Jobs: 4,
	}
}

// fake makes pages of what the files say: some kilobytes, so that they are not written at one stroke.
func fake(ctx context.Context, j Job) (*Made, error) {
	in, err := NewInputs(j.File)
	if err != nil {
		return nil, err
	}
	data, err := os.ReadFile(j.File)
	if err != nil {
		return nil, err
	}
	if err := in.Add(j.File, sha256.Sum256(data)); err != nil {
		return nil, err
	}
	m := &Made{Facts: Facts{Title: j.Name, Verdict: "clear", Clear: true}, Inputs: in}
	text := string(data)
	for line := range strings.Lines(string(data)) {
		word, rest, _ := strings.Cut(strings.TrimSpace(line), " = ")
		switch rest = strings.Trim(rest, `"`); word {
		case "verdict":
			m.Verdict, m.Clear, m.Why = rest, rest == "clear", "what meets what"
		case "reads":
			name := filepath.Join(filepath.Dir(j.File), rest)
			other, err := os.ReadFile(name)
			if errors.Is(err, fs.ErrNotExist) {
				if err := in.Missing(name); err != nil {
					return nil, err
				}
				continue
			}
			if err != nil {
				return nil, err
			}
			if err := in.Add(name, sha256.Sum256(other)); err != nil {
				return nil, err
			}
			text += string(other)
		case "takes":
			ms, err := strconv.Atoi(rest)
			if err != nil {
				return nil, err
			}
			time.Sleep(time.Duration(ms) * time.Millisecond)
		case "dies":
			os.Exit(137)
		case "panics":
			panic(rest)
		case "fails":
			return nil, errors.New(j.File + ": " + rest)
		}
	}
	for _, ending := range []string{".pdf", ".html"} {
		m.Pages = append(m.Pages, Page{ending, []byte(strings.Repeat(in.Hash()+ending+text, 300))})
	}
	return m, ctx.Err()
}

func fakeFront(s *Summary) ([]Page, error) {
	var b strings.Builder
	for i := range s.Setups {
		x := &s.Setups[i]
		fmt.Fprintln(&b, x.Name, x.Word(), x.Was, x.Change, x.Why, x.Fault, x.Hash, x.Pages)
	}
	fmt.Fprintln(&b, s.Gone, s.Totals)
	return []Page{{".html", []byte(b.String())}, {".pdf", []byte(b.String())}}, nil
}

// shop writes so many setups into a folder; some share a file.
func shop(t *testing.T, n int) string {
	t.Helper()
	dir := t.TempDir()
	write(t, dir, "shared.txt", "what they share")
	write(t, dir, "machine.toml", "kind = \"machine\"\n")
	for i := range n {
		write(t, dir, fmt.Sprintf("line-%d/op%d.toml", i%3, i), fmt.Sprintf("kind = \"setup\"\nnumber = %d\nreads = \"../shared.txt\"\ntakes = \"%d\"\n", i, i%4))
	}
	return dir
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// run makes a binder and says which setups were made.
func run(t *testing.T, o Options) (s *Summary, made []string) {
	t.Helper()
	o.Done = func(x *Setup) { made = append(made, x.Name) }
	s, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return s, made
}

// pages are all files of a binder that people look at, by name.
func pages(t *testing.T, out string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(out, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == folder {
				return fs.SkipDir
			}
			return nil
		}
		name, err := filepath.Rel(out, path)
		if name != summaryName && name != junitName {
			all[filepath.ToSlash(name)] = read(t, path)
		}
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return all
}
