package specimen

import (
	"fmt"

	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// Choice is a choice of stacks with all that a page can tell: good ones, many that fail for
// few reasons, one that does not fit, some that were given up.
func Choice() *choose.Choice {
	tight := &check.Margin{Concern: check.ReachConcern, Share: 1.344, Has: 2.688, Demand: 2, Unit: "mm", What: "T3 holder and trunnion/faceplate at A +90, C +0, drill sides, 2"}
	load := &check.Margin{Concern: check.LoadConcern, Share: 1.8, Has: 60, Demand: 33.2948489, Unit: "kg", What: "faceplate load of trunnion at A +90"}
	wide := &check.Margin{Concern: check.IndexConcern, Share: 5, Has: 10, Demand: 2, Unit: "mm", What: "five times what is demanded, or more"}
	good := func(height float64, parts ...string) choose.Looked {
		return choose.Looked{
			Candidate: choose.Candidate{Name: fmt.Sprintf("%g mm: %s", height, joined(parts)), Height: height, Parts: parts},
			Verdict:   check.Clear, Tightest: tight,
			Judged: []check.Judged{{Concern: check.StackConcern, Verdict: check.Clear}, {Concern: check.LoadConcern, Verdict: check.Clear, Margin: load},
				{Concern: check.ReachConcern, Verdict: check.Clear, Margin: tight}, {Concern: check.IndexConcern, Verdict: check.Clear, Margin: wide}},
		}
	}
	c := &choose.Choice{
		Format: 1, Setup: "bracket, op 10", File: "setups/op10.toml", Machine: "Mill 3", Kind: choose.Stacked, Place: "riser", Rule: choose.Lowest,
		Candidates: []choose.Looked{good(50, "riser 50"), good(62, "riser 50", "plate 12")},
		Best:       []int{0, 1}, Unfit: []choose.Unfit{{Name: "hook", Reason: "it has no grid"}}, NotModelled: []string{}, Caution: check.Caution,
	}
	c.Common = []check.Margin{{Concern: check.ChangeConcern, Share: 1.82, Has: 300, Demand: 165, Unit: "mm", What: "length of T5 in the magazine"}}
	c.Candidates[0].Present = true
	for i := range 20 {
		c.Candidates = append(c.Candidates, failing(70+float64(i), "trunnion/base", "vise"+[]string{"", " 2"}[i%2]))
	}
	c.Candidates = append(c.Candidates, failing(95, "trunnion/base", "plate"))
	faulty := choose.Looked{Candidate: choose.Candidate{Name: "97 mm: riser 97", Height: 97}, Judged: []check.Judged{}, Faulty: true,
		Reason: `vise: pins: found hole "B2", expected a hole of grid "top", A1 to B2`, Verdict: check.Unproven}
	open := good(99, "riser 99")
	open.Verdict, open.GivenUp = check.Unproven, "no lower than each of the best 2"
	c.Candidates = append(c.Candidates, faulty, open)
	c.Counted = choose.Counted{Candidates: 25, Good: 2, Failing: 22, GivenUp: 1}
	return c
}

// failing is a stack with which two bodies meet.
func failing(height float64, a, b string) choose.Looked {
	f := &check.Finding{Verdict: check.Contact, Question: check.Swing, Bodies: [2]string{a, b}, At: deg(90+height/10, 0), Over: []check.Range{}}
	name := fmt.Sprintf("riser %g", height)
	return choose.Looked{
		Candidate: choose.Candidate{Name: fmt.Sprintf("%g mm: %s", height, name), Height: height, Parts: []string{name}},
		Verdict:   check.Contact, Reason: f.Short(), GivenUp: "it is no good already",
		Judged: []check.Judged{{Concern: check.StackConcern, Verdict: check.Clear}, {Concern: check.SwingConcern, Verdict: check.Contact, Worst: f}},
	}
}

func joined(parts []string) (words string) {
	for i, p := range parts {
		if i > 0 {
			words += " + "
		}
		words += p
	}
	return words
}

// NoChoice is a choice of which none is good, broken off, with something not modelled.
func NoChoice() *choose.Choice {
	c := Choice()
	c.Candidates, c.Best = c.Candidates[2:6], []int{0, 1}
	c.Candidates[0].GivenUp, c.Candidates[1].GivenUp = "", ""
	c.Candidates[3].GivenUp, c.Candidates[3].Verdict, c.Candidates[3].Reason, c.Candidates[3].Judged = "the search was broken off", check.Unproven, "", []check.Judged{}
	c.Counted = choose.Counted{Candidates: 4, Failing: 3, GivenUp: 1}
	c.Unfit, c.NotModelled, c.Interrupted = []choose.Unfit{}, []string{"guards", "hoses"}, true
	return c
}

// Table is all pairs of two stacks and two stick-outs.
func Table() *choose.Table {
	c := Choice()
	one := func(name string, mm float64) choose.Candidate { return choose.Candidate{Name: name, StickOut: mm} }
	t := &choose.Table{
		Format: 1, Setup: c.Setup, File: c.File, Machine: c.Machine, Rule: choose.Roomiest,
		Rows:    choose.Line{What: "stack at riser", Candidates: []choose.Candidate{c.Candidates[0].Candidate, c.Candidates[1].Candidate}},
		Columns: choose.Line{What: "stick-out of T3", Candidates: []choose.Candidate{one("60 mm", 60), one("65 mm", 65), one("70 mm", 70)}},
		Cells:   []choose.Looked{c.Candidates[0], c.Candidates[2], c.Candidates[24], c.Candidates[1], c.Candidates[23], c.Candidates[22]},
		Best:    []int{0, 3}, Counted: choose.Counted{Candidates: 6, Good: 2, Failing: 3, GivenUp: 1}, Common: []check.Margin{}, NotModelled: []string{}, Caution: check.Caution,
	}
	for i := range t.Cells {
		l := &t.Cells[i]
		l.Name = t.Rows.Candidates[i/3].Name + "; T3 at " + t.Columns.Candidates[i%3].Name
	}
	return t
}
