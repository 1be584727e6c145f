package proof

import (
	"context"
	"sync"
	"sync/atomic"
)

// InParallel calls work for 0 to n-1 on so many goroutines and returns the
// first error by index. Nothing is begun once the context has ended.
func InParallel(ctx context.Context, jobs, n int, work func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(jobs, n) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil {
					return
				}
				errs[i] = work(i)
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}
