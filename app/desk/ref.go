package desk

import (
	"slices"

	"hemlet/draft"
)

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
	// What lies on a piece besides its outline; a line's points are nodes.
	Line
	Dart
	Notch
	Stretch
	// Dimension is a line that shows a length live.
	Dimension
	// Picture lies under the pieces, and belongs to none.
	Picture
)

// Ref points at one thing on the bench. Refs are comparable; which ids are set
// depends on the kind: a piece has Piece, an edge Piece and Edge, a node and its
// handles Piece and Node.
type Ref struct {
	Kind              Kind
	Piece, Edge, Node draft.ID
	// Thing is the line, dart, notch, stretch, dimension or picture.
	Thing draft.ID
}

// PieceRef points at a piece.
func PieceRef(id draft.ID) Ref { return Ref{Kind: Piece, Piece: id} }

// EdgeRef points at an edge of a piece.
func EdgeRef(piece, edge draft.ID) Ref { return Ref{Kind: Edge, Piece: piece, Edge: edge} }

// NodeRef points at a node of a piece, of its outline or of a line inside it.
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
	if r.Kind == Picture {
		return p.Picture(r.Thing) != nil
	}
	piece := p.Piece(r.Piece)
	if piece == nil {
		return false
	}
	switch r.Kind {
	case Piece:
		return true
	case Line, Dart, Notch, Stretch, Dimension:
		return r.lies(piece)
	case Edge:
		e, _ := piece.Edge(r.Edge)
		return e != nil
	case Node, HandleIn, HandleOut:
		return piece.AnyNode(r.Node) != nil
	}
	return false
}

// lies reports whether the thing lies on the piece.
func (r Ref) lies(piece *draft.Piece) bool {
	switch r.Kind {
	case Line:
		return piece.Line(r.Thing) != nil
	case Dart:
		return slices.ContainsFunc(piece.Darts, func(d draft.Dart) bool { return d.ID == r.Thing })
	case Notch:
		return slices.ContainsFunc(piece.Notches, func(n draft.Notch) bool { return n.ID == r.Thing })
	case Stretch:
		return slices.ContainsFunc(piece.Stretches, func(s draft.Stretch) bool { return s.ID == r.Thing })
	case Dimension:
		return slices.ContainsFunc(piece.Spans, func(s draft.Span) bool { return s.ID == r.Thing && s.Measure == "" })
	}
	return false
}

// AtNode reports whether the ref points at a node or at one of its handles.
func (r Ref) AtNode() bool { return r.Kind == Node || r.Kind == HandleIn || r.Kind == HandleOut }

// ThingRef points at a thing of the kind that lies on a piece: a line, dart, notch,
// stretch or dimension.
func ThingRef(kind Kind, piece, thing draft.ID) Ref {
	return Ref{Kind: kind, Piece: piece, Thing: thing}
}

// PictureRef points at a picture.
func PictureRef(id draft.ID) Ref { return Ref{Kind: Picture, Thing: id} }

// NewPieces points at the pieces of after that before has not got.
func NewPieces(before, after *draft.Project) []Ref {
	var refs []Ref
	had := make(map[draft.ID]bool, len(before.Pieces))
	for _, p := range before.Pieces {
		had[p.ID] = true
	}
	for _, p := range after.Pieces {
		if !had[p.ID] {
			refs = append(refs, PieceRef(p.ID))
		}
	}
	return refs
}
