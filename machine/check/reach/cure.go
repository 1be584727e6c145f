package reach

import (
	"fmt"
	"math"

	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

const (
	worthwhile = 0.5 // mm that an axis must give for 1 mm of a cure
	mostCure   = 400 // mm beyond which nobody would do it
)

// cures says what would bring an axis as far into its travel as is demanded, at
// this rotary position: a tool of another length, something standing higher,
// lower, or so many holes to the side.
func (c *checker) cures(st *stop, cand *candidate, axis int, t *check.Travel) (list []string) {
	need := t.Demand - t.Margin // mm that the axis must come back
	if t.Limit == c.setup.Axes[axis].Travel[1] {
		need = -need
	}
	at := cand.way.deep
	if i := c.keyOf(cand, t); i >= 0 {
		at = cand.way.keys[i].at
	}
	part := &c.setup.Parts[st.op.Part]
	solver := c.solvers[st.op.Part]
	gives := func(shift r3.Vector) float64 { return solver.Sensitivity(at, shift)[axis] }

	spindle := c.setup.Spindle.Chain.Pose(at)
	if g := gives(spindle.Dir(r3.Vector{Z: 1})); math.Abs(g) >= worthwhile {
		if mm := need / g; math.Abs(mm) <= mostCure {
			list = append(list, "a tool "+choose(mm > 0, "longer", "shorter")+" by "+millimetres(math.Abs(mm)))
		}
	}
	for _, seat := range c.stack(part.Unit) {
		frame := seat.Chain.Pose(at)
		if g := gives(frame.Dir(r3.Vector{Z: 1})); math.Abs(g) >= worthwhile {
			if mm := need / g; math.Abs(mm) <= mostCure {
				list = append(list, fmt.Sprintf("%s standing %s by %s", seat.Unit, choose(mm > 0, "higher", "lower"), millimetres(math.Abs(mm))))
			}
		}
		for k, name := range []string{"columns", "rows"} {
			way := r3.Vector{X: float64(1 - k), Y: float64(k)}
			g, pitch := gives(frame.Dir(way)), seat.Pitch[k]
			if pitch <= 0 || math.Abs(g) < worthwhile {
				continue
			}
			if n := math.Ceil(math.Abs(need/g)/pitch - 1e-9); n*pitch <= mostCure {
				list = append(list, fmt.Sprintf("%s seated %s (%s) towards the %s %s of %s", seat.Unit, holes(n), millimetres(n*pitch),
					choose(need/g > 0, "higher", "lower"), name, seat.On))
			}
		}
	}
	return list
}

// keyOf finds the position that a travel is told of.
func (c *checker) keyOf(cand *candidate, t *check.Travel) int {
	for i := range cand.way.keys {
		for k := range c.setup.Axes {
			if c.setup.Axes[k].Letter == t.Axis && cand.way.keys[i].where == t.Where && cand.way.keys[i].at[k] == t.Position {
				return i
			}
		}
	}
	return -1
}

// stack lists the seats of a unit and of all that is under it, from the top.
func (c *checker) stack(unit string) (list []*machine.Seat) {
	for range c.setup.Seats {
		found := false
		for i := range c.setup.Seats {
			if s := &c.setup.Seats[i]; s.Unit == unit {
				list, unit, found = append(list, s), s.On, true
				break
			}
		}
		if !found {
			break
		}
	}
	return list
}

func holes(n float64) string {
	if n == 1 {
		return "1 hole"
	}
	return fmt.Sprintf("%.0f holes", n)
}

func choose(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// millimetres prints a length for somebody who is to change something by it.
func millimetres(mm float64) string { return fmt.Sprintf("%.1f mm", math.Ceil(mm*10-1e-6)/10) }
