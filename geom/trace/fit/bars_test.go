package fit

import (
	"context"
	"math/rand/v2"
	"os"
	"sort"
	"testing"
	"time"
)

func sortFloats(list []float64) { sort.Float64s(list) }

func TestBars(t *testing.T) {
	list := sharedOutlines(t)
	blur, noise, step := 0.1, 0.003, 0.085
	if os.Getenv("HARD") != "" {
		noise = 0.04
	}
	only := os.Getenv("ONLY")
	var med, large, segs []float64
	missed, wrong, weak := 0, 0, 0
	var total time.Duration
	for i, o := range list {
		if only != "" && o.Name != only {
			continue
		}
		p := o.path()
		pts := followed(p, blur, noise, step, rand.New(rand.NewPCG(uint64(i), 1)))
		start := time.Now()
		c, err := Closed(context.Background(), pts, Options{Blur: blur})
		d := time.Since(start)
		total += d
		if err != nil {
			t.Errorf("%s: %v", o.Name, err)
			continue
		}
		s := compare(p, c)
		med, large, segs = append(med, s.median), append(large, s.largest), append(segs, s.segs)
		missed += s.missed
		wrong += s.false_
		weak += s.weak
		if s.largest > 0.1 || s.missed+s.false_ > 0 || s.segs > 1.15 || s.median > 0.005 || only != "" || c.Path.Simple() != nil {
			t.Logf("%-18s median %.4f largest %.3f at %.1f segs %d of %d missed %d false %d weak %d  %v  %v", o.Name, s.median, s.largest, s.at, len(c.Path), len(p), s.missed, s.false_, s.weak, d.Round(time.Millisecond), c.Path.Simple())
		}
		if only != "" {
			for i, g := range c.Path {
				t.Logf("%v %v %.2f %.2f %.2f %.2f", c.Corner[i], g.Straight, g.P0, g.P1, g.P2, g.P3)
			}
			for i, g := range p {
				t.Logf("true %.1f %.2f %.2f %.2f %.2f", turnBefore(p, i)/degree, g.P0, g.P1, g.P2, g.P3)
			}
		}
	}
	sort.Float64s(med)
	sort.Float64s(large)
	sort.Float64s(segs)
	mean := 0.0
	for _, s := range segs {
		mean += s / float64(len(segs))
	}
	n := len(med)
	t.Logf("median %.4f (worst %.4f) largest median %.3f p95 %.3f p97 %.3f worst %.3f segs %.3f worst %.2f missed %d false %d weak %d mean time %v", med[n/2], med[n-1], large[n/2], large[n*95/100], large[n*97/100], large[n-1], mean, segs[n-1], missed, wrong, weak, (total / time.Duration(n)).Round(time.Millisecond))
}
