package posted

import (
	"math"

	"gridswing/geom/motion"
)

// Most pairs of bodies keep clear wherever a tool goes at a part, and programs go there again and again.
// So of each pair some boxes of axis positions are kept over which it was proven, larger than was
// needed where that was to be had: what a chunk of the program does within one of them is proven without
// another look.

// mostRooms is how many boxes are kept of a pair: those that were of use last.
const mostRooms = 4

// rooms are boxes of axis positions, and the clearance in mm that is proven over each.
type rooms struct {
	list []room
	// share is how much larger than asked, on each side, the next box is tried, as a share of its size; idle for how
	// many more questions nothing larger is tried.
	share float64
	idle  int
}

type room struct {
	over   motion.Box
	proven float64
}

// keep takes down what is proven.
func (r *rooms) keep(over motion.Box, proven float64) {
	if len(r.list) < mostRooms {
		r.list = append(r.list, room{})
	}
	copy(r.list[1:], r.list)
	r.list[0] = room{over, proven}
}

// holds reports whether a demand is proven already over a box, in the axes that matter.
func (r *rooms) holds(over *motion.Box, uses *[motion.MaxParams]bool, demand float64) bool {
	for i := range r.list {
		if m := &r.list[i]; m.proven >= demand && within(over, &m.over, uses) {
			return true
		}
	}
	return false
}

func within(a, b *motion.Box, uses *[motion.MaxParams]bool) bool {
	for k, used := range uses {
		if used && !(a.Lo[k] >= b.Lo[k] && a.Hi[k] <= b.Hi[k]) { // what is no number is within nothing
			return false
		}
	}
	return true
}

// Larger boxes are tried at first by half the size, and by a quarter of that where that was too much.
const (
	firstShare = 0.5
	leastShare = 0.03
	rest       = 16 // questions until it is tried again
)

// larger returns a box to be tried before the one that is needed: it holds the one that was proven last, if
// that is not far, and goes beyond the two, but no farther than the axes go; ok is false where it
// is not worth trying.
func (r *rooms) larger(over *motion.Box, uses *[motion.MaxParams]bool, travel *motion.Box) (box motion.Box, ok bool) {
	if r.idle > 0 {
		r.idle--
		return box, false
	}
	if r.share == 0 {
		r.share = firstShare
	}
	box = *over
	if len(r.list) > 0 && near(over, &r.list[0].over, uses) {
		for k := range box.Lo {
			box.Lo[k], box.Hi[k] = min(box.Lo[k], r.list[0].over.Lo[k]), max(box.Hi[k], r.list[0].over.Hi[k])
		}
	}
	for k, used := range uses {
		if size := box.Hi[k] - box.Lo[k]; used && size > 0 {
			box.Lo[k] = min(box.Lo[k], max(box.Lo[k]-r.share*size, travel.Lo[k]))
			box.Hi[k] = max(box.Hi[k], min(box.Hi[k]+r.share*size, travel.Hi[k]))
		}
	}
	return box, true
}

// near reports whether two boxes meet, or lie less than their size apart, in each axis that matters.
func near(a, b *motion.Box, uses *[motion.MaxParams]bool) bool {
	for k, used := range uses {
		if used && max(a.Lo[k]-b.Hi[k], b.Lo[k]-a.Hi[k]) > max(a.Hi[k]-a.Lo[k], b.Hi[k]-b.Lo[k]) {
			return false
		}
	}
	return true
}

// tooLarge takes down that a larger box could not be proven.
func (r *rooms) tooLarge() {
	if r.share /= 4; r.share < leastShare {
		r.share, r.idle = 0, rest
	}
}

// fits takes down that it could.
func (r *rooms) fits() { r.share = math.Min(2*r.share, 2) }
