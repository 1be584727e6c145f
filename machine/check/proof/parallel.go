package proof

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// InParallel calls work for 0 to n-1 on so many goroutines and returns the
// first error by index. Nothing is begun once the context has ended. A panic of work comes out
// of InParallel, where the caller can recover from it.
func InParallel(ctx context.Context, jobs, n int, work func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	var broken atomic.Pointer[Panic]
	for range min(jobs, n) {
		wg.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					broken.CompareAndSwap(nil, &Panic{p, debug.Stack()})
				}
			}()
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil || broken.Load() != nil {
					return
				}
				errs[i] = work(i)
			}
		})
	}
	wg.Wait()
	if p := broken.Load(); p != nil {
		panic(p)
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}

// Panic is a panic of a goroutine, with where it happened.
type Panic struct {
	Value any
	Stack []byte
}

func (p *Panic) String() string { return fmt.Sprintf("%v\n%s", p.Value, p.Stack) }
