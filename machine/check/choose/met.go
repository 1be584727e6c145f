package choose

import (
	"context"
	"slices"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// witness is a position at which two bodies of a candidate met while axes went over their
// ranges. Where the same two solids stand much alike in another candidate they mostly meet
// there, too, and one look at that position says so: a contact is a contact, wherever it was
// looked for, and nothing is worse. A position is one of the axes as that candidate has them: a unit
// turned by a quarter has others.
type witness struct {
	finding check.Finding
	solids  [2]*machine.Solid
	axes    []machine.Axis
}

// mostWitnesses is how many are tried.
const mostWitnesses = 12

// witnessed makes a witness of what was found of a candidate's swing; nil if nothing meets, or
// in a way that one position does not show.
func (l *looking) witnessed() *witness {
	for _, j := range l.report.Judge() {
		f := j.Worst
		if j.Concern != check.SwingConcern || j.Verdict != check.Contact || f.Question == check.Rest || f.Reason != "" {
			continue
		}
		w := &witness{finding: *f, axes: l.setup.Axes}
		for i, name := range f.Bodies {
			k := bodyOf(l.setup, name)
			if k < 0 {
				return nil
			}
			w.solids[i] = l.setup.Bodies[k].Solid
		}
		return w
	}
	return nil
}

func bodyOf(s *machine.Setup, name string) int {
	return slices.IndexFunc(s.Bodies, func(b machine.Body) bool { return b.Name == name })
}

// holds reports whether the two meet in a setup, as drawn, at the position of the witness.
func (w *witness) holds(ctx context.Context, s *machine.Setup, t *proof.Trees) (bool, error) {
	same := func(a, b machine.Axis) bool { return a.Letter == b.Letter && a.Commanded == b.Commanded }
	if !slices.EqualFunc(w.axes, s.Axes, same) {
		return false, nil
	}
	a, b := bodyOf(s, w.finding.Bodies[0]), bodyOf(s, w.finding.Bodies[1])
	if a < 0 || b < 0 || s.Bodies[a].Solid != w.solids[0] || s.Bodies[b].Solid != w.solids[1] {
		return false, nil
	}
	belong := func(m machine.Mating) bool { return m.A == a && m.B == b || m.A == b && m.B == a }
	if slices.ContainsFunc(s.Matings, belong) {
		return false, nil // they may touch
	}
	moving := t.Pair(&s.Bodies[a], &s.Bodies[b], motion.Between(s.Bodies[a].Chain, s.Bodies[b].Chain))
	out, err := collide.Sweep(ctx, moving.Nominal(), motion.At(w.finding.Params), collide.Limits{
		Enough: witnessNear, Absolute: witnessNear / 10, Tests: witnessTests, Jobs: 1,
	})
	return out.Contact, err
}

const (
	witnessNear  = 0.01 // mm, far enough not to be looked at closer
	witnessTests = 100_000
)

// met tries the witnesses of other candidates. If one holds, that is the swing's verdict, and
// the swing need not be looked at any more.
func (l *looking) met(ctx context.Context) error {
	for _, w := range l.witnesses {
		holds, err := w.holds(ctx, l.setup, l.options.Trees)
		if err != nil {
			return err
		}
		if !holds {
			continue
		}
		f := w.finding
		f.Index = [2]int{bodyOf(l.setup, f.Bodies[0]), bodyOf(l.setup, f.Bodies[1])}
		f.Points, f.Where = nil, nil
		l.report.Findings = append(l.report.Findings, f)
		l.report.Tighten(check.Margin{
			Concern: check.SwingConcern, Demand: f.Demand, Unit: "mm", What: check.Between(f.Bodies[0], f.Bodies[1], f.At),
		})
		l.judged[check.SwingConcern] = true
		l.used = w
		return nil
	}
	return nil
}

// remembered puts the witnesses of a round in front of those that are known: those that were
// of use, and new ones.
func remembered(known []*witness, round []*candidacy) []*witness {
	for _, c := range round {
		if w := c.seen; w != nil {
			c.seen = nil
			known = slices.DeleteFunc(known, func(k *witness) bool { return k == w })
			known = slices.Insert(known, 0, w)
		}
	}
	return known[:min(len(known), mostWitnesses)]
}
