package draft

import (
	"fmt"
	"sort"
	"strings"

	"hemlet/geom"
)

// newIDs returns a source of ids that the project has never used; the project
// that comes of it must take over its counter.
func (p *Project) newIDs() *idSource { return &idSource{max(p.NextID, 1)} }

// byPiece applies f once to a copy of each piece that the references name, with
// the references into it. The project itself is returned anew.
func byPiece[R any](p *Project, refs []R, pieceOf func(R) ID, what string, f func(q *Piece, refs []R) error) (*Project, []ID, error) {
	if len(refs) == 0 {
		return nil, nil, fmt.Errorf("no %s is named", what)
	}
	groups := make(map[ID][]R)
	var order []ID
	for _, r := range refs {
		id := pieceOf(r)
		if _, seen := groups[id]; !seen {
			order = append(order, id)
		}
		groups[id] = append(groups[id], r)
	}
	next := p
	for _, id := range order {
		old := p.Piece(id)
		if old == nil {
			return nil, nil, fmt.Errorf("piece %s %w", id, errGone)
		}
		q := old.clone()
		if err := f(q, groups[id]); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", old.label(), err)
		}
		next = next.withPiece(q)
	}
	return next, order, nil
}

// onePiece applies f to a copy of the piece.
func onePiece(p *Project, id ID, f func(q *Piece) error) (*Project, error) {
	next, _, err := byPiece(p, []ID{id}, func(id ID) ID { return id }, "piece", func(q *Piece, _ []ID) error { return f(q) })
	return next, err
}

func pieceOfEdge(r EdgeRef) ID     { return r.Piece }
func pieceOfNode(r NodeRef) ID     { return r.Piece }
func pieceOfCorner(r CornerRef) ID { return r.Piece }
func pieceOfPiece(r PieceRef) ID   { return ID(r) }

// byEdge applies f to each edge that is named, by its index.
func byEdge(p *Project, refs []EdgeRef, f func(q *Piece, i int) error) (Outcome, error) {
	next, ids, err := byPiece(p, refs, pieceOfEdge, "edge", func(q *Piece, refs []EdgeRef) error {
		for _, r := range refs {
			_, i := q.Edge(r.Edge)
			if i < 0 {
				return fmt.Errorf("edge %s %w", r.Edge, errGone)
			}
			if err := f(q, i); err != nil {
				return err
			}
		}
		return nil
	})
	return Outcome{Project: next, subject: p.subject(ids)}, err
}

// eachPiece applies f to a copy of each piece that is named.
func eachPiece(p *Project, refs []PieceRef, f func(q *Piece) error) (Outcome, error) {
	next, ids, err := byPiece(p, refs, pieceOfPiece, "piece", func(q *Piece, _ []PieceRef) error { return f(q) })
	return Outcome{Project: next, subject: p.subject(ids)}, err
}

// subject names pieces in the history.
func (p *Project) subject(ids []ID) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		if piece := p.Piece(id); piece != nil {
			names = append(names, piece.label())
		}
	}
	return subjectOf(names, "pieces")
}

// subjectOf names up to three things, and counts more.
func subjectOf(names []string, what string) string {
	if len(names) > 3 {
		return fmt.Sprintf("%d %s", len(names), what)
	}
	return strings.Join(names, ", ")
}

func labelOf(name string, id ID) string {
	if name == "" {
		return string(id)
	}
	return name
}

func (p *Piece) label() string { return labelOf(p.Name, p.ID) }
func (e *Edge) label() string  { return labelOf(e.Name, e.ID) }
func (s *Seam) label() string  { return labelOf(s.Name, s.ID) }

// nodeAt returns node k of EdgeNodes(i) of a piece that may be written to: the
// last is the first node of the next edge.
func (p *Piece) nodeAt(i, k int) *Node {
	if k < len(p.Edges[i].Nodes) {
		return &p.Edges[i].Nodes[k]
	}
	return &p.Edges[(i+1)%len(p.Edges)].Nodes[0]
}

// nodesAround returns the nodes before and after node k of edge i.
func (p *Piece) nodesAround(i, k int) (before, after *Node) {
	if k > 0 {
		before = &p.Edges[i].Nodes[k-1]
	} else {
		e := &p.Edges[(i+len(p.Edges)-1)%len(p.Edges)]
		before = &e.Nodes[len(e.Nodes)-1]
	}
	return before, p.nodeAt(i, k+1)
}

// nodeCount returns how many points the outline has.
func (p *Piece) nodeCount() int {
	n := 0
	for i := range p.Edges {
		n += len(p.Edges[i].Nodes)
	}
	return n
}

// mouthOf returns the dart of which the node is a mouth, or nil.
func (p *Piece) mouthOf(node ID) *Dart {
	for i := range p.Darts {
		if p.Darts[i].From == node || p.Darts[i].To == node {
			return &p.Darts[i]
		}
	}
	return nil
}

// notchesAlong returns the notches of edge i in their order along it.
func (p *Piece) notchesAlong(i int) []Notch {
	var list []Notch
	for _, n := range p.Notches {
		if n.Edge == p.Edges[i].ID {
			list = append(list, n)
		}
	}
	length := p.EdgeLength(i)
	sort.SliceStable(list, func(a, b int) bool { return list[a].Along(length) < list[b].Along(length) })
	return list
}

// fromBench turns a way on the bench into the same way in the piece's own
// millimetres.
func (p *Piece) fromBench(v geom.Point) geom.Point {
	if p.Place.Turn == 0 {
		return v
	}
	return geom.Rotation(-p.Place.Turn, geom.Point{}).ApplyVector(v)
}
