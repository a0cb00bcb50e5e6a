package block

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft/formula"
	"hemlet/geom"
)

// bag returns the block of the drawstring bag.
func bag(t testing.TB) *Block {
	t.Helper()
	b, err := Named("drawstring-bag")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// mm returns settings of lengths in mm.
func mm(lengths map[string]float64) Settings {
	s := make(Settings)
	for name, v := range lengths {
		s[name] = formula.Length{MM: v}
	}
	return s
}

// starts returns where the edges of a piece start, by their names.
func starts(p Piece) map[string]geom.Point {
	at := make(map[string]geom.Point)
	for _, e := range p.Edges {
		at[e.Name] = e.Nodes[0].At
	}
	return at
}

// The flat bag is a rectangle of the chosen size; what belongs to its base and to
// its frill is not there. Lengths by hand.
func TestBagFlat(t *testing.T) {
	s, err := bag(t).Draft(nil, mm(map[string]float64{"bag_width": 100, "bag_height": 150, "frill": 0, "channel": 10}))
	if err != nil {
		t.Fatal(err)
	}
	p := s.Pieces[0]
	want := map[string]geom.Point{
		"bottom": {X: -50, Y: 0}, "right side": {X: 50, Y: 0}, "right opening": {X: 50, Y: 140},
		"top": {X: 50, Y: 150}, "left opening": {X: -50, Y: 150}, "left side": {X: -50, Y: 140},
	}
	if diff := cmp.Diff(want, starts(p)); diff != "" {
		t.Error(diff)
	}
	if len(p.Lines) != 1 || p.Lines[0].Name != "lower stitching" {
		t.Errorf("lines %+v", p.Lines)
	}
	if len(s.Seams) != 3 {
		t.Errorf("%d seams; the corners of a base that is not there are not sewn", len(s.Seams))
	}
	if n := p.Notches[0]; n.At != 50 {
		t.Errorf("the middle of the bottom is at %v", n.At)
	}
	if len(s.Told) != 0 {
		t.Errorf("told %+v", s.Told)
	}
}

// A bag with a base: both sides of each sewn corner are as long as each other, and
// the panel is wider than the bag by the depth.
func TestBagWithBase(t *testing.T) {
	s, err := bag(t).Draft(nil, mm(map[string]float64{"bag_width": 100, "bag_height": 150, "depth": 40}))
	if err != nil {
		t.Fatal(err)
	}
	p := s.Pieces[0]
	if area := pathOf(p.Edges).Area(); math.Abs(area-(140*170-2*20*20)) > 1e-9 {
		t.Errorf("area %v", area)
	}
	if len(s.Seams) != 5 || len(p.Lines) != 2 || len(p.Edges) != 10 {
		t.Errorf("%d seams, %d lines, %d edges", len(s.Seams), len(p.Lines), len(p.Edges))
	}
}
