package posted

import (
	"strings"
	"testing"

	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/program"
)

// A stock that is not closed has no inside: that is said, and nothing is said of what is cut.
func TestOpenStock(t *testing.T) {
	files := cutShop()
	lines := strings.Split(files["block.stl"], "\n")
	first := -1
	for i, l := range lines {
		if strings.Contains(l, "facet normal") && first < 0 {
			first = i
		}
	}
	files["block.stl"] = strings.Join(append(lines[:first:first], lines[first+7:]...), "\n")
	p := newScript(shoptest.Load(t, files, "setup.toml")).change(1)
	p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(60, 0, -5)
	r, result := p.run(t, Options{Cell: 1})
	said := false
	for _, f := range r.Findings {
		said = said || f.Verdict == check.Unproven && strings.Contains(f.Reason, "nothing is known of what is cut")
	}
	if !said || r.Verdict == check.Clear || result.Remaining[0] != nil {
		t.Errorf("verdict %v, %q", r.Verdict, toldAll(r.Findings))
	}
}

// A tap takes nothing away for certain, and its neck goes where its thread is; it is no finding that it meets the hole.
func TestTapInAHole(t *testing.T) {
	s := shopOf(t, "tools.toml", "cutter = [", "cutter = [\n  { name = \"tap 9\", kind = \"tap\", DC = 9, APMX = 12, LU = 30, DMM = 7, OAL = 80 },",
		"tools.toml", "tool = [", "tool = [\n  { number = 7, cutter = \"tap 9\", holder = \"chuck\", stick_out = 50 },")
	f := final{within: 0.05, cutters: map[*rider]*edge{}, chain: s.Parts[0].Chain}
	for i := range s.Tools {
		if s.Tools[i].Number == 7 {
			tap := &rider{tool: s.Tools[i]}
			tap.Body = &s.Bodies[0]
			tap.turned()
			if o := f.of(tap).outer; o[len(o)-1][0] < 0.73*4.5-0.06 || o[len(o)-1][0] > 0.73*4.51-0.04 {
				t.Errorf("core %v", o)
			}
		}
	}
	p := newScript(s).change(2)
	p.rapid(10, 5, 2).feed(10, 5, -30).rapid(10, 5, 20)
	p.change(7).rapid(10, 5, 2)
	p.feed(10, 5, -20).feed(10, 5, 2)
	for i := range p.steps {
		p.steps[i].Thread = p.steps[i].Tool == 7 && p.steps[i].Kind == program.Feed
	}
	r, _ := p.run(t, Options{Cell: 1})
	if got := toldAll(stockFindings(r)); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if x := toolOf(t, r, 7); *x.Removed != 0 {
		t.Errorf("a tap takes %g mm3", *x.Removed)
	}
}

// Two parts are cut from two stocks: each is told by itself, and what is fed through both is counted once.
func TestTwoStocks(t *testing.T) {
	files := cutShop()
	files["block.stl"] = shoptest.Box(-40, -30, 0, -5, 30, 40)
	files["other.stl"] = shoptest.Box(5, -30, 0, 40, 30, 40)
	files["other.toml"] = strings.Replace(files["stock.toml"], "block.stl", "other.stl", 1)
	shoptest.Edit(t, files, "setup.toml", "part = [", "part = [\n  { name = \"other\", place = \"stock2\", at = [0, 0, 40] },")
	shoptest.Edit(t, files, "setup.toml", "\n]\npart", "\n  { name = \"stock2\", component = \"other.toml\", on = \"unit/face\", at = [0, 0, 0], within = 0.1 },\n]\npart")
	shoptest.Edit(t, files, "other.toml", "seat = { pins = [[-25, 0, 0], [25, 0, 0]], play = 0 }", "")
	s := shoptest.Load(t, files, "setup.toml")
	p := newScript(s).change(1)
	p.rapid(-60, 0, 5).feed(-60, 0, -5).feed(60, 0, -5)
	r, result := p.run(t, Options{Cell: 0.5})
	if len(r.Program.Stock) != 2 || result.Remaining[0] == nil || result.Remaining[1] == nil {
		t.Fatalf("%+v", r.Program.Stock)
	}
	cells := 0
	for _, words := range r.Program.Assumed {
		if strings.Contains(words, "cells of 0.5 mm") {
			cells++
			if !strings.Contains(words, "stock and stock2 ") && !strings.Contains(words, "stock2 and stock ") {
				t.Errorf("%q", words)
			}
		}
	}
	if cells != 1 {
		t.Errorf("cells are told of %d times", cells)
	}
	total := 0.0
	for _, st := range r.Program.Stock {
		total += st.Before - st.Remaining
	}
	x := toolOf(t, r, 1)
	if total < 3000 || total > 3500 || *x.Removed != total && *x.Removed-total > 1e-6*total {
		t.Errorf("%g mm3 are gone, %g removed", total, *x.Removed)
	}
	if x.FeedLength < 129.9 || x.FeedLength > 130.1 || x.AirLength > x.FeedLength-60 {
		t.Errorf("fed %g, %g in the air", x.FeedLength, x.AirLength)
	}
}
