package draft

import "hemlet/geom"

// Anatomy says of the pieces of a project what they are on the body, and of their edges
// what they are on the garment. It is found out from names, from seams, from folds, and
// from shape and symmetry, whichever there is; nothing of it is kept in the project.
type Anatomy struct {
	// Pieces are those of the pattern, in its order.
	Pieces []*PieceAnatomy
	of     map[ID]*PieceAnatomy
	// seams are those of the project and those that it seems to ask for.
	seams []*Seam
}

// PieceAnatomy is what a piece is on the body.
type PieceAnatomy struct {
	Piece *Piece
	// Part is what it covers, PartUnknown where nothing tells, and Aspect from which side.
	Part   PiecePart
	Aspect Aspect
	// Half says that one half is drawn of what is alike on both sides of the body and that
	// has its middle along an edge: a front on the fold, or the right one of two backs.
	Half bool
	// Up points towards the head, or up the arm, along the grain line, in the piece's own
	// millimetres; its length is 1.
	Up geom.Point
	// Why says in a few words what tells, Sure from 0 to 1 how much does.
	Why  string
	Sure float64
	// Edges are what its edges are, in the order of the piece.
	Edges []EdgeAnatomy
}

// EdgeAnatomy is what an edge is on the garment.
type EdgeAnatomy struct {
	Edge ID
	Part EdgePart
	// Why says in a few words what tells, Sure from 0 to 1 how much does.
	Why  string
	Sure float64
}

// Of returns what a piece is, nil where it is none of the pattern.
func (a *Anatomy) Of(piece ID) *PieceAnatomy { return a.of[piece] }

// Edge returns what an edge of a piece is; EdgeUnknown where nothing tells.
func (a *Anatomy) Edge(piece, edge ID) EdgeAnatomy {
	if p := a.of[piece]; p != nil {
		for _, e := range p.Edges {
			if e.Edge == edge {
				return e
			}
		}
	}
	return EdgeAnatomy{Edge: edge}
}

// With returns the indices of the edges that are one of the parts, in the order of the
// outline.
func (a *PieceAnatomy) With(parts ...EdgePart) []int {
	var out []int
	for i, e := range a.Edges {
		for _, part := range parts {
			if e.Part == part {
				out = append(out, i)
			}
		}
	}
	return out
}

// Has reports whether an edge of the piece is one of the parts.
func (a *PieceAnatomy) Has(parts ...EdgePart) bool { return len(a.With(parts...)) > 0 }

// Corners returns the corners at which an edge that is one part meets one that is another,
// whichever comes first, in the order of the outline.
func (a *PieceAnatomy) Corners(one, other EdgePart) []Node {
	var out []Node
	n := len(a.Edges)
	for i := range a.Edges {
		before, after := a.Edges[(i+n-1)%n].Part, a.Edges[i].Part
		if before == one && after == other || before == other && after == one {
			out = append(out, a.Piece.Edges[i].Nodes[0])
		}
	}
	return out
}

// Corner returns the one corner at which the two parts meet, nil where they meet nowhere
// or more than once.
func (a *PieceAnatomy) Corner(one, other EdgePart) *Node {
	if list := a.Corners(one, other); len(list) == 1 {
		return &list[0]
	}
	return nil
}

// NeckPoint returns the corner of neck and shoulder, ShoulderTip that of shoulder and
// armhole, UnderarmPoint the one under the arm: that of armhole and side, or of cap and
// sleeve seam. Each is nil where there is none, or more than one.
func (a *PieceAnatomy) NeckPoint() *Node   { return a.Corner(AtNeck, AtShoulder) }
func (a *PieceAnatomy) ShoulderTip() *Node { return a.Corner(AtShoulder, AtArmhole) }
func (a *PieceAnatomy) UnderarmPoint() *Node {
	if n := a.Corner(AtArmhole, AtSide); n != nil {
		return n
	}
	return a.Corner(AtCap, AtUnderarm)
}

// NeckMiddle returns the corner of the neck and the middle of the body: the nape of a back,
// the pit of the neck of a front; nil where the piece is drawn whole.
func (a *PieceAnatomy) NeckMiddle() *Node { return a.middleOf(AtNeck) }

// middleOf returns the corner of a part and the middle of the body.
func (a *PieceAnatomy) middleOf(part EdgePart) *Node {
	for _, middle := range [...]EdgePart{AtCentre, AtCentreFront, AtCentreBack} {
		if n := a.Corner(part, middle); n != nil {
			return n
		}
	}
	return nil
}

// Anatomy returns what the pieces of the project are. It is worked out once a project.
func (s *Slots) Anatomy(p *Project) *Anatomy {
	p = s.patternOf(p)
	return slotOf(s, "anatomy", "", slotInputs{p}, func() *Anatomy { return s.findAnatomy(p) })
}
