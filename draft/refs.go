package draft

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// How things are named in text. A piece goes by its name or id ("Front", "p3"); an
// edge by its piece, a dot, and its name or id ("Front.hem", "p3.e7"), or by its
// id alone; a point by the edge that starts at it and "/start", the one that ends
// at it and "/end", its number inside the edge ("Front.hem/2"), or its id
// ("Front.n12"). A line inside a piece is named as an edge is ("Front.yoke line"), and
// its points as those of an edge. "Front.*" is every edge, point or corner of Front,
// and "*" those of every piece. An id goes before a name, and a name as written before
// one that differs in capitals. Names that hold a sign of this grammar go in double
// quotes.

// PieceRef names a piece.
type PieceRef ID

// EdgeRef names an edge of a piece.
type EdgeRef struct{ Piece, Edge ID }

// NodeRef names a point of a piece's outline or of a line inside it.
type NodeRef struct{ Piece, Node ID }

// CornerRef names a point at which an edge starts.
type CornerRef struct{ Piece, Node ID }

// HandleRef names one of the two handles of a point. As text it is the point with
// "/in" or "/out" after it: "Front.n12/out".
type HandleRef struct {
	Piece, Node ID
	// Out names the handle of the curve that goes out, else of the one that
	// comes in.
	Out bool
}

// NotchRef names a notch: "Front.t4" by its id, "Front.side#2" as the second along
// its edge.
type NotchRef struct{ Piece, Notch ID }

// SeamRef names a seam by its name or id.
type SeamRef ID

// ClothRef names a cloth by its name or id.
type ClothRef ID

// WearerRef names a wearer by its name or id.
type WearerRef ID

// everything stands for all of a piece, or for all pieces.
const everything = "*"

// candidate is a thing that a name may mean.
type candidate struct {
	id   ID
	name string
	// shown is how an error lists it.
	shown string
	index int
}

// pick returns the candidate that text means: the one with that id, else the only
// one with that name, else the only one whose name differs in capitals alone.
func pick(what, text string, list []candidate) (candidate, error) {
	text = unquote(text)
	for _, c := range list {
		if string(c.id) == text {
			return c, nil
		}
	}
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		var hits []candidate
		for _, c := range list {
			if same(c.name, text) {
				hits = append(hits, c)
			}
		}
		switch len(hits) {
		case 0:
		case 1:
			return hits[0], nil
		default:
			return candidate{}, fmt.Errorf("%q could be %s; use the id", text, listed(hits))
		}
	}
	if len(list) == 0 {
		return candidate{}, fmt.Errorf("there is no %s %q; there is none at all", what, text)
	}
	return candidate{}, fmt.Errorf("there is no %s %q; there is %s", what, text, listed(list))
}

// maxListed bounds how many candidates an error names.
const maxListed = 12

func listed(list []candidate) string {
	words := make([]string, 0, len(list))
	for i, c := range list {
		if i == maxListed {
			words = append(words, fmt.Sprintf("and %d more", len(list)-i))
			break
		}
		words = append(words, c.shown)
	}
	return strings.Join(words, ", ")
}

func shownAs(name string, id ID) string {
	if name == "" {
		return string(id)
	}
	return fmt.Sprintf("%s (%s)", name, id)
}

func (p *Project) pieceCandidates() []candidate {
	list := make([]candidate, len(p.Pieces))
	for i, piece := range p.Pieces {
		list[i] = candidate{piece.ID, piece.Name, shownAs(piece.Name, piece.ID), i}
	}
	return list
}

func (p *Piece) edgeCandidates() []candidate {
	list := make([]candidate, len(p.Edges))
	for i, e := range p.Edges {
		list[i] = candidate{e.ID, e.Name, shownAs(e.Name, e.ID), i}
	}
	return list
}

// FindPiece returns the piece that text names.
func (p *Project) FindPiece(text string) (PieceRef, error) {
	c, err := pick("piece", text, p.pieceCandidates())
	return PieceRef(c.id), err
}

// FindEdge returns the edge that text names.
func (p *Project) FindEdge(text string) (EdgeRef, error) {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return p.edgeByID(text, err)
	}
	c, err := pick("edge", rest, piece.edgeCandidates())
	if err != nil {
		return p.edgeByID(text, fmt.Errorf("%s: %w", piece.Name, err))
	}
	return EdgeRef{piece.ID, c.id}, nil
}

// edgeByID returns the edge whose id is the whole text, or the error err.
func (p *Project) edgeByID(text string, err error) (EdgeRef, error) {
	for _, piece := range p.Pieces {
		if e, _ := piece.Edge(ID(unquote(text))); e != nil {
			return EdgeRef{piece.ID, e.ID}, nil
		}
	}
	return EdgeRef{}, err
}

// splitPiece takes "Front.hem" apart. A piece's name may hold dots itself: the
// longest beginning that names a piece is taken.
func (p *Project) splitPiece(text string) (*Piece, string, error) {
	parts, err := splitOutside(text, ".")
	if err != nil {
		return nil, "", err
	}
	if len(parts) < 2 {
		return nil, "", fmt.Errorf("%q names no piece; write the piece, a dot and the part of it, such as Front.hem", text)
	}
	for n := len(parts) - 1; n >= 1; n-- {
		var c candidate
		if c, err = pick("piece", strings.Join(parts[:n], "."), p.pieceCandidates()); err == nil {
			return p.Pieces[c.index], strings.Join(parts[n:], "."), nil
		}
	}
	return nil, "", err
}

// pointsOf returns the pieces and true where text stands for all of one or of all.
func (p *Project) pointsOf(text string) ([]*Piece, bool, error) {
	if text == everything {
		return p.Pieces, true, nil
	}
	name, ok := strings.CutSuffix(text, "."+everything)
	if !ok {
		return nil, false, nil
	}
	c, err := pick("piece", name, p.pieceCandidates())
	if err != nil {
		return nil, false, err
	}
	return p.Pieces[c.index : c.index+1], true, nil
}

// FindNode returns the point that text names.
func (p *Project) FindNode(text string) (NodeRef, error) {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return NodeRef{}, err
	}
	if n := piece.AnyNode(ID(unquote(rest))); n != nil {
		return NodeRef{piece.ID, n.ID}, nil
	}
	parts, err := splitOutside(rest, "/")
	if err != nil {
		return NodeRef{}, err
	}
	if len(parts) != 2 {
		return NodeRef{}, fmt.Errorf("%s has no point %q; name it by its id, or as EDGE/start, EDGE/end or EDGE/2", piece.Name, rest)
	}
	c, err := pick("edge", parts[0], piece.edgeCandidates())
	if err != nil {
		return piece.findLineNode(parts, fmt.Errorf("%s: %w", piece.Name, err))
	}
	nodes := piece.EdgeNodes(c.index)
	k, err := nodePlace(parts[1], len(nodes)-2)
	if err != nil {
		return NodeRef{}, fmt.Errorf("%s, edge %s: %w", piece.Name, c.shown, err)
	}
	return NodeRef{piece.ID, nodes[k].ID}, nil
}

// findLineNode returns the point of a line inside the piece that a name and a place
// stand for; failed is the error where there is no such line.
func (p *Piece) findLineNode(parts []string, failed error) (NodeRef, error) {
	c, err := pick("line", parts[0], p.lineCandidates())
	if err != nil {
		return NodeRef{}, failed
	}
	nodes := p.Lines[c.index].Nodes
	k, err := nodePlace(parts[1], len(nodes)-2)
	if err != nil {
		return NodeRef{}, fmt.Errorf("%s, line %s: %w", p.Name, c.shown, err)
	}
	return NodeRef{p.ID, nodes[min(k, len(nodes)-1)].ID}, nil
}

// nodePlace returns the index of a point among the nodes of an edge with the given
// number of points inside it.
func nodePlace(text string, inside int) (int, error) {
	switch text {
	case "start":
		return 0, nil
	case "end":
		return inside + 1, nil
	}
	k, err := strconv.Atoi(text)
	if err != nil {
		return 0, fmt.Errorf("%q is neither start, end nor the number of a point inside the edge", text)
	}
	if k < 1 || k > inside {
		return 0, fmt.Errorf("there is no point number %d; the edge has %d inside it", k, inside)
	}
	return k, nil
}

func (r *PieceRef) readArg(p *Project, text string) (err error) {
	*r, err = p.FindPiece(text)
	return err
}

func (*PieceRef) argKind() string { return "piece" }

func (r *PieceRef) readList(p *Project, text string) (any, error) {
	if text == everything {
		all := make([]PieceRef, len(p.Pieces))
		for i, piece := range p.Pieces {
			all[i] = PieceRef(piece.ID)
		}
		return all, nil
	}
	err := r.readArg(p, text)
	return []PieceRef{*r}, err
}

func (r *EdgeRef) readArg(p *Project, text string) (err error) {
	*r, err = p.FindEdge(text)
	return err
}

func (*EdgeRef) argKind() string { return "edge" }

func (r *EdgeRef) readList(p *Project, text string) (any, error) {
	pieces, all, err := p.pointsOf(text)
	if err != nil {
		return nil, err
	}
	if !all {
		err := r.readArg(p, text)
		return []EdgeRef{*r}, err
	}
	var list []EdgeRef
	for _, piece := range pieces {
		list = append(list, piece.CutEdges()...)
	}
	return list, nil
}

// CutEdges names every edge of the piece that is cut: all but the fold.
func (p *Piece) CutEdges() []EdgeRef {
	list := make([]EdgeRef, 0, len(p.Edges))
	for i := range p.Edges {
		if p.Edges[i].Kind != FoldEdge {
			list = append(list, EdgeRef{p.ID, p.Edges[i].ID})
		}
	}
	return list
}

func (r *NodeRef) readArg(p *Project, text string) (err error) {
	*r, err = p.FindNode(text)
	return err
}

func (*NodeRef) argKind() string { return "point" }

func (r *NodeRef) readList(p *Project, text string) (any, error) {
	pieces, all, err := p.pointsOf(text)
	if err != nil {
		return nil, err
	}
	if !all {
		err := r.readArg(p, text)
		return []NodeRef{*r}, err
	}
	var list []NodeRef
	for _, piece := range pieces {
		for _, e := range piece.Edges {
			for _, n := range e.Nodes {
				list = append(list, NodeRef{piece.ID, n.ID})
			}
		}
	}
	return list, nil
}

func (r *CornerRef) readArg(p *Project, text string) error {
	n, err := p.FindNode(text)
	*r = CornerRef(n)
	return err
}

func (*CornerRef) argKind() string { return "corner" }

func (r *CornerRef) readList(p *Project, text string) (any, error) {
	pieces, all, err := p.pointsOf(text)
	if err != nil {
		return nil, err
	}
	if !all {
		err := r.readArg(p, text)
		return []CornerRef{*r}, err
	}
	var list []CornerRef
	for _, piece := range pieces {
		for _, e := range piece.Edges {
			list = append(list, CornerRef{piece.ID, e.Nodes[0].ID})
		}
	}
	return list, nil
}

func (r *HandleRef) readArg(p *Project, text string) error {
	point, isOut := strings.CutSuffix(text, "/out")
	point, isIn := strings.CutSuffix(point, "/in")
	if isIn == isOut {
		return fmt.Errorf("%q does not say which handle; write /in or /out after the point", text)
	}
	n, err := p.FindNode(point)
	*r = HandleRef{n.Piece, n.Node, isOut}
	return err
}

func (*HandleRef) argKind() string { return "point with /in or /out" }

func (r *NotchRef) readArg(p *Project, text string) error {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return err
	}
	for _, n := range piece.Notches {
		if string(n.ID) == unquote(rest) {
			*r = NotchRef{piece.ID, n.ID}
			return nil
		}
	}
	parts, err := splitOutside(rest, "#")
	if err != nil {
		return err
	}
	if len(parts) != 2 {
		return fmt.Errorf("%s has no notch %q; name it by its id, or as the first of its edge: EDGE#1", piece.Name, rest)
	}
	c, err := pick("edge", parts[0], piece.edgeCandidates())
	if err != nil {
		return fmt.Errorf("%s: %w", piece.Name, err)
	}
	along := piece.notchesAlong(c.index)
	k, err := strconv.Atoi(parts[1])
	if err != nil || k < 1 || k > len(along) {
		return fmt.Errorf("%s, edge %s: there is no notch number %s; the edge has %d", piece.Name, c.shown, parts[1], len(along))
	}
	*r = NotchRef{piece.ID, along[k-1].ID}
	return nil
}

func (*NotchRef) argKind() string { return "notch" }

func (r *SeamRef) readArg(p *Project, text string) error {
	list := make([]candidate, len(p.Seams))
	for i, s := range p.Seams {
		list[i] = candidate{s.ID, s.Name, shownAs(s.Name, s.ID), i}
	}
	c, err := pick("seam", text, list)
	*r = SeamRef(c.id)
	return err
}

func (*SeamRef) argKind() string { return "seam" }

func (r *ClothRef) readArg(p *Project, text string) error {
	list := make([]candidate, len(p.Cloths))
	for i, c := range p.Cloths {
		list[i] = candidate{c.ID, c.Name, shownAs(c.Name, c.ID), i}
	}
	c, err := pick("cloth", text, list)
	*r = ClothRef(c.id)
	return err
}

func (*ClothRef) argKind() string { return "cloth" }

func (r *WearerRef) readArg(p *Project, text string) error {
	list := make([]candidate, len(p.Wearers))
	for i, w := range p.Wearers {
		list[i] = candidate{w.ID, w.Name, shownAs(w.Name, w.ID), i}
	}
	c, err := pick("wearer", text, list)
	*r = WearerRef(c.id)
	return err
}

func (*WearerRef) argKind() string { return "wearer" }

// errGone says that a reference points at something that the project no longer
// holds.
var errGone = errors.New("is gone")
