package draft

import (
	"fmt"
	"testing"

	"hemlet/geom"
)

// workroom returns a project of as many pieces, each with curves, in a ring of
// seams that each sew a piece to the next.
func workroom(pieces, seams int) *Project {
	p := New("workroom")
	for i := range pieces {
		q := polygonPiece(fmt.Sprintf("p%d", i), 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(64, 50), geom.Pt(48, 80), geom.Pt(24, 102), geom.Pt(0, 84))
		q.Edges[2].Nodes[0].Out = geom.Pt(-16, 2)
		q.Edges[3].Nodes[0].In = geom.Pt(2, -14)
		q.Edges[4].Nodes[0].Out = geom.Pt(-4, -14)
		q.Edges[5].Nodes[0].In = geom.Pt(10, 0)
		p.Pieces = append(p.Pieces, q)
	}
	for i := range seams {
		a, b := p.Pieces[i%pieces], p.Pieces[(i+1)%pieces]
		s := seamBetween(a, b, i/pieces*2+1, 1)
		s.ID, s.Name = ID(fmt.Sprintf("s%d", i)), fmt.Sprintf("seam %d", i)
		s.B[0].Edge = b.Edges[i/pieces*2+1].ID
		p.Seams = append(p.Seams, s)
	}
	p.NextID = pieces + seams
	return p
}

// BenchmarkCheckAfterOneEdit checks a project of 200 pieces and 300 seams of which
// one point was moved since the last check, as every step of a drag does.
func BenchmarkCheckAfterOneEdit(b *testing.B) {
	p := workroom(200, 300)
	other, err := MoveNodes.Do(p, MoveNodesArgs{
		Nodes: []NodeRef{{p.Pieces[70].ID, p.Pieces[70].Edges[3].Nodes[0].ID}}, By: Vector{X: 0.1},
	})
	if err != nil {
		b.Fatal(err)
	}
	states := [2]*Project{p, other.Project}
	s := NewSlots()
	s.Check(p)
	i := 0
	for b.Loop() {
		i++
		s.Check(states[i%2])
	}
}

// BenchmarkJoints lays the pieces of 300 seams together at both ends after one point has
// moved, as every step of a drag does.
func BenchmarkJoints(b *testing.B) {
	p, s := workroom(200, 300), NewSlots()
	for b.Loop() {
		p = p.shallow()
		s.Joints(p)
	}
}
