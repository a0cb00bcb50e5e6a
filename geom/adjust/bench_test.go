package adjust

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// BenchmarkSolve tells the time for garments whose seams are a few per cent off, by the
// number of pieces; median-ms is the bar's figure. The pieces have about ten nodes each,
// those called traced four times as many.
func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct {
		pieces, cuts   int
		contradictions bool
	}{{2, 1, false}, {6, 1, false}, {12, 1, false}, {12, 4, false}, {12, 1, true}} {
		name := fmt.Sprintf("%dpieces", c.pieces)
		if c.cuts > 1 {
			name += "Traced"
		}
		if c.contradictions {
			name += "Contradictory"
		}
		b.Run(name, func(b *testing.B) {
			var took []time.Duration
			for n := 0; b.Loop(); n++ {
				b.StopTimer()
				r := rand.New(rand.NewPCG(uint64(n), 21))
				g := newGarment(r, c.pieces)
				g.refine(c.cuts)
				g.sew(r, 1.08, 0.05)
				if c.contradictions {
					g.contradict(r)
				}
				b.StartTimer()
				at := time.Now()
				if _, err := Solve(context.Background(), g.Problem); err != nil {
					b.Fatal(err)
				}
				took = append(took, time.Since(at))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds())/1e3, "median-ms")
			b.ReportMetric(float64(took[len(took)-1].Microseconds())/1e3, "worst-ms")
		})
	}
}
