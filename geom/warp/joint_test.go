package warp

import (
	"context"
	"errors"
	"math"
	"testing"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// kinkOf returns by how much in radians the corners of a joint turn together.
func kinkOf(shapes []Shape, j Joint) float64 {
	sum := 0.0
	for _, c := range j {
		s := &shapes[c.Shape]
		in, out := s.stretch(0, s.prev(c.Node)), s.stretch(0, c.Node)
		sum += angle(in.Tangent(1), out.Tangent(0))
	}
	return sum
}

// TestLinesRunOnAcrossSeams: a front that is taken in at the hem and a back that is not leave a
// point in the hem at their side seam; with the joint named the hem runs on as it did, and what
// is wanted is had as before.
func TestLinesRunOnAcrossSeams(t *testing.T) {
	half := func() (Shape, []int) {
		s, e := madeOf(
			geom.Path{geom.Cubic(pt(0, 0), pt(40, 0), pt(80, 8), pt(120, 24))},
			geom.Path{geom.Cubic(pt(120, 24), pt(118, 80), pt(118, 140), pt(120, 206))},
			geom.Path{geom.Line(pt(120, 206), pt(0, 206))},
			geom.Path{geom.Line(pt(0, 206), pt(0, 0))},
		)
		s.Grain = pt(0, 1)
		return s, e
	}
	front, e := half()
	back, _ := half()
	p := &Problem{Shapes: []Shape{front, back}}
	for k := range p.Shapes {
		p.Rails = append(p.Rails, Rail{Shape: k, Nodes: []int{e[3], e[0]}, Along: pt(0, 1), Square: true})
		top, hem, long := 120.0, 122.9, 206.0
		if k == 0 {
			hem = 85
		}
		p.Spans = append(p.Spans,
			Span{Terms: terms(k, e[2], e[3], 1), Want: top}, Span{Terms: terms(k, e[0], e[1], 1), Want: hem}, Span{Terms: terms(k, e[3], e[3]+1, 1), Want: long})
	}
	p.Seams = []Seam{{Terms: append(terms(0, e[1], e[2], 1), terms(1, e[1], e[2], -1)...)}}
	hem := Joint{{0, e[1], true, false}, {1, e[1], true, false}}

	kinked := solved(t, p)
	without := kinkOf(kinked.Shapes, hem) - kinkOf(p.Shapes, hem)
	p.Joints = []Joint{hem}
	r := solved(t, p)
	with := kinkOf(r.Shapes, hem) - kinkOf(p.Shapes, hem)
	if math.Abs(without) < 4*kinkLeft || math.Abs(with) > math.Abs(without)/2 {
		t.Errorf("the hem's kink changes by %.1f°, and without the joint by %.1f°", with*180/math.Pi, without*180/math.Pi)
	}
	for i, off := range append(r.SpanOff, r.SeamOff...) {
		if math.Abs(off) > met {
			t.Errorf("wish %d is off by %g mm", i, off)
		}
	}
	for k := range r.Shapes {
		if fold := r.Shapes[k].stretch(0, e[0]).Tangent(0); math.Abs(fold.Y) > 1e-9 {
			t.Errorf("the hem of shape %d comes to the fold at %g, which was square", k, fold.Y)
		}
	}
}

// TestStraightLinesAreNotTurned: where a line is straight at a joint nothing is turned, however
// much it has come to kink.
func TestStraightLinesAreNotTurned(t *testing.T) {
	s, e := madeOf(
		geom.Path{geom.Line(pt(0, 0), pt(100, 0))},
		geom.Path{geom.Line(pt(100, 0), pt(100, 80))},
		geom.Path{geom.Line(pt(100, 80), pt(0, 80))},
		geom.Path{geom.Line(pt(0, 80), pt(0, 0))},
	)
	p := &Problem{Shapes: []Shape{s}, Joints: []Joint{{{0, e[1], true, false}}}}
	p.Spans = []Span{{Terms: terms(0, e[0], e[1], 1), Want: 140}, {Terms: terms(0, e[2], e[3], 1), Want: 100}}
	m, err := newModel(p)
	if err != nil {
		t.Fatal(err)
	}
	z, err := m.follow(t.Context(), &Result{})
	if err != nil {
		t.Fatal(err)
	}
	if kink := m.kink(p.Joints[0], m.prog.At(z)); math.Abs(kink) < kinkLeft {
		t.Fatalf("the corner has turned by %g only", kink)
	}
	if m.turnLines(z) {
		t.Error("a straight line was turned")
	}
}

// TestSolveCanBeBrokenOffAnywhere: whenever the context ends, an error or a whole solution
// comes back.
func TestSolveCanBeBrokenOffAnywhere(t *testing.T) {
	p := newBodice()
	p.Spans[waist].Want *= 1.4
	p.Spans[chest].Want *= 0.8
	for last := range 60 {
		ctx, cancel := context.WithCancel(t.Context())
		told := 0
		r, err := Solve(ctx, *p, func(float64) {
			if told++; told > last {
				cancel()
			}
		})
		cancel()
		if err == nil && len(r.Shapes) != len(p.Shapes) || err != nil && !errors.Is(err, context.Canceled) {
			t.Fatalf("broken off after %d steps: %v, %v", last, r, err)
		}
	}
}

// TestAHalfSewnToBothSidesTurnsOnce: a half front on the fold is sewn to both sides of a whole
// back. All three ends of the hem take up what the sides have turned, and the back stays
// symmetric.
func TestAHalfSewnToBothSidesTurnsOnce(t *testing.T) {
	front, e := madeOf(
		geom.Path{geom.Cubic(pt(0, 0), pt(40, 0), pt(80, 8), pt(120, 24))},
		geom.Path{geom.Line(pt(120, 24), pt(120, 206))},
		geom.Path{geom.Line(pt(120, 206), pt(0, 206))},
		geom.Path{geom.Line(pt(0, 206), pt(0, 0))},
	)
	back, k := madeOf(
		geom.Path{geom.Cubic(pt(-120, 24), pt(-80, 8), pt(-40, 0), pt(0, 0)), geom.Cubic(pt(0, 0), pt(40, 0), pt(80, 8), pt(120, 24))},
		geom.Path{geom.Line(pt(120, 24), pt(120, 206))},
		geom.Path{geom.Line(pt(120, 206), pt(-120, 206))},
		geom.Path{geom.Line(pt(-120, 206), pt(-120, 24))},
	)
	front.Grain, back.Grain = pt(0, 1), pt(0, 1)
	p := &Problem{Shapes: []Shape{front, back}}
	p.Rails = []Rail{{Nodes: []int{e[3], e[0]}, Along: pt(0, 1), Square: true}}
	p.Mirrors = []Mirror{{Shape: 1, Axis: [2]geom.Point{pt(0, 0), pt(0, 1)}}}
	p.Joints = []Joint{
		{{0, e[1], true, false}, {1, k[1], true, false}},
		{{0, e[1], true, false}, {1, k[0], false, true}},
	}
	p.Spans = []Span{{Terms: terms(0, e[2], e[3], 1), Want: 150}, {Terms: terms(1, k[2], k[3], 1), Want: 300}, {Terms: terms(0, e[0], e[1], 1), Want: 110}}
	p.Seams = []Seam{{Terms: append(terms(0, e[1], e[2], 1), terms(1, k[1], k[2], -1)...)}}
	m, err := newModel(p)
	if err != nil {
		t.Fatal(err)
	}
	z, err := m.follow(t.Context(), &Result{})
	if err != nil {
		t.Fatal(err)
	}
	before := m.kink(p.Joints[0], m.prog.At(z))
	if math.Abs(before) < 2*kinkLeft || !m.turnLines(z) {
		t.Fatalf("the hem kinks by %g only", before)
	}
	a, b := m.kink(p.Joints[0], m.prog.At(z)), m.kink(p.Joints[1], m.prog.At(z))
	if math.Abs(a-b) > 1e-9 || math.Abs(a) > math.Abs(before)/2 || a*before < -1e-9 {
		t.Errorf("of a kink of %g there are left %g on one side and %g on the other", before, a, b)
	}
}

// TestStartLeadsToTheSameSolution: from its own solution a problem is solved to the same.
func TestStartLeadsToTheSameSolution(t *testing.T) {
	p := newBodice()
	p.Spans[waist].Want *= 1.1
	p.Spans[frontLength].Want *= 0.97
	m, err := newModel(p)
	if err != nil {
		t.Fatal(err)
	}
	r := &Result{}
	z, err := m.follow(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	for _, met := range []bool{true, false} {
		m.prog.Start = &sqp.Start{Z: z, Met: met}
		again, err := m.follow(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		a, b := m.prog.At(z), m.prog.At(again)
		for k := range a {
			for i := range a[k] {
				if math.Abs(a[k][i]-b[k][i]) > 1e-3 {
					t.Fatalf("with met %v coordinate %d of shape %d comes to %g, and from nothing to %g", met, i, k, b[k][i], a[k][i])
				}
			}
		}
	}
}
