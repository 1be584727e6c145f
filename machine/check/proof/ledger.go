package proof

import (
	"sync"

	"gridswing/collide"
	"gridswing/geom/motion"
)

// Ledger keeps what was proven, so that a question that is much like an earlier one need not be
// searched again: of another setup, in which the same two solids stand a little otherwise.
// Several goroutines may use it at once. It changes no verdict (see surelyClear), but that
// a question may be found clear for which the budget of tests does not do.
type Ledger struct {
	lock sync.Mutex
	// What is known about each pair and question; of what was not asked about for long it
	// is forgotten: new fills up, then becomes old.
	new, old map[place]*page
}

// NewLedger returns a ledger in which nothing is known.
func NewLedger() *Ledger { return &Ledger{new: map[place]*page{}} }

const (
	mostPages = 1 << 15 // of new, and of old; a page is some kilobytes
	mostRooms = 6       // of a page
	mostSame  = 3       // of a page
	mostVain  = 4       // of a page
)

// place is where it is looked for what is known.
type place struct {
	which uint64
	a, b  *collide.Tree
	free  bool // asked by AskFree
}

// page is what is known at one place, newest first. It is never changed, but replaced.
type page struct {
	rooms []room
	same  []answered
	vain  []vain
	// measured are numbers of motions that were rounded.
	measured []measurement
}

// room is a proof: all over the course the two surfaces stay apart by so many mm, before the
// chord errors are taken off.
type room struct {
	course *motion.Course
	apart  float64
}

// vain is a course over which it was tried in vain to prove so many mm.
type vain struct {
	course *motion.Course
	enough float64
}

// answered is a question and the answer that a search gave, which is a function of the
// question to the last bit.
type answered struct {
	names  [2]string
	moving collide.Pair
	over   motion.Box
	demand float64
	upTo   float64 // of Measure, else 0
	tests  int64
	answer Answer
}

// at returns the page of a place.
func (l *Ledger) at(p place) *page {
	l.lock.Lock()
	defer l.lock.Unlock()
	if known := l.new[p]; known != nil {
		return known
	}
	known := l.old[p]
	if known == nil {
		return &page{}
	}
	l.put(p, known)
	return known
}

// put replaces a page; the lock is held.
func (l *Ledger) put(p place, known *page) {
	if len(l.new) >= mostPages && l.new[p] == nil {
		l.old, l.new = l.new, map[place]*page{}
	}
	l.new[p] = known
}

// change replaces the page of a place by one that edit makes of it.
func (l *Ledger) change(p place, edit func(page) page) {
	l.lock.Lock()
	defer l.lock.Unlock()
	known := l.new[p]
	if known == nil {
		known = l.old[p]
	}
	if known == nil {
		known = &page{}
	}
	edited := edit(*known)
	l.put(p, &edited)
}

// inFront returns a list with one more in front, of which the last are dropped.
func inFront[T any](x T, list []T, most int) []T {
	return append([]T{x}, list[:min(len(list), most-1)]...)
}
