package reach

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
)

// cautious says on which side of the truth the model of the stock is.
var cautious = []string{
	"Neck, shank, holder and spindle are looked at against the stock as it is loaded: nothing that operations take off is taken off. " +
		"So a contact with the stock can be one that earlier cuts have made room for; a clear cannot be wrong for that reason.",
	"A neck that is no wider than the cutting part is taken to follow where the cutting part has been, as long as the tool's axis stays as it is: " +
		"an area is cut in layers no deeper than the cutting part is long. Sideways along a line it may not meet the stock, unless the file states in_layers.",
	"Whether a cutter can cut the way it is told to, straight down or without a hole before it, is not looked at.",
	"Between features at one rotary position the tool goes from the one retract height to the other in one rapid. Before rotary axes index it goes to the " +
		"index height; tools are changed before that, where the file says or with Z at home, and it goes across at that height. After the last feature it is drawn back; what comes after that is not looked at.",
	"A contour's rotary axes are taken to turn evenly from point to point.",
	"What the table carries is looked at against the machine's own bodies by the swing, over the whole commanded range, not here.",
}

// write adds what was found to the report.
func (c *checker) write(r *check.Report) {
	out := &check.Reach{Operations: []check.Operation{}, Moves: []check.Move{}, Magazine: []check.Magazine{}, Cautious: cautious}
	for i := range c.setup.Operations {
		out.Operations = append(out.Operations, c.operation(i))
	}
	for _, m := range c.moves {
		out.Moves = append(out.Moves, c.move(m))
	}
	out.Magazine = c.magazine()
	r.Reach = out
	r.Findings = append(r.Findings, c.findings(out)...)
	r.Pairs = append(r.Pairs, c.lines()...)
	for _, st := range c.stops {
		if st.feature.InLayers {
			r.Stated = append(r.Stated, stopName(st)+" is cut in layers no deeper than the cutting part is long")
		}
	}
	c.offsets(r)
	c.margins(r)
	r.Conclude()
}

// operation turns what was found of an operation into its form in the report.
func (c *checker) operation(i int) check.Operation {
	op := &c.setup.Operations[i]
	t := c.setup.Tools[op.Tool]
	o := check.Operation{
		Name: op.Name, Part: c.setup.Parts[op.Part].Name, Tool: t.Number, ToolName: t.Name, LPR: t.LPR(),
		Verdict: check.Clear, Features: []check.Feature{}, StickOut: c.windowOf[i].report(),
	}
	for _, st := range c.stops {
		if st.operation != i {
			continue
		}
		f := c.feature(st)
		if t := c.tightest[i]; t != nil && t.stop == st {
			tight := c.finding(st, t.meeting)
			f.Tightest = &tight
		}
		if f.Verdict.Worse(o.Verdict) {
			o.Verdict = f.Verdict
		}
		o.Features = append(o.Features, f)
	}
	return o
}

func (c *checker) feature(st *stop) check.Feature {
	f := check.Feature{
		Name: st.feature.Name, Kind: st.feature.Kind, Verdict: st.chosen.verdict, Reason: st.chosen.why,
		Presented: []check.Presented{}, Travel: st.chosen.travel,
	}
	if f.Travel == nil {
		f.Travel = []check.Travel{}
	}
	if st.tilts() && st.chosen.way != nil {
		f.Along = slices.DeleteFunc(c.over(st.chosen.way.cut), func(r check.Range) bool { return r.Unit != "deg" })
	}
	for _, cand := range st.candidates {
		p := c.presented(cand)
		p.Chosen = cand == st.chosen
		if p.Chosen {
			f.Presented = slices.Insert(f.Presented, 0, p)
		} else {
			f.Presented = append(f.Presented, p)
		}
	}
	return f
}

func (c *checker) presented(cand *candidate) check.Presented {
	p := check.Presented{Verdict: cand.verdict, Why: cand.why}
	if cand.miss > missed {
		p.Miss = degrees(cand.miss)
	}
	switch {
	case cand.why != "" || cand.verdict != check.Unproven:
	case cand.fault != "":
		p.Verdict, p.Why = check.OverTravel, cand.fault
	case cand.promise() == beyondTravel:
		p.Verdict, p.Why = check.OverTravel, "the linear axes have not the travel"
	default:
		p.Why = "not looked at: another position does"
	}
	at := cand.programmed()
	for k := range c.setup.Axes {
		if c.setup.Axes[k].Kind == motion.Rotary {
			p.At = append(p.At, check.PositionOf(&c.setup.Axes[k], at[k]))
		}
	}
	if cand.free >= 0 {
		p.Free = c.setup.Axes[cand.free].Letter
	}
	return p
}

// report turns a window into its form in the report; nil stays nil.
func (w *window) report() *check.StickOut {
	if w == nil {
		return nil
	}
	s := &check.StickOut{
		Now: w.now, Possible: check.Span(w.possible), ShortestBy: w.lowBy, LongestBy: w.highBy,
		Tool: w.tool, Others: w.others,
	}
	if !w.empty() {
		s.Shortest, s.Longest = &w.low, &w.high
	}
	return s
}

func (c *checker) move(m *move) check.Move {
	var legs []leg
	for _, with := range m.carried {
		legs = append(legs, with.legs...)
	}
	out := check.Move{Kind: m.kind, From: m.from, To: m.to, Tool: m.tool().tool.Number, Verdict: m.verdict, Over: c.over(legs)}
	out.Reason = m.doubt
	if worst := m.worst(); worst != nil && (m.doubt == "" || worst.Verdict.Worse(check.Unproven)) {
		out.Reason = c.meetingWords(worst)
	}
	if x := m.index; x != nil {
		out.Height, out.FullHeight, out.HeightBy, out.Short = x.height, x.full, x.by, x.short
	}
	return out
}

func (m *move) worst() (worst *meeting) {
	for i := range m.meets {
		if worst == nil || m.meets[i].worse(worst) {
			worst = &m.meets[i]
		}
	}
	return worst
}

// over tells what the axes pass through on some legs.
func (c *checker) over(legs []leg) []check.Range {
	if len(legs) == 0 {
		return []check.Range{}
	}
	hull := hullOf(legs)
	low, high := hull.span()
	list := []check.Range{}
	for k := range c.setup.Axes {
		list = append(list, check.RangeOf(&c.setup.Axes[k], low[k], high[k]))
	}
	return list
}

// meetingWords says in a few words what a meeting is.
func (c *checker) meetingWords(m *meeting) string {
	words := fmt.Sprintf("%s and %s", m.mover.Body.Name, c.setup.Bodies[m.other].Name)
	if m.note != "" {
		words += ", " + m.note
	}
	switch {
	case m.Reason != "":
		return words + ": " + m.Reason
	case m.Verdict != check.Contact && !math.IsInf(m.Out.Upper, 1):
		return fmt.Sprintf("%s: %.2f mm left of %.2f", words, m.Out.Upper, m.question.Demand)
	}
	return words
}

// offsets adds what to key in, for the rotary positions that are used. Where there
// is nothing to offer, a finding says why.
func (c *checker) offsets(r *check.Report) {
	if c.tallies != nil && offsets.Possible(c.setup) == nil {
		return
	}
	used := make([][]motion.Params, len(c.setup.Parts))
	for _, st := range c.stops {
		if st.chosen.way != nil {
			used[st.op.Part] = append(used[st.op.Part], st.chosen.programmed())
		}
	}
	table, err := offsets.Of(c.setup, used)
	if err != nil {
		r.Findings = append(r.Findings, check.Finding{
			Verdict: check.Unproven, Question: check.Keyed, Reason: err.Error() + ": nothing is offered for keying in",
		})
		return
	}
	r.Offsets = table
}
