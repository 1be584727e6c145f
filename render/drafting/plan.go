package drafting

import (
	"context"
	"fmt"
	"math"

	"gridswing/render/ink"
	"gridswing/render/measure"
)

// Plan is a face with holes or slots, seen by one who looks at it, and what stands on it. All
// places are in mm on the face: X along the columns' letters, Y along the rows' numbers.
type Plan struct {
	// Face is the lines of the face's edges, Body the outline of all of what it is part of.
	Face [][]Point
	Body []Point
	// Turn is by how many quarter turns, counter-clockwise, all of it is turned on the paper.
	Turn          int
	Holes         []Hole
	Slots         []Slot
	Columns, Rows []Label
	Pitch         Point // between columns, between rows
	Rings         []float64
	Locators      []Locator
	Screws        []Screw
	Stands        []Stand
	// Axes are directions to be shown, such as those of the machine; Operator is where who looks
	// at the machine stands, of unit length, or shorter where he looks at the face.
	Axes     []Axis
	Operator Point
	Lengths  measure.Lengths
}

// Hole is a hole.
type Hole struct {
	Name string
	At   Point
	Bore float64 // diameter for a locator, mm; 0: none
	// Thread is the nominal diameter of its thread, Through that of a clearance hole, mm; 0: none.
	Thread, Through float64
}

// Slot is a slot along X.
type Slot struct {
	Name  string
	Y     float64
	Width float64 // mm; 0: not known
}

// Mark is what stands in a hole, told by its shape.
type Mark uint8

// Marks of locators.
const (
	Round     Mark = iota // a pin or dowel: a full disc
	Relieved              // a pin that locates across the line of the two only: a diamond
	Set                   // a retractable pin that stands up and locates nothing: a disc in a ring
	Withdrawn             // one that is withdrawn: a ring with a bar
	Key                   // a tenon key: a square
	Stop                  // a stop: a triangle
)

// Locator is a place at which something is located, or could be.
type Locator struct {
	At       Point
	Mark     Mark
	Diameter float64 // mm; 0: not known
	Hole     string  // "": it is in none
	Words    string  // what it is, such as "pin 1"
}

// Screw is a screw that holds something.
type Screw struct {
	At       Point
	Diameter float64 // nominal, mm; 0: not known
	Hole     string  // "": it is over none
	Words    string  // such as "M12"
}

// Stand is what stands on the face.
type Stand struct {
	Name    string
	Outline [][]Point // of what touches the face
	Spots   []Spot    // what tells which way round it stands
}

// Spot is a named point.
type Spot struct {
	At    Point
	Words string
}

// Axis is a direction on the face; shorter than 1 where it leads out of it.
type Axis struct {
	Name  string
	Along Point
}

// DrawOn draws the plan over a whole surface, which should have the shape of its sheet. It
// fails if there is nothing to draw, a number is none, or the context is done.
func (p *Plan) DrawOn(ctx context.Context, s ink.Surface) error {
	if err := p.check(); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	d := newPlanSheet(p, s)
	d.stands()
	d.face()
	d.slots()
	d.holes()
	d.marks()
	d.edges()
	d.dimensions()
	d.words()
	d.foot()
	return nil
}

// check refuses what cannot be drawn.
func (p *Plan) check() error {
	if len(p.Holes)+len(p.Slots) == 0 {
		return fmt.Errorf("plan: neither holes nor slots")
	}
	values := []float64{p.Pitch.X, p.Pitch.Y, p.Operator.X, p.Operator.Y}
	add := func(points ...Point) {
		for _, q := range points {
			values = append(values, q.X, q.Y)
		}
	}
	add(p.Body...)
	for _, line := range p.Face {
		add(line...)
	}
	for _, h := range p.Holes {
		add(h.At)
		values = append(values, h.Bore, h.Thread, h.Through)
	}
	for _, s := range p.Slots {
		values = append(values, s.Y, s.Width)
	}
	for _, l := range append(append([]Label(nil), p.Columns...), p.Rows...) {
		values = append(values, l.At)
	}
	for _, l := range p.Locators {
		add(l.At)
		values = append(values, l.Diameter)
	}
	for _, s := range p.Screws {
		add(s.At)
		values = append(values, s.Diameter)
	}
	for _, s := range p.Stands {
		for _, line := range s.Outline {
			add(line...)
		}
		for _, q := range s.Spots {
			add(q.At)
		}
	}
	if !finite(values...) {
		return fmt.Errorf("plan: a length that is no number")
	}
	return nil
}

// box is the smallest and the largest of some points.
type box struct{ low, high Point }

func emptyBox() box {
	inf := math.Inf(1)
	return box{Point{inf, inf}, Point{-inf, -inf}}
}

func (b *box) take(points ...Point) {
	for _, p := range points {
		b.low.X, b.low.Y = min(b.low.X, p.X), min(b.low.Y, p.Y)
		b.high.X, b.high.Y = max(b.high.X, p.X), max(b.high.Y, p.Y)
	}
}

func (b *box) width() float64  { return b.high.X - b.low.X }
func (b *box) height() float64 { return b.high.Y - b.low.Y }
func (b *box) middle() Point   { return Point{(b.low.X + b.high.X) / 2, (b.low.Y + b.high.Y) / 2} }

// turned is a point or a direction as it lies on the paper, in mm.
func (p *Plan) turned(q Point) Point {
	for range ((p.Turn % 4) + 4) % 4 {
		q = Point{-q.Y, q.X}
	}
	return q
}

// extent is the box of all that is drawn, as it lies on the paper.
func (p *Plan) extent() box {
	b := emptyBox()
	take := func(points ...Point) {
		for _, q := range points {
			b.take(p.turned(q))
		}
	}
	take(p.Body...)
	for _, line := range p.Face {
		take(line...)
	}
	for _, s := range p.Stands {
		for _, line := range s.Outline {
			take(line...)
		}
	}
	for _, h := range p.Holes {
		r := h.radius()
		take(Point{h.At.X - r, h.At.Y - r}, Point{h.At.X + r, h.At.Y + r})
	}
	for _, l := range p.Locators {
		take(l.At)
	}
	for _, s := range p.Screws {
		take(s.At)
	}
	for _, s := range p.Slots {
		take(Point{0, s.Y - s.Width}, Point{0, s.Y + s.Width})
	}
	return b
}

// radius is that of the hole's mouth, mm.
func (h *Hole) radius() float64 { return max(h.Bore, h.Thread, h.Through) / 2 }
