package scan

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// bandRows is how many rows are worked on between two looks at the context: enough that
// the rows shared with the band above cost little, few enough that giving up is prompt.
const bandRows = 128

// bands calls work for bands of the rows 0 to h on all processors, until ctx ends.
func bands(ctx context.Context, h int, work func(y0, y1 int)) error {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (h+bandRows-1)/bandRows) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for ctx.Err() == nil {
				y := int(next.Add(bandRows)) - bandRows
				if y >= h {
					return
				}
				work(y, min(y+bandRows, h))
			}
		}()
	}
	wait.Wait()
	return ctx.Err()
}
