package changeover

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// Options say how hard to look.
type Options = proof.Options

// DefaultTests is the budget of one pair of bodies on one leg, a second or so.
const DefaultTests = 10_000_000

// question is a pair of bodies on a leg of a way, in.
type question struct {
	leg    int // from point leg to the next; -1: jaws that are opened, not what is moved
	from   machine.Waypoint
	to     machine.Waypoint
	a, b   int // of the setup; a moves
	chain  motion.Chain
	scene  *scene
	why    string // the reason of a demand of its own
	seated bool   // the two belong together: they need only come free
	proof.Question
	proof.Answer
}

// nearSeat is how near to its seat, in mm, a component is when what it stands on is no
// longer asked for the demanded clearance: more than demand and play together, so that
// it can be kept up to there.
func nearSeat(demand float64) float64 { return 2*demand + 1 }

// questions lists what is asked of a way, in: every body that moves against every one
// that is there, leg by leg. What it is about to stand on must keep the demand until it is
// near the seat; from there on the two, lifted off each other as for a seat, must
// not meet. So must jaws that are not opened, all the way.
func (c *scene) questions(unit string, in []machine.Waypoint, others []string, trees *proof.Trees) (list []*question) {
	for _, a := range bodiesOf(c.setup, unit) {
		for _, b := range present(c.setup, others) {
			m := c.mating(a, b)
			demand, why := c.setup.Demand.For(machine.DemandLoading, c.setup.Bodies[a].Name, c.setup.Bodies[b].Name)
			last, from := c.lastStretch(in, nearSeat(demand))
			for leg := range len(in) - 1 {
				q := question{leg: leg, from: in[leg], to: in[leg+1], a: a, b: b, why: why}
				q.Demand = demand
				switch {
				case m == nil || c.opened[b] && m.A == b:
					list = append(list, c.ask(q, nil, 0, 1, trees))
				case m.A == b: // a jaw that stays as it is
					list = append(list, c.ask(q, m, 0, 1, trees))
				case leg > last:
					list = append(list, c.ask(q, m, 0, 1, trees))
				case leg < last:
					list = append(list, c.ask(q, nil, 0, 1, trees))
				default:
					if from > 0 {
						list = append(list, c.ask(q, nil, 0, from, trees))
					}
					list = append(list, c.ask(q, m, from, 1, trees))
				}
			}
		}
	}
	return list
}

// opening is a setting axis that is set elsewhere for a while.
type opening struct {
	setting *machine.Setting
	to      float64
}

// openings lists what is asked of jaws while they open: what they carry against all else that is
// there, over the way from where the setup has them.
func (c *scene) openings(unit string, others []string, trees *proof.Trees) (list []*question) {
	for _, o := range c.jaws {
		for i := range o.setting.Moves {
			m := &o.setting.Moves[i]
			jaw := &c.setup.Bodies[m.Body]
			chain := jaw.Chain.Along(c.params, motion.Params{})
			chain.Joints = append(chain.Joints, motion.Joint{
				Name: "opening", Kind: motion.Linear, Axis: m.Along, Gain: motion.Params{o.to - o.setting.At},
			})
			for _, b := range present(c.setup, others) {
				other := &c.setup.Bodies[b]
				if other.Unit == jaw.Unit || other.Unit == unit || c.mating(m.Body, b) != nil {
					continue
				}
				q := &question{leg: -1, a: m.Body, b: b, chain: chain, scene: c}
				q.A, q.B, q.Over = jaw, other, motion.Unit(1)
				q.Demand, q.why = c.setup.Demand.For(machine.DemandLoading, jaw.Name, other.Name)
				q.Moving = trees.Pair(jaw, other, motion.Between(chain, c.chain(b)))
				list = append(list, q)
			}
		}
	}
	return list
}

// mating finds what two bodies have to do with each other; nil if nothing.
func (c *scene) mating(a, b int) *machine.Mating {
	for i := range c.setup.Matings {
		if m := &c.setup.Matings[i]; m.A == a && m.B == b || m.A == b && m.B == a {
			return m
		}
	}
	return nil
}

// lastStretch finds on which leg, and from where on it (0 to 1), a way stays nearer to the
// seat than so many mm.
func (c *scene) lastStretch(in []machine.Waypoint, near float64) (leg int, from float64) {
	for leg = len(in) - 2; leg > 0 && in[leg].Shift.Z <= near; leg-- {
	}
	a, b := in[leg].Shift.Z, in[leg+1].Shift.Z
	if a <= near || a <= b {
		return leg, 0
	}
	return leg, (a - near) / (a - b)
}

// ask completes a question over a part of its leg. With a mating the one that comes free is
// lifted, by what is said of it and a little more.
func (c *scene) ask(q question, m *machine.Mating, lo, hi float64, trees *proof.Trees) *question {
	a, b := c.mover(q.a, q.from, q.to), c.chain(q.b)
	if m != nil {
		q.seated = true
		lift := geom.Shift(m.Lift.Mul(m.Bite + proof.SeatLift))
		if m.A == q.a {
			a.Home = lift.Mul(a.Home)
		} else {
			b.Home = lift.Mul(b.Home)
		}
	}
	q.chain, q.scene = a, c
	q.A, q.B = &c.setup.Bodies[q.a], &c.setup.Bodies[q.b]
	q.Moving = trees.Pair(q.A, q.B, motion.Between(a, b))
	q.Over.Lo[0], q.Over.Hi[0] = lo, hi
	return &q
}

// answer finds the verdict of one question, with numbers where it is not clear.
func (q *question) answer(ctx context.Context, trees *proof.Trees, tests int64) (err error) {
	if q.seated {
		q.Answer, err = trees.AskFree(ctx, &q.Question, tests)
		return err
	}
	q.Answer, err = trees.Ask(ctx, &q.Question, tests)
	if err == nil && q.Verdict != check.Clear && q.Verdict != check.Contact && q.Answer.Reason == "" {
		q.Answer, err = trees.Sharpen(ctx, &q.Question, q.Answer, tests, 1)
	}
	return err
}

// meetings returns the worst of each pair of bodies that is not clear, worst first.
func meetings(list []*question, backwards bool, legs int) (found []Meeting) {
	worst := map[[2]int]*question{}
	for _, q := range list {
		k := [2]int{q.a, q.b}
		if q.Verdict != check.Clear && (worst[k] == nil || q.worse(worst[k])) {
			worst[k] = q
		}
	}
	var bad []*question
	for _, q := range list {
		if worst[[2]int{q.a, q.b}] == q {
			bad = append(bad, q)
		}
	}
	slices.SortStableFunc(bad, func(a, b *question) int {
		switch {
		case a.worse(b):
			return -1
		case b.worse(a):
			return 1
		}
		return 0
	})
	for _, q := range bad {
		found = append(found, q.meeting(backwards, legs))
	}
	return found
}

// worse orders by verdict, then by what is left of the demand.
func (q *question) worse(p *question) bool {
	if q.Verdict != p.Verdict {
		return q.Verdict.Worse(p.Verdict)
	}
	return cmp.Less(q.Out.Lower-q.Demand, p.Out.Lower-p.Demand)
}

func (q *question) meeting(backwards bool, legs int) Meeting {
	m := Meeting{
		Verdict: q.Verdict, Bodies: [2]string{q.A.Name, q.B.Name}, Demand: q.Demand, DemandReason: q.why,
		Leg: q.leg + 1, Reason: q.Answer.Reason,
	}
	switch {
	case q.leg < 0:
		m.Leg, m.Reason = 0, joined(m.Reason, "as the jaw is opened")
	case backwards:
		m.Leg = legs - q.leg
	}
	if !q.seated && q.Verdict != check.Contact {
		m.Proven, m.Smallest = proof.Finite(q.Out.Lower), proof.Finite(q.Out.Upper)
	}
	if q.seated && m.Reason == "" {
		m.Reason = "they belong together, but do not come free of each other"
	}
	if q.leg >= 0 {
		m.at = Between(q.from, q.to, q.Out.At[0])
		at := q.scene.point(m.at)
		m.At = &at
	}
	if near := q.Out.Near; near.FacetA >= 0 && !math.IsInf(near.Distance, 1) {
		pose := q.chain.Pose(q.Out.At)
		a, b := pose.Point(near.A), pose.Point(near.B)
		m.Points = &[2][3]float64{{a.X, a.Y, a.Z}, {b.X, b.Y, b.Z}}
	}
	return m
}

// Between is a point of a leg, s from 0 to 1 of it. Not both of its ends are turned about
// different locators.
func Between(a, b machine.Waypoint, s float64) machine.Waypoint {
	at := machine.Waypoint{Shift: a.Shift.Add(b.Shift.Sub(a.Shift).Mul(s)), About: a.About}
	if a.Turn == 0 {
		at.About = b.About
	}
	at.Turn = a.Turn + (b.Turn-a.Turn)*s
	return at
}

// joined joins two reasons, either of which may be empty.
func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}
