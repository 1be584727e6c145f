package text

import (
	"encoding/csv"
	"strings"
	"testing"
	"unicode/utf8"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

var edits = []machine.Edit{
	{File: "setups/op10.toml", Do: `in place of [[place]] "riser"`, Lines: []string{"[[place]]", `name = "riser"`}},
	{File: "tools/crib.toml", Do: "in [[tool]] number 3", Lines: []string{"stick_out = 70"}},
}

func choicePage(t *testing.T, look terminal.Look, c *choose.Choice, full bool) string {
	t.Helper()
	var w strings.Builder
	if err := Choice(&w, look, c, edits, full); err != nil {
		t.Fatal(err)
	}
	return w.String()
}

func tablePage(t *testing.T, look terminal.Look, full bool) string {
	t.Helper()
	var w strings.Builder
	if err := Table(&w, look, specimen.Table(), edits, full); err != nil {
		t.Fatal(err)
	}
	return w.String()
}

// The pages of choices are held to those in testdata, and fit any width.
func TestChoicePages(t *testing.T) {
	holdPage(t, "choice.txt", choicePage(t, terminal.Plain, specimen.Choice(), false))
	holdPage(t, "choice-none.txt", choicePage(t, terminal.Plain, specimen.NoChoice(), false))
	holdPage(t, "choice-pairs.txt", tablePage(t, terminal.Plain, false))
	for _, width := range []int{72, 80, 100} {
		look := terminal.Look{Width: width}
		for _, page := range []string{choicePage(t, look, specimen.Choice(), true), choicePage(t, look, specimen.Choice(), false),
			choicePage(t, look, specimen.NoChoice(), false), tablePage(t, look, true)} {
			for line := range strings.Lines(page) {
				line = strings.TrimSuffix(line, "\n")
				if n := utf8.RuneCountInString(line); n > width || strings.TrimRight(line, " ") != line {
					t.Errorf("width %d: %d columns: %q", width, n, line)
				}
			}
		}
	}
}

// What fails for one reason is one group, whichever level of a stack it is; in full each
// has its line.
func TestFailingIsGrouped(t *testing.T) {
	short, full := choicePage(t, terminal.Plain, specimen.Choice(), false), choicePage(t, terminal.Plain, specimen.Choice(), true)
	if n := strings.Count(short, "   - contact, "); n != 2 {
		t.Errorf("%d groups of contacts, want 2:\n%s", n, short)
	}
	if !strings.Contains(short, "contact, 20 stacks: trunnion/base meets vise at A +97, C +0") || !strings.Contains(short, "| and 14 more") {
		t.Errorf("the larger group is not told:\n%s", short)
	}
	if n := strings.Count(full, "trunnion/base meets vise"); n != 20 {
		t.Errorf("%d lines in full, want 20", n)
	}
}

// No share and no clearance is printed larger than it is, no load smaller.
func TestShares(t *testing.T) {
	for share, want := range map[float64]string{1.3499999: "1.34", 0.99999: "0.99", 1: "1.00", 4.999: "4.99", 5: "5+", 0: "0.00"} {
		if got := Share(share); got != want {
			t.Errorf("%g is printed as %s, want %s", share, got, want)
		}
	}
	m := specimen.Choice().Candidates[0].Judged[1].Margin
	if got := needed(m); got != "33.30 kg" {
		t.Error(got)
	}
	for demand, want := range map[float64]string{2: "2 mm", 0.08 * 25.4: "2.032 mm", 0.151998: "0.16 mm"} {
		if got := needed(&check.Margin{Demand: demand, Unit: "mm"}); got != want {
			t.Errorf("%g mm are needed as %s, want %s", demand, got, want)
		}
	}
	if got := thereIs(specimen.Choice().Candidates[0].Judged[3].Margin); got != "at least 10.00 mm" {
		t.Error(got)
	}
}

// A line for each candidate, each with as many values as there are names (RFC 4180, 2.4).
func TestValues(t *testing.T) {
	var one, pairs, heights strings.Builder
	for _, err := range []error{ChoiceValues(&one, specimen.Choice()), TableValues(&pairs, specimen.Table()), HeightValues(&heights, specimen.Heights())} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		text  string
		lines int
		has   string
	}{
		{one.String(), 26, "1,50 mm: riser 50,yes,clear,,,1.344,2.688,2,mm,"},
		{pairs.String(), 7, "50 mm: riser 50,65 mm,,50 mm: riser 50; T3 at 65 mm,no,contact,"},
		{heights.String(), 1 + len(specimen.Heights().Stretches), "good,clear"},
	} {
		lines, err := csv.NewReader(strings.NewReader(c.text)).ReadAll()
		if err != nil || len(lines) != c.lines {
			t.Errorf("%d lines, %v; want %d", len(lines), err, c.lines)
		}
		if !strings.Contains(c.text, c.has) {
			t.Errorf("no %s in\n%s", c.has, c.text)
		}
	}
}

// Stacks are told where a block of their height is proven good, and only there.
func TestStockOfGoodHeights(t *testing.T) {
	h := specimen.Heights()
	var good *choose.HeightStretch
	for i := range h.Stretches {
		if h.Stretches[i].Good() {
			good = &h.Stretches[i]
		}
	}
	stock := []choose.Candidate{{Name: "in it", Height: good.From}, {Name: "beyond", Height: h.To + 1}}
	var w strings.Builder
	if err := Heights(&w, terminal.Plain, h, stock...); err != nil {
		t.Fatal(err)
	}
	if page := w.String(); !strings.Contains(page, "   - in it\n") || strings.Contains(page, "beyond") {
		t.Errorf("stock is not told:\n%s", page)
	}
	w.Reset()
	if err := Heights(&w, terminal.Plain, h, stock[1]); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(w.String(), "   None of 1 stack.\n") {
		t.Errorf("none is not told:\n%s", w.String())
	}
}

// Where all fail for one reason it is said that the choice does not matter, and nothing is
// printed of margins beside what meets.
func TestAllAlike(t *testing.T) {
	const words = "All of them fail for this reason: no stack helps against it."
	c := specimen.Choice()
	c.Candidates, c.Best = c.Candidates[2:6], []int{0}
	c.Candidates[0].GivenUp = ""
	c.Candidates[0].Judged[1].Margin = &check.Margin{Concern: check.SwingConcern, Share: 2.68, Has: 5.36, Demand: 2, Unit: "mm", What: "others"}
	page := choicePage(t, terminal.Plain, c, false)
	if !strings.Contains(page, words) || strings.Contains(page, "2.68") || strings.Contains(page, "\n\n   ") {
		t.Errorf("it is not said:\n%s", page)
	}
	c.Candidates = append(c.Candidates, specimen.Choice().Candidates[22])
	if page := choicePage(t, terminal.Plain, c, false); strings.Contains(page, words) {
		t.Errorf("it is said of two reasons:\n%s", page)
	}
}

// The page says how far what is recommended is from how the setup has it, with the sense of a lift.
func TestFromNow(t *testing.T) {
	for _, c := range []struct {
		l    choose.Candidate
		want string
	}{
		{choose.Candidate{Raised: -30, Moved: 30}, " What stands on it comes 30 mm lower than now."},
		{choose.Candidate{Raised: 12.7, Moved: 12.7}, " What stands on it comes 12.7 mm higher than now."},
		{choose.Candidate{Pins: []string{"B2", "D2"}}, ""},
		{choose.Candidate{Pins: []string{"C3", "C1"}, Turned: -90}, " It turns by -90 deg against now."},
		{choose.Candidate{Pins: []string{"A2", "C2"}, Moved: 50}, " It moves by 50 mm against now."},
		{choose.Candidate{Pins: []string{"B1", "B3"}, Moved: 50, Turned: 36.869898}, " It moves by 50 mm and turns by 36.87 deg against now."},
		{choose.Candidate{Raised: -30, Moved: 80, Changes: make([]machine.Change, 2)}, ""},
	} {
		if got := fromNow(&choose.Looked{Candidate: c.l}); got != c.want {
			t.Errorf("%+v: found %q, expected %q", c.l, got, c.want)
		}
	}
}

// That the choice does not help is said where all that were looked at so far fail alike, and not
// where one of them fails otherwise.
func TestAllAlikeSoFar(t *testing.T) {
	c := specimen.Choice()
	c.Candidates, c.Best = c.Candidates[2:7:7], []int{0} // meet the vise, and the vise 2 levels up
	unasked := choose.Looked{Candidate: choose.Candidate{Name: "20 mm: riser 20"}, Verdict: check.Contact, Reason: "it stands over no hole",
		Judged: []check.Judged{{Concern: check.StackConcern, Verdict: check.Contact}}}
	c.Candidates = append(c.Candidates, unasked)
	const want = "All that were looked at so far, 5 of 6, fail for this reason"
	if page := choicePage(t, terminal.Plain, c, false); !strings.Contains(page, want) {
		t.Errorf("no %q in\n%s", want, page)
	}
	c.Candidates = append(c.Candidates, specimen.Choice().Candidates[22]) // meets the plate
	c.Candidates[6].GivenUp = ""
	c.Best = []int{0, 1}
	if page := choicePage(t, terminal.Plain, c, false); !strings.Contains(page, "The 2 least bad all fail for this reason") {
		t.Errorf("the best fail for one reason:\n%s", page)
	}
	c.Best = []int{0, 6}
	if page := choicePage(t, terminal.Plain, c, false); strings.Contains(page, "fail for this reason") {
		t.Errorf("they fail for two reasons:\n%s", page)
	}
}

// What a level of a stack is called is explained where a reason has it, and only there.
func TestLevelsAreExplained(t *testing.T) {
	c := specimen.Choice()
	const words = "What is called riser 2 is the second of a stack, from below."
	if page := choicePage(t, terminal.Plain, c, false); strings.Contains(page, words) {
		t.Errorf("no reason has it:\n%s", page)
	}
	l := &c.Candidates[2]
	l.Parts, l.Reason = []string{"riser 20", "riser 30"}, "fastener 1 (M12) of riser 2: it stands over no hole"
	for _, full := range []bool{false, true} {
		if page := choicePage(t, terminal.Plain, c, full); !strings.Contains(page, words) {
			t.Errorf("no %q in\n%s", words, page)
		}
	}
}
