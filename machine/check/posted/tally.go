package posted

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/program"
)

// tally is what comes together while the program goes by, chunk by chunk: no more than a bit for each tool
// and each finding.
type tally struct {
	c       *checker
	notes   *notes
	tools   []*toolTally // in the order of their first use
	moves   int64
	seconds float64
	known   bool // seconds is all of it
	strip   []cell
}

// toolTally is what the program does with a tool.
type toolTally struct {
	tool, called         int
	first, last          program.Place
	seconds, feedSeconds float64
	feedLength           float64
	travel               motion.Box
}

func newTally(c *checker) *tally { return &tally{c: c, notes: newNotes(), known: true} }

// chunk takes down what was found on a chunk, and what it does.
func (t *tally) chunk(ch *chunk, cells []cell, hits []hit) {
	hits = append(hits, t.c.unknownTool(ch)...)
	t.notes.chunk(ch, hits)
	t.add(cells, hits)
	tool := t.toolOf(ch)
	for i := range ch.steps {
		s := &ch.steps[i]
		if s.kind == program.Rapid || s.kind == program.Feed {
			t.moves++
		}
		t.known = t.known && !math.IsNaN(s.seconds)
		t.seconds += known(s.seconds)
		if tool == nil {
			continue
		}
		tool.seconds += known(s.seconds)
		if s.kind == program.Feed {
			tool.feedSeconds += known(s.seconds)
			tool.feedLength += known(s.length)
		}
	}
}

// toolOf returns the tally of a chunk's tool, nil where none is known to be in the spindle.
func (t *tally) toolOf(ch *chunk) *toolTally {
	if ch.tool == noTool {
		return nil
	}
	var tool *toolTally
	for _, x := range t.tools {
		if x.called == ch.called {
			tool = x
		}
	}
	if tool == nil {
		tool = &toolTally{tool: ch.tool, called: ch.called, first: ch.steps[0].Place}
		for k := range tool.travel.Lo {
			tool.travel.Lo[k], tool.travel.Hi[k] = math.Inf(1), math.Inf(-1)
		}
		t.tools = append(t.tools, tool)
	}
	tool.last = ch.steps[len(ch.steps)-1].Place
	if n := len(ch.levels); n > 0 {
		over := &ch.levels[n-1][0].over
		for k := range over.Lo {
			tool.travel.Lo[k], tool.travel.Hi[k] = min(tool.travel.Lo[k], over.Lo[k]), max(tool.travel.Hi[k], over.Hi[k])
		}
	}
	return tool
}

// unknownTool lists hits on the steps of a chunk that feed with a tool that is not known, or go
// anywhere with one that the setup does not have.
func (c *checker) unknownTool(ch *chunk) (hits []hit) {
	if ch.tool >= 0 {
		return nil
	}
	reason := "no tool is known to be in the spindle"
	if ch.tool == otherTool {
		reason = "the setup has no tool of this number"
	}
	if len(c.covering()) > 0 {
		reason += ": in its place the largest that there is was looked at"
	}
	tell := func() check.Finding { return check.Finding{Reason: reason} }
	for i := range ch.steps {
		s := &ch.steps[i]
		if s.legs[0] == s.legs[1] || ch.tool == noTool && s.kind != program.Feed {
			continue
		}
		hits = append(hits, hit{question: check.Posted, a: -1, b: -1, what: "tool", verdict: check.Unproven, step: int32(i), tell: tell})
	}
	return hits
}
