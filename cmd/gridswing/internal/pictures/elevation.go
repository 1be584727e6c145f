package pictures

import (
	"fmt"
	"math"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/render"
	"gridswing/render/drafting"

	"github.com/golang/geo/r3"
)

// stacker makes the drawing of a stack from one side, every axis at zero.
type stacker struct {
	setup *machine.Setup
	e     *drafting.Elevation
}

// elevationOf returns the stack as it is seen from a side, with the heights that a setup man can measure.
// Highest, if it is known, is the most that the load comes up to while it swings.
func (sc *Scene) elevationOf(view render.View, l text.Lengths, highest *float64) *drafting.Elevation {
	k := &stacker{setup: sc.setup, e: &drafting.Elevation{Lengths: lengthsOf(l), Workers: 1}}
	k.e.Right, k.e.Up, k.e.Toward = view.Axes(sc.setup.Up)
	for _, a := range machineAxes {
		k.e.Axes = append(k.e.Axes, drafting.Axis{Name: a.name, Along: drafting.Point{X: k.e.Right.Dot(a.along), Y: k.e.Up.Dot(a.along)}})
	}
	for i := range sc.setup.Bodies {
		if b := &sc.setup.Bodies[i]; onTable(b) && sc.shapes[b.Solid] != nil {
			k.e.Solids = append(k.e.Solids, drafting.Solid{Shape: sc.shapes[b.Solid], Pose: b.Chain.Home, Group: sc.groups[b.Unit], Ground: b.Unit == "machine"})
		}
	}
	k.datum()
	k.seats()
	k.axes()
	k.tops()
	if highest != nil {
		step := 1.0 // mm
		if l.Unit == geom.Inch {
			step = 0.05 * float64(l.Unit)
		}
		k.level(k.e.Datum+step*math.Ceil((*highest-k.e.Datum)/step), "highest over the swing, at most", k.box("").high.X, false)
	}
	return k.e
}

// machineAxes are the directions of the bed frame.
var machineAxes = []struct {
	name  string
	along r3.Vector
}{{"X", r3.Vector{X: 1}}, {"Y", r3.Vector{Y: 1}}, {"Z", r3.Vector{Z: 1}}}

// viewBox is a box in the view: X along Right, Y along Up, mm.
type viewBox struct{ low, high drafting.Point }

// box is that of a unit's bodies, with "" of all that is drawn.
func (k *stacker) box(unit string) viewBox {
	inf := math.Inf(1)
	b := viewBox{drafting.Point{X: inf, Y: inf}, drafting.Point{X: -inf, Y: -inf}}
	for i := range k.setup.Bodies {
		if q := &k.setup.Bodies[i]; q.Unit == unit || unit == "" && onTable(q) {
			b.take(k.of(q.Solid, q.Chain.Home))
		}
	}
	return b
}

func (b *viewBox) take(o viewBox) {
	b.low.X, b.low.Y = min(b.low.X, o.low.X), min(b.low.Y, o.low.Y)
	b.high.X, b.high.Y = max(b.high.X, o.high.X), max(b.high.Y, o.high.Y)
}

// of is the box of a solid in the view, corner by corner.
func (k *stacker) of(s *machine.Solid, pose geom.Pose) viewBox {
	inf := math.Inf(1)
	b := viewBox{drafting.Point{X: inf, Y: inf}, drafting.Point{X: -inf, Y: -inf}}
	for _, f := range s.Mesh.Facets {
		for _, v := range f {
			p := pose.Point(v.Vector())
			q := drafting.Point{X: k.e.Right.Dot(p), Y: k.e.Up.Dot(p)}
			b.take(viewBox{q, q})
		}
	}
	return b
}

// level adds a height, once under each name.
func (k *stacker) level(height float64, words string, from float64, axis bool) {
	for _, l := range k.e.Levels {
		if l.Words == words && math.Abs(l.Height-height) < sameHeight {
			return
		}
	}
	k.e.Levels = append(k.e.Levels, drafting.Level{Height: height, Words: words, From: from, Axis: axis})
}

// sameHeight is the difference, in mm, below which heights are one.
const sameHeight = 5e-4

// isLevel reports whether a seat lies level, so that it has a height.
func (k *stacker) isLevel(s *machine.Seat) bool {
	return math.Abs(s.Chain.Home.Dir(r3.Vector{Z: 1}).Dot(k.e.Up)) > 1-1e-6
}

func (k *stacker) seatHeight(s *machine.Seat) float64 { return k.e.Up.Dot(s.Chain.Home.T) }

// datum takes the lowest face of the machine that something stands on as zero; without any the lowest point.
func (k *stacker) datum() {
	at, seated := k.lowestSeat()
	if k.e.Datum = at; !seated {
		k.e.Datum = k.box("").low.Y
		k.level(k.e.Datum, "lowest point", k.box("").high.X, false)
	}
}

// lowestSeat is the height of the lowest level face of the machine that something stands on.
func (k *stacker) lowestSeat() (at float64, seated bool) {
	for i := range k.setup.Seats {
		s := &k.setup.Seats[i]
		if h := k.seatHeight(s); s.On == "machine" && k.isLevel(s) && (!seated || h < at) {
			at, seated = h, true
		}
	}
	return at, seated
}

// seats adds the plane in which each component stands, and how far the next one stands above it.
func (k *stacker) seats() {
	for i := range k.setup.Seats {
		s := &k.setup.Seats[i]
		if !k.isLevel(s) {
			continue
		}
		on := s.On
		if s.Under >= 0 {
			on = strings.TrimPrefix(k.setup.Bodies[s.Under].Name, "machine/")
		}
		k.level(k.seatHeight(s), s.Unit+" on "+on, k.box(s.Unit).high.X, false)
		for j := range k.setup.Seats {
			if t := &k.setup.Seats[j]; t.On == s.Unit && k.isLevel(t) {
				k.step(k.seatHeight(s), k.seatHeight(t), s.Unit)
			}
		}
	}
}

// step adds how high something is, once.
func (k *stacker) step(from, to float64, words string) {
	for _, s := range k.e.Steps {
		if s.Words == words && math.Abs(s.From-from)+math.Abs(s.To-to) < sameHeight {
			return
		}
	}
	if to > from {
		k.e.Steps = append(k.e.Steps, drafting.Step{From: from, To: to, Words: words})
	}
}

// axes adds the height of every rotary axis that lies level.
func (k *stacker) axes() {
	for i := range k.setup.Axes {
		a := &k.setup.Axes[i]
		if a.Kind == motion.Rotary && !a.OnTool && math.Abs(a.Direction.Dot(k.e.Up)) < 1e-6 {
			k.level(k.e.Up.Dot(a.Centre), "axis "+a.Letter, 0, true)
		}
	}
}

// tops adds the upper ends of what nothing stands on, of finished parts, and where parts have their zero.
func (k *stacker) tops() {
	carries := map[string]bool{}
	for i := range k.setup.Seats {
		carries[k.setup.Seats[i].On] = true
	}
	for i := range k.setup.Seats {
		s := &k.setup.Seats[i]
		if b := k.box(s.Unit); !carries[s.Unit] && b.high.Y > b.low.Y {
			k.level(b.high.Y, "top of "+s.Unit, b.high.X, false)
			if k.isLevel(s) {
				k.step(k.seatHeight(s), b.high.Y, s.Unit)
			}
		}
	}
	for i := range k.setup.Parts {
		p := &k.setup.Parts[i]
		right := k.box(p.Unit).high.X
		words := "zero of " + p.Name
		if p.Offset != "" {
			words += fmt.Sprintf(" (%s)", p.Offset)
		}
		k.level(k.e.Up.Dot(p.Chain.Home.T), words, right, false)
		if p.Finished != nil {
			k.level(k.of(p.Finished, p.Chain.Home).high.Y, "top of "+p.Name+", finished", right, false)
		}
	}
}
