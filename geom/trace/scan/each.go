package scan

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// each calls work for 0 to n on all processors, until ctx ends.
func each(ctx context.Context, n int, work func(i int)) error {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				work(i)
			}
		}()
	}
	wait.Wait()
	return ctx.Err()
}
