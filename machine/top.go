package machine

// top returns the grid on which a component carries others: of those on faces that look the
// way its seat's normal does, on solids that do not move, the one farthest from the seat;
// of several at one height the first in the file. Nil if it has none, or no seat in holes.
func (a *assembly) top() (best *grid) {
	if a.seat == nil || a.seat.by == Keys {
		return nil
	}
	for _, g := range a.grids {
		if g.solid < 0 || a.parts[g.solid].carriedBy >= 0 || g.normal().Sub(a.seat.normal).Norm() > parallelTo {
			continue
		}
		if best == nil || a.height(g) > a.height(best)+samePlace {
			best = g
		}
	}
	return best
}

// samePlace is how far two places may differ, in mm, and be one: rounding.
const samePlace = 1e-6

// height is how far a grid's face is above the plane of the seat, mm.
func (a *assembly) height(g *grid) float64 {
	return g.origin.Sub(a.seat.pins[0]).Dot(a.seat.normal)
}

// noTop says why a component cannot be one of a stack; "" if it can.
func (a *assembly) noTop() string {
	for _, x := range a.axes {
		switch {
		case x.setting:
			return "it has a setting axis, " + x.id + ", whose position nothing states"
		default:
			return "it has an axis of its own, " + x.id
		}
	}
	switch {
	case a.seat == nil:
		return "it has no seat"
	case a.seat.by == Keys:
		return "it has tenon keys, which stand in a slot and in no hole"
	case len(a.grids) == 0:
		return "it has no grid"
	case a.top() == nil:
		return "it has no grid that looks away from its seat"
	}
	return ""
}
