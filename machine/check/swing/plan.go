package swing

import (
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// pair is two bodies of the setup, what is asked of them, and what was found.
type pair struct {
	a, b     int // of the setup; A and B of the question
	question string
	mating   *machine.Mating // nil unless the two belong together
	proof.Question
	why string // the reason of a demand of its own

	proof.Answer
	where []check.Range
}

// plan lists the pairs to look at. Bodies of one unit are left to its maker,
// within the maker's stated range, and so is the tool in the spindle.
func plan(s *machine.Setup, trees *proof.Trees) []*pair {
	var pairs []*pair
	for i := range s.Bodies {
		for j := i + 1; j < len(s.Bodies); j++ {
			a, b := &s.Bodies[i], &s.Bodies[j]
			if a.Unit == b.Unit || a.OnTool && b.OnTool || s.Spared(i, j) {
				continue
			}
			p := &pair{a: i, b: j, mating: matingOf(s, i, j)}
			p.A, p.B = a, b
			p.Moving = trees.Pair(a, b, motion.Between(a.Chain, b.Chain))
			p.question = questionOf(s, p)
			p.Which = proof.Which("swing", p.question, a.Name, b.Name)
			p.Over = rangeOf(s, p)
			kind := machine.Swing
			if p.question == check.Rest {
				kind = machine.Rest
			}
			p.Demand, p.why = s.Demand.For(kind, a.Name, b.Name)
			pairs = append(pairs, p)
		}
	}
	return pairs
}

func matingOf(s *machine.Setup, a, b int) *machine.Mating {
	i := slices.IndexFunc(s.Matings, func(m machine.Mating) bool {
		return m.A == a && m.B == b || m.A == b && m.B == a
	})
	if i < 0 {
		return nil
	}
	return &s.Matings[i]
}

// questionOf sorts a pair by what moves it.
func questionOf(s *machine.Setup, p *pair) string {
	if still(s, p.Moving.Motion.Uses()) {
		return check.Rest
	}
	if s.Bodies[p.a].OnTool != s.Bodies[p.b].OnTool {
		return check.Index
	}
	for k, used := range p.Moving.Motion.Uses() {
		if used && s.Axes[k].Kind == motion.Linear && !s.Axes[k].Free {
			return check.Overhang
		}
	}
	return check.Swing
}

// still reports whether nothing of a machine moves a pair: what is still to be chosen does
// not move by itself.
func still(s *machine.Setup, uses [motion.MaxParams]bool) bool {
	for k := range s.Axes {
		if uses[k] && !s.Axes[k].Free {
			return false
		}
	}
	return true
}

// rangeOf returns the axis positions over which a pair is looked at: rotary
// axes over what is commanded, linear axes over what the setup may use, but the
// spindle side at its index position. Axes that do not matter stand at home.
func rangeOf(s *machine.Setup, p *pair) (box motion.Box) {
	uses := p.Moving.Motion.Uses()
	for k := range s.Axes {
		a := &s.Axes[k]
		lo, hi := a.Home, a.Home
		switch {
		case !uses[k]:
		case a.Kind == motion.Linear && p.question == check.Index && !a.Free:
			lo, hi, _ = check.SpindleAt(a)
		default:
			lo, hi = a.Commanded[0], a.Commanded[1]
		}
		box.Lo[k], box.Hi[k] = lo, hi
	}
	return box
}
