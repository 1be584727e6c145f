package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// stroke is a move to coordinates in the system that is in force, straight or on an arc. It holds
// what it needs of its block, so that radius compensation can keep it until it knows what follows.
type stroke struct {
	kind  Kind // Rapid or Feed
	place Place
	text  string
	to    motion.Params
	// named are the axes that the block names. The others have their coordinates, too; where
	// a zero is carried elsewhere while they go they stay where they stand instead.
	named [motion.MaxParams]bool
	// relative is set where the block told how far, not where to.
	relative bool
	arc      *arc // nil: straight
	thread   bool
	led      bool // see Step.Led
	turning  int
	pace     pace
}

// stroke begins one of the block that is done, which goes nowhere yet.
func (in *interpreter) stroke(kind Kind) stroke {
	return stroke{
		kind: kind, place: in.cur.block.Place, text: cut(in.cur.block.Text), to: in.at,
		relative: in.modal[distanceG] == 910, led: in.h != 0 && (in.lifts || in.modal[distanceG] != 910),
		turning: in.spins(), pace: in.pace(),
	}
}

// rapid goes straight to coordinates at rapid rate; feed does at the feed of the block. Both are
// for what makes several moves of a block: cycles.
func (in *interpreter) rapid(to motion.Params) error { return in.straight(Rapid, to, false) }

func (in *interpreter) feedTo(to motion.Params) error { return in.straight(Feed, to, false) }

func (in *interpreter) straight(kind Kind, to motion.Params, thread bool) error {
	s := in.stroke(kind)
	s.to, s.thread, s.relative = to, thread, false
	for k := range s.named {
		s.named[k] = to[k] != in.at[k]
	}
	return in.move(&s)
}

// move is a stroke of the program.
func (in *interpreter) move(s *stroke) error {
	in.at = s.to
	if in.compensates() {
		return in.compensate(s)
	}
	return in.emit(s)
}

// emit makes a step of a stroke: from where the axes were led last to its coordinates. If they
// stand there already there is no step.
func (in *interpreter) emit(s *stroke) error {
	if s.kind == Feed {
		if err := in.fed(s); err != nil {
			return err
		}
	}
	goal, err := in.goal(s)
	if err != nil {
		return err
	}
	start := len(in.legs)
	end, err := in.lead(s, &goal.to)
	if err != nil {
		return err
	}
	legs := in.legs[start:len(in.legs):len(in.legs)]
	var others []Leg
	if goal.other >= 0 {
		way := goal.to
		way[goal.other] = goal.sense
		mid := len(in.legs)
		if _, err := in.lead(s, &way); err != nil {
			return err
		}
		others = in.legs[mid:len(in.legs):len(in.legs)]
	}
	if len(legs) > 0 {
		st := in.add(s.kind)
		st.Place, st.Block, st.Turning, st.Thread = s.place, s.text, s.turning, s.thread
		st.Legs, st.OtherWay, st.Led = legs, others, s.led
		st.Length = in.distance(s)
		st.Seconds = in.takes(s, st)
	}
	in.raised(&end, s.led)
	in.pos, in.led = end, s.to
	return in.settle(s)
}

// settle counts anew what hangs on where the rotary axes stand.
func (in *interpreter) settle(s *stroke) error {
	if in.control != carriedZero && in.control != turnedPlane {
		return nil
	}
	turned := false
	for k := range in.setup.Axes {
		turned = turned || in.axes.turns[k] && s.named[k]
	}
	if !turned {
		return nil
	}
	return in.recount()
}

// goal is where the axes go: the rotary ones, and with plain control and a carried zero all of them.
type goal struct {
	to motion.Params
	// other is an axis without ends of which it is not known which way round it goes, -1 if there
	// is none; sense is where it gets to the other way.
	other int
	sense float64
}

// goal finds where the axes of a stroke go.
func (in *interpreter) goal(s *stroke) (goal, error) {
	g := goal{to: in.pos, other: -1}
	for k := range in.setup.Axes {
		if !in.axes.turns[k] || !s.named[k] {
			continue
		}
		if err := in.turnTo(&g, k, in.origin[k]+s.to[k], s.to[k]-in.led[k], s.relative); err != nil {
			return g, err
		}
	}
	switch in.control {
	case plainControl:
		for k := range in.setup.Axes {
			if !in.axes.turns[k] && (s.named[k] || in.led[k] != s.to[k]) {
				g.to[k] = in.origin[k] + s.to[k]
			}
		}
	case carriedZero:
		return g, in.carry(s, &g)
	}
	return g, nil
}

// turnTo finds where a rotary axis goes that is told to go to a position, by so much as the
// program counts.
func (in *interpreter) turnTo(g *goal, k int, position, by float64, relative bool) error {
	if !in.axes.endless[k] {
		g.to[k] = position
		return nil
	}
	const turn = 2 * math.Pi
	const half = 1e-9 // rad, within which it is half a turn, or none
	switch {
	case relative:
		g.to[k] = in.pos[k] + by
		return nil
	case math.Abs(by) < half:
		return nil
	}
	near := position + turn*math.Round((in.pos[k]-position)/turn)
	off := near - in.pos[k]
	other := math.NaN()
	switch in.setup.Axes[k].RollOver {
	case machine.ByValue:
		near = in.pos[k] + by
	case machine.ShorterWay:
		if math.Abs(off) >= turn/2-half {
			other = near - math.Copysign(turn, off)
		}
	default:
		if math.Abs(by) > turn-half {
			return in.fault(nil, "a turn of "+in.setup.Axes[k].Letter+" by a whole turn or more", "roll_over of the axis in the machine file")
		}
		other = near - math.Copysign(turn, off)
	}
	g.to[k] = near
	if math.IsNaN(other) {
		return nil
	}
	if g.other >= 0 {
		return in.fault(nil, "two axes of which it is not known which way round they go", "roll_over of the axes in the machine file")
	}
	g.other, g.sense = k, other
	return nil
}

// lead adds the legs of a stroke, rotary axes going to where to has them, and returns where the
// axes end.
func (in *interpreter) lead(s *stroke, to *motion.Params) (motion.Params, error) {
	switch {
	case in.control == tipControl:
		return in.leadTip(s, to)
	case in.control == turnedPlane:
		return in.leadPlane(s, to)
	case s.arc != nil:
		return in.leadArc(s, to)
	}
	in.leg(s.kind, in.pos, *to, motion.Params{})
	return *to, nil
}

// leg adds a straight leg if anything moves on it. Rapid moves are boxes where the axes need not
// arrive together.
func (in *interpreter) leg(kind Kind, from, to, within motion.Params) {
	moving := 0
	for k := range in.setup.Axes {
		if from[k] != to[k] || within[k] > 0 {
			moving++
		}
	}
	if moving == 0 {
		return
	}
	box := kind == Rapid && moving > 1 && in.setup.Rapid != machine.Interpolated
	in.legs = append(in.legs, Leg{From: from, To: to, Within: within, Box: box})
}

// drive moves axes to positions of their own, whatever coordinates are in force: a step of its own,
// straight or, where it is not known which axis goes first, a box. Then coordinates are counted anew.
func (in *interpreter) drive(kind Kind, to motion.Params, box bool) error {
	g := goal{to: in.pos, other: -1}
	for k := range in.setup.Axes {
		switch {
		case to[k] == in.pos[k]:
		case in.axes.turns[k]:
			if err := in.turnTo(&g, k, to[k], to[k]-in.origin[k]-in.at[k], false); err != nil {
				return err
			}
		default:
			g.to[k] = to[k]
		}
	}
	start := len(in.legs)
	in.leg(kind, in.pos, g.to, motion.Params{})
	if len(in.legs) == start {
		return in.recount()
	}
	leg := &in.legs[start]
	leg.Box = leg.Box || box
	if g.other >= 0 {
		way := *leg
		way.To[g.other] = g.sense
		in.legs = append(in.legs, way)
	}
	st := in.add(kind)
	st.Legs = in.legs[start : start+1 : start+1]
	if g.other >= 0 {
		st.OtherWay = in.legs[start+1 : start+2 : start+2]
	}
	st.Length = in.point(g.to).Distance(in.point(in.pos))
	if st.Seconds = in.rapidly(st.Legs); kind == Feed {
		s := in.stroke(kind)
		if err := in.fed(&s); err != nil {
			return err
		}
		st.Seconds = s.pace.seconds(st.Length, in.turned(&in.pos, &g.to))
	}
	in.raised(&g.to, false)
	in.pos = g.to
	return in.recount()
}

// raised takes down whether Z stands where the length has led it, once a move ends at to.
func (in *interpreter) raised(to *motion.Params, led bool) {
	if z := in.axes.z; z >= 0 && to[z] != in.pos[z] {
		in.lifts = led
	}
}

// point takes X, Y and Z out of coordinates or positions.
func (in *interpreter) point(p motion.Params) (v r3.Vector) {
	if in.axes.x >= 0 {
		v.X = p[in.axes.x]
	}
	if in.axes.y >= 0 {
		v.Y = p[in.axes.y]
	}
	if in.axes.z >= 0 {
		v.Z = p[in.axes.z]
	}
	return v
}
