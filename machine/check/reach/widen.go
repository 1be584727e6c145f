package reach

import (
	"math"

	"gridswing/geom/motion"
)

// tie says which ends of a leg between features are at one, and so change with a spacer's
// height as the feature does. A leg that is tied at one end goes along the drawback axis, to
// or from where the machine has that; all other axes stand as at the feature.
type tie uint8

const (
	untied  tie = iota // nothing is known: each axis that stands as at a feature may be off as there
	tieFrom            // it begins at a feature
	tieTo              // it ends at one
	tieBoth            // it goes from one to another at the same rotary position
)

// widen returns the legs with what the ends that are at an area may be off by, over all
// heights of a spacer.
//
// With D as in leader.spread, a leg that is tied at both ends is shifted by e D as a whole. One
// that is tied at one end is so too, but for its other end, which stays where the machine
// has the drawback axis: seen from the shifted leg, up to half |D_z| either way. So it is made
// longer there by that, twice which is past what the axis really goes to. What is untied is a box
// over what each axis may be off by.
func (j *journey) widen(legs []leg) []leg {
	wide := make([]leg, len(legs))
	for i, l := range legs {
		from, to := l.from, l.at(motion.Params{1, 1, 1, 1, 1, 1, 1, 1})
		rise := j.behind.rise
		if l.tie == tieTo {
			rise = j.ahead.rise
		}
		if j.half == 0 || l.tie != tieBoth && (j.z < 0 || math.Abs(to[j.z]-from[j.z]) <= j.half*math.Abs(rise[j.z])) {
			l.tie = untied // which end is the higher one depends on the height
		}
		a, b := j.spreadAt(from, l.tie), j.spreadAt(to, l.tie)
		low, high := from, from
		for k := range low {
			low[k], high[k] = min(from[k]-a[k], to[k]-b[k]), max(from[k]+a[k], to[k]+b[k])
		}
		one, past := l.tie == tieFrom || l.tie == tieTo, motion.Params{}
		if one {
			more := j.half * math.Abs(rise[j.z])
			if (l.tie == tieFrom) == (to[j.z] > from[j.z]) {
				high[j.z] += more
				past[j.z] = 2 * more
			} else {
				low[j.z] -= more
				past[j.z] = -2 * more
			}
		}
		wide[i] = l
		if a != (motion.Params{}) || b != (motion.Params{}) || one {
			wide[i] = room(low, high)
			wide[i].level, wide[i].ends, wide[i].past = l.level, l.ends, past
		}
		if l.tie != untied {
			wide[i] = wide[i].raised(rise, j.half)
		}
	}
	return wide
}

// spreadAt is how far from a position each axis may be because of the spots that it is
// over: an axis that stands where it does at a spot may stand anywhere there, and, on a leg that
// is not tied to the spot, where it does there at any height.
func (j *journey) spreadAt(p motion.Params, t tie) (spread motion.Params) {
	for _, s := range []spot{j.behind, j.ahead} {
		for k := range spread {
			if math.Abs(p[k]-s.at[k]) > 1e-9 {
				continue
			}
			off := s.spread[k]
			if t == untied {
				off += j.half * math.Abs(s.rise[k])
			}
			spread[k] = max(spread[k], off)
		}
	}
	return spread
}

// compare notes where it depends on the height which of two positions of the drawback axis is
// the higher, that at a feature or that where the machine has it.
func (j *journey) compare(there motion.Params) {
	// Legs of no length are kept with a spacer, so that nothing else depends on it.
	off := j.half * max(math.Abs(j.behind.rise[j.z]), math.Abs(j.ahead.rise[j.z]))
	if j.half > 0 && math.Abs(there[j.z]-j.at[j.z]) <= off+1e-9 {
		j.unsure = true
	}
}
