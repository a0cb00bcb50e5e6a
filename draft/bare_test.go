package draft

import "testing"

// The bare project is the same for as long as only shapes change, and another as soon as
// anything does that it says.
func TestBareIsAnotherWhenWhatItSaysChanges(t *testing.T) {
	p := workroom(3, 2)
	s := NewSlots()
	was := s.bareOf(p)
	moved, err := MoveNodes.Do(p, MoveNodesArgs{Nodes: []NodeRef{{"p1", p.Pieces[1].Edges[3].Nodes[0].ID}}, By: Vector{X: 3}})
	if err != nil {
		t.Fatal(err)
	}
	if s.bareOf(moved.Project) != was || s.bareOf(p) != was {
		t.Error("a moved point changes the bare project")
	}
	change := func(edit func(*Piece)) *Project {
		q := moved.Project.Pieces[1].clone()
		edit(q)
		next := moved.Project.withPiece(moved.Project.Pieces[1])
		next.Pieces[1] = q
		return next
	}
	for name, next := range map[string]*Project{
		"name of a piece":   change(func(q *Piece) { q.Name = "other" }),
		"garment":           change(func(q *Piece) { q.Garment = "other" }),
		"layer":             change(func(q *Piece) { q.Layer = Lining }),
		"cut":               change(func(q *Piece) { q.Cut.Count++ }),
		"way of cutting":    change(func(q *Piece) { q.Cut.Way = CutPairs }),
		"id of a piece":     change(func(q *Piece) { q.ID = "other" }),
		"name of an edge":   change(func(q *Piece) { q.Edges[2].Name = "other" }),
		"kind of an edge":   change(func(q *Piece) { q.Edges[2].Kind = HemEdge }),
		"id of an edge":     change(func(q *Piece) { q.Edges[2].ID = "other" }),
		"an edge":           change(func(q *Piece) { q.Edges = q.Edges[:5] }),
		"order of edges":    change(func(q *Piece) { q.Edges[0], q.Edges[1] = q.Edges[1], q.Edges[0] }),
		"order of pieces":   {Pieces: []*Piece{p.Pieces[1], p.Pieces[0], p.Pieces[2]}, Seams: p.Seams},
		"a piece":           {Pieces: p.Pieces[:2], Seams: p.Seams},
		"a seam":            {Pieces: p.Pieces, Seams: p.Seams[:1]},
		"another seam":      {Pieces: p.Pieces, Seams: []*Seam{p.Seams[0], p.Seams[1].with(SideA, p.Seams[0].B)}},
		"an order of seams": {Pieces: p.Pieces, Seams: []*Seam{p.Seams[1], p.Seams[0]}},
	} {
		if s.bareOf(next) == was {
			t.Errorf("%s: the bare project is the one before", name)
		}
		if s.bareOf(p) != was {
			t.Errorf("%s: taken back, the bare project is another", name)
		}
	}
}
