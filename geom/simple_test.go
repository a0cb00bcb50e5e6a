package geom

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestSimple(t *testing.T) {
	arch := Cubic(Pt(0, 0), Pt(0, 40), Pt(60, 40), Pt(60, 0))
	base := Line(Pt(60, 0), Pt(0, 0))
	dot := Line(Pt(60, 0), Pt(60, 0))
	box := Polygon(Pt(0, 0), Pt(10, 0), Pt(10, 10), Pt(0, 10))
	for _, c := range []struct {
		name string
		p    Path
		at   Point
		kind MeetingKind
		ok   bool
	}{
		{name: "empty", ok: true},
		{name: "line", p: Path{base}, ok: true},
		{name: "box", p: box, ok: true},
		{name: "circle", p: circle(Pt(5, 5), 100000), ok: true},
		{name: "tiny circle", p: circle(Pt(5, 5), 0.1), ok: true},
		{name: "arch", p: Path{arch, base}, ok: true},
		{name: "arch with an empty segment", p: Path{arch, dot, base}, ok: true},
		{name: "only an empty segment", p: Path{dot}, ok: true},
		{name: "hairpin of smooth curves", p: Path{Cubic(Pt(0, 0), Pt(20, 0), Pt(40, 10), Pt(60, 10)), Cubic(Pt(60, 10), Pt(40, 10), Pt(20, 20), Pt(0, 20))}, ok: true},
		{name: "drop", p: Path{Cubic(Pt(0, 0), Pt(60, 50), Pt(-60, 50), Pt(0, 0))}, ok: true},
		{name: "cusp", p: Path{Cubic(Pt(3, -2), Pt(-1, 2), Pt(-1, -2), Pt(3, 2)), Line(Pt(3, 2), Pt(3, -2))}, ok: true},
		{name: "bow tie", p: Polygon(Pt(0, 0), Pt(10, 10), Pt(10, 0), Pt(0, 10)), at: Pt(5, 5), kind: Crosses},
		{name: "node on an edge", p: Polygon(Pt(0, 0), Pt(10, 0), Pt(10, 10), Pt(5, 0), Pt(0, 10)), at: Pt(5, 0), kind: Touches},
		{name: "node passed twice", p: Polygon(Pt(0, 0), Pt(5, 5), Pt(0, 10), Pt(10, 10), Pt(5, 5), Pt(10, 0)), at: Pt(5, 5), kind: Touches},
		{name: "node crossed twice", p: Polygon(Pt(0, 0), Pt(5, 5), Pt(10, 10), Pt(10, 0), Pt(5, 5), Pt(0, 10)), at: Pt(5, 5), kind: Crosses},
		{name: "spike", p: Polygon(Pt(0, 0), Pt(10, 0), Pt(10, 10), Pt(15, 15), Pt(10, 10), Pt(0, 10)), at: Pt(10, 10), kind: Overlaps},
		{name: "loop in a cubic", p: Path{Cubic(Pt(0, 0), Pt(120, 90), Pt(-20, 90), Pt(100, 0))}, at: Pt(50, 675./13), kind: Crosses},
		{name: "folded cubic", p: Path{Cubic(Pt(0, 0), Pt(20, 0), Pt(20, 0), Pt(0, 0))}, at: Pt(15, 0), kind: Overlaps},
		{name: "edge grazing an arch", p: Path{arch, Line(Pt(60, 0), Pt(70, 30)), Line(Pt(70, 30), Pt(-10, 30))}, at: Pt(30, 30), kind: Touches},
		{name: "edge through an arch", p: Path{arch, Line(Pt(60, 0), Pt(70, 30)), Line(Pt(70, 30), Pt(30, 10))}, at: Pt(math.NaN(), 0), kind: Crosses},
		{name: "neighbours that cross again", p: Path{arch, Line(Pt(60, 0), Pt(0, 20))}, kind: Crosses, at: Pt(math.NaN(), 0)},
		{name: "twice round", p: append(append(Path{}, box...), box...), at: Pt(0, 0), kind: Overlaps},
	} {
		err := c.p.Simple()
		if c.ok {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		var e *NotSimpleError
		if !errors.As(err, &e) {
			t.Errorf("%s: no error", c.name)
			continue
		}
		if e.Kind != c.kind || !math.IsNaN(c.at.X) && !e.At.Near(c.at, 1e-3) {
			t.Errorf("%s: %v at %v (%v %v), want %v at %v", c.name, e.Kind, e.At, e.A, e.B, c.kind, c.at)
		}
		if !c.p.At(e.A).Near(e.At, 1e-5) || !c.p.At(e.B).Near(e.At, 1e-5) {
			t.Errorf("%s: places %v %v are not at %v", c.name, e.A, e.B, e.At)
		}
	}
}

func TestSimpleOfWildNumbers(t *testing.T) {
	for _, s := range wild() {
		err := (Path{Line(Pt(0, 0), s.P0), s}).Simple()
		var e *NotFiniteError
		if !s.meetable() && !errors.As(err, &e) {
			t.Errorf("%v: %v", s, err)
		}
	}
}

// star returns a closed path round the origin whose nodes are at the angles in
// order, with smooth handles too short to cross.
func drawStar(t *rapid.T, size float64) Path {
	n := rapid.IntRange(3, 12).Draw(t, "nodes")
	at := make([]Point, n)
	for i := range at {
		a := 2 * math.Pi * (float64(i) + rapid.Float64Range(0.2, 0.8).Draw(t, "angle")) / float64(n)
		r := size * rapid.Float64Range(0.3, 1).Draw(t, "radius")
		at[i] = Pt(r*math.Cos(a), r*math.Sin(a))
	}
	return Polygon(at...)
}

// Star-shaped polygons are simple. Swapping two nodes that are not neighbours
// makes them cross, as the winding numbers of sampled points show.
func TestStarsAreSimple(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStar(t, drawPlainSize(t))
		if err := p.Simple(); err != nil {
			t.Fatalf("%v: %v", p, err)
		}
		if err := p.Reverse().Simple(); err != nil {
			t.Fatalf("reversed: %v", err)
		}
	})
}

// Cut anywhere into parts, a simple path stays simple, and one that crosses
// itself keeps its crossings.
func TestSimpleIsOfTheCurveNotItsCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "segments")
		size := drawPlainSize(t)
		p := make(Path, n)
		for i := range p {
			p[i] = drawPlain(t, size)
			if i > 0 {
				p[i] = p[i].Transform(Translation(p[i-1].P3.Sub(p[i].P0)))
				p[i].P0 = p[i-1].P3
			}
		}
		var cut Path
		for _, s := range p {
			u := rapid.Float64Range(0.1, 0.9).Draw(t, "cut")
			cut = append(cut, s.Between(0, u), s.Between(u, 1))
		}
		whole, parts := 0, 0
		for _, m := range p.SelfIntersections() {
			if m.Kind == Overlaps {
				return // cutting moves the ends of what runs back over itself
			}
			if m.Kind == Crosses && clearMeeting(p, m) && clearOfNodes(p, m.P, size) {
				whole++
			}
		}
		for _, m := range cut.SelfIntersections() {
			if m.Kind == Crosses && clearMeeting(cut, m) && clearOfNodes(p, m.P, size) {
				parts++
			}
		}
		if whole != parts {
			t.Fatalf("%v: %d crossings, cut %d: %+v, cut %+v", p, whole, parts, p.SelfIntersections(), cut.SelfIntersections())
		}
	})
}

// clearOfNodes reports whether q is farther than a hundredth of the size from all
// nodes: nearer, curves that leave a node together are within tolerance for long.
func clearOfNodes(p Path, q Point, size float64) bool {
	for _, s := range p {
		if q.Near(s.P0, 0.01*size) || q.Near(s.P3, 0.01*size) {
			return false
		}
	}
	return true
}

// clearMeeting reports whether the two passes meet at an angle that tolerance
// cannot hide.
func clearMeeting(p Path, m PathMeeting) bool {
	return math.Abs(p.Tangent(m.A).Cross(p.Tangent(m.B))) > 0.01
}
