package station

import (
	"strings"

	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/geom"
)

// onSheet returns how far the points of a piece lie from where its block draws them on
// the sheet: a project has every fold begin at x = 0.
func onSheet(of *block.Piece) geom.Point {
	for _, e := range of.Edges {
		if e.Kind == "fold" && len(e.Nodes) > 0 {
			return geom.Pt(e.Nodes[0].At.X, 0)
		}
	}
	return geom.Point{}
}

// standing returns a drafted piece as it stands in the project, with what was changed by
// hand, in the form and at the place in which the block's sheet has it.
func standing(p *draft.Piece, of *block.Piece) *block.Piece {
	out := &block.Piece{Role: of.Role, Title: p.Name, Note: p.Note, Cut: of.Cut, Count: of.Count}
	by := onSheet(of)
	if p.LabelAt != nil {
		at := p.LabelAt.Add(by)
		out.LabelAt = &at
	}
	for i := range p.Edges {
		e := &p.Edges[i]
		out.Edges = append(out.Edges, block.Edge{Name: string(e.ID), Kind: e.Kind.String(), Nodes: nodesLike(e.Nodes, by)})
	}
	for _, d := range p.Darts {
		out.Darts = append(out.Darts, block.Dart{Name: d.Name, Edge: string(d.Edge), From: string(d.From), To: string(d.To), Apex: d.Apex.Add(by)})
	}
	for _, n := range p.Notches {
		at := n.At
		if _, i := p.Edge(n.Edge); n.Share && i >= 0 {
			at = 0
			for _, part := range p.EdgeParts(i) {
				at += n.At * part.Length()
			}
		}
		out.Notches = append(out.Notches, block.Notch{Edge: string(n.Edge), At: at, FromEnd: n.FromEnd, Double: n.Double})
	}
	names := map[draft.ID]string{}
	for _, l := range p.Lines {
		names[l.ID] = l.Name
		out.Lines = append(out.Lines, block.Line{Name: l.Name, Kind: l.Kind.String(), Nodes: nodesLike(l.Nodes, by), Closed: l.Closed})
	}
	for _, s := range p.Spans {
		span := block.Span{Name: s.Name, Measure: s.Measure, Share: s.Share, Ease: s.Ease, From: string(s.From), To: string(s.To)}
		if span.From != "" {
			span.Way = s.Way.String()
		}
		for _, id := range s.Edges {
			span.Edges = append(span.Edges, string(id))
		}
		for _, id := range s.Lines {
			span.Lines = append(span.Lines, names[id])
		}
		out.Spans = append(out.Spans, span)
	}
	if g := p.Grain; g != nil {
		out.Grain = &[2]geom.Point{g.From.Add(by), g.To.Add(by)}
	}
	return out
}

// nodesLike returns the nodes in the form of a sheet, moved by a vector.
func nodesLike(nodes []draft.Node, by geom.Point) []block.Node {
	out := make([]block.Node, len(nodes))
	for i, n := range nodes {
		out[i] = block.Node{Name: string(n.ID), At: n.At.Add(by), In: n.In, Out: n.Out, Smooth: n.Smooth}
	}
	return out
}

// madeBy returns the pieces of a derivation by their roles.
func madeBy(p *draft.Project, d *draft.Derivation) map[string]*draft.Piece {
	out := map[string]*draft.Piece{}
	if d != nil {
		for _, piece := range p.PiecesOf(d) {
			out[piece.Derived.Role] = piece
		}
	}
	return out
}

// drawn returns the pieces as they are drawn on the wearer: as they stand where there
// are pieces, else as the block makes them.
func (t *trial) drawn() []*block.Piece {
	var out []*block.Piece
	for i := range t.sheet.Pieces {
		p := &t.sheet.Pieces[i]
		if made := t.made[p.Role]; made != nil {
			p = standing(made, p)
		}
		out = append(out, p)
	}
	return out
}

// sameLine is how far, in mm, a line may be from another and still be drawn once.
const sameLine = 0.05

// ownLines draws in dots how the block makes the pieces that stand otherwise.
func (t *trial) ownLines(l placing) []*sheet.Layer {
	var out []*sheet.Layer
	for _, i := range t.otherwise() {
		own := &t.sheet.Pieces[i]
		out = append(out, &sheet.Layer{Place: l.pieces[i], Things: []*sheet.Thing{{Marks: []paint.Mark{
			sheet.Lined(outlineOf(own), sheet.Dotted(paint.Ink, innerLine)),
		}}}})
	}
	return out
}

// otherwise returns which pieces of the sheet stand otherwise than the block makes them.
func (t *trial) otherwise() []int {
	var out []int
	for i, p := range t.drawn() {
		own := &t.sheet.Pieces[i]
		if p != own && !samePaths(outlineOf(p), outlineOf(own)) {
			out = append(out, i)
		}
	}
	return out
}

// samePaths reports whether two lines go the same way from point to point.
func samePaths(a, b geom.Path) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		const middle = 0.5
		if a[i].P0.Dist(b[i].P0) > sameLine || a[i].At(middle).Dist(b[i].At(middle)) > sameLine {
			return false
		}
	}
	return true
}

// otherwise says of the pieces that have been made what sets them apart from what the
// block makes: that they were changed by hand, or that they have not followed it.
func otherwise(p *draft.Piece, findings []draft.Finding) string {
	for _, f := range findings {
		if f.Piece == p.ID && f.Derivation != "" && strings.HasSuffix(f.Key, "/behind") {
			return "has not followed"
		}
	}
	if p.ByHand() {
		return "changed by hand"
	}
	return ""
}
