package posted

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/machine/check"
)

// A slot is 25 deep, which is 5 more than the cutter cuts at once; then the tool goes along there once more, aside: its neck,
// 0.5 mm narrower than what cuts all round, comes so much nearer to the wall of the slot's upper 5 mm, which only the neck
// passes. What is shown of it as wide as it is rests on nothing; where it touches or rubs, it is not clear at any size of cells.
func TestNeckBesideAWall(t *testing.T) {
	for _, test := range []struct {
		cell, aside float64
		want        string // "" for clear without a word, else how
	}{
		{0.5, 0.1, ""}, {1, 0.1, ""}, {1, 0.3, ""}, {0.25, 0.4, ""},
		{1, 0.5, "found"}, {1, 0.7, "found"}, {0.5, 0.7, "found"}, {0.25, 0.7, "found"}, {1, 2.5, check.Contact.String()},
	} {
		p := newScript(shopOf(t)).change(1).rapid(-60, 0, 5)
		layers(p, 20, 10)
		p.rapid(60, 0, 50).rapid(-60, 0, 50).feed(-60, 0, -25).feed(60, 0, -25).rapid(60, 0, 50).rapid(-60, test.aside, 50).rapid(-60, test.aside, -25)
		line := len(p.steps) + 1
		p.feed(60, test.aside, -25)
		r, _ := p.run(t, Options{Cell: test.cell, NoRemaining: true})
		worst := check.Clear
		for _, f := range stockFindings(r) {
			if f.Line != line || !strings.Contains(f.Bodies[0], "neck") {
				t.Errorf("cells of %g, %g aside: %s", test.cell, test.aside, told(&f))
			} else if f.Verdict.Worse(worst) {
				worst = f.Verdict
			}
		}
		words := restsOn(r)
		switch test.want {
		case "":
			if worst != check.Clear || words != "" {
				t.Errorf("cells of %g, %g aside: %v, %q", test.cell, test.aside, worst, words)
			}
		case "found":
			if worst == check.Clear {
				t.Errorf("cells of %g, %g aside: clear, and only %q is said", test.cell, test.aside, words)
			}
		default:
			if worst.String() != test.want {
				t.Errorf("cells of %g, %g aside: %v, want %s", test.cell, test.aside, worst, test.want)
			}
		}
	}
}

// A cutter that leaves along a wall that it has cut has nothing to spare: that it is proven smaller only is said, with
// how many moves rest on it and by how much, less than what a model of such cells may tell too much. In short blocks it
// is the same move by move.
func TestLeavingAlongAWall(t *testing.T) {
	p := newScript(shopOf(t)).change(1)
	p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(0, 0, -5).feed(0, 0, -10).feed(0, 8, -10).rapid(0, 8, 5)
	r, _ := p.run(t, Options{Cell: 1, NoRemaining: true})
	if got := toldAll(stockFindings(r)); len(got) > 0 {
		t.Errorf("%q", got)
	}
	b := blank{cell: 1}
	on := restsOn(r)
	if on == "" || !strings.HasPrefix(on, "the move on line 7: ") {
		t.Errorf("it rests on %q", on)
	}
	var less float64
	if _, err := fmt.Sscanf(on[strings.Index(on, "up to ")+6:], "%g mm", &less); err != nil || less <= 0 || less > b.unseen() {
		t.Errorf("%q: %g mm", on, less)
	}
	same := p.split(5)
	same.renumber(p, 5)
	again, _ := same.run(t, Options{Cell: 1, NoRemaining: true})
	if got := toldAll(stockFindings(again)); len(got) > 0 || !strings.Contains(restsOn(again), "on line 7: ") {
		t.Errorf("in short blocks %q, %q", got, restsOn(again))
	}
}

// restsOn is what the report says of riders that were asked smaller than they are.
func restsOn(r *check.Report) string {
	for _, a := range r.Program.Assumed {
		if strings.Contains(a, "smaller") {
			return a
		}
	}
	return ""
}

// What is lifted off a floor that it has cut, away from walls, rests on nothing, and so does a neck that is relieved by 0.5 mm
// in a pocket as wide as it likes.
func TestLeavingAFloor(t *testing.T) {
	p := newScript(shopOf(t)).change(1).rapid(0, 0, 5)
	for z := 8.0; z <= 24; z += 8 {
		p.feed(0, 0, -z)
		for r := 4.0; r <= 12; r += 4 {
			for a := 0.0; a <= 2*math.Pi+0.1; a += 1 / r {
				p.feed(r*math.Cos(a), r*math.Sin(a), -z)
			}
		}
		p.feed(0, 0, -z)
	}
	p.rapid(0, 0, 50)
	r, _ := p.run(t, Options{Cell: 0.5, NoRemaining: true})
	if got := toldAll(stockFindings(r)); len(got) > 0 || restsOn(r) != "" {
		t.Errorf("%q, rests on %q", got, restsOn(r))
	}
}
