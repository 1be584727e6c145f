package posted

import (
	"gridswing/geom/motion"
	"gridswing/machine/program"

	"github.com/golang/geo/r3"
)

// follow is where cutters have just been, by blank: a rapid that leaves the cut, or goes back into
// a hole as deep as it is, is asked to meet nothing, but not to keep the distance that is asked of an approach.
type follow struct{ of []trail }

type trail struct {
	fed  bool // the last leg was in feed
	line *bore
	// leaves is where rapids that go straight on from a cut end, up to leg until of chunk: there everything is
	// as far from what is left as an approach must be.
	leaves       bool
	chunk, until int
	from         r3.Vector // where the cutting part was when it left, in the stock's frame
}

// bore is a way along the tool's own axis, in the stock's frame. Where a turning cutter has gone along one in
// feed, nothing is in its way when it goes there again, nor in that of a neck that is no wider.
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
	case l != nil && t.line != nil && t.line.same(l) && l.high >= t.line.low && l.low <= t.line.high:
		t.line.low, t.line.high = min(t.line.low, l.low), max(t.line.high, l.high)
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

// follows reports whether a rapid leaves the cut, straight on to where everything is as far from what is
// left as an approach must be, or goes along the hole that was fed last, no deeper.
func (w *cutWalk) follows(i, at int, st *pass) bool {
	if len(w.stock.follow.of) == 0 || w.sharp() == nil {
		return false
	}
	t := &w.stock.follow.of[i]
	if w.bored(i, st) != nil {
		return true
	}
	if t.fed {
		t.chunk, t.until = w.chunk.number, w.straightOn(at)
		t.leaves = w.apart(i, &w.chunk.legs[t.until-1])
		t.from = w.place(i, w.chunk.legs[at].From).Origin
	}
	return w.leaves(i, at)
}

// leaves reports whether a rapid was seen to leave the cut.
func (w *cutWalk) leaves(i, at int) bool {
	if len(w.stock.follow.of) == 0 {
		return false
	}
	t := &w.stock.follow.of[i]
	return t.leaves && t.chunk == w.chunk.number && at < t.until
}

// bored returns the way of a rapid along the hole that was fed last, no deeper; nil where it is none.
func (w *cutWalk) bored(i int, st *pass) *bore {
	if len(w.stock.follow.of) == 0 {
		return nil
	}
	line := w.stock.follow.of[i].line
	if line == nil {
		return nil
	}
	if l := w.lineOf(i, st); l != nil && line.same(l) && l.low >= line.low-sameLine {
		return l
	}
	return nil
}

// above is the part of a rapid along a hole on which it is above where it was fed; ok is false if there is none.
func (w *cutWalk) above(i int, st *pass, l *bore) (upper pass, ok bool) {
	fed := w.stock.follow.of[i].line.high
	if l.high <= fed+sameLine {
		return upper, false
	}
	share := min(1, (l.high-fed)/(l.high-l.low)) // of the way
	way := st.ways[0]
	s := w.sharp().rides[i].over(st, w.sharp().center, w.sharp().radius)
	sign := 0.5 // the upper end is that of the way
	if s.Ways[0].Dot(s.Axis) < 0 {
		sign = -0.5
	}
	upper = pass{at: st.at, within: st.within, ways: []motion.Params{way}}
	for k := range way {
		upper.at[k] += sign * (1 - share) * way[k]
		upper.ways[0][k] = share * way[k]
	}
	return upper, true
}

// straightOn returns the end of the rapids that go on in one direction from a leg.
func (w *cutWalk) straightOn(at int) int {
	l := &w.chunk.legs[at]
	n := at + 1
	for ; n < len(w.chunk.legs); n++ {
		m := &w.chunk.legs[n]
		if m.kind != program.Rapid || m.other || m.Box != l.Box || !parallel(l, m) {
			break
		}
	}
	return n
}

// parallel reports whether two legs lead the same way.
func parallel(l, m *leg) bool {
	var a, b, ab float64
	for k := range l.From {
		u, v := l.To[k]-l.From[k], m.To[k]-m.From[k]
		a, b, ab = a+u*u, b+v*v, ab+u*v
	}
	return ab > 0 && ab*ab >= a*b*(1-1e-12)
}

// apart reports whether at the end of a rapid everything is as far from a blank as an approach must be.
func (w *cutWalk) apart(i int, l *leg) bool {
	end := pass{at: l.To, within: l.Within}
	rapid := leg{kind: program.Rapid, step: l.step}
	for _, r := range w.riders {
		n, ok := w.needOf(r, w.stock.blanks[i], &rapid, false)
		if !ok {
			continue
		}
		if _, ok = w.stock.keeps(r, i, &end, &n); !ok {
			return false
		}
	}
	return true
}
