package program

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// pace is what says how long a feed takes.
type pace struct {
	mode  int     // G93, G94 or G95 in tenths; unset if it is not known
	feed  float64 // see state.feed; 0: none
	speed float64 // turns a minute, 0: not known
	here  bool    // F is in this very block
	inch  bool
}

func (in *interpreter) pace() pace {
	return pace{mode: in.modal[feedG], feed: in.feed, speed: in.speed, here: in.cur.has('F'), inch: in.inches}
}

// feedOf reads F. By G94 it is a length or degrees a minute, by G95 a length a turn, by G93 one
// over minutes (NISTIR 6556, sec. 3.5.20; G95: ISO 6983-1). Numbers without a point are as
// written: F decides about time only.
func (in *interpreter) feedOf(w *Word) error {
	if !(w.Value >= 0) || math.IsInf(w.Value, 0) {
		return in.fault(w, w.Text, "a feed that is not negative")
	}
	in.feed, in.inches = w.Value, in.modal[unitsG] == 200
	return nil
}

// fed is a Fault where a stroke is fed and it is not known how fast, or where what feeds depend on
// is not known.
func (in *interpreter) fed(s *stroke) error {
	fault := func(found, expected string) error {
		return &Fault{Place: s.place, Found: found, Expected: expected, Block: s.text}
	}
	switch {
	case in.modal[radiusG] == unset:
		return fault("a feed, and it is not known whether radius compensation is on", "G40 before, or in starts_with of [program] of the machine file")
	case s.pace.mode == unset:
		return fault("a feed of which it is not known what F counts", "G93, G94 or G95 before, or in starts_with of [program] of the machine file")
	case s.pace.feed == 0:
		return fault("a feed without F", "F before or in the block")
	case s.pace.mode == 930 && !s.pace.here:
		return fault("a feed without F", "F in every block that is fed by G93 (NISTIR 6556, sec. 3.5.21)")
	}
	in.note(s.place)
	return nil
}

// seconds is how long a feed over a length takes, mm, and if it is 0 over the angle, rad.
func (p *pace) seconds(length, angle float64) float64 {
	scale := 1.0
	if p.inch {
		scale = inch
	}
	switch p.mode {
	case 930:
		return 60 / p.feed
	case 940:
		if length == 0 {
			return degrees(angle) / p.feed * 60
		}
		return length / (p.feed * scale) * 60
	case 950:
		if p.speed > 0 && length > 0 {
			return length / (p.feed * scale * p.speed) * 60
		}
	}
	return math.NaN()
}

// takes is how long a step of a stroke takes.
func (in *interpreter) takes(s *stroke, st *Step) float64 {
	if s.kind == Rapid {
		return in.rapidly(st.Legs)
	}
	return s.pace.seconds(st.Length, in.turned(&st.Legs[0].From, &st.Legs[len(st.Legs)-1].To))
}

// turned is how far rotary axes go between two places, rad: the root of the sum of the squares
// (NISTIR 6556, sec. 2.1.2.5).
func (in *interpreter) turned(from, to *motion.Params) float64 {
	sum := 0.0
	for k := range in.setup.Axes {
		if in.axes.turns[k] {
			d := to[k] - from[k]
			sum += d * d
		}
	}
	return math.Sqrt(sum)
}

// rapidly and rapidTime are how long legs take in rapid: as long as the slowest axis, which
// gathers speed, goes on at its rapid rate and slows down; NaN if the rate of an axis that goes is
// not stated.
func (in *interpreter) rapidly(legs []Leg) float64 { return rapidTime(in.setup, legs) }

func rapidTime(s *machine.Setup, legs []Leg) float64 {
	most := 0.0
	for k := range s.Axes {
		d := 0.0
		for i := range legs {
			d += math.Abs(legs[i].To[k] - legs[i].From[k])
		}
		if d == 0 {
			continue
		}
		r := &s.Axes[k].Rates
		if r.Rapid <= 0 {
			return math.NaN()
		}
		t := d / r.Rapid
		if r.Acceleration > 0 {
			if d >= r.Rapid*r.Rapid/r.Acceleration {
				t += r.Rapid / r.Acceleration
			} else {
				t = 2 * math.Sqrt(d/r.Acceleration)
			}
		}
		most = max(most, t)
	}
	return most
}

// distance is how far the tip goes on a stroke, in the coordinates of the program, mm.
func (in *interpreter) distance(s *stroke) float64 {
	d := in.point(s.to).Sub(in.point(in.led))
	if s.arc == nil {
		return d.Norm()
	}
	r := (s.arc.radius[0] + s.arc.radius[1]) / 2
	third := 0.0
	for _, k := range []int{in.axes.x, in.axes.y, in.axes.z} {
		if k != s.arc.first && k != s.arc.second {
			third = s.to[k] - in.led[k]
		}
	}
	return math.Hypot(r*s.arc.sweep, third)
}
