package reach

import (
	"fmt"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// findings lists what is not clear: of each operation the worst of each pair, of
// each axis and of each reason why nothing presents a feature.
func (c *checker) findings(out *check.Reach) (list []check.Finding) {
	list = faulty(c.setup)
	for i := range c.setup.Operations {
		list = append(list, c.findingsOf(i)...)
	}
	for _, m := range c.moves {
		list = append(list, c.moveFindings(m)...)
	}
	for i := range out.Magazine {
		if g := &out.Magazine[i]; g.Verdict != check.Clear {
			n := g.Tool
			list = append(list, check.Finding{Verdict: g.Verdict, Question: check.Stored, Tool: &n, Reason: g.Reason})
		}
	}
	return list
}

// faulty lists the operations that could not be looked at.
func faulty(s *machine.Setup) (list []check.Finding) {
	for _, f := range s.Faulty {
		list = append(list, check.Finding{
			Verdict: check.Unproven, Question: check.LeftOut, Operation: f.Name, Reason: f.Where + ": " + f.Reason,
		})
	}
	return list
}

func (c *checker) findingsOf(operation int) (list []check.Finding) {
	met := map[[2]int]*told{}
	travel := map[string]*check.Finding{}
	said := map[string]bool{}
	var pairs [][2]int
	var axes []string
	for _, st := range c.stops {
		if st.operation != operation {
			continue
		}
		n := c.setup.Tools[st.op.Tool].Number
		base := check.Finding{Operation: st.op.Name, Feature: st.feature.Name, Tool: &n, Params: st.chosen.rotary}
		if st.chosen.way == nil || st.chosen.why != "" && len(st.chosen.meets) == 0 && worstTravel(st.chosen.travel) != st.chosen.verdict {
			if f := base; !said[st.chosen.why] {
				said[st.chosen.why] = true
				f.Question, f.Verdict, f.Reason = check.Presents, st.chosen.verdict, st.chosen.why
				list = append(list, f)
			}
			if st.chosen.way == nil {
				continue
			}
		}
		for k := range st.chosen.meets {
			m := &st.chosen.meets[k]
			pair := [2]int{m.mover.Index, m.other}
			if old := met[pair]; old == nil {
				pairs = append(pairs, pair)
				met[pair] = &told{st, m}
			} else if m.worse(old.meeting) {
				met[pair] = &told{st, m}
			}
		}
		for k := range st.chosen.travel {
			t := &st.chosen.travel[k]
			v := travelVerdict(t)
			if v == check.Clear {
				continue
			}
			f := base
			f.Question, f.Verdict, f.Reason, f.Cures = check.Travels, v, travelWords(t), t.Cures
			if i := c.keyOf(st.chosen, t); i >= 0 {
				f.Params = st.chosen.way.keys[i].at
			}
			for k := range c.setup.Axes {
				f.At = append(f.At, check.PositionOf(&c.setup.Axes[k], f.Params[k]))
			}
			f.Demand = t.Demand
			f.Smallest = proof.Finite(t.Margin)
			if old := travel[t.Axis]; old == nil {
				axes = append(axes, t.Axis)
				travel[t.Axis] = &f
			} else if *f.Smallest < *old.Smallest {
				travel[t.Axis] = &f
			}
		}
	}
	for _, pair := range pairs {
		f := c.finding(met[pair].stop, met[pair].meeting)
		f.Cures = c.windowOf[operation].cures(met[pair].meeting)
		list = append(list, f)
	}
	for _, a := range axes {
		list = append(list, *travel[a])
	}
	return list
}

func worstTravel(list []check.Travel) check.Verdict {
	worst := check.Clear
	for i := range list {
		if v := travelVerdict(&list[i]); v.Worse(worst) {
			worst = v
		}
	}
	return worst
}

// questionOf is the question that a kind of move answers.
var questionOf = map[string]string{
	check.RapidMove: check.Rapids, check.IndexMove: check.Indexing, check.ChangeMove: check.Changing,
}

// moveFindings lists what is met on a move.
func (c *checker) moveFindings(m *move) (list []check.Finding) {
	for i := range m.meets {
		f := c.finding(nil, &m.meets[i])
		n := m.meets[i].with.tool.Number
		f.Question, f.Tool, f.Operation = questionOf[m.kind], &n, m.to
		f.Feature = "from " + m.from
		list = append(list, f)
	}
	if m.doubt != "" {
		n := m.tool().tool.Number
		list = append(list, check.Finding{
			Verdict: check.Unproven, Question: questionOf[m.kind], Operation: m.to, Feature: "from " + m.from, Tool: &n, Reason: m.doubt,
		})
	}
	if x := m.index; x != nil && x.short != nil && m.verdict != check.Clear && len(list) > 0 {
		z := &c.setup.Axes[c.drawback()]
		list[0].Cures = append(list[0].Cures, fmt.Sprintf("%s home is too low for this: %s higher would do", z.Letter, millimetres(*x.short)))
	}
	return list
}

// lines says in one line for each tool's body and each other one what is proven.
func (c *checker) lines() (list []check.Pair) {
	type key struct{ mover, other string }
	worst := map[key]*check.Pair{}
	var order []key
	note := func(m *mover, other int, v check.Verdict, question string, demand float64, proven *float64) {
		k := key{m.Body.Name, c.setup.Bodies[other].Name}
		p := worst[k]
		if p == nil {
			order = append(order, k)
			worst[k] = &check.Pair{Question: question, Bodies: [2]string{k.mover, k.other}, Verdict: v, Demand: demand, Proven: proven}
			return
		}
		if v.Worse(p.Verdict) || v == check.Clear && p.Verdict == v && demand < p.Demand {
			p.Verdict, p.Question, p.Demand, p.Proven = v, question, demand, proven
		}
	}
	clear := func(st *stop) {
		t := c.tools[st.op.Tool]
		for i := range t.movers {
			for _, other := range c.others {
				if c.ownMaker(&t.movers[i], other) {
					continue
				}
				for _, a := range c.asks(st, st.chosen, t, &t.movers[i], other) {
					note(&t.movers[i], other, check.Clear, check.Reaching, a.demand, &a.demand)
				}
			}
		}
	}
	for _, st := range c.stops {
		if st.chosen.way == nil {
			continue
		}
		clear(st)
		for k := range st.chosen.meets {
			m := &st.chosen.meets[k]
			note(m.mover, m.other, m.Verdict, check.Reaching, m.question.Demand, proof.Finite(m.Out.Lower))
		}
	}
	for _, mv := range c.moves {
		for k := range mv.meets {
			m := &mv.meets[k]
			note(m.mover, m.other, m.Verdict, questionOf[mv.kind], m.question.Demand, proof.Finite(m.Out.Lower))
		}
	}
	for _, k := range order {
		list = append(list, *worst[k])
	}
	return list
}

// finding turns a meeting at a stop into its form in the report; the stop may be nil.
func (c *checker) finding(st *stop, m *meeting) check.Finding {
	s := c.setup
	f := check.Finding{
		Verdict: m.Verdict, Demand: m.question.Demand, DemandReason: m.why,
		Bodies: [2]string{m.mover.Body.Name, s.Bodies[m.other].Name},
		Reason: m.Reason, Params: m.params(), Index: [2]int{m.mover.Index, m.other},
		Over: c.over([]leg{m.leg}),
	}
	if m.note != "" && f.Reason == "" {
		f.Reason = m.note
	}
	if st != nil {
		f.Question, f.Operation, f.Feature = check.Reaching, st.op.Name, st.feature.Name
		n := s.Tools[st.op.Tool].Number
		f.Tool = &n
	}
	for k := range s.Axes {
		f.At = append(f.At, check.PositionOf(&s.Axes[k], f.Params[k]))
	}
	body := m.mover.Body.Chain.Pose(f.Params)
	m.Answer.Tell(&f, &body)
	if a, b, ok := f.Witness(); ok && st != nil {
		toPart := s.Parts[st.op.Part].Chain.Pose(f.Params).Inverse()
		at := toPart.Point(a.Add(b).Mul(0.5))
		f.PartPoint = &[3]float64{at.X, at.Y, at.Z}
	}
	return f
}
