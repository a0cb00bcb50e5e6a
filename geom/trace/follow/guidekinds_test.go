package follow

import (
	"context"
	"errors"
	"math"
	"slices"
	"sync"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// way asks for one way and reports how far it lies from the truth, in mm.
func way(t *testing.T, g *Guide, from, to geom.Point, truth geom.Path, s float64) (w Way, median, p95 float64) {
	t.Helper()
	w, err := g.Path(context.Background(), from, to)
	if err != nil {
		t.Fatal(err)
	}
	d := distances(w.Pts, truth)
	return w, share(d, .5) / s, share(d, .95) / s
}

// bow is a curve across a small sheet, in pixels.
func bow(s float64) geom.Path {
	return geom.Path{geom.Cubic(geom.Pt(6*s, 40*s), geom.Pt(20*s, 4*s), geom.Pt(50*s, 2*s), geom.Pt(70*s, 44*s))}
}

func TestFaintLine(t *testing.T) {
	s := px300
	sh := newSheet(int(76*s), int(50*s))
	p := bow(s)
	sh.stroke(p, 0.4*s, 0.08*s, 0.15) // pencil, hardly seen
	g := NewGuide(sh.field(0.025, 4), s)
	w, median, p95 := way(t, g, p.Start(), p.End(), p, s)
	t.Logf("off by %.4f mm median, %.4f p95", median, p95)
	if w.Straight || median > 0.03 || p95 > 0.15 {
		t.Errorf("straight %v, off by %.3f mm median, %.3f p95", w.Straight, median, p95)
	}
}

func TestEdgeOfAShape(t *testing.T) {
	s := px300
	sh := newSheet(int(60*s), int(60*s))
	p := smoothRing(geom.Pt(10*s, 10*s), geom.Pt(48*s, 14*s), geom.Pt(44*s, 50*s), geom.Pt(12*s, 44*s))
	sh.fill(p, 0.08*s, 0.9)
	g := NewGuideAlong(sh.field(0.02, 2), s, AlongEdges)
	w, median, p95 := way(t, g, p[0].At(.3), p[2].At(.1), p, s)
	t.Logf("off by %.4f mm median, %.4f p95", median, p95)
	if w.Straight || median > 0.01 || p95 > 0.05 {
		t.Errorf("straight %v, off by %.4f mm median, %.4f p95", w.Straight, median, p95)
	}
	ring, err := g.Line(context.Background(), true, Stop{At: p[0].P0}, Stop{At: p[1].P0}, Stop{At: p[2].P0}, Stop{At: p[3].P0})
	if err != nil {
		t.Fatal(err)
	}
	d := distances(ring.Pts, p)
	if !ring.Closed || share(d, .99) > 0.05*s || len(ring.Corners) > 0 || slices.Contains(ring.Bare, true) || len(ring.Stops) != 4 {
		t.Errorf("ring off by %.3f mm, corners %v, bare %v, stops %v", share(d, .99)/s, ring.Corners, ring.Bare, ring.Stops)
	}
	if n := lengthOf(append(ring.Pts, ring.Pts[0])); math.Abs(n-p.Length()) > 0.01*p.Length() {
		t.Errorf("the ring is %.1f mm round, not %.1f", n/s, p.Length()/s)
	}
}

func TestDashesAndGaps(t *testing.T) {
	s := px300
	sh := newSheet(int(76*s), int(50*s))
	p := bow(s)
	tape := p.Tape()
	for at := 0.0; at < tape.Length(); at += 5 * s { // 3 mm of ink, 2 mm of paper
		sh.stroke(tape.Between(at, min(at+3*s, tape.Length())), 0.4*s, 0.08*s, 0.9)
	}
	g := NewGuide(sh.field(0.02, 6), s)
	w, median, p95 := way(t, g, p.Start(), p[0].At(.97), p, s)
	t.Logf("off by %.4f mm median, %.4f p95, %.1f mm over paper", median, p95, w.Bare/s)
	if w.Straight || median > 0.03 || p95 > 0.15 || w.Bare < 20*s {
		t.Errorf("straight %v, %.1f mm bare, off by %.3f mm median, %.3f p95", w.Straight, w.Bare/s, median, p95)
	}
}

func TestWithoutInkTheWayIsStraight(t *testing.T) {
	s := px300
	sh := newSheet(int(60*s), int(40*s))
	sh.stroke(geom.Path{geom.Line(geom.Pt(5*s, 8*s), geom.Pt(55*s, 8*s))}, 0.4*s, 1, 1)
	f := sh.field(0.02, 1)
	g := NewGuide(f, s)
	for name, c := range map[string][2]geom.Point{
		"no ink at all":   {geom.Pt(10*s, 30*s), geom.Pt(50*s, 35*s)},
		"ink at one end":  {geom.Pt(10*s, 8*s), geom.Pt(30*s, 35*s)},
		"off the picture": {geom.Pt(-900, -900), geom.Pt(1e7, 4)},
	} {
		w, err := g.Path(context.Background(), c[0], c[1])
		if err != nil || !w.Straight || len(w.Pts) != 2 || w.Pts[1] != c[1] {
			t.Errorf("%s: %v, %v", name, w, err)
		}
	}
	w, err := g.Path(context.Background(), geom.Pt(math.NaN(), 0), geom.Pt(5, 5))
	if err != nil || !w.Straight {
		t.Errorf("no place: %v, %v", w, err)
	}
	line, err := g.Line(context.Background(), false,
		Stop{At: geom.Pt(10*s, 8*s)}, Stop{At: geom.Pt(40*s, 8.5*s), Corner: true}, Stop{At: geom.Pt(40*s, 30*s), Loose: true})
	if err != nil || !slices.Equal(line.Bare, []bool{false, true}) || !slices.Equal(line.Corners, line.Stops[1:2]) {
		t.Errorf("%v %v %v: %v", line.Bare, line.Corners, line.Stops, err)
	}
	if end := line.Pts[len(line.Pts)-1]; end != geom.Pt(40*s, 30*s) {
		t.Errorf("a loose stop moved to %v", end)
	}
}

func TestGuideRefusals(t *testing.T) {
	ctx := context.Background()
	for name, f := range map[string]*scan.Field{"nil": nil, "empty": {}, "short": {W: 9, H: 9, V: make([]uint16, 3)}} {
		if _, err := NewGuide(f, 10).Path(ctx, geom.Pt(0, 0), geom.Pt(5, 5)); !errors.Is(err, ErrNoPicture) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, size := range [][2]int{{1, 1}, {1, 50}, {50, 1}, {2, 2}, {3, 40}} {
		for _, mode := range []Mode{AlongStrokes, AlongEdges} {
			f := &scan.Field{W: size[0], H: size[1], V: make([]uint16, size[0]*size[1])}
			if _, err := NewGuideAlong(f, math.NaN(), mode).Path(ctx, geom.Pt(0, 0), geom.Pt(2, 2)); err != nil {
				t.Errorf("%v: %v", size, err)
			}
		}
	}
	f := newSheet(40, 40).field(0.1, 1)
	g := NewGuide(f, px300)
	if _, err := g.Line(ctx, true, Stop{}); err == nil {
		t.Error("a line of one stop")
	}
	if _, err := g.Line(ctx, false, Stop{}, Stop{At: geom.Pt(math.Inf(1), 0)}); err == nil {
		t.Error("a stop at no place")
	}
	if _, err := g.Line(ctx, true, Stop{At: geom.Pt(4, 4)}, Stop{At: geom.Pt(4, 4)}, Stop{At: geom.Pt(4, 4)}); err == nil {
		t.Error("a ring of one place")
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if err := NewGuide(f, px300).Prepare(stopped); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if _, err := NewGuide(f, px300).Path(ctx, geom.Pt(1, 1), geom.Pt(30, 30)); err != nil {
		t.Errorf("noise alone: %v", err)
	}
}

// TestGuideIsTheSameForAll: answers are the same every time and from several goroutines.
func TestGuideIsTheSameForAll(t *testing.T) {
	s := px300
	w, h := int(135*s), int(195*s)
	a, b := twoSizes(2, s, h)
	sh := newSheet(w, h)
	sh.stroke(a, 0.5*s, 0.08*s, 1)
	sh.stroke(b, 0.5*s, 0.08*s, 0.9)
	f := sh.field(0.02, 2)
	var stops []Stop
	for _, seg := range a {
		stops = append(stops, Stop{At: seg.P0, Corner: true}, Stop{At: seg.At(0.5)})
	}
	first, err := NewGuide(f, s).Line(context.Background(), true, stops...)
	if err != nil {
		t.Fatal(err)
	}
	g := NewGuide(f, s)
	var wg sync.WaitGroup
	for range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			again, err := g.Line(context.Background(), true, stops...)
			if err != nil || !slices.Equal(first.Pts, again.Pts) || !slices.Equal(first.Corners, again.Corners) {
				t.Errorf("another line: %v", err)
			}
		}()
	}
	wg.Wait()
	for i, c := range first.Corners {
		near := false
		for _, seg := range a {
			near = near || seg.P0.Dist(first.Pts[c]) < 0.15*s
		}
		if !near {
			t.Errorf("corner %d lies at %v, off by more than 0.15 mm", i, first.Pts[c])
		}
	}
	if len(first.Corners) != len(a) {
		t.Errorf("%d corners", len(first.Corners))
	}
}
