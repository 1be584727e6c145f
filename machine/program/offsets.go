package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// changeLength does G43 and G49. By NISTIR 6556, sec. 3.5.15, that moves nothing by itself; other
// controls move the axis at once. Where the machine file does not say which, it does not matter if
// the length stays the same or if the block leads Z to a coordinate.
func (in *interpreter) changeLength(n int) error {
	if in.control == tipControl {
		return in.faultAt(lengthG, "the end of tip control before")
	}
	before, known := in.lift, in.lifted
	if n == 490 {
		in.lift, in.lifted, in.h = 0, true, 0
	} else {
		if !in.cur.has('H') {
			return in.faultAt(lengthG, "H and the number of the tool's length")
		}
		if err := in.takeLength(lengthG); err != nil {
			return err
		}
	}
	z := in.axes.z
	m := in.motionNow()
	leads := z >= 0 && in.cur.has('Z') && in.modal[distanceG] == 900 && in.cur.codes[onceG] == unset &&
		in.cur.codes[specialG] == unset && m >= 0 && m <= 30
	switch {
	case z < 0 || known && in.lift == before || leads:
		return in.recount()
	case in.rules.LengthMoves == machine.WithNextMove:
		in.unsure[z] = true
		return in.recount()
	case in.rules.LengthMoves == machine.AtOnce:
		if !known {
			return in.faultAt(lengthG, "a Z in the block, or G49 in starts_with of [program] of the machine file: it is not known by how much Z moves")
		}
		return in.lengthMove()
	}
	return in.faultAt(lengthG, "Z in the same block, or length_moves in [program] of the machine file: whether the code moves the axis")
}

// lengthMove moves Z by a change of length, with the other axis words of the block if there are any.
func (in *interpreter) lengthMove() error {
	if in.cur.stated&in.axes.mask != 0 {
		return in.faultAt(lengthG, "a block without axis words, or with Z by G90")
	}
	s := in.stroke(Rapid)
	switch in.motionNow() {
	case 0:
	case 10:
		s.kind = Feed
	default:
		return in.faultAt(lengthG, "G0 or G1 in force: the change of length moves Z")
	}
	coordinates := in.at
	if err := in.recount(); err != nil {
		return err
	}
	s.to, s.named[in.axes.z], s.led = coordinates, true, in.h != 0
	return in.move(&s)
}

// motionNow is the motion in force for the block, that of the block counted in.
func (in *interpreter) motionNow() int {
	if n := in.cur.codes[motionG]; n != unset {
		return n
	}
	return in.modal[motionG]
}

// keyIn does G10 L2 P: the values of a work offset (NISTIR 6556, sec. 3.5.5). Axes that are not
// named keep theirs.
func (in *interpreter) keyIn() error {
	l, p := in.cur.word('L'), in.cur.word('P')
	switch {
	case l == nil || l.Value != 2:
		return in.faultAt(onceG, "L2, which sets a work offset")
	case p == nil:
		return in.faultAt(onceG, "P and the number of the work offset")
	case in.modal[distanceG] != 900:
		return in.faultAt(onceG, "G90 in force: whether offsets are set or added to by G91 controls see differently")
	}
	n, err := in.whole(p, 1, 9)
	if err != nil {
		return err
	}
	name := [...]string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}[n-1]
	if !in.offers(name) {
		return in.fault(p, name, "a work offset that the control has: numbers under [offsets] of the machine file")
	}
	w := &workOffset{set: true}
	if old := in.offsets[name]; old != nil {
		w.values, w.known = old.values, old.known
	}
	for k := range in.setup.Axes {
		if a := in.axes.letters[k]; a != 0 && in.cur.has(a) {
			v, err := in.value(k, in.cur.word(a))
			if err != nil {
				return err
			}
			w.values[k], w.known[k] = v, true
		}
	}
	in.offsets[name] = w
	if name == in.offset {
		in.work = w
		return in.redatum()
	}
	return nil
}

// shiftBy does G92 and its kin (NISTIR 6556, sec. 3.5.18): the place where the axes stand gets the
// coordinates that are named; G92.1 and G92.2 end that, G92.3 brings back what G92.2 ended.
func (in *interpreter) shiftBy(n int) error {
	if in.control != plainControl || in.modal[radiusG] > 400 {
		return in.faultAt(onceG, "G40, and the end of what else the control does with coordinates, before")
	}
	switch n {
	case 921:
		in.shift, in.kept, in.keeps = motion.Params{}, motion.Params{}, true
	case 922:
		in.shift = motion.Params{}
	case 923:
		if !in.keeps {
			return in.faultAt(onceG, "G92 or G92.1 before: what it brings back an earlier program has left")
		}
		in.shift = in.kept
	default:
		if err := in.shifts(); err != nil {
			return err
		}
		for k := range in.setup.Axes {
			a := in.axes.letters[k]
			if a == 0 || !in.cur.has(a) {
				continue
			}
			w := in.cur.word(a)
			v, err := in.value(k, w)
			if err != nil {
				return err
			}
			if err := in.reliable(k, w); err != nil {
				return err
			}
			in.shift[k] += in.at[k] - v
		}
		in.kept, in.keeps = in.shift, true
	}
	return in.recount()
}

// localZero does a code that shifts the zero of every work offset by what its axis words say.
func (in *interpreter) localZero() error {
	if in.control != plainControl || in.modal[radiusG] > 400 {
		return in.faultAt(onceG, "G40, and the end of what else the control does with coordinates, before")
	}
	if err := in.shifts(); err != nil {
		return err
	}
	for k := range in.setup.Axes {
		if a := in.axes.letters[k]; a != 0 && in.cur.has(a) {
			v, err := in.value(k, in.cur.word(a))
			if err != nil {
				return err
			}
			in.local[k] = v
		}
	}
	return in.recount()
}

// shifts is a Fault if it is not clear by how much the block shifts zeros: NISTIR 6556, sec. 3.5.18, has it
// that G90 and G91 do not matter to that, other controls count from what was before (from memory).
func (in *interpreter) shifts() error {
	switch {
	case !in.axisWords():
		return in.faultAt(onceG, "axis words")
	case in.modal[distanceG] != 900:
		return in.faultAt(onceG, "G90 in force: whether G91 adds to what was before controls see differently")
	}
	for k := range in.setup.Axes {
		if a := in.axes.letters[k]; in.unsure[k] && a != 0 && in.cur.has(a) {
			return in.fault(in.cur.word(a), "the zero of "+in.setup.Axes[k].Letter+", whose coordinate a code before has changed", "a move of it in absolute coordinates (G90) before")
		}
	}
	return nil
}

// mostUsed is how many offsets and lengths are listed at most: a program that sets one in each block
// must not fill the memory.
const mostUsed = 1000

// note lists the offset and the length that lead a feed.
func (in *interpreter) note(place Place) {
	in.noteOffset(place)
	key := [2]int{in.tool, in.h}
	if in.lifted && (in.lastUsed != key || len(in.used.Lengths) == 0) {
		in.lastUsed = key
		for _, l := range in.used.Lengths {
			if l.Tool == in.tool && l.H == in.h {
				return
			}
		}
		if len(in.used.Lengths) < mostUsed {
			in.used.Lengths = append(in.used.Lengths, UsedLength{Tool: in.tool, H: in.h, Length: in.lift, First: place})
		}
	}
}

// noteOffset lists the work offset where it first leads a feed. One that holds for a rotary position is listed
// at each that it leads a feed at, the first mostPlaces of them: it is right at one of them at most.
func (in *interpreter) noteOffset(place Place) {
	w := in.work
	if w == nil {
		return
	}
	if n := len(w.noted); n > 0 {
		r := in.setup.Offsets
		if n == mostPlaces || in.control != plainControl || r == nil || r.Method != machine.PerPosition {
			return
		}
		for i := range w.noted {
			if in.stands(&w.noted[n-1-i]) {
				return
			}
		}
	}
	w.noted = append(w.noted, in.pos)
	if len(in.used.Offsets) < mostUsed {
		in.used.Offsets = append(in.used.Offsets, UsedOffset{
			Name: in.offset, Values: w.values, Set: w.set, First: place, Rotary: in.pos,
			Carried: in.control != plainControl,
		})
	}
}

// mostPlaces is at how many rotary positions an offset is listed.
const mostPlaces = 16

// stands reports whether the rotary axes stand as they did, but for whole turns.
func (in *interpreter) stands(was *motion.Params) bool {
	for k := range in.setup.Axes {
		if in.axes.turns[k] && math.Abs(math.Remainder(in.pos[k]-was[k], 2*math.Pi)) > 1e-6 {
			return false
		}
	}
	return true
}

// dwellOf is the time of a P word, seconds; NaN if the machine file does not say what P counts.
func (in *interpreter) dwellOf(w *Word) (float64, error) {
	v := w.Value
	if !(v >= 0 && v <= 1e9) {
		return 0, in.fault(w, w.Text, "a time that is not negative")
	}
	switch in.rules.Dwell {
	case machine.Seconds:
		return v, nil
	case machine.Milliseconds:
		return v / 1000, nil
	}
	return math.NaN(), nil
}
