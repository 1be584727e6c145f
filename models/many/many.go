// Package many builds a job with many features: two parts cut from the block of
// the demo's setup, each of twenty tools at work on top, at an end, on a side and at
// an angle in between. It is for benchmarks and tests of everything that looks at
// operations; nothing of it is checked in.
package many

import (
	"fmt"
	"io/fs"
	"strings"
	"testing/fstest"

	"gridswing/models"
)

const (
	// Setup is the setup file within FS.
	Setup = "setups/many.toml"
	// Features is how many features it has, those of both parts counted.
	Features = 200
	// Tools is how many tools it uses.
	Tools = 20
)

const toolFile = "tools/many.toml"

// FS returns the demo's folder with the job in it. The same bytes every time.
func FS() (fs.FS, error) {
	setup, err := setupText()
	if err != nil {
		return nil, err
	}
	return models.Overlay(fstest.MapFS{
		Setup:    {Data: []byte(setup)},
		toolFile: {Data: []byte(toolsText())},
	}), nil
}

// setupText is the demo's setup, up to its part, and then the job.
func setupText() (string, error) {
	demo, err := fs.ReadFile(models.Demo, models.GoodSetup)
	if err != nil {
		return "", err
	}
	text, _, _ := strings.Cut(string(demo), "\n[[part]]")
	const crib = "../tools/crib.toml"
	if !strings.Contains(text, crib) {
		return "", fmt.Errorf("%s does not name %s", models.GoodSetup, crib)
	}
	text = strings.Replace(text, `name = "Bracket NB-214, op 10"`, `name = "Many features"`, 1)
	var w strings.Builder
	w.WriteString(strings.Replace(text, crib, "../"+toolFile, 1))
	for _, p := range parts {
		fmt.Fprintf(&w, "\n[[part]]\nname = %q\nplace = \"stock\"\nat = [0, %g, 0]\noffset = %q\n", p.name, p.y, p.offset)
	}
	for i := range tools {
		t := &tools[i]
		for _, s := range t.sides(i) {
			t.operation(&w, &s)
		}
	}
	return w.String(), nil
}

// The block of 60 x 100 x 62 is one part behind the other: each 50 long.
var parts = []struct {
	name   string
	y      float64 // where its zero is, on the block's underside
	offset string
}{{"front", -25, "G54"}, {"back", 25, "G55"}}
