package draft

import (
	"math"
	"testing"

	"hemlet/geom"
)

// The round of a circle is 2 pi r, and its radius and area are within what the doc
// comment states.
func TestCircleIsRound(t *testing.T) {
	const r = 150.0
	path, err := ShapePath(OvalShape, geom.Pt(-r, -r), geom.Pt(r, r), 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(path) != 4 || !path.Closed() {
		t.Fatalf("%d cubics, closed %v", len(path), path.Closed())
	}
	if got, want := path.Length(), 2*math.Pi*r; math.Abs(got/want-1) > 1e-12 {
		t.Errorf("round %.9f, want %.9f", got, want)
	}
	if got, want := path.Area(), math.Pi*r*r; math.Abs(got/want-1) > 1e-6 {
		t.Errorf("area %.6f, want %.6f", got, want)
	}
	lo, hi := math.Inf(1), 0.0
	for _, s := range path {
		for i := range 1000 {
			d := s.At(float64(i)/1000).Len() / r
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	if lo < 1-2.7e-4 || hi > 1+1.8e-4 {
		t.Errorf("the radius goes from %.6f to %.6f of itself", lo, hi)
	}
	for i := range path {
		if turn := path[i].Tangent(1).Cross(path[(i+1)%4].Tangent(0)); math.Abs(turn) > 1e-12 {
			t.Errorf("cubic %d ends in a corner", i)
		}
	}
}

// ellipse returns the perimeter by the arithmetic-geometric mean (Gauss; NIST Digital
// Library of Mathematical Functions, 19.8.6 with 19.9.9).
func ellipse(a, b float64) float64 {
	x, y := a, b
	sum, pow := (a*a+b*b)/2, 0.5
	for range 30 {
		c := (x - y) / 2
		x, y = (x+y)/2, math.Sqrt(x*y)
		pow *= 2
		sum -= pow * c * c
	}
	return 2 * math.Pi * sum / x
}

func TestOvalRound(t *testing.T) {
	if got := ellipse(10, 10); math.Abs(got-20*math.Pi) > 1e-9 {
		t.Fatalf("the formula gives %v for a circle", got)
	}
	for _, c := range []struct{ a, b float64 }{{100, 80}, {60, 30}, {12, 50}} {
		path, err := ShapePath(OvalShape, geom.Pt(5, 7), geom.Pt(5+2*c.a, 7+2*c.b), 0)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := path.Length(), ellipse(c.a, c.b); math.Abs(got/want-1) > 3e-4 {
			t.Errorf("%v by %v: round %.4f, want %.4f", c.a, c.b, got, want)
		}
		if box := path.Bounds(); !box.Min.Near(geom.Pt(5, 7), 1e-9) || math.Abs(box.W()-2*c.a) > 1e-9 || math.Abs(box.H()-2*c.b) > 1e-9 {
			t.Errorf("it fills %v", box)
		}
	}
}

// An arc of chord c and rise h belongs to a circle of radius (c^2/4 + h^2) / 2h, and is
// 4 atan(2h / c) radians of it.
func TestArc(t *testing.T) {
	a, z := geom.Pt(20, 10), geom.Pt(80, 90) // 100 mm apart
	for _, h := range []float64{0.5, 10, 50, 80, -10, -50, -70} {
		path, err := ShapePath(ArcShape, a, z, h)
		if err != nil {
			t.Fatal(err)
		}
		if path.Start() != a || path.End() != z {
			t.Errorf("rise %v: from %v to %v", h, path.Start(), path.End())
		}
		radius := (2500 + h*h) / (2 * math.Abs(h))
		angle := 4 * math.Atan(math.Abs(h)/50)
		if got, want := path.Length(), radius*angle; math.Abs(got/want-1) > 5e-6 {
			t.Errorf("rise %v: %.6f long, want %.6f", h, got, want)
		}
		left := z.Sub(a).Unit().Left()
		tip := a.Lerp(z, 0.5).Add(left.Mul(h))
		if _, d := path.Nearest(tip); d > 1e-9*radius {
			t.Errorf("rise %v: passes its tip by %g", h, d)
		}
		centre := tip.Sub(left.Mul(math.Copysign(radius, h)))
		for _, s := range path {
			for i := range 50 {
				if d := s.At(float64(i) / 50).Dist(centre); math.Abs(d/radius-1) > 5e-6 {
					t.Fatalf("rise %v: radius %.6f, want %.6f", h, d, radius)
				}
			}
		}
	}
	if path, err := ShapePath(ArcShape, a, z, 0); err != nil || len(path) != 1 || !path[0].Straight {
		t.Errorf("an arc without rise is %v, %v", path, err)
	}
	if _, err := ShapePath(ArcShape, a, a, 5); err == nil {
		t.Error("an arc from a point to itself is drawn")
	}
}

func TestDrawShape(t *testing.T) {
	p := New("test")
	for _, c := range []struct {
		args  map[string]string
		edges int
		area  float64
	}{
		{map[string]string{"shape": "rectangle", "from": "40mm,50mm", "to": "10mm,10mm"}, 4, 1200},
		{map[string]string{"shape": "oval", "from": "0mm,0mm", "to": "40mm,40mm"}, 1, 400 * math.Pi},
		// Half a circle with its straight side.
		{map[string]string{"shape": "arc", "from": "0mm,0mm", "to": "40mm,0mm", "rise": "20mm", "name": "cape"}, 2, 200 * math.Pi},
	} {
		act, err := ActNamed("draw-shape")
		if err != nil {
			t.Fatal(err)
		}
		out, err := act.DoText(p, c.args)
		if err != nil {
			t.Fatal(c.args, err)
		}
		piece := out.Project.Piece(out.Made)
		if got := piece.DrawnPath().Area(); len(piece.Edges) != c.edges || math.Abs(got/c.area-1) > 1e-5 {
			t.Errorf("%v: %d edges, %.3f mm2, want %d and %.3f", c.args, len(piece.Edges), got, c.edges, c.area)
		}
		if err := Validate(out.Project); err != nil {
			t.Error(err)
		}
		p = out.Project
	}
	if got := p.Pieces[2].Name; got != "cape" {
		t.Errorf("the last is called %q", got)
	}
	out, err := DrawShape.DoText(p, map[string]string{"shape": "oval", "from": "20mm,20mm", "to": "30mm,30mm", "on": "Rectangle", "kind": "cutout", "name": "ear"})
	if err != nil {
		t.Fatal(err)
	}
	l := out.Project.Pieces[0].Line(out.Made)
	if l == nil || l.Kind != CutoutLine || !l.Closed || len(l.Nodes) != 4 || math.Abs(l.Path().Length()-10*math.Pi) > 1e-5 {
		t.Errorf("drawn on the piece: %+v", l)
	}
	if _, err := DrawShape.DoText(p, map[string]string{"shape": "rectangle", "from": "0mm,0mm", "to": "0mm,30mm"}); err == nil {
		t.Error("a rectangle without width is drawn")
	}
}
