package program

import (
	"errors"
	"fmt"
	"io"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// OpenLocations begins to read a program of cutter locations (ISO 4343, as text): tip and axis of
// the tool in the coordinates of a part, an index into s.Parts. The name is for messages.
//
// It begins with every axis at home, no tool in the spindle, the spindle stopped. How axes are
// to go from one location to the next is not in such a file, so it is taken that
//   - they present a tool axis in the way that turns them least from where they stand;
//   - in feed the tip goes straight in the part while rotary axes turn evenly;
//   - in rapid (RAPID, for one location) it does so, or all axes go evenly, or where the machine's axes
//     need not arrive together anyhow between: a leg holds all of them;
//   - to change tools Z goes home first, then the others to the place of the change.
//
// Tool axes stay as they were where a location names none, (0, 0, 1) at first. Tools have the lengths
// of the tool files. Feeds are per minute where nothing else is stated.
//
// Marks are as in Options.
//
// An error is what keeps any such program from being read: no such part, no spindle, or axes that
// cannot be solved for. What is wrong with the program is the stream's.
func OpenLocations(name string, r io.Reader, s *machine.Setup, part int, marks ...int) (Steps, error) {
	switch {
	case part < 0 || part >= len(s.Parts):
		return nil, fmt.Errorf("%s: no part whose coordinates cutter locations could be in", s.File)
	case s.Spindle == nil:
		return nil, errors.New("the machine file has no [spindle]")
	}
	l := &locations{setup: s, axis: r3.Vector{Z: 1}, z: -1, marks: marksOf(marks)}
	for k := range s.Axes {
		a := &s.Axes[k]
		l.pos[k] = a.Home
		if a.Letter == "Z" {
			l.z = k
		}
	}
	var err error
	if l.kin, err = kinematics.New(s.KinematicAxes(), s.Parts[part].Chain, s.Spindle.Chain); err != nil {
		return nil, err
	}
	l.records = records{lines: lines{r: r}, file: name}
	return l, nil
}

// Assumed says what OpenLocations takes to be so though no such file states it, a line for each.
func Assumed() []string {
	return []string{
		"cutter locations do not say how the axes go: rotary axes are taken to turn to the nearest position that presents the tool's axis",
		"between two locations in feed the tip is taken to go straight in the part while rotary axes turn evenly; in rapid it may, or all axes go evenly",
		"before a tool change Z is taken to go home first",
		"tools are taken to have the lengths of the tool files, and the part to be where the setup has it",
	}
}

// locations is what a machine does with cutter locations.
type locations struct {
	setup *machine.Setup
	kin   *kinematics.Machine
	z     int // the parameter of Z; -1: there is none
	records
	rec *record

	pos    motion.Params
	tip    r3.Vector // of the tool in the spindle, in the part
	axis   r3.Vector
	said   r3.Vector // the location that was read last
	moved  bool
	shown  bool // the rotary axes stand so that they present axis
	tool   int  // 0: none
	length float64
	unit   float64 // mm; 0: not stated

	rapid   bool // the next location is gone to in rapid
	feed    feedRate
	speed   float64 // turns a minute; 0: not known
	turning int
	sense   int       // of SPINDL last, which ON brings back; 0: none was told
	cycle   *drilling // nil: none is in force

	queue  []Step
	legs   []Leg
	spans  [][2]int // of the queue's legs
	pieces []kinematics.Leg
	next   int
	ended  bool
	err    error
	used   Used
	marks  marks
	seen   int // lines that were read before the record at hand
}

// feedRate is FEDRAT: mm a minute or mm a turn.
type feedRate struct {
	mm      float64 // 0: not stated
	perTurn bool
}

// Next returns the next step: see Steps.
func (l *locations) Next() (*Step, error) {
	for {
		if l.next < len(l.queue) {
			st := &l.queue[l.next]
			if s := l.spans[l.next]; s[1] > s[0] {
				st.Legs = l.legs[s[0]:s[1]:s[1]]
			}
			l.next++
			l.marks.tell(st)
			return st, nil
		}
		if l.err != nil {
			return nil, l.err
		}
		l.queue, l.spans, l.legs, l.next = l.queue[:0], l.spans[:0], l.legs[:0], 0
		if l.err = l.proceed(); l.err != nil {
			inLine(l.err, l.records.rec.place, l.records.rec.text)
		}
	}
}

// Used returns nothing: cutter locations are in the part, and know of no offsets.
func (l *locations) Used() *Used { return &l.used }

// Read returns how much was read so far.
func (l *locations) Read() (blocks, bytes int64) { return l.count, l.bytes }

// proceed does one record.
func (l *locations) proceed() error {
	if l.ended {
		return io.EOF
	}
	rec, err := l.records.next()
	switch {
	case err == io.EOF:
		return &Fault{Place: Place{l.file, l.line + 1, 1}, Found: "the end of the file", Expected: "FINI"}
	case err != nil:
		var f *Fault
		if errors.As(err, &f) {
			return err
		}
		return &Fault{Place: Place{l.file, l.line + 1, 1}, Found: "a file that cannot be read on: " + err.Error(), Expected: "its next line"}
	}
	l.rec = rec
	for ; l.marks.wanted != nil && l.seen < rec.place.Line-1; l.seen++ {
		l.marks.read(l.seen + 1)
	}
	l.marks.done()
	do, known := majors[rec.word]
	if !known {
		return l.fault("%s", "a record that says where the tool goes or that moves nothing: "+majorList(), rec.word)
	}
	return do(l)
}

// fault is a Fault at the record.
func (l *locations) fault(found, expected string, args ...any) error {
	return &Fault{Place: l.rec.place, Found: fmt.Sprintf(found, args...), Expected: expected}
}

// faultAt is a Fault at an item of the record.
func faultAt(i *item, expected string) error {
	return &Fault{Place: i.place, Found: i.String(), Expected: expected}
}

// add puts a step into the queue, with the legs from first on.
func (l *locations) add(kind Kind, first int) *Step {
	l.queue = append(l.queue, Step{Kind: kind, Place: l.rec.place, Block: cut(l.rec.text), Tool: l.tool, Turning: l.turning, Seconds: math.NaN()})
	l.spans = append(l.spans, [2]int{first, len(l.legs)})
	return &l.queue[len(l.queue)-1]
}

// goTo leads the tool to a location.
func (l *locations) goTo(kind Kind, tip, axis r3.Vector, thread bool) error {
	goal, err := l.presented(axis)
	if err != nil {
		return err
	}
	first := len(l.legs)
	end, err := l.lead(kind, &goal, tip)
	if err != nil {
		return l.fault("a move on which %s", "one that the axes can follow", err.Error())
	}
	far, turned := tip.Distance(l.tip), goal != l.turnedAs(goal)
	l.pos, l.tip, l.axis, l.moved, l.shown = end, tip, axis, true, true
	if len(l.legs) == first {
		return nil
	}
	st := l.add(kind, first)
	st.Length, st.Thread, st.Led = far, thread, l.tool != 0
	if kind == Rapid {
		st.Seconds = rapidTime(l.setup, l.legs[first:])
	} else {
		st.Seconds = l.feedTime(far, turned)
	}
	return nil
}

// turnedAs returns p with the rotary axes as they stand.
func (l *locations) turnedAs(p motion.Params) motion.Params {
	for _, k := range l.kin.Rotary() {
		p[k] = l.pos[k]
	}
	return p
}

// feedTime is how long a feed takes, seconds; NaN where it is not known.
func (l *locations) feedTime(far float64, turned bool) float64 {
	const minute = 60
	switch {
	case far == 0 && turned:
		return math.NaN() // what a feed is that only turns no standard says
	case !l.feed.perTurn:
		return far / l.feed.mm * minute
	case l.speed > 0:
		return far / (l.feed.mm * l.speed) * minute
	}
	return math.NaN()
}

// presented returns the positions with the rotary axes where they present a tool axis, turned least
// from where they stand.
func (l *locations) presented(axis r3.Vector) (motion.Params, error) {
	if l.shown && axis == l.axis {
		return l.pos, nil
	}
	best, least := l.pos, math.Inf(1)
	for _, s := range l.kin.Present(axis, l.pos) {
		if s.Miss > mostMiss {
			continue
		}
		for _, p := range l.kin.Turns(s, l.pos) {
			sum := 0.0
			for _, k := range l.kin.Rotary() {
				sum += math.Abs(p[k] - l.pos[k])
			}
			if sum < least {
				best, least = p, sum
			}
		}
	}
	if math.IsInf(least, 1) {
		return best, l.fault("a tool axis (%g, %g, %g), which no position of the rotary axes presents",
			"one within their travel", axis.X, axis.Y, axis.Z)
	}
	return best, nil
}

// mostMiss is by how much a tool axis may be off, rad: what six decimals leave off.
const mostMiss = 5e-6

// lead adds the legs to a tip, the rotary axes going to where goal has them.
func (l *locations) lead(kind Kind, goal *motion.Params, tip r3.Vector) (end motion.Params, err error) {
	if kind == Feed {
		return l.led(goal, tip)
	}
	l.pieces, end, err = l.kin.Either(l.pieces[:0], l.pos, *goal, l.tip, tip, l.length)
	if err != nil {
		return end, err
	}
	for _, p := range apart(l.setup, l.pieces) {
		l.leg(p.From, p.To, p.Within, false)
	}
	return end, nil
}

// led adds the legs of a feed.
func (l *locations) led(goal *motion.Params, tip r3.Vector) (end motion.Params, err error) {
	l.pieces, end, err = l.kin.Led(l.pieces[:0], l.pos, *goal, l.tip, tip, l.length)
	if err != nil {
		return end, err
	}
	for i := range l.pieces {
		p := &l.pieces[i]
		if i == 0 {
			p.From = l.pos // the same but for rounding
		}
		if p.From != p.To {
			l.legs = append(l.legs, Leg{From: p.From, To: p.To, Within: p.Within})
		}
	}
	return end, nil
}

// leg adds a leg in rapid if anything moves on it: a box where axes need not arrive together, or
// where nothing says which goes first.
func (l *locations) leg(from, to, within motion.Params, box bool) {
	moving := 0
	for k := range l.setup.Axes {
		if from[k] != to[k] || within[k] > 0 {
			moving++
		}
	}
	if moving > 0 {
		box = moving > 1 && (box || l.setup.Rapid != machine.Interpolated)
		l.legs = append(l.legs, Leg{From: from, To: to, Within: within, Box: box})
	}
}
