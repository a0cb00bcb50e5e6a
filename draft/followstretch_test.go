package draft

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// treated adds up how much of each kind lies where, as places along the whole outline
// in mm.
func treatedAt(p *Piece, kind StretchKind, at float64) bool {
	for i := range p.Edges {
		length := p.EdgeLength(i)
		if at > length {
			at -= length
			continue
		}
		for _, s := range p.Stretches {
			if s.Edge == p.Edges[i].ID && s.Kind == kind && at >= s.From*length && at <= s.To*length {
				return true
			}
		}
		return false
	}
	return false
}

// Wherever an edge is parted and joined again, the same cloth is gathered as before.
func TestStretchesStayWhereTheyAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := polygonPiece("a", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
		from := rapid.Float64Range(0, 0.8).Draw(t, "from")
		to := rapid.Float64Range(from+0.05, 1).Draw(t, "to")
		kind := rapid.SampledFrom(StretchKinds()).Draw(t, "kind")
		a.Stretches = []Stretch{{ID: "g1", Edge: "a.e0", Kind: kind, From: from, To: to}}
		p := projectOf(a)
		p.NextID = 10
		var nodes []ID
		for range rapid.IntRange(1, 3).Draw(t, "cuts") {
			ref := EdgeRef{"a", p.Pieces[0].Edges[rapid.IntRange(0, len(p.Pieces[0].Edges)-4).Draw(t, "edge")].ID}
			out, err := InsertNode.Do(p, InsertNodeArgs{ref, EdgePlace{At: rapid.Float64Range(0.1, 0.9).Draw(t, "at"), Share: true}})
			if err != nil {
				continue
			}
			n := out.Made
			if out, err = CornerNode.Do(out.Project, CornerNodeArgs{Nodes: []NodeRef{{"a", n}}}); err != nil {
				t.Fatal(err)
			}
			p, nodes = out.Project, append(nodes, n)
		}
		same := func(q *Piece) {
			for x := 0.5; x < 100; x++ {
				if math.Abs(x-100*from) < 1e-6 || math.Abs(x-100*to) < 1e-6 {
					continue
				}
				if treatedAt(a, kind, x) != treatedAt(q, kind, x) {
					t.Fatalf("at %v mm: %v, then %v: %+v", x, treatedAt(a, kind, x), treatedAt(q, kind, x), q.Stretches)
				}
			}
		}
		if err := Validate(p); err != nil {
			t.Fatal(err)
		}
		same(p.Pieces[0])
		for _, n := range nodes {
			out, err := DeleteNode.Do(p, DeleteNodeArgs{Nodes: []NodeRef{{"a", n}}})
			if err != nil {
				t.Fatal(err)
			}
			p = out.Project
		}
		q := p.Pieces[0]
		same(q)
		if len(q.Stretches) != 1 || q.Stretches[0].ID != "g1" {
			t.Fatalf("after all is joined again: %+v", q.Stretches)
		}
	})
}

// A stretch that a hand has put on a piece of a block stays with the piece when its
// measures change; one on an edge that was parted does too.
func TestStretchesAreCarriedOver(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	piece := p.Pieces[0]
	next, err := onePiece(p, piece.ID, func(q *Piece) error {
		q.Stretches = []Stretch{{ID: "g1", Edge: q.Edges[1].ID, Kind: EaseStretch, From: 0.25, To: 0.75}}
		q.Hidden, q.Locked = true, true
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	next.NextID = max(next.NextID, 2)
	out, err := SetMeasure.Do(next, SetMeasureArgs{Wearer: WearerRef(p.Wearers[0].ID), Name: "bust_girth", Value: 260})
	if err != nil {
		t.Fatal(err)
	}
	q := out.Project.Piece(piece.ID)
	if len(q.Stretches) != 1 || q.Stretches[0] != next.Piece(piece.ID).Stretches[0] || !q.Hidden || !q.Locked {
		t.Errorf("after the measure has changed: %+v, hidden %v, locked %v; says %v", q.Stretches, q.Hidden, q.Locked, out.Says)
	}
	if equalEdges(q.Edges, piece.Edges) {
		t.Error("the piece did not follow")
	}
}
