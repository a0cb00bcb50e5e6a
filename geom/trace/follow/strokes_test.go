package follow

import (
	"context"
	"math"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

const dpi300 = 300 / 25.4

// penned returns a field of w by h px with pen strokes of a width round the places whose
// distance is 0, softened by sigma.
func penned(w, h int, pen, sigma float64, dist func(p geom.Point) float64) *scan.Field {
	f := &scan.Field{W: w, H: h, V: make([]uint16, w*h)}
	step := func(x float64) float64 { return (1 + math.Erf(x/(sigma*math.Sqrt2))) / 2 }
	for y := range h {
		for x := range w {
			d := dist(geom.Pt(float64(x)+0.5, float64(y)+0.5))
			ink := step(d+pen/2) - step(d-pen/2)
			f.V[y*w+x] = uint16(math.Round(scan.Paper * (1 - ink)))
		}
	}
	return f
}

// toLines returns the distance to polylines.
func toLines(lines ...[]geom.Point) func(geom.Point) float64 {
	return func(p geom.Point) float64 {
		best := math.Inf(1)
		for _, l := range lines {
			for i := 1; i < len(l); i++ {
				side := l[i].Sub(l[i-1])
				t := min(max(p.Sub(l[i-1]).Dot(side)/side.Dot(side), 0), 1)
				best = min(best, p.Dist(l[i-1].Add(side.Mul(t))))
			}
		}
		return best
	}
}

func pts(xy ...float64) []geom.Point {
	var out []geom.Point
	for i := 0; i < len(xy); i += 2 {
		out = append(out, geom.Pt(xy[i], xy[i+1]))
	}
	return out
}

func strokesOf(t *testing.T, f *scan.Field, o Options) Found {
	t.Helper()
	if o.S == 0 {
		o.S = dpi300
	}
	if o.Least == 0 {
		o.Least = 4
	}
	found, err := Strokes(context.Background(), f, o)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// offBy returns the largest distance of points from what they should lie on.
func offBy(pts []geom.Point, dist func(geom.Point) float64) float64 {
	worst := 0.0
	for _, p := range pts {
		worst = max(worst, math.Abs(dist(p)))
	}
	return worst
}

func TestRingStroke(t *testing.T) {
	at := geom.Pt(203.3, 198.8)
	f := penned(400, 400, 7, 1.2, disc(at, 150))
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 || len(found.Shapes[0].Inner) != 0 || len(found.Open) != 0 {
		t.Fatalf("%d shapes, %+v open", len(found.Shapes), found.Open)
	}
	l := found.Shapes[0].Outline
	if d := offBy(l.Pts, disc(at, 150)); d > 0.03 {
		t.Errorf("off by %.4f px", d)
	}
	if math.Abs(l.Width-7) > 0.1 || math.Abs(l.Blur-1.2) > 0.15 || !l.Closed {
		t.Errorf("pen %.2f px, blur %.2f px, want 7 and 1.2", l.Width, l.Blur)
	}
	if signedArea(l.Pts) > 0 {
		t.Error("not counter-clockwise on screen")
	}
}

// A line drawn up to the outline from inside does not bend the outline, and ends on it.
func TestInnerLineTouchesOutline(t *testing.T) {
	at := geom.Pt(250, 250)
	ring := disc(at, 200)
	inner := pts(250, 50, 262, 180)
	f := penned(500, 500, 7, 1.2, func(p geom.Point) float64 {
		return min(math.Abs(ring(p)), toLines(inner)(p))
	})
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 || len(found.Shapes[0].Inner) != 1 {
		t.Fatalf("%+v", found)
	}
	s := found.Shapes[0]
	if d := offBy(s.Outline.Pts, ring); d > 0.12 {
		t.Errorf("the outline is off by %.4f px", d)
	}
	in := s.Inner[0].Pts
	if d := offBy(in, toLines(inner)); d > 0.3 {
		t.Errorf("the inner line is off by %.4f px", d)
	}
	if d := min(in[0].Dist(inner[0]), in[len(in)-1].Dist(inner[0])); d > 0.3 {
		t.Errorf("the inner line ends %.3f px from where it meets the outline", d)
	}
	if d := min(in[0].Dist(inner[1]), in[len(in)-1].Dist(inner[1])); d > 0.6 {
		t.Errorf("the inner line ends %.3f px from its tip", d)
	}
}

func TestDartInside(t *testing.T) {
	outline := pts(50, 50, 650, 50, 650, 500, 50, 500, 50, 50)
	dart := pts(300, 500, 350, 250, 400, 500)
	f := penned(700, 550, 7, 1.2, toLines(outline, dart))
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 || len(found.Shapes[0].Inner) != 1 {
		t.Fatalf("%d shapes, %+v", len(found.Shapes), found)
	}
	s := found.Shapes[0]
	if d := offBy(s.Outline.Pts, toLines(outline)); d > 0.15 {
		t.Errorf("the outline is off by %.4f px", d)
	}
	in := s.Inner[0].Pts
	if d := offBy(in, toLines(dart)); d > 0.4 {
		t.Errorf("the dart is off by %.4f px", d)
	}
	best := math.Inf(1)
	for _, p := range in {
		best = min(best, p.Dist(dart[1]))
	}
	if best > 0.5*dpi300 {
		t.Errorf("the dart's tip is off by %.2f px", best)
	}
}

func TestGapBridged(t *testing.T) {
	at := geom.Pt(250, 250)
	arc := func(p geom.Point) float64 {
		// A gap of 12 px at the right.
		if d := p.Sub(at); math.Abs(d.Y) < 6 && d.X > 0 {
			q := geom.Pt(at.X+math.Sqrt(200*200-36), at.Y+6)
			r := geom.Pt(q.X, at.Y-6)
			return min(p.Dist(q), p.Dist(r))
		}
		return p.Dist(at) - 200
	}
	f := penned(500, 500, 5, 1.2, arc)
	if found := strokesOf(t, f, Options{}); len(found.Shapes) != 0 || len(found.Open) != 1 || math.Abs(found.Open[0].Gap-7) > 1.5 {
		t.Errorf("without bridging: %d shapes, %+v", len(found.Shapes), len(found.Open))
	}
	found := strokesOf(t, f, Options{Gap: 1})
	if len(found.Shapes) != 1 || len(found.Open) != 0 {
		t.Fatalf("%d shapes, %d open", len(found.Shapes), len(found.Open))
	}
	if d := offBy(found.Shapes[0].Outline.Pts, disc(at, 200)); d > 0.1 {
		t.Errorf("off by %.3f px", d)
	}
}

// A line across a piece is an inner line where the outline goes on straight, and a seam that
// two pieces share where the outline turns inward at both its ends.
func TestSharedLine(t *testing.T) {
	for _, c := range []struct {
		name          string
		outline, line []geom.Point
		shapes, inner int
	}{
		{"across a rectangle", pts(50, 50, 450, 50, 450, 550, 50, 550, 50, 50), pts(50, 250, 450, 250), 1, 1},
		{"at a waist", pts(50, 50, 450, 50, 330, 250, 480, 550, 30, 550, 170, 250, 50, 50), pts(170, 250, 330, 250), 2, 0},
		{"a corner cut off", pts(50, 50, 450, 50, 450, 550, 50, 550, 50, 50), pts(50, 150, 150, 50), 1, 1},
		{"one waist", pts(50, 50, 450, 50, 450, 550, 30, 550, 170, 250, 50, 50), pts(170, 250, 450, 250), 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			truth := toLines(c.outline, c.line)
			found := strokesOf(t, penned(520, 600, 7, 1.2, truth), Options{})
			inner := 0
			for _, s := range found.Shapes {
				inner += len(s.Inner)
				if d := offBy(s.Outline.Pts, truth); d > 0.4 {
					t.Errorf("an outline is off by %.3f px", d)
				}
				if signedArea(s.Outline.Pts) > 0 {
					t.Error("an outline is not counter-clockwise on screen")
				}
			}
			if len(found.Shapes) != c.shapes || inner != c.inner || len(found.Open) != 0 || found.Outside != 0 {
				t.Errorf("%d shapes with %d inner lines, %d open, %d outside", len(found.Shapes), inner, len(found.Open), found.Outside)
			}
		})
	}
}

// What lies in and at an outline goes where it belongs.
func TestWhatLiesAtAnOutline(t *testing.T) {
	outline := pts(60, 60, 640, 60, 640, 640, 60, 640, 60, 60)
	ringIn := func(p geom.Point) float64 { return math.Abs(p.Dist(geom.Pt(480, 480)) - 60) }
	tick := pts(300, 30, 300, 90) // across the outline
	grain := pts(200, 200, 200, 480)
	barbs := pts(180, 240, 200, 200, 220, 240)
	letter := pts(350, 300, 350, 340, 370, 340)
	stray := pts(700, 100, 700, 400)
	speck := geom.Pt(400, 200)
	f := penned(760, 700, 6, 1.2, func(p geom.Point) float64 {
		return min(toLines(outline, tick, grain, barbs, letter, stray)(p), ringIn(p), p.Dist(speck))
	})
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 || len(found.Open) != 1 || found.Outside != 1 || found.Lettering != 1 || found.Specks != 1 {
		t.Fatalf("%d shapes, %d open, %d outside, %d letters, %d specks", len(found.Shapes), len(found.Open), found.Outside, found.Lettering, found.Specks)
	}
	s := found.Shapes[0]
	if d := offBy(s.Outline.Pts, toLines(outline)); d > 0.15 {
		t.Errorf("the outline is off by %.3f px", d)
	}
	closed := 0
	for _, l := range s.Inner {
		if l.Closed {
			closed++
		}
		if d := offBy(l.Pts, func(p geom.Point) float64 { return min(toLines(tick, grain, barbs)(p), ringIn(p)) }); d > 0.6 {
			t.Errorf("an inner line is off by %.3f px", d)
		}
	}
	if closed != 1 || len(s.Inner) < 3 || len(s.Inner) > 5 {
		t.Errorf("%d inner lines, %d closed", len(s.Inner), closed)
	}
	if found := strokesOf(t, f, Options{KeepSmall: true}); found.Lettering != 0 || len(found.Shapes[0].Inner) != len(s.Inner)+1 {
		t.Errorf("small marks kept: %d letters, %d inner lines", found.Lettering, len(found.Shapes[0].Inner))
	}
}

// A speck that touches the line does not bend it.
func TestSpeckOnTheLine(t *testing.T) {
	at := geom.Pt(250, 250)
	ring := disc(at, 200)
	f := penned(500, 500, 7, 1.2, func(p geom.Point) float64 {
		return min(math.Abs(ring(p)), p.Dist(geom.Pt(455, 250)), p.Dist(geom.Pt(250, 47)))
	})
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 {
		t.Fatalf("%d shapes", len(found.Shapes))
	}
	if d := offBy(found.Shapes[0].Outline.Pts, ring); d > 0.5 {
		t.Errorf("off by %.3f px", d)
	}
}

// Two sizes that cross are told, and taken for one shape with lines inside: which line goes
// where the guide must be asked.
func TestSizesThatCross(t *testing.T) {
	one := pts(60, 60, 400, 80, 420, 400, 80, 420, 60, 60)
	two := pts(180, 30, 510, 200, 400, 500, 140, 300, 180, 30)
	found := strokesOf(t, penned(560, 560, 6, 1.2, toLines(one, two)), Options{Gap: 1})
	if len(found.Shapes) != 1 || found.Crossed != 4 || len(found.Open) != 0 {
		t.Fatalf("%d shapes, %d crossings, %d open", len(found.Shapes), found.Crossed, len(found.Open))
	}
	for _, l := range append(found.Shapes[0].Inner, found.Shapes[0].Outline) {
		if d := offBy(l.Pts, toLines(one, two)); d > 0.5 {
			t.Errorf("a line is off by %.3f px", d)
		}
	}
}

// Ink wider than a pen is no line, and does not keep the lines beside it from being found.
func TestSolidInk(t *testing.T) {
	ring := disc(geom.Pt(350, 250), 180)
	f := penned(600, 500, 6, 1.2, func(p geom.Point) float64 {
		if p.X < 80 {
			return 0
		}
		return min(math.Abs(ring(p)), p.X-80)
	})
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 || found.Solid == 0 || len(found.Open) != 0 {
		t.Fatalf("%d shapes, %d solid, %d open", len(found.Shapes), found.Solid, len(found.Open))
	}
	if d := offBy(found.Shapes[0].Outline.Pts, ring); d > 0.1 {
		t.Errorf("off by %.3f px", d)
	}
}
