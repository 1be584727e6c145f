package program

import (
	"math"
	"strconv"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// recount works out what is added to coordinates, and the coordinates of where the axes stand. A
// code that changes how coordinates count moves nothing by that.
//
// A position of an axis is work offset + shift of G92 + local zero + coordinate (NISTIR 6556, sec.
// 3.5.18, 3.5.20), and along Z + the length in force. With a carried zero the work offset of the
// linear axes is where they must stand for the gauge point to be at the zero, which has gone with
// the rotary axes.
func (in *interpreter) recount() error {
	before, old := in.at, in.origin
	var err error
	if in.origin, err = in.originAt(&in.pos); err != nil {
		return err
	}
	in.at = in.pos
	for k := range in.setup.Axes {
		in.at[k] -= in.origin[k]
		turns, whole := in.wholeTurns(k, before[k]-(in.pos[k]-old[k]))
		switch {
		case whole && in.origin[k] == old[k]:
			in.at[k] = before[k] // to the last bit
		case whole:
			in.at[k] += turns
		}
	}
	if in.control == tipControl || in.control == turnedPlane {
		in.recountTip()
	}
	in.led = in.at
	return nil
}

// wholeTurns reports whether an angle is one of whole turns, by which the coordinate of an axis without ends may
// differ from where it stands: controls that turn it the shorter way count coordinates as they are programmed.
func (in *interpreter) wholeTurns(k int, angle float64) (turns float64, ok bool) {
	const turn, same = 2 * math.Pi, 1e-9
	if !in.axes.endless[k] || in.setup.Axes[k].RollOver == machine.ByValue {
		return 0, false
	}
	turns = turn * math.Round(angle/turn)
	return turns, math.Abs(angle-turns) < same
}

// originAt is what is added to coordinates, the rotary axes standing at p.
func (in *interpreter) originAt(p *motion.Params) (o motion.Params, err error) {
	if in.work != nil {
		o = in.work.values
	}
	if in.control == carriedZero {
		if err := in.carriedTo(p, &o); err != nil {
			return o, err
		}
	}
	for k := range in.setup.Axes {
		o[k] += in.shift[k] + in.local[k]
	}
	if in.axes.z >= 0 {
		o[in.axes.z] += in.lift
	}
	return o, nil
}

// target reads the axis words of the block: the coordinates where they lead, and which axes they
// name.
func (in *interpreter) target() (to motion.Params, named [motion.MaxParams]bool, err error) {
	to = in.at
	for k := range in.setup.Axes {
		letter := in.axes.letters[k]
		if letter == 0 || !in.cur.has(letter) {
			continue
		}
		w := in.cur.word(letter)
		v, err := in.value(k, w)
		if err != nil {
			return to, named, err
		}
		switch in.modal[distanceG] {
		case 900:
			to[k] = v
			err = in.reliable(k, w)
		case 910:
			to[k] += v
			if in.unsure[k] {
				err = in.fault(w, w.Text+", counted from a place that controls see differently after a code before", "absolute coordinates (G90) here")
			}
		default:
			err = in.fault(w, w.Text+" of which it is not known how it counts", "G90 or G91 before, or in starts_with of [program] of the machine file")
		}
		if err != nil {
			return to, named, err
		}
		named[k] = true
	}
	return to, named, in.sure(&named)
}

// axisWords reports whether the block has a word of an axis.
func (in *interpreter) axisWords() bool { return in.cur.stated&in.axes.mask != 0 }

// reliable is a Fault where it is not known what an absolute coordinate of an axis counts from.
func (in *interpreter) reliable(k int, w *Word) error {
	switch {
	case in.work == nil && in.offset == "":
		return in.fault(w, w.Text+" and no work offset", "a work offset such as G54 before, or in starts_with of [program] of the machine file")
	case in.work == nil || !in.work.known[k]:
		return in.fault(w, w.Text+" and no value of "+in.offset+" for it", "%s keyed in at the control, [[keyed.offset]] of the setup file, or as the offset of a [[part]]", in.offset)
	case k == in.axes.z && !in.lifted:
		return in.fault(w, w.Text+" and it is not known whether a length counts", "G43 or G49 before, or G49 in starts_with of [program] of the machine file")
	}
	return nil
}

// sure is a Fault where an axis that is not named may move all the same, as controls differ; if
// none does all are settled.
func (in *interpreter) sure(named *[motion.MaxParams]bool) error {
	for k := range in.setup.Axes {
		if !in.unsure[k] {
			continue
		}
		if !named[k] {
			return in.fault(nil, "a move without "+in.setup.Axes[k].Letter+", whose coordinate a code before has changed",
				"the first move behind it to name it, in absolute coordinates (G90)")
		}
		in.unsure[k] = false
	}
	return nil
}

// choose puts a work offset in force, by its name.
func (in *interpreter) choose(g int, w *Word) error {
	name := codeName('G', g)
	if in.codes.meanings[g] == machine.MoreOffsets {
		p := in.cur.word('P')
		if p == nil {
			return in.fault(w, w.Text+" without P", "P and the number of the offset")
		}
		n, err := in.whole(p, 1, 9999)
		if err != nil {
			return err
		}
		name += " P" + strconv.Itoa(n)
	}
	switch {
	case name == in.offset:
		return nil // as it is, also between moves that wait in radius compensation
	case in.compensates():
		return in.fault(w, name, "G40, and a straight move that ends radius compensation, before")
	case !in.offers(name):
		return in.fault(w, name, "a work offset that the control has: numbers under [offsets] of the machine file")
	}
	in.modal[offsetG], in.offset, in.work = g, name, in.offsets[name]
	return in.redatum()
}

// offers reports whether the control has a work offset of that name; the standard ones if the
// machine file says nothing of them.
func (in *interpreter) offers(name string) bool {
	if in.setup.Offsets == nil {
		return len(name) == 3 && name >= "G54" && name <= "G59"
	}
	for _, n := range in.setup.Offsets.Numbers {
		if n == name {
			return true
		}
	}
	return false
}
