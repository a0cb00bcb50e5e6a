package fit

import (
	"context"
	"flag"
	"math/rand/v2"
	"sort"
	"testing"

	"hemlet/geom"
)

var (
	howMany = flag.Int("outlines", 12, "number of outlines, of 200, that the bars are held to")
	onlyOne = flag.String("outline", "", "the one outline to be fitted and told in full")
)

// What is asked of the outlines together; the figures are those that the tracing of
// 300 dpi scans is held to (filled shapes).
const (
	barMedian   = 0.01 // mm
	barLargest  = 0.15 // mm, for 97 of 100
	barMean     = 1.15 // segments to true ones, on average
	barMost     = 1.3  // at worst
	barOutliers = 0.03
)

// Outlines as a blur of 0.1 mm shows their edges, with the noise of a clean scan: all
// corners of 10 degrees and more are found and no other, with hardly a segment more
// than were drawn.
func TestOutlines(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	all := outlines(t)
	const blur, noise, step = 0.1, 0.003, 0.085
	var median, largest, segs []float64
	missed, wrong := 0, 0
	for k := range min(*howMany, len(all)) {
		// A few of all kinds.
		i := k * 17 % len(all)
		o := all[i]
		if *onlyOne != "" && o.Name != *onlyOne {
			continue
		}
		pts := followed(o.Outline, blur, noise, step, rand.New(rand.NewPCG(uint64(i), 1)))
		c, err := Closed(context.Background(), pts, Options{Blur: blur})
		if err != nil {
			t.Errorf("%s: %v", o.Name, err)
			continue
		}
		if err := c.Path.Simple(); err != nil {
			t.Errorf("%s: %v", o.Name, err)
		}
		s := compare(o.Outline, c)
		median, largest, segs = append(median, s.median), append(largest, s.largest), append(segs, s.segs)
		missed, wrong = missed+s.missed, wrong+s.wrong
		if s.largest > barLargest/2 || s.missed+s.wrong > 0 || s.segs > barMean || *onlyOne != "" {
			t.Logf("%-18s median %.4f, largest %.3f at %.1f, %d segments of %d, %d corners missed, %d false", o.Name, s.median, s.largest, s.at, len(c.Path), len(o.Outline), s.missed, s.wrong)
		}
		if *onlyOne != "" {
			tell(t, "found", c.Path, c.Corner)
			tell(t, "true", o.Outline, nil)
		}
	}
	if len(median) == 0 {
		t.Fatal("no outline was fitted")
	}
	sort.Float64s(largest)
	sort.Float64s(segs)
	mean, n := 0.0, len(median)
	for _, s := range segs {
		mean += s / float64(n)
	}
	most := largest[n-1-int(barOutliers*float64(n))]
	t.Logf("%d outlines: median %.4f, largest %.3f, %.3f but for %g of 100, segments %.2f (%.2f), missed %d, false %d", n, medianOf(median), largest[n-1], most, 100*barOutliers, mean, segs[n-1], missed, wrong)
	if medianOf(median) > barMedian || most > barLargest || mean > barMean || segs[n-1] > barMost || missed+wrong > 0 {
		t.Error("the bars do not hold")
	}
}

// tell logs a path.
func tell(t *testing.T, what string, p geom.Path, corner []bool) {
	for i, g := range p {
		t.Logf("%s: turn %6.1f corner %v straight %v %.2f %.2f %.2f %.2f", what, turnBefore(p, i)/degree, corner != nil && corner[i], g.Straight, g.P0, g.P1, g.P2, g.P3)
	}
}

func BenchmarkClosed(b *testing.B) {
	o := outlines(b)[0]
	pts := followed(o.Outline, 0.1, 0.003, 0.085, rand.New(rand.NewPCG(1, 1)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Closed(context.Background(), pts, Options{Blur: 0.1}); err != nil {
			b.Fatal(err)
		}
	}
}
