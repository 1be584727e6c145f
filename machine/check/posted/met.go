package posted

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// met makes a hit of what was found on a leg.
func (v *prover) met(i int, q *proof.Question, a proof.Answer) hit {
	l, p, c := v.ch.legs[i], v.p, v.c
	h := hit{
		question: check.Posted, a: p.a, b: p.b, what: p.note, verdict: a.Verdict, step: l.step,
		left: a.Out.Lower - q.Demand, demand: q.Demand, proven: a.Out.Lower,
	}
	if !math.IsInf(a.Out.Upper, 1) {
		h.left = a.Out.Upper - q.Demand
	}
	at := l.params(a.Out.At)
	depth, known := 0.0, false
	if a.Verdict == check.Contact {
		// How deep is looked at of some only, where there are many in a row.
		if v.contacts < fewContacts || v.contacts%fewContacts == 0 {
			at, depth, known = c.deepest(p, at, l.From, l.To)
		}
		v.contacts++
		h.left = -depth
	}
	if a.Reason != "" && a.Verdict == check.Unproven {
		v.doubts++
	}
	demand, why := q.Demand, p.asks[l.kind].why
	h.tell = func() check.Finding {
		f := c.finding(p, a, at, &l)
		f.Demand, f.DemandReason = demand, why
		if known {
			f.Depth = &depth
		}
		if l.other && f.Reason == "" {
			f.Reason = "if the axis without ends goes the other way round, which the machine file leaves open"
		}
		return f
	}
	return h
}

// skipped is a hit on a leg that was not looked at by itself.
func (v *prover) skipped(i int, q *proof.Question) hit {
	return v.met(i, q, untold("not looked at move by move: too much before it in the program is not clear"))
}

// rough is a hit on a leg that keeps no less than others of the chunk, and was not looked at by itself.
func (v *prover) rough(i int, demand, proven float64) hit {
	a := untold("kept apart, but less than is demanded as far as is known: not looked at move by move")
	a.Verdict, a.Out.Lower = check.Tight, proven
	h := v.met(i, &proof.Question{Demand: demand}, a)
	h.left, h.rough = v.least, true
	return h
}

// lost is a hit on a leg of which it is not known where it leads.
func (v *prover) lost(i int, demand float64) hit {
	h := v.met(i, &proof.Question{Demand: demand}, untold("where the axes are is not known"))
	tell := h.tell
	h.tell = func() check.Finding {
		f := tell()
		f.At, f.Over, f.Params = nil, nil, motion.Params{}
		return f
	}
	return h
}

// untold is the answer that there is none.
func untold(reason string) proof.Answer {
	a := proof.Answer{Verdict: check.Unproven, Reason: reason}
	a.Out.Lower, a.Out.Upper = math.Inf(-1), math.Inf(1)
	a.Out.Near.FacetA = -1
	return a
}

// fewContacts is how many contacts in a row of one pair are each looked at for their depth.
const fewContacts = 16

// params are the axis positions of what was found on a leg, of which a question may be asked along a way.
func (l *leg) params(s motion.Params) motion.Params {
	if l.Box {
		return s
	}
	return l.at(s[0])
}

// finding is what was found of a pair on a leg, but for what every hit has.
func (c *checker) finding(p *pair, a proof.Answer, at motion.Params, l *leg) check.Finding {
	f := check.Finding{
		Bodies: [2]string{p.body.Name, p.other.Name}, Reason: a.Reason, Params: at,
	}
	if f.Reason == "" {
		f.Reason = p.note
	}
	over := l.stretch().over
	for k := range c.setup.Axes {
		f.At = append(f.At, check.PositionOf(&c.setup.Axes[k], at[k]))
		if over.Lo[k] != over.Hi[k] {
			f.Over = append(f.Over, check.RangeOf(&c.setup.Axes[k], over.Lo[k], over.Hi[k]))
		}
	}
	body := p.body.Chain.Pose(at)
	a.Tell(&f, &body)
	if x, y, ok := f.Witness(); ok && len(c.setup.Parts) == 1 { // of several nobody says in whose coordinates to tell it
		toPart := c.setup.Parts[0].Chain.Pose(at).Inverse()
		mid := toPart.Point(x.Add(y).Mul(0.5))
		f.PartPoint = &[3]float64{mid.X, mid.Y, mid.Z}
	}
	return f
}
