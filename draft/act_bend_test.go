package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// parabola returns the length of the arch y = 4h x (w - x) / w^2 over 0 to w (the
// rectification of the parabola, any table of integrals).
func parabola(w, h float64) float64 {
	k := 4 * h / w
	return w / 2 * (math.Sqrt(1+k*k) + math.Asinh(k)/k)
}

// A straight line that is pulled at its middle becomes the parabola with handles at its
// thirds: by symmetry each control point moves by 4/3 of the way.
func TestBendStraightIsAParabola(t *testing.T) {
	p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60)))
	out, err := BendEdge.DoText(p, map[string]string{"edge": "a.e0", "at": "50%", "to": "45mm,-12mm"})
	if err != nil {
		t.Fatal(err)
	}
	q := out.Project.Pieces[0]
	s := q.EdgePath(0)[0]
	if want := geom.Cubic(geom.Pt(0, 0), geom.Pt(30, -16), geom.Pt(60, -16), geom.Pt(90, 0)); s != want {
		t.Errorf("bent to %v, want %v", s, want)
	}
	if got, want := q.EdgeLength(0), parabola(90, 12); math.Abs(got-want) > 1e-7 {
		t.Errorf("it is %.9f long, a parabola %.9f", got, want)
	}
}

// With the length held the parabola is narrower by just what its height takes up.
func TestBendHeldIsTheParabolaOfTheLength(t *testing.T) {
	// The width of a parabola 12 high and 90 long, by bisection.
	lo, hi := 10.0, 90.0
	for range 100 {
		if mid := (lo + hi) / 2; parabola(mid, 12) < 90 {
			lo = mid
		} else {
			hi = mid
		}
	}
	width := lo
	for _, c := range []struct {
		hold Held
		x0   float64
	}{{HoldStart, 0}, {HoldEnd, 90 - width}, {HoldMiddle, 45 - width/2}} {
		p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
		course := p.courseOfEdge(0)
		to := geom.Pt(c.x0+width/2, -12)
		if err := course.bendHeld(0, 0.5, to, c.hold); err != nil {
			t.Fatal(c.hold, err)
		}
		if got := course.length(); math.Abs(got-90) > 1e-9*90 {
			t.Errorf("%v: %.12f long", c.hold, got)
		}
		if a := course.nodes[0].At; math.Abs(a.X-c.x0) > 1e-6 || math.Abs(a.Y) > 1e-9 {
			t.Errorf("%v: begins at %v, want %v", c.hold, a, c.x0)
		}
		if z := course.nodes[1].At; math.Abs(z.X-c.x0-width) > 1e-6 {
			t.Errorf("%v: ends at %v, want %v", c.hold, z, c.x0+width)
		}
	}
}

// bentPiece draws a piece of four edges, of which the first has a smooth point.
func bentPiece(t *rapid.T) *Piece {
	near := func(x, y float64) geom.Point {
		return geom.Pt(x+rapid.Float64Range(-15, 15).Draw(t, "x"), y+rapid.Float64Range(-15, 15).Draw(t, "y"))
	}
	p := polygonPiece("a", 6, near(0, 0), near(120, 0), near(120, 120), near(0, 120))
	way := geom.Pt(rapid.Float64Range(10, 30).Draw(t, "way"), rapid.Float64Range(-15, 15).Draw(t, "way"))
	mid := Node{ID: "mid", At: near(60, -10), In: way.Mul(-1), Out: way.Mul(rapid.Float64Range(0.5, 1.5).Draw(t, "ratio")), Smooth: true}
	e := &p.Edges[0]
	e.Nodes = append(e.Nodes, mid)
	e.Nodes[0].Out = geom.Pt(20, rapid.Float64Range(-15, 15).Draw(t, "out"))
	p.Edges[1].Nodes[0].In = geom.Pt(-20, rapid.Float64Range(-15, 15).Draw(t, "in"))
	p.Place = Placement{At: near(40, 70), Turn: rapid.Float64Range(-3, 3).Draw(t, "turn")}
	return p
}

// The curve goes through the point; the ends and everything else of the piece stay, and
// what was smooth is smooth.
func TestBentEdgeGoesThroughThePoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := bentPiece(t)
		p := projectOf(piece)
		share := rapid.Float64Range(0.05, 0.95).Draw(t, "share")
		place := EdgePlace{At: share, Share: true}
		course := piece.clone().courseOfEdge(0)
		k, at, err := course.place(place, p.Unit)
		if err != nil {
			t.Fatal(err)
		}
		by := geom.Pt(rapid.Float64Range(-30, 30).Draw(t, "by"), rapid.Float64Range(-30, 30).Draw(t, "by"))
		to := piece.Place.Affine().Apply(course.stretch(k).At(at)).Add(by)
		out, err := BendEdge.Do(p, BendEdgeArgs{Edge: EdgeRef{piece.ID, piece.Edges[0].ID}, At: place, To: Vector(to)})
		if err != nil {
			t.Skip(err)
		}
		q := out.Project.Pieces[0]
		if _, d := q.EdgePath(0).Transform(q.Place.Affine()).Nearest(to); d > 1e-5 {
			t.Fatalf("it misses the point by %g mm", d)
		}
		if q.Edges[0].Nodes[0].At != toGridPoint(piece.Edges[0].Nodes[0].At) || q.Edges[1].Nodes[0].At != toGridPoint(piece.Edges[1].Nodes[0].At) {
			t.Fatal("an end has moved")
		}
		for i := 2; i < 4; i++ {
			if apart(q.EdgePath(i), piece.EdgePath(i)) > 1e-5 {
				t.Fatalf("edge %d has changed", i)
			}
		}
		mid, _, _ := q.Node("mid")
		// The grid turns a short handle by half a step over its length.
		turn := 1e-6 + Grid/min(mid.In.Len(), mid.Out.Len())
		if u, v := mid.In.Unit(), mid.Out.Unit(); math.Abs(u.Cross(v)) > turn || u.Dot(v) > 0 {
			t.Fatalf("the smooth point is bent: %v %v", mid.In, mid.Out)
		}
	})
}

func toGridPoint(p geom.Point) geom.Point { return geom.Pt(toGrid(p.X), toGrid(p.Y)) }

// A smooth point keeps its direction where the curve can go through the point so.
func TestBendKeepsDirections(t *testing.T) {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(0, 80))
	e := &p.Edges[0]
	e.Nodes[0].Out, p.Edges[1].Nodes[0].In = geom.Pt(10, -15), geom.Pt(-10, -15)
	e.Nodes = append(e.Nodes, Node{ID: "mid", At: geom.Pt(50, -20), In: geom.Pt(-15, 0), Out: geom.Pt(15, 0), Smooth: true})
	out, err := BendEdge.DoText(projectOf(p), map[string]string{"edge": "a.e0", "at": "25%", "to": "20mm,-24mm"})
	if err != nil {
		t.Fatal(err)
	}
	mid, _, _ := out.Project.Pieces[0].Node("mid")
	if mid.In.Y != 0 || mid.In.X >= 0 || mid.Out != geom.Pt(15, 0) || mid.At != geom.Pt(50, -20) {
		t.Errorf("the smooth point is %+v", mid)
	}
}

// A straight stretch beside a smooth point keeps its direction, whatever is pulled.
func TestBendBesideAStraight(t *testing.T) {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(0, 80))
	e := &p.Edges[0]
	e.Nodes = append(e.Nodes, Node{ID: "mid", At: geom.Pt(50, 0), Out: geom.Pt(15, 0), Smooth: true})
	p.Edges[1].Nodes[0].In = geom.Pt(-15, -10)
	for _, y := range []string{"-9mm", "8mm"} {
		out, err := BendEdge.DoText(projectOf(p), map[string]string{"edge": "a.e0", "at": "78%", "to": "75mm," + y})
		if err != nil {
			t.Fatal(err)
		}
		mid, _, _ := out.Project.Pieces[0].Node("mid")
		if mid.Out.Y != 0 || mid.Out.X <= 0 || mid.In != (geom.Point{}) {
			t.Errorf("to %s: the smooth point is %+v", y, mid)
		}
	}
}

// No other handles that lead through the point move less, by the sum of their squares.
func TestBendIsTheLeastChange(t *testing.T) {
	change := func(a, b geom.Segment) float64 {
		p, q := a.P1.Sub(b.P1), a.P2.Sub(b.P2)
		return p.Dot(p) + q.Dot(q)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := func() float64 { return rapid.Float64Range(-40, 40).Draw(t, "v") }
		s := geom.Cubic(geom.Pt(0, 0), geom.Pt(v(), v()), geom.Pt(100+v(), v()), geom.Pt(100, 0))
		at := rapid.Float64Range(0.1, 0.9).Draw(t, "t")
		w := bendWork{from: s, t: at, by: geom.Pt(v(), v())}
		out, in, ok := w.keeping(bendKeep{})
		if !ok {
			t.Fatal("nothing holds it, and yet it cannot be bent")
		}
		bent := geom.Cubic(s.P0, s.P0.Add(out), s.P3.Add(in), s.P3)
		if d := bent.At(at).Dist(s.At(at).Add(w.by)); d > 1e-9 {
			t.Fatalf("off by %g", d)
		}
		r := 1 - at
		b1, b2 := 3*r*r*at, 3*r*at*at
		free := geom.Pt(v(), v()) // moves the first control point, the second makes up for it
		other := geom.Cubic(bent.P0, bent.P1.Add(free.Mul(b2/10)), bent.P2.Sub(free.Mul(b1/10)), bent.P3)
		if d := other.At(at).Dist(bent.At(at)); d > 1e-9 {
			t.Fatalf("the other curve misses the point by %g", d)
		}
		if least, more := change(s, bent), change(s, other); more < least-1e-6*(1+least) {
			t.Fatalf("the handles move by %g, others by %g", least, more)
		}
	})
}

// The length is held to 1e-9 before coordinates go to the grid, and to it after.
func TestHeldLengthStays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := bentPiece(t)
		hold := Held(rapid.IntRange(1, 3).Draw(t, "hold"))
		share := rapid.Float64Range(0.1, 0.9).Draw(t, "share")
		c := piece.clone().courseOfEdge(0)
		want := c.length()
		k, at, err := c.place(EdgePlace{At: share, Share: true}, Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		to := c.stretch(k).At(at).Add(geom.Pt(rapid.Float64Range(-20, 20).Draw(t, "by"), rapid.Float64Range(-20, 20).Draw(t, "by")))
		if err := c.bendHeld(k, at, to, hold); err != nil {
			t.Skip(err)
		}
		if got := c.length(); math.Abs(got-want) > 1e-9*want {
			t.Fatalf("%.12f long, was %.12f", got, want)
		}
		if _, d := c.path().Nearest(to); d > 1e-9 {
			t.Fatalf("misses the point by %g", d)
		}
		first, last := piece.Edges[0].Nodes[0].At, piece.Edges[1].Nodes[0].At
		if hold == HoldStart && c.nodes[0].At != first || hold == HoldEnd && c.nodes[2].At.Dist(last) > 1e-12 {
			t.Fatal("the end that is held has moved")
		}
	})
}

func TestBendRefuses(t *testing.T) {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
	p.Edges[3].Kind = FoldEdge
	for _, c := range []struct{ edge, at, hold, says string }{
		{"a.e3", "50%", "nothing", "fold"},
		{"a.e0", "0%", "nothing", "ends"},
		{"a.e0", "100%", "nothing", "ends"},
		{"a.e0", "50%", "end", "fold"},
		{"a.e0", "95mm", "nothing", "long"},
	} {
		_, err := BendEdge.DoText(projectOf(p), map[string]string{"edge": c.edge, "at": c.at, "to": "45mm,20mm", "hold": c.hold})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c, err)
		}
	}
	if _, err := BendEdge.DoText(projectOf(p), map[string]string{"edge": "a.e0", "at": "50%", "to": "45mm,500mm", "hold": "start"}); err == nil {
		t.Error("90 mm reach to a point half a metre away and back")
	}
}
