package kinematics

import (
	"math"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Pivot returns the rotary axis nearer to the spindle, the tilt, and the position of it at
// which the tool's axis comes nearest to the line of the other one, the rotary: along it on
// most machines. It is within half a turn of 0. There is none, and ok is false, with fewer
// than two rotary axes, with two parallel ones, and where the tool's axis lies along the tilt.
//
// The tool's axis c = e^(w2 b) z turns about the tilt's line w2. Square to the plane of both
// lines, (w1 x w2).c is a sine wave in b without a constant, since w1 x w2 is square to w2: it is
// zero at the pivot and half a turn from it, so c is on one side of the plane above the pivot
// and on the other one below. The two solutions of subproblem 2 of Paden and Kahan (see twoTurns)
// are each other's mirror image in that plane: one on either side.
func (m *Machine) Pivot(at motion.Params) (axis int, position float64, ok bool) {
	w, z := m.arms(at)
	if len(w) < 2 || along(angle(w[0], w[1])) || along(angle(w[1], z)) {
		return -1, 0, false
	}
	t := m.rotary[1]
	j := &m.rel.Joints[t.joint]
	turn := m.turn(t)
	v := (oneTurn(w[1], z, w[0], 0).values[0] - j.Offset) / j.Gain[t.axis]
	return t.axis, settle(v-turn*math.Round(v/turn), turn), true
}

// Side tells the two solutions for a direction apart: 1 where the tilt stands above its
// pivot, by less than half a turn, -1 where it stands below, 0 at the pivot, half a turn
// from it, and where there is no pivot. Positions on one side are joined by positions on that
// side; between the sides the tool's axis passes through the plane of both rotary axes.
func (m *Machine) Side(p motion.Params) int {
	axis, pivot, ok := m.Pivot(p)
	if !ok {
		return 0
	}
	off := (p[axis] - pivot) / m.turn(m.rotary[1])
	switch s := math.Sin(2 * math.Pi * (off - math.Round(off))); {
	case s > Presented:
		return 1
	case s < -Presented:
		return -1
	}
	return 0
}

// ContourFrom is Contour, but at the first point at which no axis is free, and which has a
// solution on the given side, 1 or -1, it begins there. Which way it goes on is as with Contour.
func (m *Machine) ContourFrom(side int, tips, axes []r3.Vector, tipControl bool, length float64, start motion.Params) (*Path, error) {
	return m.contour(side, tips, axes, tipControl, length, start)
}

// on keeps those solutions that are on a side, or all if none is.
func (m *Machine) on(side int, solutions []Solution) []Solution {
	kept := slices.DeleteFunc(slices.Clone(solutions), func(s Solution) bool { return m.Side(s.Position) != side })
	if side == 0 || len(kept) == 0 {
		return solutions
	}
	return kept
}

// Moves reports whether an axis has any part in where the tool is as seen from the part.
func (m *Machine) Moves(axis int) bool { return m.rel.Uses()[axis] }
