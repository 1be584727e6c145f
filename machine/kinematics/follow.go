package kinematics

import (
	"math"
	"slices"

	"gridswing/geom/motion"
)

// step is one way to stand at a point of a path: the cheapest way to get there
// has the given cost and comes from step number from of the point before.
type step struct {
	at   motion.Params
	cost float64
	from int
	side int // as in Solution
}

// What a path must keep to, strictest first.
type rule int

const (
	keepTravel rule = iota // steady, and rotary axes within their travel
	keepSteady             // steady
	keepAny
	rules
)

// nearStart weighs how far from the start a path begins against how much the axes turn
// along it: it only decides between paths that are alike.
const nearStart = 1e-6

// otherSide is what it costs to change from the one solution to the other in an interval: that of a
// quarter turn. It is worth it past a singular position, where a rotary axis would
// have to turn by half a turn otherwise, and not in order to save a few degrees.
const otherSide = math.Pi / 2 * math.Pi / 2

// follow chooses a solution and whole turns for each point: the cheapest chain of
// steps (R. Bellman, "Dynamic Programming", 1957), by the strictest rule that
// allows one. It begins on a side, or on either if that is 0.
func (m *Machine) follow(solutions [][]Solution, side int, start motion.Params) []motion.Params {
	first := 0 // the first point at which no axis is free
	for first < len(solutions)-1 && solutions[first][0].Free >= 0 {
		first++
	}
	if solutions[first][0].Free >= 0 {
		first = 0 // none: the free axis stays where it is
	}
	solutions = slices.Clone(solutions)
	solutions[first] = m.on(side, solutions[first])
	var path []motion.Params
	for r := keepTravel; r < rules && path == nil; r++ {
		path = m.chain(solutions[first:], start, r)
	}
	for i := first - 1; i >= 0; i-- {
		path = append([]motion.Params{m.unwound(solutions[i][0], path[0])[0]}, path...)
	}
	return path
}

// chain returns the cheapest path that keeps to the rule, nil if there is none.
func (m *Machine) chain(solutions [][]Solution, start motion.Params, r rule) []motion.Params {
	layers := [][]step{m.begin(solutions[0], start, r)}
	for _, s := range solutions[1:] {
		layers = append(layers, m.advance(layers[len(layers)-1], s, r))
	}
	best := -1
	last := layers[len(layers)-1]
	for i := range last {
		if best < 0 || cheaper(last[i].cost, last[best].cost) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	path := make([]motion.Params, len(layers))
	for i := len(layers) - 1; i >= 0; i-- {
		path[i] = layers[i][best].at
		best = layers[i][best].from
	}
	return path
}

// cheaper leaves the earlier of two that differ by rounding only.
func cheaper(a, b float64) bool { return a < b-1e-12*(1+b) }

// begin returns the ways to stand at the first point.
func (m *Machine) begin(solutions []Solution, start motion.Params, r rule) (list []step) {
	for _, s := range solutions {
		positions := m.Turns(s, start)
		if r != keepTravel {
			positions = append(m.unwound(s, start), positions...)
		}
		for _, p := range positions {
			list = m.add(list, step{at: p, cost: nearStart * m.effort(start, p), from: -1, side: s.side})
		}
	}
	return list
}

// advance returns the ways to stand at the next point.
func (m *Machine) advance(before []step, solutions []Solution, r rule) (list []step) {
	for i := range before {
		for _, s := range solutions {
			for _, p := range m.unwound(s, before[i].at) {
				if r == keepTravel && !m.withinTravel(p) || r != keepAny && !m.steady(before[i].at, p) {
					continue
				}
				cost := before[i].cost + m.effort(before[i].at, p)
				if before[i].side*s.side < 0 {
					cost += otherSide
				}
				list = m.add(list, step{at: p, cost: cost, from: i, side: s.side})
			}
		}
	}
	return list
}

// add adds a step, or puts it in the place of one at the same position that
// costs more.
func (m *Machine) add(list []step, s step) []step {
	for i := range list {
		if m.effort(list[i].at, s.at) < 1e-12 {
			if cheaper(s.cost, list[i].cost) {
				list[i] = s
			}
			return list
		}
	}
	return append(list, s)
}

// effort is the sum of the squares of what the rotary axes turn.
func (m *Machine) effort(a, b motion.Params) (sum float64) {
	for _, t := range m.rotary {
		d := b[t.axis] - a[t.axis]
		sum += d * d
	}
	return sum
}

// unwound returns the solution with the whole turns that bring each rotary axis
// nearest to where it stood: one position, or several where an axis turns by half a turn
// and may do so either way. A free axis stays.
func (m *Machine) unwound(s Solution, before motion.Params) []motion.Params {
	const half = 1e-6
	list := []motion.Params{s.Position}
	for _, t := range m.rotary {
		k, turn := t.axis, m.turn(t)
		v := before[k]
		other := math.NaN()
		if k != s.Free {
			way := (s.Position[k] - before[k]) / turn
			v = s.Position[k] - turn*math.Round(way)
			switch d := (v - before[k]) / turn; {
			case d > 0.5-half:
				other = v - turn
			case d < half-0.5:
				other = v + turn
			}
		}
		for i := range list {
			list[i][k] = v
			if !math.IsNaN(other) {
				p := list[i]
				p[k] = other
				list = append(list, p)
			}
		}
	}
	return list
}
