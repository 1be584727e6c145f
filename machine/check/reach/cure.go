package reach

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/geom"
	"gridswing/geom/motion"
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
			if mm := need / g; mm > 0 && mm <= mostCure || mm < 0 && -mm <= c.thickness(seat.On) {
				list = append(list, fmt.Sprintf("%s standing %s by %s", seat.Unit, choose(mm > 0, "higher", "lower"), millimetres(math.Abs(mm))))
			}
		}
		for k, name := range []string{"columns", "rows"} {
			way := r3.Vector{X: float64(1 - k), Y: float64(k)}
			g, pitch := gives(frame.Dir(way)), seat.Pitch[k]
			if pitch <= 0 || math.Abs(g) < worthwhile {
				continue
			}
			n := math.Ceil(math.Abs(need/g)/pitch - 1e-9)
			if n*pitch <= mostCure && onGrid(seat, k, int(math.Copysign(n, need/g))) {
				list = append(list, fmt.Sprintf("%s seated %s (%s) towards the %s %s of %s", seat.Unit, holes(n), millimetres(n*pitch),
					choose(need/g > 0, "higher", "lower"), name, seat.On))
			}
		}
	}
	return list
}

// thickness is how much lower something could stand if what is under it were made
// thinner, or left out: the height of a component that brings no axes, in mm.
func (c *checker) thickness(unit string) float64 {
	if slices.ContainsFunc(c.setup.Axes, func(a machine.Axis) bool { return a.Unit == unit }) {
		return 0
	}
	i := slices.IndexFunc(c.setup.Seats, func(s machine.Seat) bool { return s.Unit == unit })
	if i < 0 {
		return 0 // the machine's own
	}
	frame := c.setup.Seats[i].Chain.Pose(motion.Params{})
	back := frame.Inverse()
	box := geom.EmptyBox()
	for k := range c.setup.Bodies {
		b := &c.setup.Bodies[k]
		if b.Unit != unit {
			continue
		}
		rel := back.Mul(b.Chain.Pose(motion.Params{}))
		for _, f := range b.Solid.Mesh.Facets {
			for _, v := range f {
				box = box.Include(rel.Point(v.Vector()))
			}
		}
	}
	if box.Empty() {
		return 0
	}
	return box.Size().Z
}

// onGrid reports whether the holes of a seat would still be there if it were seated
// so many columns (along = 0) or rows on.
func onGrid(seat *machine.Seat, along, by int) bool {
	for i := range seat.Locators {
		column, row := holeAt(seat.Locators[i].Hole)
		at := [2]int{column, row}[along] + by
		if column == 0 || at < 1 || at > seat.Holes[along] {
			return false
		}
	}
	return len(seat.Locators) > 0
}

// holeAt is the column and the row of a hole, from 1, by its label: letters, as
// of a spreadsheet, and a number; 0 of anything else.
func holeAt(label string) (column, row int) {
	letters := strings.TrimRight(label, "0123456789")
	row, err := strconv.Atoi(label[len(letters):])
	if err != nil || letters == "" {
		return 0, 0
	}
	for _, l := range letters {
		if l < 'A' || l > 'Z' {
			return 0, 0
		}
		column = 26*column + int(l-'A') + 1
	}
	return column, row
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
