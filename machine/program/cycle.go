package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// fixed is what fixed cycles keep from block to block. Of one code all that a block does not say
// holds on (NISTIR 6556, sec. 3.5.16); a new code must say all of it anew, as controls differ there.
type fixed struct {
	code  int // in tenths; 0: none
	third int // the axis of the plane along which it goes
	// level is the coordinate along the tool where it stood before the first of the cycles in
	// a row, origin what was added to it.
	level, origin float64
	relative      bool // bottom and clear were told by G91: clear from the level, bottom from clear
	bottom        word // Z
	clear         word // R
	peck          word // Q
	seconds       word // P
	shift         [2]word
	back          word // K of back boring
}

// word is a value that a block may state.
type word struct {
	value  float64
	stated bool
}

// hole is what a block of a cycle makes of it: so many holes alike, in coordinates.
type hole struct {
	way                  way
	code                 int
	first, second, third int           // the plane's axes
	at                   motion.Params // of the first hole
	step                 motion.Params // from hole to hole
	left                 int           // holes to do
	clear, bottom, out   float64       // along the tool: before it is fed, at most, after it
	peck                 float64
	seconds              float64
	shift                [2]float64
	back                 float64
	depth                int // pecks that are done
	stage                stage
}

// stage is what comes next of a hole.
type stage uint8

const (
	approaching stage = iota
	cutting
	leaving
)

// way is what a cycle does at a hole.
type way struct {
	dwells   bool // at the bottom; P must be stated
	mayDwell bool // P may be stated
	pecks    bool
	breaks   bool // draws back a little between pecks, not out of the hole
	feedsOut bool
	stops    bool // the spindle, before the tool is drawn out
	threads  int  // how the spindle must turn, which is reversed at the bottom
	shifts   bool // aside, before it is drawn out
}

// ways are the cycles by their codes in tenths (NISTIR 6556, sec. 3.5.16; G73, G74 and G76: common
// practice, no source). G87 is on its own.
var ways = map[int]way{
	730: {pecks: true, breaks: true},
	740: {threads: -1, mayDwell: true},
	760: {stops: true, shifts: true, mayDwell: true},
	810: {},
	820: {dwells: true},
	830: {pecks: true},
	840: {threads: 1, mayDwell: true},
	850: {feedsOut: true},
	860: {dwells: true, stops: true},
	870: {},
	890: {dwells: true, feedsOut: true},
}

// mostPecks is how many pecks a hole may have: a program that has more has its Q wrong.
const mostPecks = 100000

// cycle does a block of a cycle: the code is in.modal[motionG], called by this very block if first is set.
func (in *interpreter) cycle(first bool) error {
	code := in.modal[motionG]
	h := hole{code: code}
	var known bool
	if h.way, known = ways[code]; !known {
		return in.faultAt(motionG, "a cycle whose moves are all in the program: in this one somebody draws the tool out by hand")
	}
	if err := in.cycleAllowed(); err != nil {
		return err
	}
	var letters [2]byte
	var err error
	if h.first, h.second, h.third, letters, err = in.planeAxes(); err != nil {
		return err
	}
	f := &in.fixed
	switch {
	case f.code != 0 && f.third != h.third:
		return in.faultAt(motionG, "G80 between cycles in one plane and in another: what holds on was told of the other one")
	case !in.upright(h.third) && !in.upright(in.axes.z):
		return in.faultAt(motionG, "a tool that stands along %s of the part: whether a cycle goes along the tool controls see differently", in.setup.Axes[h.third].Letter)
	}
	if f.third = h.third; f.code == 0 {
		f.level, f.origin = in.at[h.third], in.origin[h.third]
	}
	if f.code != code {
		*f = fixed{code: code, third: h.third, level: f.level, origin: f.origin}
	}
	if err := in.cycleWords(f, &h, letters); err != nil {
		return err
	}
	if err := in.cycleLevels(f, &h); err != nil {
		return err
	}
	if h.left, err = in.repeats(); err != nil {
		return err
	}
	in.more = func() (bool, error) { return in.drill(&h) }
	return nil
}

// uncycle forgets what cycles keep when another motion comes into force.
func (in *interpreter) uncycle() { in.fixed = fixed{} }

// cycleAllowed checks what must not be in force or in the block with a cycle.
func (in *interpreter) cycleAllowed() error {
	c := &in.cur
	switch {
	case in.modal[radiusG] > 400 || in.pending():
		return in.faultAt(motionG, "G40 before a cycle (NISTIR 6556, sec. 3.5.16)")
	case in.modal[feedG] == 930:
		return in.faultAt(motionG, "G94 or G95 before a cycle (NISTIR 6556, sec. 3.5.16)")
	case c.codes[stopM] != unset || c.codes[callM] != unset:
		return in.fault(nil, "a hole and what stops, ends or calls a program", "two blocks")
	}
	for k := range in.setup.Axes {
		if in.unsure[k] {
			return in.faultAt(motionG, "a move of %s before, in absolute coordinates (G90): a code has changed them, and where G98 returns to hangs on them", in.setup.Axes[k].Letter)
		}
	}
	return nil
}

// cycleWords reads the words of a cycle.
func (in *interpreter) cycleWords(f *fixed, h *hole, letters [2]byte) error {
	to, named, err := in.target()
	if err != nil {
		return err
	}
	for k := range in.setup.Axes {
		if named[k] && k != h.first && k != h.second && k != h.third && to[k] != in.at[k] {
			return in.fault(in.cur.word(in.axes.letters[k]), in.setup.Axes[k].Letter+" in a cycle", "a block of its own before it")
		}
	}
	h.at = in.at
	h.at[h.first], h.at[h.second] = to[h.first], to[h.second]
	if in.modal[distanceG] == 910 {
		h.step[h.first], h.step[h.second] = to[h.first]-in.at[h.first], to[h.second]-in.at[h.second]
	}
	if err := in.cycleHeights(f, h, named[h.third]); err != nil {
		return err
	}
	if err := in.cycleExtras(f, h, letters); err != nil {
		return err
	}
	return in.cycleMissing(f, h, letters)
}

// cycleHeights reads R and the axis word along the tool.
func (in *interpreter) cycleHeights(f *fixed, h *hole, named bool) error {
	relative := in.modal[distanceG] == 910
	stated := f.bottom.stated || f.clear.stated
	all := in.cur.has('R') && named
	if named {
		v, err := in.value(h.third, in.cur.word(in.axes.letters[h.third]))
		if err != nil {
			return err
		}
		f.bottom = word{v, true}
	}
	if err := in.cycleLength('R', &f.clear); err != nil {
		return err
	}
	if stated && !all && relative != f.relative {
		return in.faultAt(motionG, "R and %s anew after G90 or G91: what holds on was told the other way", in.setup.Axes[h.third].Letter)
	}
	f.relative = relative
	return nil
}

// cycleExtras reads the words that not all cycles have.
func (in *interpreter) cycleExtras(f *fixed, h *hole, letters [2]byte) error {
	if w := in.cur.word('P'); w != nil {
		if !h.way.dwells && !h.way.mayDwell {
			return in.fault(w, w.Text, "a cycle that dwells")
		}
		v, err := in.dwellOf(w)
		if err != nil {
			return err
		}
		f.seconds = word{v, true}
	}
	if h.way.pecks {
		if err := in.cycleLength('Q', &f.peck); err != nil {
			return err
		}
	}
	if h.way.shifts || h.code == 870 {
		for i, l := range letters {
			if err := in.cycleLength(l, &f.shift[i]); err != nil {
				return err
			}
		}
	}
	if h.code == 870 {
		if err := in.cycleLength('I'+'J'+'K'-letters[0]-letters[1], &f.back); err != nil {
			return err
		}
	}
	return nil
}

// cycleLength reads a word that is a length, if the block has it.
func (in *interpreter) cycleLength(letter byte, w *word) error {
	v, stated, err := in.lengthOf(letter)
	if err == nil && stated {
		*w = word{v, true}
	}
	return err
}

// cycleMissing is a Fault where a cycle lacks a word.
func (in *interpreter) cycleMissing(f *fixed, h *hole, letters [2]byte) error {
	switch {
	case !f.clear.stated:
		return in.faultAt(motionG, "R, from where the tool is fed")
	case !f.bottom.stated:
		return in.faultAt(motionG, "%s, to where the tool is fed", in.setup.Axes[h.third].Letter)
	case h.way.dwells && !f.seconds.stated:
		return in.faultAt(motionG, "P, how long it dwells")
	case h.way.pecks && !(f.peck.value > 0):
		return in.faultAt(motionG, "Q, how deep a peck is, more than 0")
	case (h.way.shifts || h.code == 870) && !(f.shift[0].stated && f.shift[1].stated):
		return in.faultAt(motionG, "%c and %c, by which the tool goes aside", letters[0], letters[1])
	case h.way.threads != 0 && in.spins() != h.way.threads:
		return in.faultAt(motionG, "a spindle that turns the way of the thread: M3 before G84, M4 before G74")
	case h.code == 870 && f.relative:
		return in.faultAt(motionG, "G90: how K counts by G91 is not the same everywhere")
	case h.code == 870 && !f.back.stated:
		return in.faultAt(motionG, "the level up to which it bores")
	}
	return nil
}

// cycleLevels works out the levels of a cycle: where it is fed from, to, and where it ends. Where G98
// returns to and what R counts from by G91 is where the tool stood before the first of the cycles in a
// row, or before the block: that matters only where these differ.
func (in *interpreter) cycleLevels(f *fixed, h *hole) error {
	level, origin := in.at[h.third], in.origin[h.third]
	far := in.modal[retractG] == 980
	if math.Abs(level-f.level) > sameLevel || math.Abs(origin-f.origin) > sameLevel {
		switch {
		case in.rules.Return == machine.BeforeBlock || !far && !f.relative:
		case in.rules.Return == "":
			return in.faultAt(motionG, "cycle_return in [program] of the machine file: the tool stands elsewhere than before the first cycle")
		case math.Abs(origin-f.origin) > sameLevel:
			return in.faultAt(motionG, "G80 between cycles where the zero changes along the tool")
		default:
			level = f.level
		}
	}
	h.clear, h.bottom = f.clear.value, f.bottom.value
	if f.relative {
		h.clear += level
		h.bottom += h.clear
	}
	h.peck, h.seconds, h.back = f.peck.value, f.seconds.value, f.back.value
	h.shift = [2]float64{f.shift[0].value, f.shift[1].value}
	h.way.dwells = f.seconds.stated
	h.out = h.clear
	switch {
	case h.clear < h.bottom:
		return in.faultAt(motionG, "R above the bottom: it is at %g, the bottom at %g", h.clear, h.bottom)
	case h.code == 870 && (h.back < h.bottom || h.back > h.clear):
		return in.faultAt(motionG, "the level up to which it bores between R and the bottom")
	case level < h.clear-sameLevel && far && in.rules.Return != machine.BeforeBlock:
		return in.faultAt(motionG, "a tool that stands above R before it: where G98 returns to otherwise is known with cycle_return = %q only", machine.BeforeBlock)
	case level <= h.clear:
	case far:
		h.out = level
	case in.modal[retractG] == unset:
		return in.faultAt(motionG, "G98 or G99 before, or in starts_with of [program] of the machine file")
	}
	if !h.way.pecks {
		return nil
	}
	switch n := (h.clear - h.bottom) / h.peck; {
	case n > mostPecks:
		return in.faultAt(motionG, "at most %d pecks", mostPecks)
	case n <= 1:
	case h.way.breaks && in.rules.ChipBreak == nil:
		return in.faultAt(motionG, "chip_break in [program] of the machine file: how far it comes back")
	case !h.way.breaks && in.rules.PeckClear == nil:
		return in.faultAt(motionG, "peck_clear in [program] of the machine file: how far above the last depth it is fed again")
	}
	return nil
}

// levels that are no farther apart are the same, mm.
const sameLevel = 1e-9

// nextPeck is how deep the next peck goes, and whether it is the last.
func (h *hole) nextPeck() (to float64, last bool) {
	if !h.way.pecks {
		return h.bottom, true
	}
	to = h.clear - float64(h.depth+1)*h.peck
	return math.Max(to, h.bottom), to <= h.bottom+sameLevel
}
