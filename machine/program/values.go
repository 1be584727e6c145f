package program

import (
	"math"

	"gridswing/machine"
)

// The largest numbers that are taken for a position: more than any machine goes, and little enough
// for float64 to keep what is behind the point.
const (
	mostLength = 1e7 // mm
	mostAngle  = 1e4 * 2 * math.Pi
)

const inch = 25.4 // mm, exactly (ISO 80000-3)

func radians(d float64) float64 { return d / 90 * (math.Pi / 2) }
func degrees(r float64) float64 { return r / (math.Pi / 2) * 90 }

// length is the value of a word that is a length, mm. What a zero is in needs not be known.
func (in *interpreter) length(w *Word) (float64, error) {
	v := w.Value
	if v == 0 {
		return 0, nil
	}
	scale := 1.0
	switch in.modal[unitsG] {
	case 210:
	case 200:
		scale = inch
	default:
		return 0, in.fault(w, w.Text+" without a unit", "G20 or G21 before, or in starts_with of [program] of the machine file")
	}
	if w.Plain {
		switch in.rules.PlainNumbers {
		case machine.AsWritten:
		case machine.SmallestSteps:
			if scale == inch || in.rules.Step <= 0 {
				return 0, in.fault(w, w.Text+" without a decimal point", "a decimal point: how long a smallest step is, is known in mm only")
			}
			scale = in.rules.Step
		default:
			return 0, in.unclear(w)
		}
	}
	if v *= scale; !(math.Abs(v) <= mostLength) {
		return 0, in.fault(w, w.Text, "a length of at most %g mm", float64(mostLength))
	}
	return v, nil
}

func (in *interpreter) unclear(w *Word) error {
	return in.fault(w, w.Text+" without a decimal point", "a decimal point, or number_without_point in [program] of the machine file")
}

// angle is the value of a word in degrees, rad.
func (in *interpreter) angle(w *Word) (float64, error) {
	v := radians(w.Value)
	if w.Plain && v != 0 {
		switch in.rules.PlainNumbers {
		case machine.AsWritten:
		case machine.SmallestSteps:
			if in.rules.TurnStep <= 0 {
				return 0, in.fault(w, w.Text+" without a decimal point", "a decimal point, or smallest_turn in [program] of the machine file")
			}
			v = w.Value * in.rules.TurnStep
		default:
			return 0, in.unclear(w)
		}
	}
	if !(math.Abs(v) <= mostAngle) {
		return 0, in.fault(w, w.Text, "an angle of at most %g degrees", degrees(mostAngle))
	}
	return v, nil
}

// value is the value of an axis' word: mm, or rad of one that turns.
func (in *interpreter) value(k int, w *Word) (float64, error) {
	if in.axes.turns[k] {
		return in.angle(w)
	}
	return in.length(w)
}

// whole is the value of a word that is a number of something, from least to most.
func (in *interpreter) whole(w *Word, least, most int) (int, error) {
	n := math.Round(w.Value)
	if math.Abs(w.Value-n) > 1e-9 || !(n >= float64(least) && n <= float64(most)) {
		return 0, in.fault(w, w.Text, "a whole number, %d to %d", least, most)
	}
	return int(n), nil
}

// lengthOf is the value of the word of a letter that is a length, mm.
func (in *interpreter) lengthOf(letter byte) (v float64, stated bool, err error) {
	w := in.cur.word(letter)
	if w == nil {
		return 0, false, nil
	}
	v, err = in.length(w)
	return v, true, err
}
