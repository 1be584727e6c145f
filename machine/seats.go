package machine

import (
	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// addSeats lists where each component stands: the frame on what is under it, so
// that one can say what moving it by a hole, or raising it, would do.
func (b *builder) addSeats() {
	for i := range b.file.Places {
		t := &b.file.Places[i]
		under := b.support(t)
		seat := Seat{Unit: t.Name, On: under.on.unit}
		f := under.frame()
		g := under.grid
		origin := b.done[t.Name].base.home.T
		normal := b.awayFrom(under)
		if t.Pins != nil {
			g = b.gridOf(t, under)
			f = under.on.carrierFrame(g.solid).at(g.pose())
			normal = f.home.Dir(r3.Vector{Z: 1})
			origin = b.between(g, t.Pins, under.on)
		}
		if g != nil {
			seat.Pitch = g.pitch
		}
		along := f.home.Dir(r3.Vector{X: 1})
		if along.Cross(normal).Norm() < parallelTo {
			along = f.home.Dir(r3.Vector{Y: 1})
		}
		seat.Chain = motion.Chain{Joints: f.joints, Home: geom.Pose{R: triad(along, normal), T: origin}}
		b.setup.Seats = append(b.setup.Seats, seat)
	}
}

// between returns the middle of two holes in the bed frame.
func (b *builder) between(g *grid, pins []string, on *placed) r3.Vector {
	f := on.carrierFrame(g.solid)
	first, _ := g.hole(pins[0]) // both are there: the component stands on them
	second, _ := g.hole(pins[1])
	return f.home.Point(first.Add(second).Mul(0.5))
}
