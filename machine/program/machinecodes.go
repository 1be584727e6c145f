package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// mostTool is the largest number of a tool.
const mostTool = 99999999

// rates reads F, S and T.
func (in *interpreter) rates() error {
	if w := in.cur.word('F'); w != nil {
		if err := in.feedOf(w); err != nil {
			return err
		}
	}
	if w := in.cur.word('S'); w != nil {
		if !(w.Value >= 0) || math.IsInf(w.Value, 0) {
			return in.fault(w, w.Text, "a speed that is not negative")
		}
		in.speed, in.still = w.Value, w.Value == 0
	}
	if w := in.cur.word('T'); w != nil {
		n, err := in.whole(w, 0, mostTool)
		if err != nil {
			return err
		}
		in.chosen = n
	}
	return nil
}

// machineCodes does what comes before a motion: the tool change and the spindle.
func (in *interpreter) machineCodes() error {
	if in.cur.codes[changeM] != unset {
		if err := in.change(); err != nil {
			return err
		}
	}
	switch in.cur.codes[spindleM] {
	case 30:
		in.turning = 1
	case 40:
		in.turning = -1
	case 50:
		in.turning = 0
	}
	return nil
}

// spins is how the spindle turns: not at S0, whatever it was told besides.
func (in *interpreter) spins() int {
	if in.still {
		return 0
	}
	return in.turning
}

// change does M6: the way to where tools are changed, if the control goes there by itself, and the
// change. The spindle stands still after it (NISTIR 6556, sec. 3.6.3).
func (in *interpreter) change() error {
	switch {
	case in.cur.stated&in.axes.mask != 0:
		return in.faultAt(changeM, "a block without axis words: whether they move before it or after it no standard says")
	case in.modal[radiusG] > 400:
		return in.faultAt(changeM, "G40 before")
	case in.chosen == unset:
		return in.faultAt(changeM, "T and the number of the tool before")
	case in.rules.ChangeMoves == nil:
		return in.faultAt(changeM, "change_moves in [program] of the machine file: whether the control goes to the tool change position by itself")
	}
	if *in.rules.ChangeMoves {
		c := in.setup.ToolChange
		if c == nil {
			return in.faultAt(changeM, "[tool_change] in the machine file: where tools are changed")
		}
		to := in.pos
		if in.axes.z >= 0 {
			to[in.axes.z] = in.setup.Axes[in.axes.z].Home
		}
		for _, p := range c.At {
			to[p.Axis] = p.Value
		}
		// Which axis goes first no file says: anywhere between.
		if err := in.drive(Rapid, to, true); err != nil {
			return err
		}
	}
	in.tool, in.turning = in.chosen, 0
	st := in.add(Change)
	st.Seconds = math.NaN()
	if in.rules.ChangeSeconds > 0 {
		st.Seconds = in.rules.ChangeSeconds
	}
	return nil
}

// stops does what comes after a motion: M0 to M2, M30, M98 and M99.
func (in *interpreter) stops() error {
	c := &in.cur
	call := c.codes[callM]
	if call == unset && c.codes[stopM] == unset {
		return nil
	}
	switch c.codes[stopM] {
	case 0, 10:
		if err := in.pause(Stop, math.NaN()); err != nil {
			return err
		}
	case 20, 300:
		if in.pending() {
			return in.faultAt(stopM, "G40 before")
		}
		if call != unset {
			return in.faultAt(stopM, "a block without M98 or M99")
		}
		in.ended = true
		in.add(End)
		in.source.close()
		return nil
	}
	switch call {
	case 980:
		return in.call()
	case 990:
		if err := in.idle(); err != nil {
			return err
		}
		return in.source.back(in.cur.block.at(in.codeWord(callM)))
	}
	return nil
}

// call does M98: subprogram P, as often as the machine file's letter says.
func (in *interpreter) call() error {
	m := in.codeWord(callM)
	at := in.cur.block.at(m)
	w := in.cur.word('P')
	if w == nil {
		return in.faultAt(callM, "P and the number of a subprogram")
	}
	n, err := in.whole(w, 1, mostTool)
	if err != nil {
		return err
	}
	times, err := in.repeats()
	if err != nil {
		return err
	}
	if err := in.idle(); err != nil {
		return err
	}
	return in.source.call(n, times, at)
}

// repeats reads how often a call or a cycle is done: once if it is not said.
func (in *interpreter) repeats() (int, error) {
	for _, l := range []byte{'L', 'K'} {
		if in.cur.stated&^in.cur.used&bit(l) == 0 {
			continue
		}
		w := in.cur.word(l)
		switch in.rules.Repeats {
		case string(rune(l)):
			return in.whole(w, 1, mostRepeats)
		case "":
			return 0, in.fault(w, w.Text, "repeats in [program] of the machine file: which letter says how often")
		default:
			return 0, in.fault(w, w.Text, "%s, which says how often (repeats in [program] of the machine file)", in.rules.Repeats)
		}
	}
	return 1, nil
}

// mostRepeats is how often a call or a cycle is done at most.
const mostRepeats = 9999

// pos and home of the axes.
func (in *interpreter) homes() (p motion.Params) {
	for k := range in.setup.Axes {
		p[k] = in.setup.Axes[k].Home
	}
	return p
}

// goHome does G28 and G30: by way of a point or straight, all axes or those that are named, as the
// machine file says.
func (in *interpreter) goHome(n int) error {
	home := in.homes()
	if n == 300 {
		if in.rules.SecondHome == nil {
			return in.faultAt(onceG, "second_home in [program] of the machine file")
		}
		home = *in.rules.SecondHome
	}
	switch {
	case in.rules.HomeReturn == "":
		return in.faultAt(onceG, "home_return in [program] of the machine file: %q or %q", machine.ThroughPoint, machine.Direct)
	case in.rules.HomeAxes == "":
		return in.faultAt(onceG, "home_axes in [program] of the machine file: %q or %q", machine.AllAxes, machine.NamedAxes)
	case in.modal[radiusG] > 400:
		return in.faultAt(onceG, "G40 before")
	case !in.axisWords() && in.rules.HomeAxes == machine.NamedAxes:
		return in.faultAt(onceG, "the axes that go home")
	}
	to := in.pos
	var named [motion.MaxParams]bool
	if in.rules.HomeReturn == machine.Direct {
		for k := range named {
			if k < len(in.setup.Axes) && in.axes.letters[k] != 0 {
				named[k] = in.cur.word(in.axes.letters[k]) != nil
			}
		}
	} else if in.axisWords() {
		s := in.stroke(Rapid)
		var err error
		if s.to, s.named, err = in.target(); err != nil {
			return err
		}
		named = s.named
		if err := in.move(&s); err != nil {
			return err
		}
		to = in.pos
	}
	for k := range in.setup.Axes {
		if in.axes.letters[k] != 0 && (named[k] || in.rules.HomeAxes == machine.AllAxes) {
			to[k] = home[k]
			in.unsure[k] = false
		}
	}
	return in.drive(Rapid, to, in.rules.HomeRapid != machine.Interpolated)
}
