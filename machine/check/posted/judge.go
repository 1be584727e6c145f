package posted

import (
	"fmt"

	"gridswing/collide/material"
	"gridswing/geom/motion"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// verdict is what is known of a rider that was not proven to keep clear.
type verdict struct {
	check.Verdict
	proven float64 // mm, of Tight
	reason string
}

// judge says what it is, on a stretch: contact where the rider covers material that no cutter has touched,
// wherever it may be off to; tight where it is proven to meet nothing; within the play where it is so as
// drawn; and unproven where what the model has left may not be there.
func (k *stock) judge(i int, st *pass, a *asked) verdict {
	b := k.blanks[i]
	unproven := verdict{check.Unproven, 0, fmt.Sprintf("as far as the stock model of %s mm tells, there is material", millimetres(b.cell))}
	if a.near.Sure {
		return verdict{Verdict: check.Contact}
	}
	r := a.rider
	s := r.rides[i].over(st, r.center, r.radius)
	if !a.need.slim && k.apart(r, i, &s, &a.need, barely) {
		low, high := barely, a.need.demand
		for range gapSteps {
			if mid := (low + high) / 2; k.apart(r, i, &s, &a.need, mid) {
				low = mid
			} else {
				high = mid
			}
		}
		return verdict{check.Tight, low, ""}
	}
	if k.apartAsDrawn(r, i, &s, &a.need) {
		return verdict{Verdict: check.WithinPlay}
	}
	return unproven
}

// gapSteps is how often the range is halved in which a proven clearance is looked for; barely is the least
// one that is told, mm.
const (
	gapSteps = 6
	barely   = 0.001
)

// millimetres prints a length.
func millimetres(mm float64) string { return fmt.Sprintf("%.4g", mm) }

// hit is what was found of a rider on a stretch of a leg.
func (w *cutWalk) hit(i, at int, st *pass, a *asked) (hit, noted) {
	k, r := w.stock, a.rider
	v := k.judge(i, st, a)
	left := v.proven - a.need.demand
	if v.Verdict != check.Tight {
		left = -a.need.demand - a.near.Depth
	}
	h := hit{
		question: check.Posted, a: r.Index, b: k.blanks[i].body, what: a.need.note,
		verdict: v.Verdict, left: left, step: w.chunk.legs[at].step,
	}
	position, near, need := k.locate(i, st, a), a.near, a.need
	h.tell = func() check.Finding {
		f := k.finding(r, i, position, &near)
		f.Demand, f.DemandReason, f.Reason = need.demand, need.reason, need.note
		if v.reason != "" {
			f.Reason = v.reason
			if need.note != "" {
				f.Reason = need.note + ": " + v.reason
			}
		}
		if v.Verdict == check.Tight {
			f.Proven = &v.proven
		}
		if v.Verdict == check.Contact {
			f.Depth = &near.Depth
		}
		return f
	}
	return h, noted{proven: v.proven, depth: near.Depth}
}

// locateSteps is how often a stretch is halved to say where on it something is met.
const locateSteps = 6

// locate is a position on the stretch where the rider does not keep clear.
func (k *stock) locate(i int, st *pass, a *asked) motion.Params {
	at := *st
	for range locateSteps {
		s := a.rider.rides[i].over(&at, a.rider.center, a.rider.radius)
		if len(s.Ways) == 0 || len(s.Ways) == 1 && s.Ways[0].Norm() < k.blanks[i].cell {
			break
		}
		first, second := at.halves(at.widest())
		s = a.rider.rides[i].over(&first, a.rider.center, a.rider.radius)
		if a.near.Sure && !k.nearest(a.rider, i, &s, &a.need).Sure || !a.near.Sure && k.apart(a.rider, i, &s, &a.need, a.need.demand) {
			first = second
		}
		at = first
	}
	return at.at
}

// finding is what is the same of all findings about a rider and a blank.
func (k *stock) finding(r *rider, i int, at motion.Params, near *material.Near) check.Finding {
	s, body := k.c.setup, k.blanks[i].body
	f := check.Finding{
		Bodies: [2]string{r.Body.Name, s.Bodies[body].Name}, Index: [2]int{r.Index, body}, Params: at,
	}
	for n := range s.Axes {
		f.At = append(f.At, check.PositionOf(&s.Axes[n], at[n]))
	}
	pose := s.Bodies[body].Chain.Pose(at)
	p := pose.Point(near.Point)
	f.Points = &[2][3]float64{array(p), array(p)}
	part := s.Parts[partOf(s, body)].Chain.Pose(at)
	back := part.Inverse()
	inPart := array(back.Point(p))
	f.PartPoint = &inPart
	return f
}

func array(v r3.Vector) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
