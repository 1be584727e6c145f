package check

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// Turn is the whole turn within which a control shows a rotary axis without ends, in degrees:
// 0 to 360, or -180 to 180 for an axis whose commanded range is stated so. It is empty for all
// other axes, which are shown as they stand.
type Turn [2]float64

func turnOf(a *machine.Axis) Turn {
	switch lo, hi := degreesOf(a.Commanded[0]), degreesOf(a.Commanded[1]); {
	case !a.Unlimited || a.Kind != motion.Rotary:
		return Turn{}
	case lo < 0 && lo >= -180 && hi <= 180:
		return Turn{-180, 180}
	}
	return Turn{0, 360}
}

func degreesOf(rad float64) float64 { return round(rad * 180 / math.Pi) }

// Shown is where a control shows the axis to stand: Value, but for whole turns. Between 0 and
// 360 the end is shown as 0, between -180 and 180 as 180.
func (p *Position) Shown() float64 {
	switch t := p.Turn; {
	case t == Turn{}:
		return p.Value
	case t[0] < 0:
		return round(p.Value - 360*math.Ceil((p.Value-t[1])/360))
	default:
		return round(p.Value - 360*math.Floor((p.Value-t[0])/360))
	}
}

// Shown is between what a control shows a stretch to lie, and whether it leads over the end of
// the turn: then from is the greater of the two, and through is what is shown in between (0, or
// 180). A whole turn and more is the whole turn.
func (r *Range) Shown() (from, to, through float64, over bool) {
	const rounding = 1e-9
	t := r.Turn
	switch {
	case t == Turn{}:
		return r.From, r.To, 0, false
	case r.From == r.To:
		at := (&Position{Value: r.From, Turn: t}).Shown()
		return at, at, 0, false
	case r.To-r.From >= 360-rounding:
		return t[0], t[1], 0, false
	}
	turns := 360 * math.Floor((r.From-t[0]+rounding)/360)
	if from, to = round(r.From-turns), round(r.To-turns); to <= t[1]+rounding {
		return from, to, 0, false
	}
	return from, round(to - 360), math.Mod(t[1], 360), true
}
