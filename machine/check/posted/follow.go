package posted

import (
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// follow is where cutters have just been, by blank: a rapid that leaves the cut, or goes back into
// a hole as deep as it is, is asked to meet nothing, but not to keep the distance that is asked of an approach.
type follow struct{ of []trail }

type trail struct {
	fed  bool // the last leg was in feed
	line *bore
}

// bore is a way along the tool's own axis, in the stock's frame.
type bore struct {
	axis, at  r3.Vector // at is on it
	low, high float64   // between which at has gone, along the axis
}

// went notes a leg; l is nil where it is not along the tool's axis.
func (f *follow) went(i, blanks int, kind program.Kind, l *bore) {
	if len(f.of) != blanks {
		f.of = make([]trail, blanks)
	}
	t := &f.of[i]
	t.fed = kind == program.Feed
	switch {
	case !t.fed:
	case l != nil && t.line != nil && t.line.same(l):
		t.line.low = min(t.line.low, l.low)
	default:
		t.line = l
	}
}

const (
	sameAxis = 1e-6 // of unit vectors
	sameLine = 1e-3 // mm
)

// same reports whether another line is on this one.
func (l *bore) same(other *bore) bool {
	if l.axis.Sub(other.axis).Norm() > sameAxis {
		return false
	}
	return l.axis.Cross(other.at.Sub(l.at)).Norm() <= sameLine
}

// lineOf is the way of the cutting part on a stretch, if it is along its own axis and nothing turns it.
func (w *cutWalk) lineOf(i int, st *pass) *bore {
	r := w.sharp()
	if r == nil || len(st.ways) != 1 {
		return nil
	}
	s := r.rides[i].over(st, r.center, r.radius)
	if len(s.Ways) != 1 || s.bent > sameLine || s.Axis.Cross(s.Ways[0]).Norm() > sameLine {
		return nil
	}
	from := s.Origin.Dot(s.Axis)
	to := from + s.Ways[0].Dot(s.Axis)
	return &bore{axis: s.Axis, at: s.Origin, low: min(from, to), high: max(from, to)}
}

// follows reports whether a rapid leaves the cut, so that at its end everything is as far from what is left as
// an approach must be, or goes along the hole that was fed last, no deeper.
func (w *cutWalk) follows(i int, st *pass) bool {
	if len(w.stock.follow.of) == 0 || w.sharp() == nil {
		return false
	}
	t := &w.stock.follow.of[i]
	if l := w.lineOf(i, st); l != nil && t.line != nil && t.line.same(l) && l.low >= t.line.low-sameLine {
		return true
	}
	if !t.fed || len(st.ways) == 0 {
		return false
	}
	end := *st
	for _, way := range st.ways {
		for k := range way {
			end.at[k] += way[k] / 2
		}
	}
	end.ways = nil
	rapid := leg{kind: program.Rapid}
	for _, r := range w.riders {
		n, ok := w.needOf(r, w.stock.blanks[i], &rapid, false)
		if !ok {
			continue
		}
		if _, _, ok = w.stock.keeps(r, i, &end, &n); !ok {
			return false
		}
	}
	return true
}
