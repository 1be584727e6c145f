package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
