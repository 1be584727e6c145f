package program

import (
	"gridswing/machine"
)

// mostOffsets is the largest number of a length or radius offset.
const mostOffsets = 9999

// do carries a block out, its words in the order of NISTIR 6556, table 8, wherever they stand in it.
func (in *interpreter) do(b *Block) error {
	if err := in.sort(b); err != nil {
		return err
	}
	if err := in.uncompensated(); err != nil {
		return err
	}
	c := &in.cur
	if g := c.codes[feedG]; g != unset && in.modal[feedG] != unset && g != in.modal[feedG] {
		in.feed = 0 // F of another mode says nothing in this one
	}
	for _, g := range [...]group{unitsG, planeG, distanceG, feedG, retractG, pathG} {
		if c.codes[g] != unset {
			in.modal[g] = c.codes[g]
		}
	}
	if err := in.rates(); err != nil {
		return err
	}
	if err := in.machineCodes(); err != nil {
		return err
	}
	if err := in.settings(); err != nil {
		return err
	}
	if err := in.motion(); err != nil {
		return err
	}
	if err := in.stops(); err != nil {
		return err
	}
	return in.idle()
}

// settings does the codes that change how what follows is read.
func (in *interpreter) settings() error {
	c := &in.cur
	if n := c.codes[offsetG]; n != unset {
		if err := in.choose(n, in.codeWord(offsetG)); err != nil {
			return err
		}
	}
	if n := c.codes[lengthG]; n != unset {
		if err := in.changeLength(n); err != nil {
			return err
		}
	}
	if n := c.codes[radiusG]; n != unset { // it begins where what is before it says that the tool stands
		if err := in.compensation(n); err != nil {
			return err
		}
	}
	if n := c.codes[specialG]; n != unset {
		return in.enter(n)
	}
	return nil
}

// motion does what goes somewhere: a code for this block only, or the motion in force.
func (in *interpreter) motion() error {
	c := &in.cur
	code := c.codes[motionG]
	if code != unset {
		if in.modal[motionG] = code; code < 700 || code == 800 {
			in.uncycle()
		}
	}
	if n := c.codes[onceG]; n != unset && n != 530 {
		return in.doOnce(n)
	}
	left := c.stated &^ c.used
	axes := left&in.axes.mask != 0
	arc := in.modal[motionG] == 20 || in.modal[motionG] == 30
	centre := left&(bit('I')|bit('J')|bit('K')) != 0
	if !axes && !(arc && centre) {
		if c.codes[onceG] == 530 {
			return in.faultAt(onceG, "axis words")
		}
		return nil
	}
	switch m := in.modal[motionG]; {
	case m == unset:
		return nil // idle says so
	case c.codes[onceG] == 530:
		return in.machineMove()
	case m == 800:
		return nil
	case m > 100:
		return in.cycle(code != unset)
	}
	return in.modalMove()
}

// modalMove does a move by G0 to G3.
func (in *interpreter) modalMove() error {
	kind := Feed
	if in.modal[motionG] == 0 {
		kind = Rapid
	}
	s := in.stroke(kind)
	var err error
	if s.to, s.named, err = in.target(); err != nil {
		return err
	}
	if in.modal[motionG] > 10 {
		if s.arc, err = in.readArc(&s.to); err != nil {
			return err
		}
	}
	return in.move(&s)
}

// machineMove does G53: positions of the axes themselves.
func (in *interpreter) machineMove() error {
	kind := Rapid
	switch in.modal[motionG] {
	case 0:
	case 10:
		kind = Feed
	default:
		return in.faultAt(onceG, "G0 or G1 in force (NISTIR 6556, sec. 3.5.19)")
	}
	switch {
	case in.modal[distanceG] != 900:
		return in.faultAt(onceG, "G90 in force (NISTIR 6556, sec. 3.5.19)")
	case in.modal[radiusG] > 400:
		return in.faultAt(onceG, "G40 before")
	case kind == Feed && in.control == tipControl:
		return in.faultAt(onceG, "G0, or the end of tip control before")
	}
	to := in.pos
	for k := range in.setup.Axes {
		if l := in.axes.letters[k]; l != 0 && in.cur.has(l) {
			v, err := in.value(k, in.cur.word(l))
			if err != nil {
				return err
			}
			to[k] = v
			in.unsure[k] = false
		}
	}
	return in.drive(kind, to, false)
}

// doOnce does a code for its block only.
func (in *interpreter) doOnce(n int) error {
	if m := in.codeWord(motionG); m != nil && n != 40 && in.cur.codes[motionG] > 0 {
		return in.fault(m, m.Text+" beside "+in.codeWord(onceG).Text, "one code that takes the axis words")
	}
	switch n {
	case 40:
		return in.dwell()
	case 100:
		return in.keyIn()
	case 280, 300:
		return in.goHome(n)
	case 920, 921, 922, 923:
		return in.shiftBy(n)
	}
	if in.codes.meanings[n] == machine.LocalZero {
		return in.localZero()
	}
	return nil
}

// dwell does G4.
func (in *interpreter) dwell() error {
	w := in.cur.word('P')
	if w == nil {
		return in.faultAt(onceG, "P and a time")
	}
	seconds, err := in.dwellOf(w)
	if err != nil {
		return err
	}
	return in.pause(Dwell, seconds)
}
