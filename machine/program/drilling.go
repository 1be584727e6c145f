package program

import (
	"math"

	"github.com/golang/geo/r3"
)

// drilling is a cycle that is in force: heights along the tool from a location, mm.
type drilling struct {
	kind              string
	rapid, feed, back float64 // down to rapid in rapid, to feed in feed, out to back
	step              float64 // of pecks
	seconds           float64
	turns             float64 // to dwell for instead
}

// drills are the kinds of cycles: whether they peck and come out in feed.
var drills = map[string]struct{ pecks, out bool }{
	"DRILL": {}, "FACE": {}, "DEEP": {pecks: true}, "BRKCHP": {pecks: true}, "TAP": {out: true}, "BORE": {out: true}, "REAM": {out: true},
}

// cycles reads CYCLE: a kind and its numbers by word.
func (l *locations) cycles() error {
	items := l.rec.items
	if len(items) == 0 || items[0].word == "" {
		return l.fault("CYCLE of no kind", "DRILL, FACE, DEEP, BRKCHP, TAP, BORE, REAM or OFF")
	}
	if items[0].word == "OFF" && len(items) == 1 {
		l.cycle = nil
		return nil
	}
	kind, known := drills[items[0].word]
	switch {
	case !known:
		return faultAt(&items[0], "DRILL, FACE, DEEP, BRKCHP, TAP, BORE, REAM or OFF")
	case l.unit == 0:
		return l.fault("lengths, and it is not known in which unit", "UNITS/MM or UNITS/INCHES before")
	}
	d := &drilling{kind: items[0].word, rapid: math.NaN(), feed: math.NaN(), back: math.NaN()}
	for i := 1; i < len(items); i++ {
		if items[i].word == "" || i+1 == len(items) || items[i+1].word != "" {
			return faultAt(&items[i], "a word and its number")
		}
		if err := l.cycleWord(d, &items[i], items[i+1].number); err != nil {
			return err
		}
		if i++; i+1 < len(items) && items[i-1].word == "DWELL" && items[i+1].word == "REV" {
			d.turns, d.seconds = d.seconds, 0
			i++
		}
	}
	if math.IsNaN(d.back) {
		d.back = d.rapid
	}
	switch {
	case math.IsNaN(d.rapid) || math.IsNaN(d.feed):
		return l.fault("CYCLE without RAPTO or without FEDTO", "both")
	case !(d.feed < d.rapid) || d.feed > 0:
		return l.fault("FEDTO %g mm", "less than RAPTO and not above the location: below it is negative", d.feed)
	case d.back < d.rapid:
		return l.fault("RTRCTO below RAPTO", "a height no less than RAPTO")
	case kind.pecks && !(d.step > 0):
		return l.fault("CYCLE/%s without STEP", "STEP, the depth of a peck", d.kind)
	}
	l.cycle = d
	return nil
}

// cycleWord reads one word of a cycle.
func (l *locations) cycleWord(d *drilling, word *item, v float64) error {
	scale, f := l.unit, feedRate{}
	switch {
	case word.word == "RAPTO":
		d.rapid = v * l.unit
	case word.word == "FEDTO":
		d.feed = v * l.unit
	case word.word == "RTRCTO":
		d.back = v * l.unit
	case word.word == "STEP" && v > 0:
		d.step = v * l.unit
	case word.word == "DWELL" && v >= 0:
		d.seconds = v
	case f.unit(word.word, &scale, l.unit) && v > 0:
		f.mm = v * scale
		l.feed = f
	default:
		return faultAt(word, "RAPTO, FEDTO, RTRCTO, STEP, DWELL or a feed, with a number that can be one")
	}
	return nil
}

// hole does the cycle at a location.
func (l *locations) hole(tip, axis r3.Vector) error {
	d := l.cycle
	if err := l.fed(); err != nil {
		return err
	}
	at := func(height float64) r3.Vector { return tip.Add(axis.Mul(height)) }
	for _, height := range []float64{d.back, d.rapid} {
		if err := l.goTo(Rapid, at(height), axis, false); err != nil {
			return err
		}
	}
	if err := l.deepen(d, at, axis); err != nil {
		return err
	}
	if d.seconds > 0 || d.turns > 0 {
		st := l.add(Dwell, len(l.legs))
		const minute = 60
		if st.Seconds = d.seconds; d.turns > 0 {
			if st.Seconds = math.NaN(); l.speed > 0 {
				st.Seconds = d.turns / l.speed * minute
			}
		}
	}
	if drills[d.kind].out {
		if err := l.goTo(Feed, at(d.rapid), axis, d.kind == "TAP"); err != nil {
			return err
		}
	}
	return l.goTo(Rapid, at(d.back), axis, false)
}

// mostSteps is how many pecks a hole may have.
const mostSteps = 10000

// deepen feeds to the depth: at once, or in pecks from the location on.
func (l *locations) deepen(d *drilling, at func(float64) r3.Vector, axis r3.Vector) error {
	if !drills[d.kind].pecks {
		return l.goTo(Feed, at(d.feed), axis, d.kind == "TAP")
	}
	clear, key := (*float64)(nil), "peck_clear"
	if c := l.setup.Control; c != nil {
		if clear = c.PeckClear; d.kind == "BRKCHP" {
			clear, key = c.ChipBreak, "chip_break"
		}
	}
	if clear == nil {
		return l.fault("CYCLE/%s", key+" in [program] of the machine file", d.kind)
	}
	if -d.feed/d.step > mostSteps {
		return l.fault("a hole of more than %d pecks", "a larger STEP", mostSteps)
	}
	for depth := -d.step; ; depth -= d.step {
		depth = max(depth, d.feed)
		if err := l.goTo(Feed, at(depth), axis, false); err != nil || depth <= d.feed {
			return err
		}
		out := []float64{d.rapid, min(d.rapid, depth+*clear)}
		if d.kind == "BRKCHP" {
			out = out[1:]
		}
		for _, height := range out {
			if err := l.goTo(Rapid, at(height), axis, false); err != nil {
				return err
			}
		}
	}
}
