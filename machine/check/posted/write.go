package posted

import (
	"fmt"
	"maps"
	"slices"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"
)

// write adds to the report what was found.
func (c *checker) write(r *check.Report, p *Program, rd *reader, t *tally, stock *stock) *Result {
	blocks, _ := p.Steps.Read()
	if r.Program == nil {
		r.Program = &check.Program{Assumed: []string{}, Offsets: []check.ProgramOffset{}, Lengths: []check.ProgramLength{}}
	}
	out := r.Program
	out.File, out.Format, out.Blocks, out.Moves = p.File, p.Format, blocks, t.moves
	out.Seconds, out.Known, out.Demand = t.seconds, t.known, c.setup.Demand.Default
	out.Tools = c.tools(t)
	out.Strip, out.Cap, out.Stock = t.report(c.cap), c.cap, []check.ProgramStock{}
	out.Assumed = append(out.Assumed, c.assumed()...)
	if !slices.Contains(r.Checks, check.PostedCheck) {
		r.Checks = append(r.Checks, check.PostedCheck)
	}
	list := t.notes.findings(p.File)
	r.Findings = append(r.Findings, list...)
	if n := t.notes.left; n > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%s: %d more findings are left out, none worse than those that are told", p.File, n))
	}
	if f := rd.fault(); f != nil {
		out.Fault = &check.ProgramFault{File: f.File, Line: f.Line, Column: f.Column, Found: f.Found, Expected: f.Expected, Block: f.Block}
		found := check.Finding{
			Verdict: check.Unproven, Question: check.Posted, Line: f.Line, ProgramFile: f.File, Block: f.Block,
			Reason: fmt.Sprintf("read no farther: found %s, expected %s", f.Found, f.Expected), Index: [2]int{-1, -1},
		}
		if f.File == p.File {
			found.ProgramFile = ""
		}
		r.Findings = append(r.Findings, found)
	}
	if t.moves == 0 {
		r.Findings = append(r.Findings, check.Finding{
			Verdict: check.Unproven, Question: check.Posted, Index: [2]int{-1, -1}, Reason: "the program moves nothing",
		})
	}
	if c.options.NoStock && len(c.setup.Parts) > 0 {
		r.Findings = append(r.Findings, check.Finding{
			Verdict: check.Unproven, Question: check.Posted, Index: [2]int{-1, -1},
			Reason: "the stock was left out: nothing is known of what the tools cut and meet there",
		})
	}
	if c.setup.Spindle == nil {
		r.Findings = append(r.Findings, check.Finding{
			Verdict: check.Unproven, Question: check.Posted, Index: [2]int{-1, -1},
			Reason: "the machine file has no spindle: no tool was looked at",
		})
	}
	r.Pairs = append(r.Pairs, c.lines(t.notes)...)
	result := &Result{}
	if stock != nil {
		stock.write(out, result)
	}
	r.Conclude()
	return result
}

// assumed says what the answer rests on.
func (c *checker) assumed() (list []string) {
	list = append(list, "the program begins with every axis at home")
	if s := c.sides[noTool]; s != nil && len(c.covering()) > 0 {
		list = append(list, "while no tool is known to be in the spindle, the largest one is taken to be there")
	}
	if c.bySwing > 0 {
		list = append(list, fmt.Sprintf("%d pairs of bodies that go with no spindle were proven by the swing, over all that the setup commands", c.bySwing))
	}
	return list
}

// tools says what the program does with each tool.
func (c *checker) tools(t *tally) []check.ProgramTool {
	list := []check.ProgramTool{}
	for _, x := range t.tools {
		tool := check.ProgramTool{
			Tool: x.called, First: x.first.Line, Last: x.last.Line, FeedSeconds: x.feedSeconds, Seconds: x.seconds,
			FeedLength: x.feedLength, Travel: []check.Range{},
		}
		if x.tool >= 0 {
			tool.Name, tool.LPR = c.setup.Tools[x.tool].Name, c.setup.Tools[x.tool].LPR()
		}
		c.stickOut(&tool, x, t.notes)
		for k := range c.setup.Axes {
			if x.travel.Lo[k] <= x.travel.Hi[k] {
				tool.Travel = append(tool.Travel, check.RangeOf(&c.setup.Axes[k], x.travel.Lo[k], x.travel.Hi[k]))
			}
		}
		list = append(list, tool)
	}
	return list
}

// lines says in one line for each pair that was asked about what is proven of it; of stock that is cut, what
// was found.
func (c *checker) lines(n *notes) (list []check.Pair) {
	at := map[[2]string]int{}
	for _, tool := range slices.Sorted(maps.Keys(c.sides)) {
		for _, p := range c.sides[tool].pairs {
			if p.met&p.asked == 0 {
				continue
			}
			line := p.worst
			if p.stock {
				line.Verdict = n.worstOf(p.a, p.b, c.calledOf(tool))
			}
			if line.Verdict == check.Clear {
				line.Demand = p.least(p.met)
				line.Proven = &line.Demand
			}
			if line.Demand == 0 {
				line.Demand = p.least(p.met)
			}
			i, known := at[line.Bodies]
			switch {
			case !known:
				at[line.Bodies] = len(list)
				list = append(list, line)
			case line.Verdict.Worse(list[i].Verdict):
				list[i] = line
			}
		}
	}
	return list
}

// stickOut says between which lengths of a tool all would hold.
func (c *checker) stickOut(tool *check.ProgramTool, x *toolTally, n *notes) {
	if x.tool < 0 || c.sides[x.tool].window == nil {
		return
	}
	w := c.sides[x.tool].window
	for key := range n.runs {
		if key.tool == x.called {
			tool.ShortWhy = check.NotClearAsItIs
			tool.LongWhy = tool.ShortWhy
			return
		}
	}
	shortest, longest := tool.LPR+w.low, tool.LPR+w.high
	tool.Shortest, tool.Longest = &shortest, &longest
	tool.ShortWhy, tool.LongWhy = w.lowBy, w.highBy
}

// calledOf is the number of a tool of a side in the program.
func (c *checker) calledOf(tool int) int {
	if tool < 0 {
		return 0
	}
	return c.setup.Tools[tool].Number
}

// least is the least clearance that is demanded on legs of some kinds.
func (p *pair) least(k kinds) (mm float64) {
	for kind := range p.asks {
		if one := program.Kind(kind); k.has(one) && p.asked.has(one) && (mm == 0 || p.asks[kind].demand < mm) {
			mm = p.asks[kind].demand
		}
	}
	return mm
}

// judge takes down the worst of what was found of a pair on a chunk.
func (p *pair) judge(hits []hit) {
	for i := range hits {
		h := &hits[i]
		if h.verdict.Worse(p.worst.Verdict) {
			p.worst.Verdict = h.verdict
			p.worst.Demand, p.worst.Proven = h.demand, proof.Finite(h.proven)
		}
	}
}
