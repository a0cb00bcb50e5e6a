package trace_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"sync"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// condition is one way in which the outlines are scanned, with the bars that hold there.
type condition struct {
	name   string
	manner trace.Manner
	pen    float64 // mm
	see    func(tracetest.Sheet, uint64) (tracetest.Picture, error)
	adorn  func(tracetest.Sheet, uint64) tracetest.Sheet        // what else lies on the sheet
	place  func(tracetest.Piece) tracetest.Sheet                // how the piece lies, if not alone
	known  func(tracetest.Picture, uint64) (trace.Sheet, error) // what is known of the picture, if not its map

	median  float64 // mm, of all samples of all outlines
	largest float64 // mm, for share of the outlines; 0 for no bar
	p95     float64 // mm, of the samples; 0 for no bar
	large   bool    // pictures that take their time
	strict  bool    // segments and corners are held to their bars
}

// What the bars say of all conditions.
const (
	withinShare  = 0.97            // of the outlines keep within the largest deviation
	tipLargest   = 0.6             // mm, along a dart, at its tip as a pen draws it
	meanSegments = 1.15            // of the true number
	mostSegments = 1.3             // of the true number, for any outline
	leastTurn    = math.Pi / 18    // 10 degrees: a corner that must be found
	cornerReach  = 2.0             // mm between a true corner and where it was found
	tipTurn      = 2 * math.Pi / 3 // 120 degrees: a dart's tip
	tipRoom      = 2.0             // mm round a dart's tip in which its own bar holds
	roundOff     = 1e-9
)

// outcome is what became of one outline.
type outcome struct {
	name    string
	seed    uint64
	err     error
	off     tracetest.Off
	tip     float64 // largest deviation at dart tips
	n, want int
	corners tracetest.Found
	others  int // outlines beside the one that was drawn
	samples []float64
}

// specimens returns n outlines: those of the figures, none larger than a scanner's glass,
// and then garments of the generator.
func specimens(t testing.TB, n int) []tracetest.Piece {
	f, err := os.Open("../../testdata/trace/outlines.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	figures, err := tracetest.Figures(f)
	if err != nil {
		t.Fatal(err)
	}
	// The order is mixed, so that a few are of all kinds.
	rng := rand.New(rand.NewPCG(7, 7))
	var out []tracetest.Piece
	for _, i := range rng.Perm(len(figures)) {
		p := figures[i]
		b := p.Outline.Bounds()
		const glass = 280.0
		if side := math.Max(b.W(), b.H()); side > glass {
			k := (150 + (glass-150)*rng.Float64()) / side
			p = p.Transform(geom.Scaling(k, k))
		}
		out = append(out, p, tracetest.Garment(uint64(i)))
	}
	if n > 150 {
		t.Fatalf("%d outlines asked for, and 150 there", n)
	}
	// Two figures for each garment.
	var mixed []tracetest.Piece
	for i := 0; len(mixed) < n; i++ {
		mixed = append(mixed, out[4*i%len(out)], out[(4*i+1)%len(out)], out[(4*i+2)%len(out)])
	}
	return mixed[:n]
}

// run scans and traces the pieces, as many at a time as there are processors.
func (c condition) run(t testing.TB, pieces []tracetest.Piece) []outcome {
	out := make([]outcome, len(pieces))
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				out[i] = c.one(pieces[i], uint64(i))
			}
		}()
	}
	for i := range pieces {
		next <- i
	}
	close(next)
	wait.Wait()
	return out
}

// sheet lays one piece out as the condition says.
func (c condition) sheet(p tracetest.Piece, seed uint64) tracetest.Sheet {
	if c.place != nil {
		return c.place(p)
	}
	s := tracetest.Filled(p)
	if c.manner == trace.Drawn {
		s = tracetest.Drawn(c.pen, p)
	}
	if c.adorn != nil {
		s = c.adorn(s, seed)
	}
	return s
}

func (c condition) one(p tracetest.Piece, seed uint64) (o outcome) {
	o = outcome{name: p.Name, seed: seed}
	pic, err := c.see(c.sheet(p, seed), seed)
	if err != nil {
		o.err = err
		return o
	}
	sheet, err := c.read(pic, seed)
	if err != nil {
		o.err = err
		return o
	}
	res, err := trace.Trace(context.Background(), []trace.Sheet{sheet}, trace.Options{Manner: c.manner}, nil)
	if err != nil {
		o.err = err
		return o
	}
	if len(res.Outlines) == 0 {
		o.err = fmt.Errorf("nothing found: %v", res.Says)
		return o
	}
	o.judge(res.Outlines, pic.Pieces[0].Outline, c)
	return o
}

// read makes a sheet to trace of a picture; its map is the truth.
func (c condition) read(pic tracetest.Picture, seed uint64) (trace.Sheet, error) {
	if c.known != nil {
		return c.known(pic, seed)
	}
	r, err := scan.Grey(context.Background(), pic.Image, nil)
	if err != nil {
		return trace.Sheet{}, err
	}
	return trace.Sheet{Raster: r, Map: pic.Map}, nil
}

// judge compares the largest of the outlines with the truth.
func (o *outcome) judge(found []trace.Outline, truth geom.Path, c condition) {
	best := found[0]
	for _, f := range found {
		if f.Path.Area() > best.Path.Area() {
			best = f
		}
	}
	o.others = len(found) - 1
	if err := best.Path.Simple(); err != nil {
		o.err = err
		return
	}
	if !best.Path.Closed() || best.Path.Area() <= 0 {
		o.err = fmt.Errorf("closed %v, area %g", best.Path.Closed(), best.Path.Area())
		return
	}
	o.n, o.want = len(best.Path), len(truth)
	var at []geom.Point
	for i, s := range best.Path {
		if best.Corner[i] {
			at = append(at, s.P0)
		}
	}
	o.corners = tracetest.CornersFound(at, truth, leastTurn, cornerReach)
	var tips []geom.Point
	if c.manner == trace.Drawn {
		for _, k := range tracetest.CornersOf(truth, tipTurn) {
			tips = append(tips, k.At)
		}
	}
	o.off, o.tip, o.samples = tracetest.MeasureApart(best.Path, truth, tips, tipRoom)
}

// summary is a row of the table.
type summary struct {
	n, fails, others         int
	median, bias, p95        float64 // of all samples
	mid, high, worst, tip    float64 // of the largest deviations: median, 95 of 100, worst
	within                   float64 // share of the outlines within the bar
	segments, mostSegs       float64
	missed, falsely, corners int
}

func (c condition) sum(outs []outcome) summary {
	var s summary
	var all, worsts, biases []float64
	within, ratios := 0, 0.0
	for _, o := range outs {
		s.n++
		if o.err != nil {
			s.fails++
			worsts = append(worsts, math.Inf(1))
			continue
		}
		all = append(all, o.samples...)
		biases = append(biases, o.off.Bias)
		worsts = append(worsts, o.off.Largest)
		s.tip = math.Max(s.tip, o.tip)
		if o.off.Largest <= c.largest {
			within++
		}
		ratio := float64(o.n) / float64(o.want)
		ratios += ratio
		s.mostSegs = math.Max(s.mostSegs, ratio)
		s.missed += o.corners.Missed
		s.falsely += o.corners.False
		s.corners += o.corners.True
		s.others += o.others
	}
	slices.Sort(all)
	slices.Sort(worsts)
	slices.Sort(biases)
	s.median, s.p95, s.bias = tracetest.Rank(all, .5), tracetest.Rank(all, .95), tracetest.Rank(biases, .5)
	s.mid, s.high, s.worst = tracetest.Rank(worsts, .5), tracetest.Rank(worsts, .95), worsts[len(worsts)-1]
	s.within = float64(within) / float64(s.n)
	s.segments = ratios / float64(max(1, s.n-s.fails))
	return s
}

const tableHead = "| condition | outlines | median | bias | p95 | largest: median / 95 of 100 / worst | at dart tips | segments to true (worst) | corners missed / false of true |\n" +
	"| --- | --- | --- | --- | --- | --- | --- | --- | --- |"

func (s summary) row(name string) string {
	tip := ""
	if s.tip > 0 {
		tip = fmt.Sprintf("%.2f", s.tip)
	}
	return fmt.Sprintf("| %s | %d | %.4f | %+.4f | %.3f | %.3f / %.3f / %.3f | %s | %.2f (%.2f) | %d / %d of %d |",
		name, s.n, s.median, s.bias, s.p95, s.mid, s.high, s.worst, tip, s.segments, s.mostSegs, s.missed, s.falsely, s.corners)
}

// hold reports what does not hold its bar.
func (c condition) hold(t testing.TB, s summary) {
	if s.fails > 0 {
		t.Errorf("%s: %d of %d outlines failed", c.name, s.fails, s.n)
	}
	if s.median > c.median {
		t.Errorf("%s: median %.4f mm, bar %.3f", c.name, s.median, c.median)
	}
	if c.p95 > 0 && s.p95 > c.p95 {
		t.Errorf("%s: 95 of 100 samples within %.3f mm, bar %.2f", c.name, s.p95, c.p95)
	}
	// Of a few outlines one may exceed.
	allowed := math.Ceil(float64(s.n)*(1-withinShare) - roundOff)
	if beyond := float64(s.n) * (1 - s.within); c.largest > 0 && beyond > allowed+roundOff {
		t.Errorf("%s: %.0f of %d outlines deviate by more than %.2f mm", c.name, beyond, s.n, c.largest)
	}
	if c.strict && s.tip > tipLargest {
		t.Errorf("%s: a dart's tip is off by %.2f mm", c.name, s.tip)
	}
	if c.strict && (s.segments > meanSegments || s.mostSegs > mostSegments) {
		t.Errorf("%s: %.2f times the true number of segments, at most %.2f", c.name, s.segments, s.mostSegs)
	}
	if c.strict && (s.missed > 0 || s.falsely > 0) {
		t.Errorf("%s: %d corners missed and %d false of %d", c.name, s.missed, s.falsely, s.corners)
	}
}

// tell logs the outlines that exceed what the bars allow each.
func (c condition) tell(t testing.TB, outs []outcome) {
	for _, o := range outs {
		ratio := float64(o.n) / float64(max(1, o.want))
		switch {
		case o.err != nil:
			t.Logf("  %s, %s (seed %d): %v", c.name, o.name, o.seed, o.err)
		case c.largest > 0 && o.off.Largest > c.largest || ratio > mostSegments || o.tip > tipLargest ||
			o.corners.Missed+o.corners.False+o.others > 0 || o.off.Median > c.median:
			t.Logf("  %s, %s (seed %d): median %.4f, largest %.3f at (%.1f, %.1f), tip %.2f, segments %d of %d, missed %d, false %d, others %d",
				c.name, o.name, o.seed, o.off.Median, o.off.Largest, o.off.At.X, o.off.At.Y, o.tip, o.n, o.want, o.corners.Missed, o.corners.False, o.others)
		}
	}
}
