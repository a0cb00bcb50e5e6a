package desk

import "hemlet/draft"

// Kind says what a Ref points at.
type Kind int

// What can be picked, from the whole to the parts.
const (
	Nothing Kind = iota
	Piece
	Edge
	Node
	HandleIn
	HandleOut
)

// Ref points at one thing on the bench. Refs are comparable; which ids are set
// depends on the kind: a piece has Piece, an edge Piece and Edge, a node and its
// handles Piece and Node.
type Ref struct {
	Kind              Kind
	Piece, Edge, Node draft.ID
}

// PieceRef points at a piece.
func PieceRef(id draft.ID) Ref { return Ref{Kind: Piece, Piece: id} }

// EdgeRef points at an edge of a piece.
func EdgeRef(piece, edge draft.ID) Ref { return Ref{Kind: Edge, Piece: piece, Edge: edge} }

// NodeRef points at a node of a piece.
func NodeRef(piece, node draft.ID) Ref { return Ref{Kind: Node, Piece: piece, Node: node} }

// HandleRef points at one of the two handles of a node.
func HandleRef(piece, node draft.ID, out bool) Ref {
	if out {
		return Ref{Kind: HandleOut, Piece: piece, Node: node}
	}
	return Ref{Kind: HandleIn, Piece: piece, Node: node}
}

// In reports whether the project still holds what the ref points at.
func (r Ref) In(p *draft.Project) bool {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return false
	}
	switch r.Kind {
	case Piece:
		return true
	case Edge:
		e, _ := piece.Edge(r.Edge)
		return e != nil
	case Node, HandleIn, HandleOut:
		n, _, _ := piece.Node(r.Node)
		return n != nil
	}
	return false
}
