package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestPathIntersections(t *testing.T) {
	box := Polygon(Pt(0, 0), Pt(10, 0), Pt(10, 10), Pt(0, 10))
	for _, c := range []struct {
		name string
		q    Path
		want []want
	}{
		{"through two edges", Path{Line(Pt(5, -5), Pt(5, 15))}, []want{{Pt(5, 0), Crosses}, {Pt(5, 10), Crosses}}},
		{"through two corners", Path{Line(Pt(-5, -5), Pt(15, 15))}, []want{{Pt(0, 0), Crosses}, {Pt(10, 10), Crosses}}},
		{"past a corner", Path{Line(Pt(5, 15), Pt(15, 5))}, []want{{Pt(10, 10), Touches}}},
		{"ending on an edge", Path{Line(Pt(5, 5), Pt(5, 10))}, []want{{Pt(5, 10), Touches}}},
		{"node on an edge, crossing", Path{Line(Pt(5, 5), Pt(5, 10)), Line(Pt(5, 10), Pt(8, 12))}, []want{{Pt(5, 10), Crosses}}},
		{"node on an edge, turning back", Path{Line(Pt(5, 5), Pt(5, 10)), Line(Pt(5, 10), Pt(8, 5))}, []want{{Pt(5, 10), Touches}}},
		{"along an edge", Path{Line(Pt(-5, 0), Pt(15, 0))}, []want{{Pt(0, 0), Overlaps}}},
		{"far off", Path{Line(Pt(50, 0), Pt(50, 10))}, nil},
		{"empty", nil, nil},
	} {
		got := box.Intersections(c.q)
		if len(got) != len(c.want) {
			t.Errorf("%s: %+v, want %v", c.name, got, c.want)
			continue
		}
		for i, w := range c.want {
			if !got[i].P.Near(w.p, 1e-9) || got[i].Kind != w.kind {
				t.Errorf("%s: %+v, want %v", c.name, got[i], w)
			}
			if !box.At(got[i].A).Near(w.p, 1e-9) || !c.q.At(got[i].B).Near(w.p, 1e-9) {
				t.Errorf("%s: places of %+v", c.name, got[i])
			}
		}
	}
}

// Two circles of radius r with centres d apart meet at distance d/2 along and
// √(r² - d²/4) across; the cubics are within 2.8e-4 r of the circle.
func TestCirclesMeet(t *testing.T) {
	a, b := circle(Pt(0, 0), 50), circle(Pt(60, 0), 50)
	got := a.Intersections(b)
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	for i, y := range []float64{40, -40} {
		if !got[i].P.Near(Pt(30, y), 0.02) || got[i].Kind != Crosses {
			t.Errorf("%+v", got[i])
		}
	}
	// Tangent at nodes of both, outside and inside.
	if got := a.Intersections(circle(Pt(100, 0), 50)); len(got) != 1 || got[0].Kind != Touches || !got[0].P.Near(Pt(50, 0), 1e-9) {
		t.Errorf("side by side: %+v", got)
	}
	if got := a.Intersections(circle(Pt(20, 0), 30)); len(got) != 1 || got[0].Kind != Touches || !got[0].P.Near(Pt(50, 0), 1e-9) {
		t.Errorf("inside: %+v", got)
	}
}

// A closed path that crosses another does so an even number of times (Jordan).
func TestClosedPathsCrossEvenly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawPlainSize(t)
		p := drawStar(t, size)
		shift := drawPoint(t, size, "shift")
		q := drawStar(t, size).Transform(Translation(shift))
		n := 0
		for _, m := range p.Intersections(q) {
			if m.Kind == Overlaps || math.Abs(p.Tangent(m.A).Cross(q.Tangent(m.B))) < 1e-6 {
				return
			}
			if m.Kind == Crosses {
				n++
			}
		}
		if n%2 != 0 {
			t.Fatalf("%d crossings of %v and %v: %+v", n, p, q, p.Intersections(q))
		}
	})
}
