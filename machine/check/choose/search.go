package choose

import (
	"container/heap"
	"context"
	"slices"
	"sync"

	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// mostRound is how many candidates are looked at in one round. It does not depend on the
// cores, and so neither does what is known when a round begins.
const mostRound = 32

// search finds the best of many candidates. The one that could still be the best is
// looked at next, a little further, and so on (branch and bound, the best first): what costs
// little is known of all before what costs much is asked of any that it puts behind.
type search struct {
	list []*candidacy
	by   order
	most int  // so many of the best are wanted
	all  bool // every one is looked at to the end
	jobs int
	// further looks at more of a candidate, or finishes it: at no more than it takes to see
	// that it does not matter, as matters says of what was known when the round began.
	further func(ctx context.Context, c *candidacy, matters func(*candidacy) bool) error
	// merged, if not nil, is called between rounds, with those that were looked at.
	merged func(round []*candidacy)
	known  func(Event)
	lock   sync.Mutex
	told   Event // last
}

// run looks at candidates until the best are known, or the context ends: then it
// reports that it was broken off.
func (s *search) run(ctx context.Context) (interrupted bool, err error) {
	open := &queue{by: s.by, list: slices.Clone(s.list)}
	if s.all {
		open.by = byNeighbour
	}
	heap.Init(open)
	var top []*candidacy // those that are done, the best first, no more than are wanted
	for size := 1; ctx.Err() == nil; size = min(2*size, mostRound) {
		round := s.next(open, top, size)
		if len(round) == 0 {
			return false, nil
		}
		then := slices.Clone(top)
		matters := func(c *candidacy) bool { return s.matters(c, then) }
		err := proof.InParallel(ctx, s.jobs, len(round), func(i int) error {
			err := s.further(ctx, round[i], matters)
			s.finished(round[i])
			return err
		})
		for _, c := range round {
			if !c.done {
				heap.Push(open, c)
				continue
			}
			at, _ := slices.BinarySearchFunc(top, c, s.by)
			if top = slices.Insert(top, at, c); len(top) > s.most {
				top = top[:s.most]
			}
		}
		if ctx.Err() != nil {
			break
		}
		if err != nil {
			return false, err
		}
		s.tell(open, top, round)
	}
	return true, nil
}

// next takes those out of the queue that are to be looked at in the next round.
func (s *search) next(open *queue, top []*candidacy, size int) (round []*candidacy) {
	for len(round) < size && open.Len() > 0 && s.matters(open.list[0], top) {
		round = append(round, heap.Pop(open).(*candidacy))
	}
	return round
}

// matters reports whether a candidate could still be among the best.
func (s *search) matters(c *candidacy, top []*candidacy) bool {
	switch {
	case s.all || len(top) == 0:
		return true
	case top[0].worst == check.Clear && c.worst != check.Clear:
		return false // of those that are no good nobody wants to know which is the least bad
	}
	return len(top) < s.most || s.by(c, top[len(top)-1]) < 0
}

// tell tells what is known after a round.
func (s *search) tell(open *queue, top, round []*candidacy) {
	if s.merged != nil {
		s.merged(round)
	}
	if s.known == nil {
		return
	}
	e := Event{Total: len(s.list), Settled: len(s.list)}
	for _, c := range open.list {
		if s.matters(c, top) {
			e.Settled--
		}
	}
	for _, c := range s.list {
		if c.done && c.worst == check.Clear {
			e.Good++
		}
	}
	s.told = e
	s.known(e)
}

// finished tells of a candidate that is done while others of its round are not.
func (s *search) finished(c *candidacy) {
	if s.known == nil || !c.done {
		return
	}
	s.lock.Lock()
	defer s.lock.Unlock()
	s.told.Total = len(s.list)
	s.told.Settled = min(s.told.Settled+1, len(s.list))
	if c.worst == check.Clear {
		s.told.Good++
	}
	s.known(s.told)
}

// queue is a heap of candidates that are not done, the best one first.
type queue struct {
	by   order
	list []*candidacy
}

func (q *queue) Len() int           { return len(q.list) }
func (q *queue) Less(i, k int) bool { return q.by(q.list[i], q.list[k]) < 0 }
func (q *queue) Swap(i, k int)      { q.list[i], q.list[k] = q.list[k], q.list[i] }
func (q *queue) Push(x any)         { q.list = append(q.list, x.(*candidacy)) }
func (q *queue) Pop() any {
	last := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return last
}
