package machine

import (
	"fmt"

	"gridswing/geom/motion"
)

// rates reads how fast a programmed axis goes: in rapid per minute, and what it speeds up per
// second squared.
func (s *source) rates(a *axis, t *axisTable, unit scale) Rates {
	value := unit.mm
	if a.kind == motion.Rotary {
		value = radians
	}
	read := func(key string, v *float64) float64 {
		switch path := t.Path + "." + key; {
		case v == nil:
			return 0
		case a.setting:
			s.fault(path, fmt.Sprint(*v), "no such key: a setting axis is not programmed")
			return 0
		default:
			return value(s.positive(path, *v))
		}
	}
	const minute = 60
	return Rates{Rapid: read("rapid_rate", t.RapidRate) / minute, Acceleration: read("acceleration", t.Acceleration)}
}
