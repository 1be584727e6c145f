package kinematics

import (
	"cmp"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Presented is the largest angle, in rad, by which the axis of a tool may be
// off and still count as where it should be: rounding.
const Presented = 1e-9

// Solution is a rotary position for a direction of the tool.
type Solution struct {
	// Position has the rotary axes set, each within half a turn of 0; all others
	// are as they were.
	Position motion.Params
	// Miss is the angle in rad between the tool's axis and the one asked for:
	// 0 if it is presented, else the smallest there is.
	Miss float64
	// Free is a rotary axis that may stand anywhere, because the tool's axis
	// lies along it or it turns the tool about itself; -1 if there is none.
	// It stays where it was.
	Free int
	// Branch is 0 or 1: of two solutions, 0 is the one in which the rotary axis
	// nearer to the spindle stands at the greater position within half a turn of 0.
	Branch int
	// side tells the two solutions apart in a way that is continuous as the
	// direction changes: Branch is not, where an axis passes half a turn.
	side int
}

// Present returns the rotary positions at which the tool's axis lies along axis, a
// unit vector in the part's frame, out of the part towards the spindle. The axes stand
// at the given position now: those that are held or free stay there.
//
// Two rotary axes have two solutions, or one: where an axis is free, where
// the two fall together, or where the direction is out of reach and one comes nearest.
// One rotary axis has one, the nearest; so has a machine without any, which
// stays as it is. Of two parallel rotary axes the one nearer to the part is used.
// Travel is not looked at: see Turns.
func (m *Machine) Present(axis r3.Vector, at motion.Params) []Solution {
	w, z := m.arms(at)
	var poses []pose2
	switch {
	case len(w) == 0:
		poses = []pose2{{miss: angle(z, axis), free: -1}}
	case len(w) == 1 || along(angle(w[0], w[1])):
		var now [2]float64
		for i, t := range m.rotary {
			now[i] = m.rel.Joints[t.joint].Value(&at)
		}
		if len(w) == 2 {
			turn := geom.Turn(r3.Vector{}, w[1], now[1])
			z = turn.Dir(z)
		}
		p := oneTurn(w[0], z, axis, now[0])
		p.values[1] = now[1]
		poses = []pose2{p}
	default:
		now := [2]float64{m.rel.Joints[m.rotary[0].joint].Value(&at), m.rel.Joints[m.rotary[1].joint].Value(&at)}
		poses = twoTurns(w[0], w[1], z, axis, now)
	}
	list := make([]Solution, len(poses))
	for i, p := range poses {
		list[i] = m.solution(p, at)
	}
	if len(list) == 2 {
		k := m.rotary[1].axis
		slices.SortStableFunc(list, func(a, b Solution) int { return -cmp.Compare(a.Position[k], b.Position[k]) })
		list[1].Branch = 1
	}
	return list
}

// arms returns the axes of the rotary joints that are used, from the part on,
// and the tool's axis, all with these joints at value 0 and everything else at
// p: K0 e^(w1 a) K1 e^(w2 b) K2 z with constant K is the same as
// e^(K0 w1 a) e^(K0 K1 w2 b) K0 K1 K2 z.
func (m *Machine) arms(p motion.Params) (w []r3.Vector, z r3.Vector) {
	turned := geom.Identity()
	for i := range m.rel.Joints {
		j := &m.rel.Joints[i]
		switch {
		case j.Kind == motion.Linear:
		case slices.ContainsFunc(m.rotary, func(t turning) bool { return t.joint == i }):
			w = append(w, turned.Dir(j.Axis))
		default:
			if v := j.Value(&p); v != 0 {
				turned = turned.Mul(geom.Turn(r3.Vector{}, j.Axis, v))
			}
		}
	}
	turned = turned.Mul(m.rel.Home)
	return w, turned.Dir(r3.Vector{Z: 1})
}

// solution translates values of joints into positions of axes.
func (m *Machine) solution(p pose2, at motion.Params) Solution {
	s := Solution{Position: at, Free: -1, side: p.side}
	if p.miss > Presented {
		s.Miss = p.miss
	}
	for i, t := range m.rotary {
		if i == p.free {
			s.Free = t.axis
			continue
		}
		j := &m.rel.Joints[t.joint]
		gain := j.Gain[t.axis]
		turn := 2 * math.Pi / math.Abs(gain)
		v := (p.values[i] - j.Offset) / gain
		s.Position[t.axis] = settle(v-turn*math.Round(v/turn), turn)
	}
	return s
}

// settle takes the rounding off a position within half a turn of 0: one that is a
// multiple of a quarter turn but for rounding becomes it, and half a turn is
// positive.
func settle(v, turn float64) float64 {
	const rounding = 1e-13
	if q := math.Round(v * 4 / turn); math.Abs(v-q*turn/4) < rounding*turn {
		v = q * (turn / 4)
		if q == -2 {
			v = -v
		}
	}
	return v + 0 // no -0
}

// turn returns how far an axis that is used goes in one turn.
func (m *Machine) turn(t turning) float64 {
	return 2 * math.Pi / math.Abs(m.rel.Joints[t.joint].Gain[t.axis])
}

// mostTurns is how many positions of one axis Turns offers at most.
const mostTurns = 16

// Turns returns the positions that differ from a solution by whole turns and are
// within the travel of every rotary axis that is used, nearest to near first
// (by the sum of the distances); none if there is no such position. Of an
// unlimited axis it is the nearest only, of one with room for more than 16 turns
// the nearest 16. A free axis stands where near has it, or at the end of its travel.
// A position beyond the end by rounding only is put on the end.
func (m *Machine) Turns(s Solution, near motion.Params) []motion.Params {
	list := []motion.Params{s.Position}
	for _, t := range m.rotary {
		k := t.axis
		var values []float64
		if k == s.Free {
			values = []float64{min(max(near[k], m.axes[k].Lo), m.axes[k].Hi)}
		} else {
			values = m.within(t, s.Position[k], near[k])
		}
		var next []motion.Params
		for _, p := range list {
			for _, v := range values {
				p[k] = v
				next = append(next, p)
			}
		}
		list = next
	}
	distance := func(p motion.Params) (sum float64) {
		for _, t := range m.rotary {
			sum += math.Abs(p[t.axis] - near[t.axis])
		}
		return sum
	}
	slices.SortStableFunc(list, func(a, b motion.Params) int { return cmp.Compare(distance(a), distance(b)) })
	return list
}

// within returns the positions of one axis that are whole turns from v and in
// its travel, nearest to near first.
func (m *Machine) within(t turning, v, near float64) []float64 {
	a, turn := &m.axes[t.axis], m.turn(t)
	v += turn * math.Round((near-v)/turn) // the nearest
	if math.IsInf(a.Lo, -1) && math.IsInf(a.Hi, 1) {
		return []float64{v}
	}
	// The nearest that is not beyond an end, and from there away from both sides.
	first := v + turn*min(0, math.Floor((a.Hi+Presented-v)/turn))
	first += turn * max(0, math.Ceil((a.Lo-Presented-first)/turn))
	var list []float64
	for n := range mostTurns {
		for _, x := range []float64{first + float64(n)*turn, first - float64(n)*turn} {
			if x >= a.Lo-Presented && x <= a.Hi+Presented && (n > 0 || len(list) == 0) {
				list = append(list, min(max(x, a.Lo), a.Hi))
			}
		}
	}
	slices.SortStableFunc(list, func(x, y float64) int { return cmp.Compare(math.Abs(x-near), math.Abs(y-near)) })
	return list[:min(len(list), mostTurns)]
}
