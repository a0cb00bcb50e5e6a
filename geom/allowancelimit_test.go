package geom

import (
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"pgregory.net/rapid"
)

// scribble is a closed outline of n random cubics, which crosses itself
// everywhere.
func scribble(n int) []AllowanceEdge {
	r := rand.New(rand.NewPCG(1, 2))
	anywhere := func() Point { return Pt(r.Float64()*500, r.Float64()*500) }
	at := anywhere()
	first := at
	var p Path
	for i := range n {
		end := anywhere()
		if i == n-1 {
			end = first
		}
		p = append(p, Cubic(at, anywhere(), anywhere(), end))
		at = end
	}
	return []AllowanceEdge{{Path: p, Start: 6, End: 6}}
}

// aroundOrigin is a polygon of n points about the origin, whose distance from it
// is told by the number and the angle.
func aroundOrigin(n int, radius func(i int, angle float64) float64) []AllowanceEdge {
	pts := make([]Point, n)
	for i := range pts {
		a := 2 * math.Pi * float64(i) / float64(n)
		pts[i] = Pt(math.Cos(a), math.Sin(a)).Mul(radius(i, a))
	}
	return []AllowanceEdge{{Path: Polygon(pts...), Start: 6, End: 6}}
}

// manyPointed is a star of n/2 points, tooth mm long.
func manyPointed(n int, tooth float64) []AllowanceEdge {
	return aroundOrigin(n, func(i int, _ float64) float64 { return 250 - tooth*float64(i%2) })
}

// scanned is a wavy outline of n points, 0.07 mm apart (at 20,000), each off by
// up to noise/2 mm.
func scanned(n int, noise float64) []AllowanceEdge {
	r := rand.New(rand.NewPCG(3, 4))
	return aroundOrigin(n, func(_ int, a float64) float64 {
		return 200 + 40*math.Sin(3*a) + 15*math.Sin(7*a+1) + noise*(r.Float64()-0.5)
	})
}

// windingBand is a spiral band of n points that turns rounds times: its windings
// lie beside each other, but nowhere meet.
func windingBand(n, rounds int) []AllowanceEdge {
	half := n / 2
	pts := make([]Point, 0, n)
	at := func(i int, off float64) {
		a := 2 * math.Pi * float64(rounds) * float64(i) / float64(half)
		pts = append(pts, Pt(math.Cos(a), math.Sin(a)).Mul(50+off+a/(2*math.Pi)))
	}
	for i := range half {
		at(i, 0.4)
	}
	for i := range half {
		at(half-1-i, 0)
	}
	return []AllowanceEdge{{Path: Polygon(pts...), Start: 0.1, End: 0.1}}
}

// workOf makes the cut line and returns how much of maxComparisons that took, and
// the megabytes that went through the allocator, which are at least those held.
func workOf(edges []AllowanceEdge) (ws *allowanceWork, work, megabytes int, err error) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	ws = &allowanceWork{budget: maxComparisons}
	_, err = ws.run(edges, 1)
	runtime.ReadMemStats(&after)
	return ws, maxComparisons - ws.budget, int(after.TotalAlloc-before.TotalAlloc) >> 20, err
}

// overshoot is how much more than the limit may be spent until it is noticed: all
// blocks compared with one, and their crossings.
const overshoot = maxLoopChords / blockSize * (blockWork + blockSize*blockSize*crossingWork)

// throughMB bounds the megabytes that may go through the allocator for the hundred
// thousand nodes that a project may have. Slices that grow by doubling send up to
// twice through it of what is held at once; other tests may run beside this one.
const throughMB = 600

// TestHostileOutlines: whatever the outline, the work is bounded, and so is the
// memory.
func TestHostileOutlines(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	gone := aroundOrigin(20_000, func(int, float64) float64 { return 200 })
	gone[0].Start, gone[0].End = -300, -300
	lost := scanned(20_000, 0)
	lost[0].Start, lost[0].End = -300, -300
	taken := manyPointed(20_000, 150)
	taken[0].Start, taken[0].End = -6, -6
	huge := scribble(3)
	huge[0].Path = huge[0].Path.Transform(Scaling(1e30, 1e30))
	for name, c := range map[string]struct {
		edges []AllowanceEdge
		work  int
		want  func(error) bool
	}{
		"scribble of 200":         {scribble(200), maxComparisons / 100, isCrossing},
		"scribble of 1,000":       {scribble(1000), maxComparisons / 100, isCrossing},
		"scribble of 20,000":      {scribble(20_000), maxComparisons / 100, isIntricate},
		"coordinates of 1e30":     {huge, 0, isIntricate},
		"star of 1,000":           {manyPointed(1000, 150), maxComparisons / 20, isSound},
		"star of 20,000":          {manyPointed(20_000, 150), maxComparisons, isIntricate},
		"star, taken off inside":  {taken, maxComparisons, isIntricate},
		"star of 100,000":         {manyPointed(100_000, 150), maxComparisons + overshoot, isIntricate},
		"blunt star of 100,000":   {manyPointed(100_000, 0.01), maxComparisons + overshoot, isIntricate},
		"circle of 100,000":       {scanned(100_000, 0), maxComparisons / 20, isSound},
		"spiral of 20,000":        {windingBand(20_000, 100), maxComparisons / 4, isSound},
		"spiral of 100,000":       {windingBand(100_000, 500), maxComparisons + overshoot, isIntricate},
		"more taken off than all": {gone, maxComparisons + overshoot, isVanished},
		"scan, all taken off":     {lost, maxComparisons, isVanished},
	} {
		t.Run(name, func(t *testing.T) {
			_, work, megabytes, err := workOf(c.edges)
			if !c.want(err) {
				t.Errorf("error %v", err)
			}
			if work > c.work {
				t.Errorf("work of %d, want at most %d", work, c.work)
			}
			if megabytes > throughMB {
				t.Errorf("%d MB", megabytes)
			}
		})
	}
}

func isSound(err error) bool { return err == nil }

func isIntricate(err error) bool {
	var o *OutlineError
	return errors.As(err, &o) && o.Intricate() && o.Edge == -1 && o.Error() != ""
}

// TestTracedOutlines: outlines traced from a scan are far from the limits, and
// the work grows about as their points do.
func TestTracedOutlines(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	last := 0
	for _, n := range []int{5_000, 20_000, 80_000} {
		edges := scanned(n, 0)
		ws, work, _, err := workOf(edges)
		if err != nil || len(ws.raw) > 2*n {
			t.Fatalf("%d points: %d pieces, error %v", n, len(ws.raw), err)
		}
		if last > 0 && work > 6*last {
			t.Errorf("%d points take %d, a quarter of them %d", n, work, last)
		}
		last = work
	}
	for _, noise := range []float64{0.01, 0.03, 0.1} {
		ws, work, megabytes, err := workOf(scanned(20_000, noise))
		if err != nil || work > maxComparisons/2 || megabytes > throughMB {
			t.Errorf("noise of %g mm: work of %d, %d crossings, %d MB, error %v", noise, work, len(ws.top.cross), megabytes, err)
		}
	}
}

// TestCutLineOfScanIsRight compares the cut line of a traced outline with the
// definition at a number of places.
func TestCutLineOfScanIsRight(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	edges := scanned(20_000, 0.03)
	cut := mustCut(t, edges)
	for i := 0; i < len(cut.Path); i += max(1, len(cut.Path)/100) {
		_, d := edges[0].Path.Nearest(cut.Path[i].At(0.5))
		// A mitre stands out; how far is bounded by its limit.
		if d < 6-ParallelTolerance || d > 6*MitreLimit {
			t.Errorf("segment %d lies %v mm from the outline", i, d)
		}
	}
}

// TestFindMissesNothing compares the crossings of loops with those that comparing
// every two chords finds, in their order.
func TestFindMissesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 5000).Draw(t, "n")
		reach := rapid.SampledFrom([]float64{0.3, 3, 30}).Draw(t, "reach")
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		var top loopTopology
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			at := Pt(100*math.Cos(a)+reach*(r.Float64()-0.5), 100*math.Sin(a)+reach*(r.Float64()-0.5))
			top.pts = append(top.pts, at)
			top.chord = append(top.chord, chordOf{int32(i), 0, 1})
		}
		all := maxComparisons
		top.budget = &all
		if !top.find(search{}) {
			t.Skip("beyond the limits")
		}
		want := 0
		end := func(i int) Point { return top.pts[(i+1)%n] }
		side := func(a, b, c Point) bool { return b.Sub(a).Cross(c.Sub(a)) > 0 }
		for i := range n {
			for j := i + 2; j < n && (i > 0 || j < n-1); j++ {
				a, b, c, d := top.pts[i], end(i), top.pts[j], end(j)
				if side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b) {
					want++
				}
			}
		}
		if len(top.cross) != want {
			t.Fatalf("%d crossings, want %d", len(top.cross), want)
		}
		for k := 1; k < want; k++ {
			p, q := top.cross[k-1], top.cross[k]
			block := func(x loopCrossing) [4]int32 {
				return [4]int32{x.i / blockSize, x.j / blockSize, x.i, x.j}
			}
			if a, b := block(p), block(q); !before(a, b) {
				t.Fatalf("crossing %v comes before %v", a, b)
			}
		}
	})
}

func before(a, b [4]int32) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// BenchmarkTracedOutline makes the cut line of an outline of 20,000 points, traced
// from a scan with the given noise. Bar: a tenth of a second without noise, well
// under one second with it.
func BenchmarkTracedOutline(b *testing.B) {
	for name, noise := range map[string]float64{"clean": 0, "noise of 0.01mm": 0.01, "noise of 0.1mm": 0.1} {
		edges := scanned(20_000, noise)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Allowance(edges); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
