package program

import (
	"fmt"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// unset is a group of which no code is known to be in force.
const unset = -1

// state is what the control keeps from block to block.
type state struct {
	// modal holds the code in force of each modal group, in tenths; unset if it is not known.
	modal [groups]int
	// at are the coordinates the program stands at, in the system that is in force; led those that
	// the axes were led to: another place while radius compensation is on. pos is where the axes
	// stand.
	at, led, pos motion.Params
	// unsure marks axes whose coordinate hangs on how the control treats a code before it: they
	// must be named, by absolute coordinates, before anything else moves.
	unsure [motion.MaxParams]bool

	offsets map[string]*workOffset
	offset  string          // the name of the one in force, "" if none is known
	work    *workOffset     // the same; nil if it is not known or nothing is keyed in
	lengths map[int]float64 // mm, by number
	radii   map[int]float64
	// shift is that of G92, kept what G92.3 brings back, local that of a local zero.
	shift, kept, local motion.Params
	keeps              bool // kept is known: it is of this program
	// lift is the length in force, mm, lifted whether it is known, h its number.
	lift   float64
	lifted bool
	h      int
	lifts  bool // Z stands where the length has led it: see Step.Led

	control   control
	tipLength bool  // the length in force was named by the code of tip control
	datum     datum // of the part as the control believes it, while control is not plainControl
	// origin is what plain control and a carried zero add to coordinates.
	origin motion.Params

	feed     float64 // mm or rad a minute, mm a turn or moves a minute, by the feed mode; 0: none
	inches   bool    // F was given in inches
	speed    float64 // turns a minute; 0 if not known
	still    bool    // at S0
	turning  int     // as M3, M4 and M5 have it
	tool     int     // in the spindle; 0: none, or not known which
	chosen   int     // by the last T; unset if there was none
	ended    bool
	lastUsed [2]int // tool and number of the length listed last
}

// workOffset is a work offset, the axes of which it is known, and whether the program set it.
type workOffset struct {
	values motion.Params
	known  [motion.MaxParams]bool
	set    bool
	noted  []motion.Params // where the rotary axes stood, in Used
}

// control is how coordinates become positions.
type control uint8

const (
	plainControl control = iota
	carriedZero
	tipControl
	turnedPlane
)

// begin is the state before the first block.
func (in *interpreter) begin(v Values) {
	in.axes = axesOf(in.setup)
	in.chosen, in.comp.d = unset, unset
	for g := range in.modal {
		in.modal[g] = unset
	}
	in.offsets, in.lengths, in.radii = map[string]*workOffset{}, v.Lengths, v.Radii
	for name, values := range v.Offsets {
		w := &workOffset{values: values}
		for k := range w.known {
			w.known[k] = true
		}
		in.offsets[name] = w
	}
	for k := range in.setup.Axes {
		in.pos[k] = in.setup.Axes[k].Home
	}
	in.recount()
}

// start puts the codes in force that hold when a program begins.
func (in *interpreter) start(list []string) error {
	var seen [groups]string
	for _, name := range list {
		letter, n, ok := parseCode(name)
		if !ok {
			return fmt.Errorf("starts_with of [program]: found %q, expected a code such as G17", name)
		}
		table := &in.codes.g
		if letter == 'M' {
			table = &in.codes.m
		}
		fault := fmt.Errorf("starts_with of [program]: found %s, expected a code that holds on and that a program can begin with", name)
		g := table[n]
		if g != noGroup && g < silent {
			if seen[g] != "" {
				return fmt.Errorf("starts_with of [program]: found %s beside %s, expected one code of a group", name, seen[g])
			}
			seen[g] = name
		}
		switch g {
		case motionG:
			if n > 10 && n != 800 {
				return fault
			}
			in.modal[g] = n
		case radiusG:
			if n != 400 {
				return fault
			}
			in.modal[g] = n
		case lengthG:
			if n != 490 {
				return fault
			}
			in.lifted = true
		case offsetG:
			if in.codes.meanings[n] == machine.MoreOffsets {
				return fault
			}
			in.modal[g], in.offset = n, name
			in.work = in.offsets[name]
			in.recount()
		case planeG, distanceG, feedG, unitsG, retractG, pathG:
			in.modal[g] = n
		case spindleM:
			if n != 50 {
				return fault
			}
		case specialG:
			if in.codes.meanings[n] != machine.EndsControl {
				return fault
			}
		case silent, coolantM, overrideM:
		default:
			return fault
		}
	}
	return nil
}
