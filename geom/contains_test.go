package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// angleWinding counts the turns of the direction from q to a dense chain: another
// way than crossings, right where q is farther from the path than its chords.
func angleWinding(chain []Point, q Point) int {
	sum := 0.0
	for i, a := range chain {
		u, v := a.Sub(q), chain[(i+1)%len(chain)].Sub(q)
		sum += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

func TestWindingByAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawLoop(t)
		b := p.Bounds()
		size := math.Max(b.W(), b.H())
		q := Pt(b.Min.X+b.W()*rapid.Float64Range(0, 1).Draw(t, "x"), b.Min.Y+b.H()*rapid.Float64Range(0, 1).Draw(t, "y"))
		if rapid.IntRange(0, 2).Draw(t, "level with a node") == 0 {
			q.Y = p[0].P0.Y
		}
		if _, d := p.Nearest(q); d < 2e-4*size+1e-12*q.Len() {
			return // too near for chords, or within rounding
		}
		want := angleWinding(p.AppendFlat(nil, 1e-4*size), q)
		if got := p.Winding(q); got != want {
			t.Fatalf("%v: winding about %v is %d, by angles %d", p, q, got, want)
		}
		if got := p.Reverse().Winding(q); got != -want {
			t.Fatalf("%v: backwards about %v %d, by angles %d", p, q, got, -want)
		}
	})
}

func TestContainsLevelWithNodesAndExtrema(t *testing.T) {
	c := circle(Pt(0, 0), 10)
	diamond := Polygon(Pt(0, -10), Pt(10, 0), Pt(0, 10), Pt(-10, 0))
	step := Polygon(Pt(0, 0), Pt(10, 0), Pt(10, 5), Pt(5, 5), Pt(5, 10), Pt(0, 10))
	for _, k := range []struct {
		p    Path
		q    Point
		want bool
	}{
		{c, Pt(0, 0), true}, {c, Pt(-20, 0), false}, {c, Pt(20, 0), false}, {c, Pt(-9.99, 0), true},
		{c, Pt(-5, 10), false}, {c, Pt(-5, -10), false}, {c, Pt(7.06, 7.06), true}, {c, Pt(7.08, 7.08), false},
		{diamond, Pt(0, 0), true}, {diamond, Pt(-11, 0), false}, {diamond, Pt(-1, 10), false}, {diamond, Pt(-1, -10), false},
		{step, Pt(2, 5), true}, {step, Pt(-2, 5), false}, {step, Pt(-2, 10), false}, {step, Pt(7, 7), false},
	} {
		if got := k.p.Contains(k.q); got != k.want {
			t.Errorf("%v in %v: %v", k.q, k.p, got)
		}
	}
}

func TestSide(t *testing.T) {
	c := circle(Pt(0, 0), 10)
	for q, want := range map[Point]Side{
		Pt(0, 0): Inside, Pt(10, 0): Border, Pt(10.004, 0): Border, Pt(9.996, 0): Border,
		Pt(10.01, 0): Outside, Pt(9.99, 0): Inside, Pt(math.NaN(), 0): Outside, Pt(math.Inf(1), 0): Outside,
	} {
		if got := c.Side(q, 0.005); got != want {
			t.Errorf("%v: %v want %v", q, got, want)
		}
	}
	half := c[:2] // open: closed along the x axis
	if half.Side(Pt(0, 0), 1e-9) != Border || half.Side(Pt(0, 1), 1e-9) != Inside || half.Side(Pt(0, -1), 1e-9) != Outside {
		t.Error("the closing line of an open path does not count")
	}
	if (Path{}).Side(Pt(0, 0), 1) != Outside {
		t.Error("something lies in the empty path")
	}
	for _, s := range wild() {
		Path{s}.Side(Pt(1, 1), 0.1)
		Path{s}.Winding(Pt(1, 1))
	}
}

// Winding twice counts twice.
func TestWindingTwice(t *testing.T) {
	c := circle(Pt(0, 0), 10)
	if n := append(c, c...).Winding(Pt(1, 2)); n != 2 {
		t.Errorf("winding %d", n)
	}
}
