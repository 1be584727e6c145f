package binder

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/geom/together"
)

// batch is a run at work.
type batch struct {
	*Options
	hold    *hold
	taken   map[string]string // see taken
	sums    sums
	telling sync.Mutex
}

// run returns what became of the setups, in their order.
func (b *batch) run(ctx context.Context, list []item) ([]Setup, error) {
	out := make([]Setup, len(list))
	if err := b.each(ctx, len(list), b.Jobs, func(i int) { out[i] = b.look(&list[i]) }); err != nil {
		return nil, err
	}
	var begun []int                  // those that are not unchanged
	later := make([]bool, len(list)) // those that come last, one at a time
	unchanged := len(list)
	for i := range out {
		if b.Join || out[i].State == MadeState && !b.All {
			continue
		}
		unchanged--
		if later[i] = b.hold.died[list[i].name]; !later[i] {
			begun = append(begun, i)
		}
	}
	if b.Found != nil && !b.Join {
		b.Found(len(list), unchanged)
	}
	var left atomic.Int64
	left.Store(int64(len(begun)))
	err := b.each(ctx, len(begun), b.Jobs, func(k int) {
		i, rest := begun[k], int(left.Add(-1))+1
		if done := b.make(ctx, &list[i], max(1, b.Jobs/min(b.Jobs, rest)), 0); done != nil {
			out[i] = *done
			b.tell(ctx, done)
		} else {
			later[i] = true
		}
	})
	if err != nil {
		return nil, err
	}
	// What another run was at work on is mostly done by now. What a run died over, since it takes more
	// memory than there is, does not keep the others from being made.
	wait := b.Patience
	for i := range list {
		if !later[i] {
			continue
		}
		done := b.make(ctx, &list[i], b.Jobs, wait)
		if done == nil {
			done, wait = b.held(&list[i]), 0 // nor is what else that run holds waited for
		}
		out[i] = *done
		b.tell(ctx, done)
	}
	return out, ctx.Err()
}

// each calls work for 0 to n-1, so many at once, until the context ends.
func (b *batch) each(ctx context.Context, n, jobs int, work func(i int)) error {
	var next atomic.Int64
	var wg together.Group
	for range min(jobs, n) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

func (b *batch) tell(ctx context.Context, s *Setup) {
	b.telling.Lock()
	defer b.telling.Unlock()
	if b.Done != nil && ctx.Err() == nil {
		b.Done(s)
	}
}

// look says what there is of a setup.
func (b *batch) look(it *item) Setup {
	r := b.record(it.name)
	s := b.setupOf(it, r)
	why := b.outdated(it, r)
	switch {
	case why == "" && r != nil:
		s.State = MadeState
	case r == nil:
		s.State, s.Fault = MissingState, why
	case r.Fault != "" && why == r.Fault:
		s.State = FaultyState
	default:
		s.State, s.Fault = OutdatedState, why
	}
	return s
}

// make makes the pages of a setup, unless another run did meanwhile; nil if another one is at it for
// longer than that is to be waited for.
func (b *batch) make(ctx context.Context, it *item, jobs int, wait time.Duration) *Setup {
	unlock, ok, err := b.hold.try(ctx, it.name, wait)
	switch {
	case err != nil:
		return b.fault(ctx, it, err, "", 0)
	case !ok:
		return nil
	}
	defer unlock()
	if now := b.look(it); now.State == MadeState && !b.All {
		return &now
	}
	defer b.hold.at(it.name)()
	begun := time.Now()
	made, stack, err := b.made(ctx, it, jobs)
	seconds := time.Since(begun).Seconds()
	if err != nil {
		return b.fault(ctx, it, err, stack, seconds)
	}
	r := &record{
		Format: recordFormat, Program: b.Program, Settings: b.Settings, Inputs: made.Inputs.sorted(), Facts: made.Facts, Seconds: seconds,
	}
	r.Hash, r.Date = made.Inputs.Hash(), made.Inputs.Date()
	if err := b.keep(ctx, it.name, r, made.Pages); err != nil {
		return b.fault(ctx, it, err, "", seconds)
	}
	s := b.setupOf(it, r)
	s.State, s.MadeNow = MadeState, true
	return &s
}

// held is a setup that another run does not let go of: it hangs, or somebody stopped it. No record
// says so, since the record is that run's.
func (b *batch) held(it *item) *Setup {
	s := b.look(it)
	if s.State == MadeState && !b.All {
		return &s // just now
	}
	s.State, s.Fault = FaultyState, it.file+": another run is at work on it and does not come to an end: does it hang, was it stopped?"
	return &s
}

// made calls Make. A panic there is a fault of this setup alone.
func (b *batch) made(ctx context.Context, it *item, jobs int) (made *Made, stack string, err error) {
	defer func() {
		if p := recover(); p != nil {
			value, at := together.Recovered(p)
			made, stack, err = nil, string(at), fmt.Errorf("%s: the program broke down over it: %v", it.file, value)
		}
	}()
	if it.fault != nil {
		return nil, "", it.fault
	}
	made, err = b.Make(ctx, Job{it.name, it.file, jobs})
	return made, "", err
}

// fault notes that no pages could be made. Those of before stay, with what they were made of.
func (b *batch) fault(ctx context.Context, it *item, fault error, stack string, seconds float64) *Setup {
	r := b.record(it.name)
	if r == nil {
		r = &record{}
	}
	r.Format, r.Program, r.Settings, r.Seconds = recordFormat, b.Program, b.Settings, seconds
	r.Fault, r.Stack = files.Words(fault), stack
	s := b.setupOf(it, r)
	s.State, s.MadeNow = FaultyState, true
	if ctx.Err() == nil {
		if data, err := encode(r); err == nil {
			// Where not even that can be written, the summary says what happened first.
			_ = b.write(ctx, recordName(it.name), data)
		}
	}
	return &s
}

// setupOf is what a record says of a setup.
func (b *batch) setupOf(it *item, r *record) Setup {
	s := Setup{Name: it.name, File: it.file, Pages: []string{}}
	if r == nil {
		return s
	}
	s.Facts, s.Fault, s.Stack, s.Seconds, s.program, s.settings = r.Facts, r.Fault, r.Stack, r.Seconds, r.Program, r.Settings
	for _, p := range r.Pages {
		s.Pages = append(s.Pages, p.File)
	}
	return s
}
