package proof

import (
	"context"
	"sync/atomic"

	"gridswing/geom/together"
)

// InParallel calls work for 0 to n-1 on so many goroutines and returns the
// first error by index. Nothing is begun once the context has ended. A panic of work comes out
// of InParallel, where the caller can recover from it.
func InParallel(ctx context.Context, jobs, n int, work func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var group together.Group
	for range min(jobs, n) {
		group.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil || group.Broken() {
					return
				}
				errs[i] = work(i)
			}
		})
	}
	group.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}
