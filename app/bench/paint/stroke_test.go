package paint

import (
	"bytes"
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// strokeArea returns the area in pixels of a line through pts.
func strokeArea(pts []geom.Point, closed bool, p pen, box image.Rectangle) float64 {
	cum := []float64{0}
	for i, q := range pts[1:] {
		cum = append(cum, cum[i]+q.Dist(pts[i]))
	}
	var r raster
	r.begin(box)
	r.stroke(pts, cum, 1, closed, p, box)
	return total(mask(&r))
}

func dashPen(half float64, d Dash) pen { return pen{half: half, dash: d, period: d.period()} }

// onLength returns how much of a line of length n is drawn with the pattern.
func onLength(n float64, d Dash) float64 {
	on := 0.0
	for s := 0.0; s < n; {
		for i, x := range d {
			if i%2 == 0 {
				on += math.Max(math.Min(n, s+x)-s, 0)
			}
			s += x
		}
	}
	return on
}

// However a straight line is cut into chords and whatever its width, its dashes
// cover as much as the pattern says.
func TestDashLengths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawPoint(t, 10, 290)
		b := drawPoint(t, 10, 290)
		n := a.Dist(b)
		if n < 5 {
			t.Skip("too short")
		}
		f := rapid.Float64Range(0.5, 20)
		d := Dash{f.Draw(t, "on"), f.Draw(t, "off")}
		if rapid.Bool().Draw(t, "dot") {
			d[2], d[3] = f.Draw(t, "on2"), f.Draw(t, "off2")
		}
		pts := []geom.Point{a}
		cuts := rapid.IntRange(0, 12).Draw(t, "cuts")
		for i := range cuts {
			pts = append(pts, a.Lerp(b, float64(i+1)/float64(cuts+1)))
		}
		pts = append(pts, b)
		half := rapid.Float64Range(0.4, 4).Draw(t, "half")
		got := strokeArea(pts, false, dashPen(half, d), image.Rect(0, 0, 300, 300))
		want := onLength(n, d) * 2 * half
		dashes := n/d.period() + 1
		// The rims of the dashes are rounded to 1/256 of a pixel in their place and to
		// 1/255 in their coverage.
		rims := want/half + 4*half*2*dashes
		if math.Abs(got-want) > 0.006*rims+0.1 {
			t.Fatalf("dashes cover %v, want %v", got, want)
		}
	})
}

// A solid line round a rectangle has the area between its outer and inner borders.
func TestMitreJoin(t *testing.T) {
	pts := []geom.Point{{X: 20, Y: 20}, {X: 80, Y: 20}, {X: 80, Y: 60}, {X: 20, Y: 60}, {X: 20, Y: 20}}
	got := strokeArea(pts, true, pen{half: 3}, image.Rect(0, 0, 100, 100))
	if want := 66.*46 - 54.*34; math.Abs(got-want) > 1 {
		t.Errorf("area %v, want %v", got, want)
	}
	got = strokeArea(pts, true, pen{half: 3, join: Round}, image.Rect(0, 0, 100, 100))
	if want := 66.*46 - 54.*34 - 9*(4-math.Pi); math.Abs(got-want) > 1 {
		t.Errorf("round: area %v, want %v", got, want)
	}
}

// Past the limit a mitre becomes a bevel: no spike a hundred pixels long.
func TestMitreLimit(t *testing.T) {
	pts := []geom.Point{{X: 20, Y: 50}, {X: 100, Y: 50}, {X: 20, Y: 54}}
	var r raster
	box := image.Rect(0, 0, 200, 100)
	r.begin(box)
	r.stroke(pts, nil, 1, false, pen{half: 2}, box)
	img := mask(&r)
	for x := 105; x < 200; x++ {
		for y := range 100 {
			if img.RGBAAt(x, y).R != 0 {
				t.Fatalf("pixel (%d, %d) is covered", x, y)
			}
		}
	}
}

func TestRoundCap(t *testing.T) {
	pts := []geom.Point{{X: 20, Y: 20}, {X: 60, Y: 50}}
	got := strokeArea(pts, false, pen{half: 4, cap: RoundCap}, image.Rect(0, 0, 100, 100))
	if want := 50.*8 + math.Pi*16; math.Abs(got-want) > 1.5 {
		t.Errorf("area %v, want %v", got, want)
	}
}

// Nowhere inside a line is there a hole, however it doubles back: every place
// within half the width of a chord is covered.
func TestStrokeHasNoHoles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) geom.Point { return drawPoint(t, 10, 54) }), 2, 8).Draw(t, "pts")
		for i := range pts[1:] {
			if pts[i].Dist(pts[i+1]) < 0.1 {
				t.Skip("no direction")
			}
		}
		half := rapid.Float64Range(1.5, 6).Draw(t, "half")
		var r raster
		box := image.Rect(0, 0, 64, 64)
		r.begin(box)
		r.stroke(pts, nil, 1, false, pen{half: half}, box)
		img := mask(&r)
		for i := range pts[1:] {
			a, b := pts[i], pts[i+1]
			for k := range 41 {
				q := a.Lerp(b, float64(k)/40)
				if q.Dist(a) < 1 || q.Dist(b) < 1 {
					continue // the ends of a butt line cut through their pixels
				}
				if c := img.RGBAAt(int(q.X), int(q.Y)).R; c < 200 {
					t.Fatalf("hole of coverage %d at %v", c, q)
				}
			}
		}
	})
}

// strokePlainly adds every chord with all four of its edges, and every corner.
func (r *raster) strokePlainly(pts []geom.Point, closed bool, p pen, seen image.Rectangle) {
	m := p.reach()
	s := stroker{r: r, pen: p, pts: pts, closed: closed,
		lo: geom.Point{X: float64(seen.Min.X) - m, Y: float64(seen.Min.Y) - m},
		hi: geom.Point{X: float64(seen.Max.X) + m, Y: float64(seen.Max.Y) + m},
	}
	n := len(pts) - 1
	for i := range n {
		if s.hidden(pts[i], pts[i+1]) {
			continue
		}
		in, _ := s.joint(i)
		out, _ := s.joint(i + 1)
		s.quad(pts[i], in, pts[i+1], out)
		if i+1 < n || closed {
			s.wedge(i + 1)
		}
	}
	if !closed {
		s.end(pts[0], s.dir(0).Mul(-1))
		s.end(pts[n], s.dir(n-1))
	}
}

// The edges that two chords share enclose nothing: leaving them out changes no pixel,
// wherever the line bends, closes, doubles back and leaves what is seen.
func TestSharedEdgesEncloseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := geom.Point{X: rapid.Float64Range(-20, 84).Draw(t, "x"), Y: rapid.Float64Range(-20, 84).Draw(t, "y")}
		way := rapid.Float64Range(0, 2*math.Pi).Draw(t, "way")
		pts := []geom.Point{at}
		for range rapid.IntRange(1, 24).Draw(t, "chords") {
			turn := rapid.Float64Range(-0.4, 0.4) // either side of what is smooth
			if rapid.IntRange(0, 4).Draw(t, "corner") == 0 {
				turn = rapid.Float64Range(-math.Pi, math.Pi)
			}
			way += turn.Draw(t, "turn")
			long := rapid.Float64Range(0.3, 25).Draw(t, "long")
			at = at.Add(geom.Point{X: long * math.Cos(way), Y: long * math.Sin(way)})
			pts = append(pts, at)
		}
		closed := rapid.Bool().Draw(t, "closed") && len(pts) > 2 && at.Dist(pts[0]) > 0.1
		if closed {
			pts = append(pts, pts[0])
		}
		p := pen{half: rapid.Float64Range(0.3, 5).Draw(t, "half")}
		if rapid.Bool().Draw(t, "round") {
			p.join, p.cap = Round, RoundCap
		}
		box := image.Rect(0, 0, 64, 64)
		var r, plain raster
		r.begin(box)
		r.stroke(pts, nil, 1, closed, p, box)
		plain.begin(box)
		plain.strokePlainly(pts, closed, p, box)
		if got, want := mask(&r), mask(&plain); !bytes.Equal(got.Pix, want.Pix) {
			t.Fatal("not the same picture")
		}
	})
}
