package regular

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hemlet/geom"
)

func pt(x, y float64) geom.Point { return geom.Pt(x, y) }

// allCorners is an outline whose every node is a corner.
func allCorners(p geom.Path) Outline {
	c := make([]bool, len(p))
	for i := range c {
		c[i] = true
	}
	return Outline{p, c}
}

// shapes are regular outlines in mm of our own making, with what is regular about each.
var shapes = []struct {
	name  string
	truth Outline
	want  map[Kind]int
}{
	{"waistband", allCorners(geom.Polygon(pt(0, 0), pt(240, 0), pt(240, 30), pt(0, 30))),
		map[Kind]int{Square: 4, Parallel: 2, Equal: 2, Upright: 2, Level: 2, Symmetric: 2, OnFold: 4}},
	{"trapezium", allCorners(geom.Polygon(pt(0, 0), pt(160, 0), pt(120, 90), pt(40, 90))),
		map[Kind]int{Parallel: 1, Equal: 1, Level: 2, Symmetric: 1}},
	{"front", allCorners(geom.Path{
		geom.Cubic(pt(-60, 0), pt(-20, -6), pt(20, -6), pt(60, 0)),
		geom.Line(pt(60, 0), pt(66, 80)),
		geom.Cubic(pt(66, 80), pt(48, 88), pt(44, 110), pt(50, 130)),
		geom.Line(pt(50, 130), pt(18, 138)),
		geom.Cubic(pt(18, 138), pt(10, 118), pt(-10, 118), pt(-18, 138)),
		geom.Line(pt(-18, 138), pt(-50, 130)),
		geom.Cubic(pt(-50, 130), pt(-44, 110), pt(-48, 88), pt(-66, 80)),
		geom.Line(pt(-66, 80), pt(-60, 0)),
	}), map[Kind]int{Symmetric: 1, Equal: 3}},
	{"sleeve", allCorners(geom.Path{
		geom.Line(pt(-35, 0), pt(35, 0)),
		geom.Line(pt(35, 0), pt(55, 120)),
		geom.Cubic(pt(55, 120), pt(30, 124), pt(22, 160), pt(0, 160)),
		geom.Cubic(pt(0, 160), pt(-20, 160), pt(-32, 126), pt(-55, 120)),
		geom.Line(pt(-55, 120), pt(-35, 0)),
	}), map[Kind]int{Equal: 1, Level: 1, Smooth: 1}},
	{"half front", allCorners(geom.Path{
		geom.Cubic(pt(0, 0), pt(20, 0), pt(40, 2), pt(60, 4)),
		geom.Line(pt(60, 4), pt(66, 80)),
		geom.Cubic(pt(66, 80), pt(48, 88), pt(44, 110), pt(50, 130)),
		geom.Line(pt(50, 130), pt(18, 138)),
		geom.Cubic(pt(18, 138), pt(16, 124), pt(10, 118), pt(0, 118)),
		geom.Line(pt(0, 118), pt(0, 0)),
	}), map[Kind]int{OnFold: 1, Upright: 1, Square: 2}},
}

// disturbed returns the outline with every point moved by up to most mm.
func disturbed(o Outline, most float64, seed uint64) Outline {
	r := rand.New(rand.NewPCG(seed, 7))
	by := func(p geom.Point, k float64) geom.Point {
		a := r.Float64() * 2 * math.Pi
		return p.Add(pt(math.Cos(a), math.Sin(a)).Mul(most * k * math.Sqrt(r.Float64())))
	}
	p := append(geom.Path{}, o.Path...)
	n := len(p)
	nodes := make([]geom.Point, n)
	for i := range p {
		nodes[i] = by(p[i].P0, 1)
	}
	for i := range p {
		a, b := nodes[i], nodes[(i+1)%n]
		if p[i].Straight {
			p[i] = geom.Line(a, b)
			continue
		}
		p[i] = geom.Cubic(a, by(p[i].P1.Add(a.Sub(p[i].P0)), .5), by(p[i].P2.Add(b.Sub(p[i].P3)), .5), b)
	}
	return Outline{p, o.Corner}
}

// meanOff returns the root mean square of the distances of the corners of two outlines.
func meanOff(a, b Outline) float64 {
	sum := 0.0
	for i := range a.Path {
		d := a.Path[i].P0.Dist(b.Path[i].P0)
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(a.Path)))
}

func counts(list []Suggestion) map[Kind]int {
	n := map[Kind]int{}
	for _, s := range list {
		n[s.Kind]++
	}
	return n
}

// TestDisturbedShapesComeBack: what is regular is found, and taking it brings the outline
// nearer to what it was.
func TestDisturbedShapesComeBack(t *testing.T) {
	for _, sh := range shapes {
		before, after, found, wanted, worse := 0.0, 0.0, 0, 0, 0
		const tries = 20
		for seed := range uint64(tries) {
			o := disturbed(sh.truth, 0.1+0.01*float64(seed), seed)
			list := Suggest(o, Options{Tol: 0.8})
			n := counts(list)
			var meant []Suggestion
			left := map[Kind]int{}
			for k, c := range sh.want {
				left[k] = c
				wanted += c
				found += min(c, n[k])
			}
			for _, s := range list {
				if holdsIn(sh.truth, s, 1e-3) {
					meant = append(meant, s)
				}
			}
			r, moved, err := Apply(o, meant)
			if err != nil {
				t.Errorf("%s %d: %v", sh.name, seed, err)
				continue
			}
			if moved > 1.5 {
				t.Errorf("%s %d: moved by %.2f mm", sh.name, seed, moved)
			}
			for _, s := range meant {
				if miss := missing(r, o.Corner, s); miss > 1e-6 {
					t.Errorf("%s %d: %v %v %v misses by %g mm", sh.name, seed, s.Kind, s.Edges, s.Corners, miss)
				}
			}
			b, a := meanOff(o, sh.truth), meanOff(r, sh.truth)
			before, after = before+b, after+a
			if a > b*1.001 {
				worse++
			}
		}
		t.Logf("%-10s found %d of %d, corners off by %.3f before, %.3f after, %d of %d worse", sh.name, found, wanted, before/tries, after/tries, worse, tries)
		if after > 0.98*before || found < wanted*9/10 {
			t.Errorf("%s: found %d of %d, off by %.3f before and %.3f after", sh.name, found, wanted, before/tries, after/tries)
		}
	}
}

// holdsIn reports whether a suggestion is true of the outline that was disturbed: it would
// move no point of it by most mm.
func holdsIn(truth Outline, s Suggestion, most float64) bool {
	m, err := newModel(truth)
	if err != nil {
		return false
	}
	w := m.clone()
	r, why := w.together([]Suggestion{s}, false)
	return why == "" && r.moved < most
}

// missing measures in mm by how much an outline misses what was taken, apart from the code
// that makes it hold.
func missing(o Outline, before []bool, s Suggestion) float64 {
	var edges []geom.Path
	corners := o.Corner
	if len(before) == len(corners) {
		corners = before // a corner that became smooth still counts
	}
	for i, seg := range o.Path {
		if corners[i] || len(edges) == 0 {
			edges = append(edges, nil)
		}
		edges[len(edges)-1] = append(edges[len(edges)-1], seg)
	}
	n := len(edges)
	corner := func(c int) geom.Point { return edges[c%n].Start() }
	chord := func(i int) geom.Point { return edges[i].End().Sub(edges[i].Start()) }
	turnMiss := func(c int, want func(in, out geom.Point) float64) float64 {
		e := edges[(c+n-1)%n]
		in, out := e[len(e)-1].Tangent(1), edges[c][0].Tangent(0)
		return math.Abs(want(in, out)) * max(e.Length(), edges[c].Length())
	}
	switch s.Kind {
	case Straight:
		if p := edges[s.Edges[0]]; len(p) != 1 || !p[0].Straight {
			return 1
		}
	case Square:
		return turnMiss(s.Corners[0], geom.Point.Dot)
	case OnFold:
		return max(turnMiss(s.Corners[0], geom.Point.Dot), turnMiss(s.Corners[1], geom.Point.Dot))
	case Upright:
		return math.Abs(chord(s.Edges[0]).Cross(s.Up))
	case Level:
		return math.Abs(chord(s.Edges[0]).Dot(s.Up))
	case Parallel:
		a, b := chord(s.Edges[0]), chord(s.Edges[1])
		return math.Abs(a.Cross(b)) / min(a.Len(), b.Len())
	case Equal:
		return math.Abs(edges[s.Edges[0]].Length() - edges[s.Edges[1]].Length())
	case Abreast:
		return math.Abs(corner(s.Corners[0]).Sub(corner(s.Corners[1])).Dot(s.Up))
	case InLine:
		return math.Abs(corner(s.Corners[0]).Sub(corner(s.Corners[1])).Cross(s.Up))
	case Symmetric:
		// The axis is that of the images of the first corner that is not on it.
		var axis geom.Affine
		for c := range n {
			p, q := corner(c), corner(((s.pairing-c)%n+n)%n)
			if p.Dist(q) < 1 {
				continue
			}
			mid := p.Lerp(q, .5)
			axis, _ = geom.Reflection(mid, mid.Add(q.Sub(p).Left()))
			break
		}
		worst := 0.0
		for i := range edges {
			img := edges[i].Transform(axis).Reverse()
			other := edges[((s.pairing-i-1)%n+n)%n]
			if len(img) != len(other) {
				return 1
			}
			for j := range img {
				worst = max(worst, img[j].P0.Dist(other[j].P0), img[j].P1.Dist(other[j].P1), img[j].P2.Dist(other[j].P2), img[j].P3.Dist(other[j].P3))
			}
		}
		return worst
	}
	return 0
}

func TestContradictionIsNamed(t *testing.T) {
	o := allCorners(geom.Polygon(pt(0, 0), pt(100, 0.2), pt(100.1, 60), pt(0, 59.7)))
	up := pt(0, 1)
	take := []Suggestion{
		{Kind: Level, Edges: []int{0}, Up: up},
		{Kind: Upright, Edges: []int{0}, Up: up},
		{Kind: Square, Corners: []int{1}},
	}
	r, _, err := Apply(o, take)
	var c *ConflictError
	if !errors.As(err, &c) || len(c.Refused) != 1 || c.Refused[0].Kind != Upright {
		t.Fatalf("%v", err)
	}
	if d := r.Path[0].P3.Sub(r.Path[0].P0); math.Abs(d.Y) > 1e-6 || math.Abs(d.Dot(r.Path[1].P3.Sub(r.Path[1].P0))) > 1e-5 {
		t.Errorf("what was kept does not hold: %v", r.Path)
	}
}
