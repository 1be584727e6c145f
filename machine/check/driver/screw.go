package driver

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/screws"

	"github.com/golang/geo/r3"
)

// screw is a fastener of a placed component.
type screw struct {
	*machine.Fastener
	of   string       // the component
	base motion.Chain // of the component's own frame
	// size has its thread and a head of ISO 4762; known is false where no table has
	// the thread.
	size   screws.Size
	known  bool
	height float64 // of the head, mm; 0: not known
	wide   float64 // of the head, at its widest, mm; 0: not known
	key    float64 // width across flats; 0: not known
	doubt  string  // why it could not be looked at, with %s for the screw; "": it was
	best   *approach
	// solid is the head, its underside at 0; nil where its place is not known. headed is
	// what is wrong with where it is.
	solid  *machine.Solid
	headed []headFinding
}

// screwsOf lists the screws of the setup in the order of loading. One that may be left
// out is, where nothing is under it.
func screwsOf(s *machine.Setup) (list []*screw) {
	for _, unit := range s.Loading.Order {
		i := slices.IndexFunc(s.Seats, func(seat machine.Seat) bool { return seat.Unit == unit })
		for k := range s.Seats[i].Fasteners {
			f := &s.Seats[i].Fasteners[k]
			if f.Optional && f.Under == nil {
				continue
			}
			w := &screw{Fastener: f, of: unit, base: baseOf(s, unit)}
			size, err := screws.Find(f.Thread)
			if w.size, w.known = size, err == nil; w.known {
				w.wide, w.height, w.key = size.Head.Knurled, size.Head.Height, size.Head.Key
			}
			if f.Head != nil { // whatever turns it
				w.wide, w.height, w.key = f.Head[0], f.Head[1], 0
			}
			list = append(list, w)
		}
	}
	return list
}

// baseOf returns the chain of a component's frame: that of its solid with the fewest
// joints, since its own axes come after those that it stands on.
func baseOf(s *machine.Setup, unit string) (base motion.Chain) {
	found := false
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if b.Unit == unit && (!found || len(b.Chain.Joints) < len(base.Joints)) {
			base, found = b.Chain, true
		}
	}
	return base
}

// words names a screw.
func (w *screw) words() string { return fmt.Sprintf("screw %s (%s) of %s", w.Name, w.Thread, w.of) }

// unknown says what is missing to know where the head is, with %s for the screw; "" if
// nothing is.
func (w *screw) unknown() string {
	switch {
	case w.height == 0:
		return "the head of %s is not known: no table has the thread, and the file states no head"
	case w.Clamped == 0:
		return "where the head of %s is, is not known: the file does not state what is clamped"
	}
	return ""
}

// bodyOf returns a driver as a body on its way to the screw: parameter 0 goes from 0, on
// the head, to 1, at the free height. The axes stand where the setup is loaded.
func (w *screw) bodyOf(d *machine.Driver, s *machine.Setup) *machine.Body {
	out := w.Toward.Mul(-1)
	top := w.At.Add(out.Mul(w.Clamped + w.height))
	x := out.Ortho()
	chain := w.base.Along(s.Loading.At, motion.Params{})
	chain.Joints = append(chain.Joints, motion.Joint{
		Name: "driver", Kind: motion.Linear, Axis: out, Gain: motion.Params{d.Free},
	})
	chain.Home = geom.Pose{R: upright(x, out), T: top}
	return &machine.Body{Name: d.Name, Unit: d.Name, Solid: d.Solid, Chain: chain}
}

// upright is the rotation that has X and Z along two directions square to each other.
func upright(x, z r3.Vector) [3][3]float64 {
	y := z.Cross(x)
	return [3][3]float64{{x.X, y.X, z.X}, {x.Y, y.Y, z.Y}, {x.Z, y.Z, z.Z}}
}
