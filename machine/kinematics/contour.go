package kinematics

import (
	"errors"
	"fmt"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Path is how the axes go along a contour.
type Path struct {
	// Positions is where the axes stand at each point, rotary axes unwound: from
	// point to point each rotary axis goes evenly from one value to the next.
	Positions []motion.Params
	// Deviation bounds, for each interval between two points, how far each linear
	// axis can be from the straight line between its two positions, in mm. It is 0
	// without tip control, when all axes go evenly, and infinite where nothing could be proven.
	Deviation []motion.Params
	// Legs are the intervals again, in order, cut so small that the axes hardly leave
	// the straight lines between the ends of each.
	Legs []Leg
	// Tip bounds, for each interval, how far the tip can be from the straight
	// line between the two points, in mm. It is 0 with tip control.
	Tip []float64
	// Singular lists the points at which a rotary axis may stand anywhere. It stands
	// there as it does at the point before; at the beginning of the path, as at the
	// first point at which it may not.
	Singular []int
	// Miss is the angle in rad, for each point, by which the tool's axis is off.
	Miss []float64
	// Within says whether every rotary axis that is used stays within its travel.
	// If not, no choice of branch and whole turns keeps it there without
	// turning the tool away from the part in between.
	Within bool
	// Jumps lists the intervals (by the point they begin at) in which the tool turns
	// away farther than the two directions at its ends are apart, because there is
	// no other way: close to a singular position, or directions far apart.
	Jumps []int
}

// Leg is a piece of a path: every axis is as far from the straight line between its two
// positions as Within says, at the most; mm, and 0 for rotary axes.
type Leg struct {
	From, To, Within motion.Params
	Interval         int // by the point that it begins at
}

// Contour returns how the axes go along a polyline of tips with a direction of the
// tool for each, unit vectors, all in the part's frame. The length is from the gauge
// line to the foremost point, start is where the axes stand before.
//
// Of all choices of branch and whole turns that are continuous it is one within the
// travel of the rotary axes, if there is one; of these the one in which they turn
// least (sum of squares, a change of branch counting as a quarter turn); of these the nearest to start. Travel of linear axes is not looked at.
//
// With tip control the control leads the tip evenly along the straight line
// between two points while each rotary axis turns evenly; without it, every axis goes evenly.
//
// It is an error if there are no points, not as many axes as tips, a zero axis,
// or if the linear axes do not span space at some point.
func (m *Machine) Contour(tips, axes []r3.Vector, tipControl bool, length float64, start motion.Params) (*Path, error) {
	return m.contour(0, tips, axes, tipControl, length, start)
}

// contour begins on a side, or on either if it is 0.
func (m *Machine) contour(side int, tips, axes []r3.Vector, tipControl bool, length float64, start motion.Params) (*Path, error) {
	if len(tips) == 0 {
		return nil, errors.New("a contour without points")
	}
	if len(axes) != len(tips) {
		return nil, fmt.Errorf("%d axes for %d points: one each expected", len(axes), len(tips))
	}
	solutions := make([][]Solution, len(axes))
	path := &Path{}
	for i, a := range axes {
		if a == (r3.Vector{}) {
			return nil, fmt.Errorf("point %d: a zero axis", i+1)
		}
		solutions[i] = m.Present(a.Normalize(), start)
		path.Miss = append(path.Miss, solutions[i][0].Miss)
		if solutions[i][0].Free >= 0 {
			path.Singular = append(path.Singular, i)
		}
	}
	path.Positions = m.follow(solutions, side, start)
	path.Within = !slices.ContainsFunc(path.Positions, func(p motion.Params) bool { return !m.withinTravel(p) })
	for i := range path.Positions {
		var err error
		if path.Positions[i], err = m.Linear(path.Positions[i], tips[i], length); err != nil {
			return nil, fmt.Errorf("point %d: %w", i+1, err)
		}
		if i > 0 && !m.steady(path.Positions[i-1], path.Positions[i]) {
			path.Jumps = append(path.Jumps, i-1)
		}
	}
	m.bound(path, tips, tipControl, length)
	return path, nil
}

// bound fills in how far axes or tip leave their lines.
func (m *Machine) bound(path *Path, tips []r3.Vector, tipControl bool, length float64) {
	n := len(tips) - 1
	path.Deviation, path.Tip = make([]motion.Params, n), make([]float64, n)
	for i := range n {
		s := stretch{m: m, from: path.Positions[i], to: path.Positions[i+1], tipFrom: tips[i], tipTo: tips[i+1], length: length}
		if !tipControl {
			path.Tip[i] = s.tipDeviation()
			path.Legs = append(path.Legs, Leg{From: s.from, To: s.to, Interval: i})
			continue
		}
		path.Deviation[i] = s.deviation()
		for _, piece := range s.parted(path.Deviation[i]) {
			path.Legs = append(path.Legs, Leg{From: piece.from, To: piece.to, Within: piece.deviation(), Interval: i})
		}
	}
}

// withinTravel reports whether the rotary axes that are used are within travel.
func (m *Machine) withinTravel(p motion.Params) bool {
	for _, t := range m.rotary {
		if a := &m.axes[t.axis]; p[t.axis] < a.Lo-Presented || p[t.axis] > a.Hi+Presented {
			return false
		}
	}
	return true
}

// steady reports whether the tool goes from one position to the other without turning
// far away: half way, it is no farther from either end than twice what the ends
// are apart. Where a rotary axis turns by half a turn while the tool passes the
// singular position near by, it is.
func (m *Machine) steady(a, b motion.Params) bool {
	var mid motion.Params
	for k := range mid {
		mid[k] = (a[k] + b[k]) / 2
	}
	_, from := m.Forward(a, 0)
	_, to := m.Forward(b, 0)
	_, half := m.Forward(mid, 0)
	return max(angle(from, half), angle(half, to)) <= 2*angle(from, to)+1e-6
}
