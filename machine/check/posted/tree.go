package posted

import (
	"math"

	"gridswing/geom/motion"
	"gridswing/machine/program"
)

// A chunk's legs are the leaves of a tree, each branch of which holds so many that follow each other.
const branches = 4

// stretch is some legs that follow each other.
type stretch struct {
	over  motion.Box // all axis positions on them, and those in between
	kinds kinds      // of the legs
	level bool       // some are: see window
	// boxed is set where an axis goes by itself on one of them.
	boxed bool
}

// kinds is a set of kinds of legs.
type kinds uint8

func kindsOf(k program.Kind) kinds { return 1 << k }

func (k kinds) has(kind program.Kind) bool { return k&(1<<kind) != 0 }

// stretchOf is a leg as a stretch.
func (l *leg) stretch() (s stretch) {
	for k := range l.From {
		s.over.Lo[k] = min(l.From[k], l.To[k]) - l.Within[k]
		s.over.Hi[k] = max(l.From[k], l.To[k]) + l.Within[k]
	}
	s.kinds, s.boxed, s.level = kindsOf(l.kind), l.Box, l.level
	return s
}

// join makes the stretch hold another one.
func (s *stretch) join(o *stretch) {
	for k := range s.over.Lo {
		s.over.Lo[k] = min(s.over.Lo[k], o.over.Lo[k])
		s.over.Hi[k] = max(s.over.Hi[k], o.over.Hi[k])
	}
	s.kinds |= o.kinds
	s.boxed, s.level = s.boxed || o.boxed, s.level || o.level
}

// grow builds the tree over the chunk's legs: levels[n][i] is over the legs from i branches^(n+1) on.
func (c *chunk) grow() {
	c.levels = c.levels[:0]
	if len(c.legs) == 0 {
		return
	}
	var low []stretch
	for i := 0; i < len(c.legs); i += branches {
		s := c.legs[i].stretch()
		for k := i + 1; k < min(i+branches, len(c.legs)); k++ {
			next := c.legs[k].stretch()
			s.join(&next)
		}
		low = append(low, s)
	}
	c.levels = append(c.levels, low)
	for len(low) > 1 {
		var up []stretch
		for i := 0; i < len(low); i += branches {
			s := low[i]
			for k := i + 1; k < min(i+branches, len(low)); k++ {
				s.join(&low[k])
			}
			up = append(up, s)
		}
		c.levels = append(c.levels, up)
		low = up
	}
}

// legsUnder are the legs that a branch holds, the second not included.
func (c *chunk) legsUnder(level, i int) (from, to int) {
	size := branches
	for range level {
		size *= branches
	}
	return i * size, min((i+1)*size, len(c.legs))
}

// line is the straight way that leads past some legs: every position on them is
//
//	from + t way, t from 0 to 1, each axis off by no more than within.
type line struct{ from, way, within motion.Params }

// arm is what a radian counts against a mm where legs are laid beside a line.
const arm = 100.0

// straighten finds a line along legs, on none of which axes go by themselves; ok is false where
// they do not lead along one.
//
// To a position p belongs t(p), a linear function of p: what p - a has along d, both weighted. On a leg p
// goes evenly, so that t(p) does, and so does p - a - t(p) d, of which every axis is thus farthest off at
// one of the leg's ends; what the leg itself is within is added. t(p) is between what it is
// at the ends, too, so that the line may end where t is least and greatest there. Which d it is does not
// matter for that: from the first position to the one farthest from it is a good one.
func straighten(legs []leg, weight *motion.Params) (l line, ok bool) {
	a := legs[0].From
	far, most := a, 0.0
	for i := range legs {
		if legs[i].Box {
			return l, false
		}
		if d := distance(&legs[i].To, &a, weight); d > most {
			far, most = legs[i].To, d
		}
	}
	if most == 0 {
		return l, false
	}
	var d motion.Params
	for k := range d {
		d[k] = far[k] - a[k]
	}
	low, high := 0.0, 0.0
	var off motion.Params
	for i := range legs {
		for _, p := range [2]*motion.Params{&legs[i].From, &legs[i].To} {
			t := along(p, &a, &d, weight) / most
			low, high = min(low, t), max(high, t)
			for k := range p {
				off[k] = max(off[k], math.Abs(p[k]-a[k]-t*d[k])+legs[i].Within[k])
			}
		}
	}
	for k := range d {
		l.from[k] = a[k] + low*d[k]
		l.way[k] = (high - low) * d[k]
		l.within[k] = off[k]
		if off[k] > 0 {
			l.within[k] += rounding * (1 + math.Abs(a[k]) + math.Abs(d[k]))
		}
	}
	return l, true
}

// rounding is more than float64 can be off here, of a number.
const rounding = 1e-12

func distance(p, a, weight *motion.Params) (sum float64) {
	for k := range p {
		d := weight[k] * (p[k] - a[k])
		sum += d * d
	}
	return sum
}

func along(p, a, d, weight *motion.Params) (sum float64) {
	for k := range p {
		sum += weight[k] * weight[k] * (p[k] - a[k]) * d[k]
	}
	return sum
}
