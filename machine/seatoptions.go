package machine

import (
	"math"
	"slices"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// SeatOption is a pair of holes in which a component could stand.
type SeatOption struct {
	Pins [2]string // the holes of its first and its second locator
	// Turned is how far it would be turned against now, in radians, more than -pi and at
	// most pi: counter-clockwise as one looks at the face with the holes.
	Turned float64
	// Middle is where the middle of its two locators would be, bed frame with every axis at
	// zero, nothing measured or probed.
	Middle r3.Vector
	Moved  float64 // of that middle against now, mm
	Now    bool    // it stands there
}

// Seats lists every pair of holes, of the grid that a component stands in, in which its two
// locators fit, in the order of the holes: row by row (of rings: number by number, a centre
// bore last), the first locator first. Which of the two holes is the first locator's says
// which way round it stands. That it fits says nothing of what it meets there, and With
// may refuse it for what stands on it.
//
// It is an error if the place does not stand in holes, or if there are more than 100,000.
func (d *Draft) Seats(place string) ([]SeatOption, error) {
	if _, err := d.read.pinned(place); err != nil {
		return nil, err
	}
	t := d.built.tables[place]
	tr := d.trial(t)
	pairs, err := tr.pairs()
	if err != nil {
		return nil, err
	}
	now := tr.in([2]string(t.Pins))
	list := make([]SeatOption, len(pairs))
	for i, o := range pairs {
		there := tr.frame.Mul(o.pose)
		list[i] = SeatOption{
			Pins: o.pins, Now: slices.Equal(o.pins[:], t.Pins),
			Middle: there.Point(tr.middle()),
			Moved:  o.pose.Point(tr.middle()).Sub(now.pose.Point(tr.middle())).Norm(),
			Turned: turned(now.pose.Dir(tr.along()), o.pose.Dir(tr.along()), tr.grid.normal()),
		}
	}
	return list, nil
}

// trial is a component that is tried out in the holes of a grid. What does not fit is noted
// in a setup of its own.
type trial struct {
	build *builder
	table placeTable
	comp  *placed
	under *placed
	grid  *grid
	frame geom.Pose // of what the grid is in, in the bed frame
}

// seated is a component that goes into two holes, and its pose in the frame of what the
// grid is in.
type seated struct {
	pins [2]string
	pose geom.Pose
}

// trial tries out a component of the setup in the grid in which it stands.
func (d *Draft) trial(t *placeTable) *trial {
	u := d.built.support(t) // no faults: they would have been found when the setup was built
	g := d.built.gridOf(t, u)
	tr := d.trialOf(t, d.built.done[t.Name], u.on, g)
	f := u.on.carrierFrame(g.solid)
	tr.frame = f.home
	return tr
}

// trialOf tries out any component in any grid; what counts of the place is its temperature.
func (d *Draft) trialOf(t *placeTable, comp, under *placed, g *grid) *trial {
	tr := &trial{build: d.again(), table: *t, comp: comp, under: under, grid: g}
	tr.build.tables = d.built.tables
	return tr
}

// in returns the component in two holes; nil if it does not go in.
func (tr *trial) in(pins [2]string) *seated {
	tr.table.Pins = pins[:]
	tr.build.src.list = nil
	l, ok := tr.build.onHoles(&tr.table, tr.comp, tr.grid, tr.under)
	if !ok || tr.build.src.any() {
		return nil
	}
	return &seated{pins, l.pose}
}

// middle and along are the middle of the locators and the way from the first to the
// second, in the component's frame.
func (tr *trial) middle() r3.Vector {
	return tr.comp.seat.pins[0].Add(tr.comp.seat.pins[1]).Mul(0.5)
}

func (tr *trial) along() r3.Vector { return tr.comp.seat.pins[1].Sub(tr.comp.seat.pins[0]) }

// pairs lists the pairs of holes that the component goes into.
func (tr *trial) pairs() ([]*seated, error) {
	names := tr.grid.allNames()
	near, err := tr.grid.apart(tr.comp.seat.distance(), tr.takes(names), mostSeats)
	if err != nil {
		return nil, refuse(tr.table.Name, "", err.Error(), "at most %d", mostSeats)
	}
	var list []*seated
	for _, pair := range near {
		if s := tr.in([2]string{names[pair[0]], names[pair[1]]}); s != nil {
			list = append(list, s)
		}
	}
	return list, nil
}

// takes is how far the distance of two holes can be off that of the locators, at most, mm.
// Holes of a grid have one bore, but for the centre of rings.
func (tr *trial) takes(names []string) (most float64) {
	if r := tr.grid.retractable; tr.comp.seat.by == SetPins && r != nil {
		names = r.at
	}
	kinds := []string{centreHole} // where there is none, it does not fit
	if i := slices.IndexFunc(names, func(name string) bool { return name != centreHole }); i >= 0 {
		kinds = append(kinds, names[i])
	}
	for _, first := range kinds {
		for _, second := range kinds {
			tr.table.Pins = []string{first, second}
			if l := tr.build.locatorsIn(&tr.table, tr.comp, tr.grid); l != nil {
				most = max(most, l.takes())
			}
		}
	}
	return most
}

// turned returns the angle from one direction to another about a normal, in radians, more
// than -pi and at most pi.
func turned(from, to, normal r3.Vector) float64 {
	a := math.Atan2(from.Cross(to).Dot(normal), from.Dot(to))
	if a <= -math.Pi+1e-12 {
		return math.Pi
	}
	return a
}
