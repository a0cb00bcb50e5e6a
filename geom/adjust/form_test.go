package adjust

import (
	"context"
	"math"
	"slices"
	"testing"

	"hemlet/geom"
)

func pt(x, y float64) geom.Point { return geom.Pt(x, y) }

// Edges of the half front of front, drawn on the fold.
const (
	frontFold = iota
	frontHem
	frontSide
	frontArmhole
	frontShoulder
	frontNeck
)

// front returns half the front of a doll's bodice on the fold, made up: node 0 is where
// the neck meets the fold, node 1 where the fold meets the hem.
func front() *garment {
	s, e := shapeOf([]geom.Path{
		{geom.Line(pt(0, 60), pt(0, 0))},
		{geom.Cubic(pt(0, 0), pt(20, 0), pt(40, 2), pt(58, 4))},
		{geom.Cubic(pt(58, 4), pt(56, 20), pt(57, 35), pt(60, 48))},
		{geom.Cubic(pt(60, 48), pt(50, 50), pt(45, 58), pt(46, 70)), geom.Cubic(pt(46, 70), pt(46.5, 76), pt(48, 82), pt(50, 86))},
		{geom.Line(pt(50, 86), pt(22, 94))},
		{geom.Cubic(pt(22, 94), pt(20, 75), pt(10, 60), pt(0, 60))},
	})
	up := pt(0, 1)
	return &garment{Problem: Problem{Shapes: []Shape{s}, Rails: []Rail{{Node: 0, Along: up}, {Node: 1, Along: up}}}, edges: e}
}

// box returns a straight piece of w by h mm with its lower left corner at 0, edges counter-
// clockwise from the bottom.
func box(w, h float64) *garment {
	s, e := shapeOf([]geom.Path{
		{geom.Line(pt(0, 0), pt(w, 0))}, {geom.Line(pt(w, 0), pt(w, h))},
		{geom.Line(pt(w, h), pt(0, h))}, {geom.Line(pt(0, h), pt(0, 0))},
	})
	return &garment{Problem: Problem{Shapes: []Shape{s}}, edges: e}
}

// want wishes an edge to be by mm longer.
func (g *garment) want(edge int, by float64) *garment {
	g.Wishes = append(g.Wishes, Wish{Terms: g.terms(edge, 1), Want: g.edges[edge].length + by})
	return g
}

// solved solves and checks what holds for every result.
func (g *garment) solved(t *testing.T) Result {
	t.Helper()
	res, err := Solve(context.Background(), g.Problem)
	if err != nil {
		t.Fatal(err)
	}
	checkForm(t, g.Problem, res)
	return res
}

// met fails unless every wish is met.
func met(t *testing.T, res Result) {
	t.Helper()
	for i, off := range res.Off {
		if math.Abs(off) > metBar {
			t.Errorf("wish %d is off by %g mm", i, off)
		}
	}
	if !res.Feasible {
		t.Error("the wishes are said not to be possible")
	}
}

// TestFoldStaysOnItsLine: ends on the fold move along it alone, and the curves that meet it
// square still do.
func TestFoldStaysOnItsLine(t *testing.T) {
	for edge := range 6 {
		res := front().want(edge, 3).solved(t)
		met(t, res)
		n := res.Shapes[0].Nodes
		if n[0].At.X != 0 || n[1].At.X != 0 {
			t.Errorf("edge %d: the fold left its line: %v %v", edge, n[0].At, n[1].At)
		}
		if n[0].In.Y != 0 || n[1].Out.Y != 0 {
			t.Errorf("edge %d: the neck or the hem is no longer square to the fold: %v %v", edge, n[0].In, n[1].Out)
		}
	}
}

// TestEndMovesWithoutDent: the armhole follows its moved end evenly. Its curvature keeps
// its sign, and the far end of it hardly moves.
func TestEndMovesWithoutDent(t *testing.T) {
	g := front().want(frontSide, 4)
	res := g.solved(t)
	met(t, res)
	before, after := g.Shapes[0], res.Shapes[0]
	moved := func(i int) float64 { return before.Nodes[i].At.Dist(after.Nodes[i].At) }
	if moved(2) < 1 || moved(3) < 1 {
		t.Errorf("the ends of the side moved by %.2f and %.2f mm", moved(2), moved(3))
	}
	if moved(5) > 0.1*moved(3) {
		t.Errorf("the shoulder moved by %.3f mm", moved(5))
	}
	// From the end on, each place of the armhole moves less than the one before.
	last := math.Inf(1)
	for _, i := range g.edges[frontArmhole].stretches {
		for k := range 20 {
			at := float64(k) / 20
			by := before.path(i).At(at).Dist(after.path(i).At(at))
			if by > last+0.02 {
				t.Errorf("a dent: stretch %d moves %.3f mm at %.2f, %.3f before", i, by, at, last)
			}
			last = by
			if curvature(before.path(i), at)*curvature(after.path(i), at) <= 0 {
				t.Errorf("stretch %d bends the other way at %.2f", i, at)
			}
		}
	}
}

func curvature(s geom.Segment, t float64) float64 {
	d := s.Deriv(t)
	return d.Cross(s.Second(t)) / math.Pow(d.Len(), 3)
}

// TestBendBetweenHeldEnds: with both ends pinned and all but the armhole's own handles
// held, only it bends.
func TestBendBetweenHeldEnds(t *testing.T) {
	g := front().want(frontArmhole, 2)
	for i := range g.Shapes[0].Nodes {
		n := &g.Shapes[0].Nodes[i]
		switch i {
		case 3:
			n.Pinned, n.FixedIn = true, true
		case 5:
			n.Pinned, n.FixedOut = true, true
		case 4:
		default:
			n.Fixed = true
		}
	}
	res := g.solved(t)
	met(t, res)
	for i, n := range g.Shapes[0].Nodes {
		if m := res.Shapes[0].Nodes[i]; i < 3 && m != n {
			t.Errorf("node %d changed: %v", i, m)
		}
	}
	if before, after := g.Shapes[0].Path(), res.Shapes[0].Path(); after[2] != before[2] || after[5] != before[5] {
		t.Error("the side or the shoulder changed")
	}
}

// TestHemStaysSquareAtTheFold: a straight hem moves down as a whole with the fold when the
// side is to be longer, and only tilts if the fold may not move.
func TestHemStaysSquareAtTheFold(t *testing.T) {
	up := pt(0, 1)
	g := box(80, 100).want(1, 5)
	g.Rails = []Rail{{Node: 0, Along: up}, {Node: 3, Along: up}}
	res := g.solved(t)
	met(t, res)
	n := res.Shapes[0].Nodes
	if math.Abs(n[0].At.Y-n[1].At.Y) > 1e-9 || math.Abs(n[2].At.Y-n[3].At.Y) > 1e-9 || len(res.Tilted) > 0 {
		t.Errorf("the hem or the top tilted: %v, tilted %v", n, res.Tilted)
	}
	g.Shapes[0].Nodes[0].Pinned, g.Shapes[0].Nodes[3].Pinned = true, true
	res = g.solved(t)
	met(t, res)
	if !slices.Equal(res.Tilted, []int{0, 1}) {
		t.Errorf("tilted are %v, not both rails", res.Tilted)
	}
}

// TestTieMovesAsOne: the two nodes of a dart's mouth keep their vector, however the edge
// around them is changed.
func TestTieMovesAsOne(t *testing.T) {
	s, e := shapeOf([]geom.Path{
		{geom.Line(pt(0, 0), pt(40, 0)), geom.Line(pt(40, 0), pt(48, 0)), geom.Line(pt(48, 0), pt(100, 0))},
		{geom.Line(pt(100, 0), pt(100, 80))}, {geom.Line(pt(100, 80), pt(0, 80))}, {geom.Line(pt(0, 80), pt(0, 0))},
	})
	g := &garment{Problem: Problem{Shapes: []Shape{s}, Ties: []Tie{{0, []int{1, 2}}}}, edges: e}
	g.Wishes = []Wish{{Terms: []Term{{0, 0, 1}, {0, 2, 1}}, Want: 96}, {Terms: []Term{{0, 0, 1}}, Want: 43}}
	res := g.solved(t)
	met(t, res)
	n := res.Shapes[0].Nodes
	if d := n[2].At.Sub(n[1].At); !d.Near(pt(8, 0), 1e-9) {
		t.Errorf("the mouth is %v now", d)
	}
	g.Shapes[0].Nodes[1].Pinned = true
	if n = g.solved(t).Shapes[0].Nodes; n[2].At != pt(48, 0) {
		t.Errorf("a node tied to a held one moved to %v", n[2].At)
	}
}

// TestSmoothBesideALine: a curve that runs on smoothly from a straight stretch still does,
// whichever of the two turns.
func TestSmoothBesideALine(t *testing.T) {
	s, e := shapeOf([]geom.Path{
		{geom.Line(pt(0, 0), pt(60, 0)), geom.Cubic(pt(60, 0), pt(80, 0), pt(95, 5), pt(100, 30))},
		{geom.Line(pt(100, 30), pt(100, 90))}, {geom.Line(pt(100, 90), pt(0, 90))}, {geom.Line(pt(0, 90), pt(0, 0))},
	})
	s.Nodes[1].Smooth, s.Nodes[1].Out, s.Nodes[2].In = true, pt(20, 0), pt(-5, -25)
	g := &garment{Problem: Problem{Shapes: []Shape{s}}, edges: e}
	g.want(3, 6).want(1, -4)
	res := g.solved(t)
	met(t, res)
	n := res.Shapes[0].Nodes
	line := n[1].At.Sub(n[0].At)
	if sin := line.Unit().Cross(n[1].Out.Unit()); math.Abs(sin) > jointBar {
		t.Errorf("the joint has a kink of %g", sin)
	}
	if line.Unit().Cross(pt(1, 0)) == 0 {
		t.Error("nothing turned: the case shows nothing")
	}
}

// TestShorterThanCanBe: a curve between held ends that is to be shorter than the line
// between them comes as near to that as its bends allow, and says so.
func TestShorterThanCanBe(t *testing.T) {
	g := front()
	for i := range g.Shapes[0].Nodes {
		g.Shapes[0].Nodes[i].Pinned = true
	}
	chord := pt(58, 4).Dist(pt(60, 48))
	g.Wishes = []Wish{{Terms: g.terms(frontSide, 1), Want: chord - 5}}
	res := g.solved(t)
	if res.Feasible || res.Off[0] < 5 || res.Off[0] > 5.2 {
		t.Errorf("off by %.4f mm, feasible %v; the line is 5 mm too long", res.Off[0], res.Feasible)
	}
}

// TestNoCrossing: wishes that would have an outline cross itself are followed part of the
// way, and the result says so.
func TestNoCrossing(t *testing.T) {
	// A narrow slit from the right, whose lower side is to grow past its upper one.
	s, e := shapeOf([]geom.Path{
		{geom.Line(pt(0, 0), pt(100, 0))}, {geom.Line(pt(100, 0), pt(100, 48))}, {geom.Line(pt(100, 48), pt(20, 50))},
		{geom.Line(pt(20, 50), pt(100, 52))}, {geom.Line(pt(100, 52), pt(100, 100))}, {geom.Line(pt(100, 100), pt(0, 100))}, {geom.Line(pt(0, 100), pt(0, 0))},
	})
	g := &garment{Problem: Problem{Shapes: []Shape{s}}, edges: e}
	g.want(1, 20)
	for _, i := range []int{0, 1, 3, 4, 5, 6} {
		g.Shapes[0].Nodes[i].Fixed = true
	}
	res := g.solved(t)
	if !res.Held || res.Feasible {
		t.Errorf("held %v, feasible %v, off %v", res.Held, res.Feasible, res.Off)
	}
	if res.Off[0] > -15 || res.Off[0] < -19 {
		t.Errorf("off by %.3f mm: the slit is 4 mm wide, and the wish 20", res.Off[0])
	}
}
