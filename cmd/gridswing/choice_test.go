package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/choose"
	"gridswing/models"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestChoicesFollowSchema holds what is really found of candidates to the schema, by the
// validator github.com/santhosh-tekuri/jsonschema v6.0.3: good and bad ones, seats, stacks,
// pairs, heights.
func TestChoicesFollowSchema(t *testing.T) {
	dir, _ := demoFolder(t)
	good, bad := filepath.Join(dir, models.GoodSetup), filepath.Join(dir, models.BadSetup)
	catalogue := "--catalogue=" + filepath.Join(dir, "components", "risers")
	for _, c := range []struct {
		name, schema string
		args         []string
		code         int
	}{
		{"seats", "choice", []string{"seats", good, "vise"}, exitClear},
		{"seats of the bad one", "choice", []string{"seats", bad, "stock"}, exitWrong},
		{"risers", "choice", []string{"risers", good, catalogue, "--most=1", "--all"}, exitClear},
		{"risers of the bad one", "choice", []string{"risers", bad, catalogue, "--most=1"}, exitNotClear},
		{"pairs", "choice", []string{"risers", good, catalogue, "--most=1", "--vary=stick-out:T2=40..60/20"}, exitClear},
		{"heights", "heights", []string{"risers", good, "--between=59..61"}, exitClear},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errs := call(t, t.Context(), append(c.args, "--json")...)
			if code != c.code {
				t.Fatalf("exit code %d, want %d: %s", code, c.code, errs)
			}
			if code == exitWrong {
				return
			}
			s := schema(t, c.schema)
			follows := func(data string) error {
				document, err := jsonschema.UnmarshalJSON(strings.NewReader(data))
				if err != nil {
					t.Fatal(err)
				}
				return s.Validate(document)
			}
			if err := follows(out); err != nil {
				t.Error(err)
			}
			for _, wrong := range [][2]string{{`"format":1`, `"format":2`}, {`"verdict":"clear"`, `"verdict":"fine"`}, {`"interrupted":`, `"broken":`}} {
				if strings.Contains(out, wrong[0]) && follows(strings.ReplaceAll(out, wrong[0], wrong[1])) == nil {
					t.Errorf("%s passes for %s", wrong[1], wrong[0])
				}
			}
		})
	}
}

// What a choice recommends is what the full check finds clear, once it is written as told.
func TestRecommendedIsClear(t *testing.T) {
	dir, _ := demoFolder(t)
	setup := filepath.Join(dir, models.GoodSetup)
	code, out, errs := call(t, t.Context(), "risers", setup, "--catalogue", filepath.Join(dir, "components", "risers"), "--most=1")
	if code != exitClear {
		t.Fatal(errs)
	}
	_, told, _ := strings.Cut(out, "in place of [[place]] \"riser\":\n")
	told, _, _ = strings.Cut(told, "   Then check")
	data, err := os.ReadFile(setup)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	before, after, found := strings.Cut(text, "[[place]]\nname = \"riser\"\n")
	_, after, next := strings.Cut(after, "[[place]]\n")
	if !found || !next || !strings.Contains(told, "riser-20.toml") {
		t.Fatalf("told %q", told)
	}
	if err := os.WriteFile(setup, []byte(before+told+"\n[[place]]\n"+after), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, out, errs := call(t, t.Context(), "check", "--quiet", setup); code != exitClear {
		t.Errorf("exit code %d: %s%s", code, out, errs)
	}
}

// A call whose context ends at once tells that it was interrupted, of all that was not looked at,
// and draws nothing.
func TestInterruptedChoiceIsTold(t *testing.T) {
	dir, _ := demoFolder(t)
	setup, picture := filepath.Join(dir, models.GoodSetup), filepath.Join(dir, "seats.png")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"seats", setup, "vise"}, "Interrupted: 16 of 16 were not looked at to the end"},
		{[]string{"risers", setup, "--catalogue", filepath.Join(dir, "components", "risers"), "--most=1"}, "Interrupted: 4 of 4 were not looked at to the end"},
		{[]string{"risers", setup, "--between=40..80"}, "Interrupted: what was not looked at is unproven."},
		{[]string{"seats", setup, "vise", "--json"}, `"interrupted":true`},
		{[]string{"seats", setup, "vise", "--csv"}, ",the search was broken off,"},
	} {
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		code, out, errs := call(t, ctx, append(c.args, "--picture="+picture)...)
		if code != exitInterrupted || !strings.Contains(out, c.want) || errs != "" {
			t.Errorf("%v: exit code %d, stderr %q\n%s", c.args[0], code, errs, out)
		}
		if strings.Contains(out, "clear: ") {
			t.Errorf("%v: something is clear that nobody looked at\n%s", c.args[0], out)
		}
		if _, err := os.Stat(picture); !os.IsNotExist(err) {
			t.Errorf("%v: a picture: %v", c.args[0], err)
		}
	}
}

// wearying is a context that ends when it has been asked so often whether it has.
type wearying struct {
	context.Context
	end  context.CancelFunc
	left atomic.Int64
}

func (w *wearying) Err() error {
	if w.left.Add(-1) == 0 {
		w.end()
	}
	return w.Context.Err()
}

// Whenever a choice is broken off, it says so, and of a candidate it says what is said of it if
// nobody breaks it off, or that it is not known.
func TestBrokenOffSaysNothingBetter(t *testing.T) {
	dir := shop(t)
	args := []string{"seats", filepath.Join(dir, "job.toml"), "trunnion", "--all", "--json", "--jobs=1"}
	found := func(out string) *choose.Choice {
		c := &choose.Choice{}
		if err := json.Unmarshal([]byte(out), c); err != nil {
			t.Fatal(err)
		}
		return c
	}
	code, out, errs := call(t, t.Context(), args...)
	if code == exitWrong {
		t.Fatal(errs)
	}
	whole := found(out)
	broken, some := 0, 0
	for _, asks := range []int64{1, 50, 200, 500, 1000, 2000, 4000, 8000} {
		ctx := &wearying{}
		ctx.Context, ctx.end = context.WithCancel(t.Context())
		ctx.left.Store(asks)
		code, out, errs := call(t, ctx, args...)
		ctx.end()
		if code == exitWrong || out == "" && code == exitInterrupted {
			t.Fatalf("%d: exit code %d, %s", asks, code, errs)
		}
		part := found(out)
		if part.Interrupted != (code == exitInterrupted) {
			t.Errorf("%d: interrupted %v, exit code %d", asks, part.Interrupted, code)
		}
		if part.Interrupted {
			broken++
		}
		for i := range part.Candidates {
			got, want := &part.Candidates[i], &whole.Candidates[i]
			unknown := got.GivenUp != "" && got.Verdict == check.Unproven
			if got.GivenUp == "" {
				some++
			}
			if got.Name != want.Name || !unknown && got.Verdict != want.Verdict && (got.GivenUp == "" || got.Verdict.Worse(want.Verdict)) {
				t.Errorf("%d: %s is %v, and %v if nobody breaks off", asks, got.Name, got.Verdict, want.Verdict)
			}
		}
	}
	if broken < 2 || some == 0 {
		t.Errorf("%d were broken off, %d candidates were known", broken, some)
	}
}
