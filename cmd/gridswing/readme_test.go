package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// topPage reads a page from the top of the repository, its line ends made LF.
func topPage(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(string(data), "\r\n", "\n")
}

var quotedTOML = regexp.MustCompile("(?ms)^```toml\n(.*?)^```$")

// The files quoted in the README are those that package machine's tests load.
func TestReadmeQuotesTheExamples(t *testing.T) {
	const dir = "machine/testdata/example/"
	missing := []string{"machine.toml", "trunnion.toml", "vise.toml", "tools.toml", "setup.toml"}
	for _, m := range quotedTOML.FindAllStringSubmatch(topPage(t, "README.md"), -1) {
		i := slices.IndexFunc(missing, func(name string) bool { return topPage(t, dir+name) == m[1] })
		if i < 0 {
			t.Errorf("a block of the README is none of %v in %s, or is quoted twice:\n%s", missing, dir, m[1])
			continue
		}
		missing = slices.Delete(missing, i, i+1)
	}
	if len(missing) > 0 {
		t.Errorf("not quoted in the README: %v", missing)
	}
}

// The README carries the caution of every report, word for word.
func TestReadmeCarriesTheCaution(t *testing.T) {
	text := strings.Join(strings.Fields(strings.ReplaceAll(topPage(t, "README.md"), "\n> ", "\n")), " ")
	for _, sentence := range check.Caution {
		if !strings.Contains(text, sentence) {
			t.Errorf("not in the README: %s", sentence)
		}
	}
}

var mentioned = regexp.MustCompile("`(--[a-z-]+)")

// Every command stands in the README, and every flag there belongs to one.
func TestReadmeKnowsTheCommands(t *testing.T) {
	text := topPage(t, "README.md")
	known := []string{"--help", "--version"}
	for _, c := range newRoot().Commands() {
		if name := "`gridswing " + c.Name(); c.IsAvailableCommand() && !strings.Contains(text, name) {
			t.Errorf("the README does not mention %s", name)
		}
		_, help, _ := call(t, t.Context(), c.Name(), "--help")
		for _, flag := range regexp.MustCompile(`(?m)^  (--[a-z-]+)`).FindAllStringSubmatch(help, -1) {
			known = append(known, flag[1])
			if !strings.Contains(text, "`"+flag[1]) {
				t.Errorf("the README does not mention %s of %s", flag[1], c.Name())
			}
		}
	}
	for _, m := range mentioned.FindAllStringSubmatch(text, -1) {
		if !slices.Contains(known, m[1]) {
			t.Errorf("the README mentions %s, which no command knows", m[1])
		}
	}
}

// What the README quotes of risers is what risers says of the demo.
func TestReadmeQuotesRisers(t *testing.T) {
	readme := topPage(t, "README.md")
	dir, _ := demoFolder(t)
	t.Chdir(dir)
	_, out, errs := call(t, t.Context(), "risers", "setups/bracket-op10.toml", "--catalogue", "components/risers")
	if errs != "" {
		t.Fatal(errs)
	}
	var indented strings.Builder
	for line := range strings.Lines(out) {
		if line != "\n" {
			line = "    " + line
		}
		indented.WriteString(line)
	}
	head, rest, _ := strings.Cut(indented.String(), "\n    The best by the rule")
	_, failing, _ := strings.Cut(rest, "\n    Not good")
	failing, _, _ = strings.Cut(failing, "       Where there are several")
	_, edits, _ := strings.Cut(rest, "\n    To take it over")
	edits, _, _ = strings.Cut(edits, "       Then check it")
	for _, part := range []string{head, "    Not good" + failing, "    To take it over" + edits} {
		if !strings.Contains(readme, part) {
			t.Errorf("the README does not quote:\n%s", part)
		}
	}
}
