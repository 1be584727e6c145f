package program

import (
	"fmt"
	"math"

	"gridswing/geom/motion"
)

// fedrat reads FEDRAT: a number, and what it counts.
func (l *locations) fedrat() error {
	if l.unit == 0 {
		return l.fault("a feed, and it is not known in which unit", "UNITS/MM or UNITS/INCHES before")
	}
	var v *item
	f := feedRate{}
	scale := l.unit
	for i := range l.rec.items {
		it := &l.rec.items[i]
		switch {
		case it.word == "" && v == nil:
			v = it
		case !f.unit(it.word, &scale, l.unit):
			return faultAt(it, "a feed and PERMIN, PERREV, MMPM, MMPR, IPM or IPR")
		}
	}
	if v == nil || !(v.number > 0) {
		return l.fault("FEDRAT without a feed of more than 0", "FEDRAT/600,MMPM")
	}
	f.mm = v.number * scale
	l.feed = f
	return nil
}

// unit reads what a feed counts; false if the word says something else.
func (f *feedRate) unit(word string, scale *float64, unit float64) bool {
	switch word {
	case "PERMIN", "PERREV":
		*scale = unit
	case "MMPM", "MMPR":
		*scale = 1
	case "IPM", "IPR":
		*scale = inch
	default:
		return false
	}
	f.perTurn = word == "PERREV" || word == "MMPR" || word == "IPR"
	return true
}

// spindl reads SPINDL: a speed, RPM or one of cutting, and the sense; ON and OFF.
func (l *locations) spindl() error {
	if l.sense == 0 {
		l.sense = 1
	}
	turning, speed := l.sense, l.speed
	cutting, still := false, false
	for i := range l.rec.items {
		it := &l.rec.items[i]
		switch it.word {
		case "":
			if speed = it.number; speed < 0 {
				return faultAt(it, "a speed that is not negative")
			}
			still = speed == 0
		case "CLW":
			turning, l.sense = 1, 1
		case "CCLW":
			turning, l.sense = -1, -1
		case "OFF":
			turning = 0
		case "ON", "RPM":
		case "SFM", "SMM":
			cutting = true
		default:
			return faultAt(it, "a speed, RPM, SFM, SMM, CLW, CCLW, ON or OFF")
		}
	}
	switch {
	case cutting:
		speed = 0 // turns are not known
	case still:
		turning = 0
	}
	l.turning, l.speed = turning, speed
	return nil
}

// delay reads DELAY: seconds, or turns of the spindle.
func (l *locations) delay() error {
	items := l.rec.items
	turns := len(items) == 2 && items[1].word == "REV"
	if len(items) == 0 || len(items) > 1 && !turns || items[0].word != "" || !(items[0].number >= 0) {
		return l.fault("DELAY without a time", "seconds, or turns and REV")
	}
	st := l.add(Dwell, len(l.legs))
	if st.Seconds = items[0].number; turns {
		const minute = 60
		if st.Seconds = math.NaN(); l.speed > 0 {
			st.Seconds = items[0].number / l.speed * minute
		}
	}
	return nil
}

// mostLengthOff is by how much a stated length may differ from that of the tool file, mm: rounding.
const mostLengthOff = 1e-3

// loadtl changes the tool: its number, and perhaps LENGTH, which must be that of the tool file, and ADJUST
// with the number of its offset.
func (l *locations) loadtl() error {
	items := l.rec.items
	if len(items) == 0 || items[0].word != "" || items[0].number != math.Trunc(items[0].number) {
		return l.fault("LOADTL without a tool", "LOADTL/1")
	}
	number := int(items[0].number)
	length := math.NaN()
	for _, t := range l.setup.Tools {
		if t.Number == number {
			length = t.LPR()
		}
	}
	if math.IsNaN(length) {
		return faultAt(&items[0], "the number of a tool of the setup's tool files")
	}
	for i := 1; i < len(items); i += 2 {
		word := items[i].word
		if word != "LENGTH" && word != "ADJUST" || i+1 == len(items) || items[i+1].word != "" {
			return faultAt(&items[i], "LENGTH and a length, or ADJUST and a number")
		}
		if word == "LENGTH" && !(math.Abs(items[i+1].number*l.unit-length) <= mostLengthOff) {
			return faultAt(&items[i+1], fmt.Sprintf("%.3f mm, the length of T%d in the tool file", length, number))
		}
	}
	return l.change(number, length)
}

// change drives to where tools are changed and changes the tool.
func (l *locations) change(number int, length float64) error {
	c := l.setup.Control
	switch {
	case c == nil || c.ChangeMoves == nil:
		return l.fault("a tool change", "change_moves in [program] of the machine file: whether the control goes to the tool change position by itself")
	case *c.ChangeMoves && l.setup.ToolChange == nil:
		return l.fault("a tool change", "[tool_change] in the machine file: where tools are changed")
	case *c.ChangeMoves:
		l.driveToChange()
	}
	l.tool, l.length, l.turning = number, length, 0
	st := l.add(Change, len(l.legs))
	if c.ChangeSeconds > 0 {
		st.Seconds = c.ChangeSeconds
	}
	l.stands()
	return nil
}

// stands finds where the tip of the tool is.
func (l *locations) stands() { l.tip, _ = l.kin.Forward(l.pos, l.length) }

// driveToChange goes to the position of the tool change: Z home first, then the others in any
// order.
func (l *locations) driveToChange() {
	at := l.pos
	for _, p := range l.setup.ToolChange.At {
		at[p.Axis] = p.Value
	}
	up := l.pos
	if l.z >= 0 {
		up[l.z] = l.setup.Axes[l.z].Home
		if !l.changesAt(l.z) {
			at[l.z] = up[l.z]
		}
	}
	l.drive(up)
	l.drive(at)
}

func (l *locations) changesAt(axis int) bool {
	for _, p := range l.setup.ToolChange.At {
		if p.Axis == axis {
			return true
		}
	}
	return false
}

// drive moves axes to positions of their own.
func (l *locations) drive(to motion.Params) {
	first := len(l.legs)
	l.leg(l.pos, to, motion.Params{}, true)
	if len(l.legs) == first {
		return
	}
	before := l.tip
	l.shown = l.shown && to == l.turnedAs(to)
	l.pos = to
	l.stands()
	st := l.add(Rapid, first)
	st.Seconds = rapidTime(l.setup, l.legs[first:])
	st.Length = l.tip.Distance(before)
}
