package changeover

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/screws"

	"github.com/golang/geo/r3"
)

// room is how far beyond the clearance that is asked for a jaw is opened to put something
// in, mm: more than its play, and a whole number of mm in all.
const room = 1.0

// openJaws opens the jaws that grip what is moved, as far as the clearance asks for; jaws on no
// linear setting axis stay.
func (p *planner) openJaws(st *Step) {
	c := st.scene
	jaws := gripping(c.setup, st.Unit)
	for i := range c.setup.Settings {
		s := &c.setup.Settings[i]
		if s.Kind != motion.Linear {
			continue
		}
		way := 0.0
		for _, m := range s.Moves {
			if lift, grips := c.lift(m.Body, st.Unit); grips && slices.Contains(jaws, m.Body) {
				way = math.Copysign(1, lift.Dot(m.Along))
			}
		}
		if way == 0 {
			continue
		}
		at := s.At + way*(math.Ceil(c.setup.Demand.Loading)+room)
		at = min(max(at, s.Travel[0]), s.Travel[1])
		c.set(s, at)
		c.jaws = append(c.jaws, opening{s, at})
		for _, m := range s.Moves {
			c.opened[m.Body] = true
		}
		change := settingChange(s, at)
		change.Open = true
		st.Settings = append(st.Settings, change)
	}
}

// gripping lists the jaws that grip a component.
func gripping(s *machine.Setup, unit string) (jaws []int) {
	for _, st := range s.Standing {
		if st.Unit == unit {
			jaws = append(jaws, st.Grips...)
		}
	}
	return jaws
}

// lift is the way in which a jaw opens off a component.
func (c *scene) lift(jaw int, unit string) (v r3.Vector, grips bool) {
	for _, m := range c.setup.Matings {
		if m.A == jaw && c.setup.Bodies[m.B].Unit == unit {
			return m.Lift, true
		}
	}
	return v, false
}

// grip says that jaws are opened.
func (p *planner) grip(st *Step) {
	opened := slices.Clone(st.Settings)
	p.state.apply(nil, opened)
	for i := range opened {
		st.say("Open %s of %s to %s or more.", opened[i].Axis, opened[i].Unit, opened[i].value())
	}
	if jaws := gripping(st.scene.setup, st.Unit); len(jaws) > 0 && len(opened) == 0 {
		st.say("Open what grips it: %s.", strings.Join(names(st.scene.setup, jaws), ", "))
	}
}

// close says that jaws are closed on what was put in.
func (p *planner) close(st *Step) {
	c := st.scene
	jaws := gripping(c.setup, st.Unit)
	if len(jaws) == 0 {
		return
	}
	for i := range c.setup.Settings {
		s := &c.setup.Settings[i]
		if slices.ContainsFunc(s.Moves, func(m machine.Moved) bool { return slices.Contains(jaws, m.Body) }) {
			change := settingChange(s, s.At)
			st.Settings = append(st.Settings, change)
			p.state.apply(nil, []SettingChange{change})
			st.say("Close %s of %s: it reads %s on the part.", s.Axis, s.Unit, change.value())
		}
	}
	if g := c.seat.Gripped; g != nil && g.Parallels >= 0 {
		st.say("It rests on %s: see that they do not move.", c.setup.Bodies[g.Parallels].Name)
	}
	st.say("Tighten %s, and see that it sits down.", strings.Join(names(c.setup, jaws), " and "))
}

func names(s *machine.Setup, bodies []int) (list []string) {
	for _, i := range bodies {
		list = append(list, s.Bodies[i].Name)
	}
	return list
}

// loosen takes the screws out.
func (p *planner) loosen(st *Step) {
	for _, w := range p.screws(st) {
		st.Screws = append(st.Screws, w)
		st.say("Loosen and take out %s.", w.words())
	}
}

// tighten puts the screws in.
func (p *planner) tighten(st *Step) {
	list := p.screws(st)
	for _, w := range list {
		w.Tighten = true
		st.Screws = append(st.Screws, w)
		torque := "torque not known: " + w.NoTorque
		if w.Torque != nil {
			torque = check.TorqueWords(*w.Torque) + " N m at most"
		}
		st.say("Put in and tighten %s (%s).", w.words(), torque)
	}
	if len(list) == 0 && st.scene.seat.Gripped == nil {
		st.say("No screws are stated for it: fasten it as its maker has it.")
	}
}

// screws lists the screws of what is moved, those of one size and side together. What may be
// left out is, where nothing is under it.
func (p *planner) screws(st *Step) (list []Screws) {
	f, _ := friction(st.scene.setup)
	for i := range st.scene.seat.Fasteners {
		one := &st.scene.seat.Fasteners[i]
		if one.Optional && one.Under == nil {
			continue
		}
		side := "above"
		if one.FromBelow {
			side = "below"
		}
		w := Screws{Thread: one.Thread, Class: one.Class, Side: side, Into: []string{}}
		if one.Length > 0 {
			w.Length = &one.Length
		}
		if torque, err := torqueOf(one, f); err == nil {
			w.Torque = &torque
		} else {
			w.NoTorque = err.Error()
		}
		k := slices.IndexFunc(list, func(o Screws) bool { return o.like(&w) })
		if k < 0 {
			k = len(list)
			list = append(list, w)
		}
		list[k].Count++
		list[k].Names = append(list[k].Names, one.Name)
		if u := one.Under; u != nil {
			list[k].Into = append(list[k].Into, fmt.Sprintf("%s/%s %s", u.Unit, u.Grid, u.Hole))
		}
	}
	return list
}

// like reports whether two screws are listed together.
func (w *Screws) like(o *Screws) bool {
	same := func(a, b *float64) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }
	return w.Thread == o.Thread && w.Class == o.Class && w.Side == o.Side && w.NoTorque == o.NoTorque &&
		same(w.Length, o.Length) && same(w.Torque, o.Torque)
}

// locators says what is done with the pins that locate it, before it is moved or after. A pin
// that can only be set when it is there is withdrawn before it goes.
func (p *planner) locators(st *Step, slides, set, before bool) {
	c := st.scene
	if len(c.seat.Locators) == 0 {
		switch {
		case before || !set:
		case isCounterweight(c.setup, st.Unit):
			st.counterweightPlace()
		default:
			st.aligned(c.seat.Stated)
		}
		return
	}
	l := &c.seat.Locators[0]
	var list []PinChange
	for i := range c.seat.Locators {
		one := PinChange{Unit: c.seat.On, Grid: c.seat.Grid, Hole: c.seat.Locators[i].Hole, Set: set, Loose: l.Kind == machine.Dowels}
		list = append(list, one)
	}
	switch l.Kind {
	case machine.SetPins:
		if first := slides != set; first == before { // standing pins are set first and withdrawn last
			p.change(st, p.state.differing(list), nil)
		}
	case machine.Dowels:
		if before != set { // in when it is there, out before it goes
			p.change(st, list, nil)
		}
	case machine.Stops:
		if set && !before {
			st.say("Push it against its three stops, the first two along one edge.")
		}
	case machine.Keys:
		if set && !before {
			st.say("Its keys are in slot %s of %s/%s%s.", l.Hole, c.seat.On, c.seat.Grid, alongSlot(c.seat.Stated))
		}
	default:
		if set && !before {
			st.say("Its pins are in %s (the first) and %s of %s/%s.", l.Hole, c.seat.Locators[1].Hole, c.seat.On, c.seat.Grid)
		}
	}
}

// aligned says where what has no locating pins stands, since nothing but its coordinates does.
func (st *Step) aligned(at *machine.Stated) {
	if at == nil {
		return
	}
	frame := "in the drawing of " + at.Frame
	switch {
	case at.Grid:
		frame = "from hole A1 of " + at.Frame + ", along its letters, its numbers and up"
	case at.Frame == "machine":
		frame = "in machine coordinates"
	}
	st.say("No pins locate it: the zero of its drawing is at X %s, Y %s, Z %s mm %s%s, within %s mm.",
		number(at.At.X), number(at.At.Y), number(at.At.Z), frame, turned(at), number(at.Within))
}

// alongSlot says where in its T-slot what has tenon keys stands.
func alongSlot(at *machine.Stated) string {
	if at == nil {
		return ""
	}
	return fmt.Sprintf(", their middle %s mm along it from the origin of the slots%s, within %s mm", number(at.At.X), turned(at), number(at.Within))
}

func turned(at *machine.Stated) string {
	if at.Turned == 0 {
		return ""
	}
	return fmt.Sprintf(", turned by %s degrees", degrees(at.Turned))
}

// differing leaves out pins that are known to stand as they should.
func (t *state) differing(list []PinChange) []PinChange {
	return slices.DeleteFunc(list, func(c PinChange) bool {
		set, known := t.pins[hole{c.Unit, c.Grid, c.Hole}]
		return known && set == c.Set
	})
}

// weigh says what is lifted, and whether by hand.
func (p *planner) weigh(st *Step) {
	mass, known := massOf(st.scene.setup, st.Unit)
	limit := p.byHand()
	if known {
		mass = round(mass)
		st.Mass = &mass
	}
	switch {
	case !known:
		st.Heavy = true
		st.warn("Its mass is not known: neither mass nor material is stated for all of it. Weigh it before it is lifted.")
	case limit != nil && mass > *limit:
		st.Heavy = true
		st.warn("It weighs %s kg, more than the %s kg that may be lifted by hand: use lifting gear.", kilograms(mass), number(*limit))
	}
}

// warn says what to see to before something is moved.
func (p *planner) warn(st *Step) {
	c := st.scene
	var held []string
	chain := c.seat.Chain
	for k, used := range chain.Uses() {
		if used && c.setup.Axes[k].Kind == motion.Rotary {
			held = append(held, fmt.Sprintf("%s at %s", c.setup.Axes[k].Letter, degrees(c.params[k])))
		}
	}
	if len(held) > 0 {
		st.warn("%s must be clamped: it stands on what they turn.", strings.Join(held, " and "))
	}
}

// torqueOf returns the torque of a screw, N m, or why it is not known.
func torqueOf(f *machine.Fastener, friction float64) (float64, error) {
	if f.Class == "" {
		return 0, errors.New("no class is stated")
	}
	class, err := screws.ClassOf(f.Class)
	if err != nil {
		return 0, err
	}
	size, err := screws.Find(f.Thread)
	if err != nil {
		return 0, err
	}
	if f.Head != nil {
		return 0, errors.New("its head is one of its own")
	}
	t, err := class.Tighten(size, friction)
	return t.Torque, err
}
