package program

import (
	"errors"
	"fmt"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r2"
)

// phase is how far radius compensation is.
type phase uint8

const (
	off      phase = iota
	entering       // G41 or G42 is in force, and no move in the plane has come yet
	entered        // the move that begins it waits for the next one
	beside         // a move beside the contour waits for the next one
	exiting        // G40 is in force, and the move that ends it has not come yet
)

// compensation is what radius compensation keeps. Where a move ends hangs on the next one in the plane, so that
// one waits, and with it what comes between: moves square to the plane, dwells, stops.
type compensation struct {
	side
	phase         phase
	d             int // number of the radius that was named last, unset if none was
	first, second int // the plane's axes
	at            motion.Params
	waits         []later
	path, beside  track   // of the first of them: as programmed, and where the tool goes
	round         []track // what leads round the corner before it
	block         int64   // how many blocks were read up to it
}

// later is a stroke, or a dwell or stop of so many seconds.
type later struct {
	stroke
	seconds float64
}

// Blocks between two moves in the plane, over which a control is trusted to look ahead to a corner:
// common practice, no source. Between moves that go on in one direction there may be more.
const (
	mostBetween = 2
	mostWaiting = 100
)

// compensates reports whether strokes go through radius compensation.
func (in *interpreter) compensates() bool { return in.comp.phase != off }

// pending reports whether strokes wait for what follows them.
func (in *interpreter) pending() bool { return len(in.comp.waits) > 0 }

// uncompensated is a Fault if a block changes what radius compensation rests on while it is on.
func (in *interpreter) uncompensated() error {
	if in.comp.phase == off {
		return nil
	}
	c := &in.cur
	for _, g := range [...]group{planeG, offsetG, lengthG, specialG, onceG, changeM} {
		if n := c.codes[g]; n != unset && n != in.modal[g] && n != 40 {
			return in.faultAt(g, "G40, and a straight move that ends radius compensation, before")
		}
	}
	return nil
}

// compensation does G40, G41 and G42.
func (in *interpreter) compensation(code int) error {
	c := &in.comp
	in.modal[radiusG] = code
	switch {
	case code == 400:
		return in.uncompensate()
	case c.phase != off:
		return in.faultAt(radiusG, "G40, and a straight move that ends radius compensation, before")
	}
	if w := in.cur.word('D'); w != nil {
		var err error
		if c.d, err = in.whole(w, 0, mostOffsets); err != nil {
			return err
		}
	}
	if c.d == unset {
		return in.faultAt(radiusG, "D and the number of the tool's radius")
	}
	r, known := in.radii[c.d]
	switch {
	case c.d == 0 || known && r == 0:
		return nil
	case !known:
		return in.faultAt(radiusG, "a radius D%d keyed in at the control: [[keyed.radius]] of the setup file", c.d)
	}
	c.side = side{by: r, sharp: in.rules.Corners == machine.SharpCorners}
	if code == 420 {
		c.by = -r
	}
	var err error
	var third int
	if c.first, c.second, third, _, err = in.planeAxes(); err != nil {
		return err
	}
	if !in.upright(third) && !in.upright(in.axes.z) {
		return in.faultAt(radiusG, "a tool that stands along %s of the part: in which plane the radius counts otherwise controls see differently", in.setup.Axes[third].Letter)
	}
	c.phase, c.at = entering, in.at
	return nil
}

// uncompensate does G40: the last move beside the contour ends square to it.
func (in *interpreter) uncompensate() error {
	c := &in.comp
	switch c.phase {
	case entering:
		c.phase = off
	case entered:
		return in.faultAt(radiusG, "a move beside a contour between G41 or G42 and G40")
	case beside:
		c.phase = exiting
		return in.flush()
	}
	return nil
}

// in2 takes the plane's coordinates out of others.
func (c *compensation) in2(p *motion.Params) r2.Point { return r2.Point{X: p[c.first], Y: p[c.second]} }

// compensate takes a stroke of the program and emits those of the tool's middle.
func (in *interpreter) compensate(s *stroke) error {
	c := &in.comp
	t := track{from: c.in2(&c.at), to: c.in2(&s.to)}
	if s.arc != nil {
		t.centre, t.turn = r2.Point{X: s.arc.centre[0], Y: s.arc.centre[1]}, s.arc.sweep
	}
	c.at = s.to
	for k := range in.setup.Axes {
		if in.axes.turns[k] && s.named[k] {
			return in.fault(nil, in.setup.Axes[k].Letter+" with radius compensation on", "G40 before rotary axes turn")
		}
	}
	flat := t.turn == 0 && t.length() < samePlace
	switch {
	case c.phase == exiting && (flat || t.turn != 0):
		return in.fault(nil, "another move behind G40", "a straight move in the plane, which ends radius compensation")
	case c.phase == exiting:
		c.phase = off
		return in.emit(s)
	case flat && c.phase == entering:
		return in.emit(s)
	case flat:
		return in.keep(later{stroke: *s})
	case c.phase == entering && t.turn != 0:
		return in.fault(nil, "an arc that begins radius compensation", "a straight move")
	case c.phase == entering:
		c.phase, c.path = entered, t
	case c.phase == entered:
		if err := in.enterBeside(&t); err != nil {
			return err
		}
		c.phase = beside
	default:
		if err := in.goOn(&t); err != nil {
			return err
		}
	}
	c.waits = append(c.waits[:0], later{stroke: *s})
	c.block = in.source.count
	return nil
}

// keep makes something wait behind a stroke.
func (in *interpreter) keep(l later) error {
	if len(in.comp.waits) >= mostWaiting {
		return in.fault(nil, "one more block between two moves in the plane of radius compensation", "at most %d", mostWaiting)
	}
	in.comp.waits = append(in.comp.waits, l)
	return nil
}

// pause adds a dwell or a stop, behind what waits.
func (in *interpreter) pause(kind Kind, seconds float64) error {
	if in.pending() {
		s := in.stroke(Rapid)
		s.kind = kind
		return in.keep(later{s, seconds})
	}
	in.add(kind).Seconds = seconds
	return nil
}

// cornerFault is the Fault of a corner at the end of the stroke that waits.
func (in *interpreter) cornerFault(found, expected string) error {
	return &Fault{Place: in.comp.waits[0].place, Found: found, Expected: expected, Block: in.comp.waits[0].text}
}

// besideOf is where the tool goes along a track.
func (in *interpreter) besideOf(t *track) (track, error) {
	b, ok := t.beside(in.comp.by)
	if !ok {
		return b, in.fault(nil, fmt.Sprintf("an arc too small for a tool of radius %g mm inside it", math.Abs(in.comp.by)), "a smaller radius D, or a larger one of the arc")
	}
	return b, nil
}

// enterBeside emits the move that begins the compensation, and lays the tool beside the first track of the contour.
func (in *interpreter) enterBeside(t *track) error {
	c := &in.comp
	next, err := in.besideOf(t)
	if err != nil {
		return err
	}
	from := c.path.from
	switch in.rules.Entry {
	case machine.SquareToNext:
		c.beside = track{from: from, to: next.from}
	case machine.Touching:
		end, ok := c.tangent(from, c.path.to)
		if !ok {
			return in.cornerFault("a way that begins radius compensation and is no longer than the radius", "a longer one")
		}
		along := end.Sub(c.path.to)
		c.path = track{from: from.Sub(along), to: c.path.to}
		c.beside = track{from: from, to: end}
		return in.turnCorner(t, &next)
	default:
		return in.cornerFault("a move that begins radius compensation", "radius_begins in [program] of the machine file: where it ends")
	}
	if err := in.flush(); err != nil {
		return err
	}
	c.path, c.beside, c.round = *t, next, nil
	return nil
}

// goOn emits what waits, and lays the tool beside the next track.
func (in *interpreter) goOn(t *track) error {
	next, err := in.besideOf(t)
	if err != nil {
		return err
	}
	return in.turnCorner(t, &next)
}

// turnCorner emits what waits up to the corner before the next track.
func (in *interpreter) turnCorner(t, next *track) error {
	c := &in.comp
	gap := next.from.Sub(c.beside.to).Norm()
	between := in.source.count - c.block - 1
	if gap > noCorner && between > mostBetween {
		return in.cornerFault(fmt.Sprintf("a corner and %d blocks before the next move in the plane", between),
			fmt.Sprintf("at most %d, over which controls look ahead", mostBetween))
	}
	round, problem := c.corner(&c.path, t, &c.beside, next)
	switch {
	case problem != "":
		return in.cornerFault(problem+" of radius compensation", "a contour that the radius fits")
	case len(round) > 0 && in.rules.Corners == "":
		return in.cornerFault("an outer corner of radius compensation", "corners in [program] of the machine file: how the tool goes round it")
	}
	if err := in.flush(); err != nil {
		return err
	}
	c.path, c.beside, c.round = *t, *next, round
	return nil
}

// flush emits what waits: the way round the corner, the move beside the contour, and what came behind it.
func (in *interpreter) flush() error {
	c := &in.comp
	waits := c.waits
	c.waits = nil
	for i := range c.round {
		s := waits[0].stroke
		s.to, s.named, s.arc = in.led, [motion.MaxParams]bool{}, nil
		if err := in.lay(&s, &c.round[i], 0); err != nil {
			return err
		}
	}
	for i := range waits {
		l := &waits[i]
		if l.kind != Rapid && l.kind != Feed {
			st := in.add(l.kind)
			st.Place, st.Block, st.Turning, st.Seconds = l.place, l.text, l.turning, l.seconds
			continue
		}
		loose := 0.0
		if l.arc != nil {
			loose = l.arc.loose
		}
		t := c.beside
		if i > 0 {
			t = track{from: t.to, to: t.to}
		}
		if err := in.lay(&l.stroke, &t, loose); err != nil {
			return err
		}
	}
	c.waits = waits[:0]
	return nil
}

// lay emits a stroke that goes along a track in the plane.
func (in *interpreter) lay(s *stroke, t *track, loose float64) error {
	c := &in.comp
	s.to[c.first], s.to[c.second], s.arc = t.to.X, t.to.Y, nil
	if t.turn != 0 {
		a, b := t.radii()
		u := t.from.Sub(t.centre)
		s.arc = &arc{first: c.first, second: c.second, centre: [2]float64{t.centre.X, t.centre.Y},
			from: math.Atan2(u.Y, u.X), sweep: t.turn, radius: [2]float64{a, b}, loose: loose}
	}
	return in.emit(s)
}

// waiting adds to a Fault that moves before it have not been handed out.
func (in *interpreter) waiting(err error) error {
	if err == nil || !in.pending() {
		return err
	}
	var f *Fault
	if !errors.As(err, &f) {
		return err
	}
	at := in.comp.waits[0].place
	if at == f.Place {
		return err
	}
	g := *f
	g.Found += fmt.Sprintf(" (where line %d ends with radius compensation hangs on what follows, so that it is not read either)", at.Line)
	return &g
}
