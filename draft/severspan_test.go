package draft

import (
	"slices"
	"testing"
)

// A cut above the bust leaves what is measured along lines to the half on which they lie.
func TestSplitLeavesSpansAlongLinesToTheirHalf(t *testing.T) {
	p := bodiceFor(t)
	front := p.Pieces[slices.IndexFunc(p.Pieces, func(q *Piece) bool { return q.Derived.Role == "front" })]
	var along []string
	for _, s := range front.Spans {
		if len(s.Lines) > 0 {
			along = append(along, s.Name)
		}
	}
	if len(along) < 3 {
		t.Fatalf("of the front %d lengths are measured along lines; three at least were meant", len(along))
	}
	place := func(name string, share float64) *PlaceRef {
		i := slices.IndexFunc(front.Edges, func(e Edge) bool { return e.Name == name })
		return &PlaceRef{Piece: front.ID, Edge: front.Edges[i].ID, At: EdgePlace{At: share, Share: true}}
	}
	out, err := SplitPiece.Do(p, SplitPieceArgs{From: place("armhole", 0.7), To: place("centre", 0.88)})
	if err != nil {
		t.Fatal(err)
	}
	var after []string
	for _, q := range out.Project.Pieces {
		for _, s := range q.Spans {
			if len(s.Lines) == 0 || q.Derived != nil && q.Derived.Role == "back" {
				continue
			}
			after = append(after, s.Name)
			for _, id := range s.Lines {
				if q.Line(id) == nil {
					t.Errorf("%s of %s is measured along a line that is not on it", s.Name, q.Name)
				}
			}
		}
	}
	if !slices.Equal(after, along) {
		t.Errorf("measured along lines before %v, after %v", along, after)
	}
}
