package draft

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"hemlet/draft/block"
	"hemlet/geom"
)

// stemOf returns the id that a block's piece gets, and with which the ids of all
// that belongs to it begin: the block's name for it or, where that is taken or
// could be mistaken for an id of the counter, the derivation's id before it.
func stemOf(role string, derivation ID, taken func(ID) bool) ID {
	stem := ID(blockID(role))
	if _, counted := stem.number(); counted || taken(stem) {
		stem = derivation + "." + stem
	}
	return stem
}

// blockID returns a block's name for something as it stands in an id, which holds
// no blanks. Names of blocks are letters, digits, blanks, commas, _ and -, so that two
// names never become one.
func blockID(name string) string { return strings.ReplaceAll(name, " ", "~") }

// blockIDs makes the ids of one piece of a block. Edges and nodes follow the stem
// after a dot, other things after a colon and the word for what they are, so that
// none is ever taken for another.
type blockIDs struct{ stem ID }

func (b blockIDs) edge(name string) ID { return b.made("." + name) }
func (b blockIDs) node(name string) ID { return b.made("." + name) }

func (b blockIDs) thing(kind, name string) ID { return b.made(":" + kind + "." + name) }

// made returns the id with the ending, shortened where it would be too long for one.
func (b blockIDs) made(ending string) ID {
	id := string(b.stem) + blockID(ending)
	if len(id) <= maxIDBytes {
		return ID(id)
	}
	sum := sha256.Sum256([]byte(id))
	const figures = 24
	mark := "~" + hex.EncodeToString(sum[:])[:figures]
	return ID(id[:maxIDBytes-len(mark)] + mark)
}

// pieceOf returns the piece that a drafted block makes, with nothing changed by
// hand, on the grid.
func pieceOf(dr *drafted, sp *block.Piece, derivation, stem ID) (*Piece, error) {
	ids := blockIDs{stem}
	p := &Piece{
		ID: stem, Name: sp.Title, Garment: dr.block.Garment, Note: sp.Note,
		Layer: named(layerNames, sp.Layer), Cut: CutRule{Way: named(cutWayNames, sp.Cut), Count: max(sp.Count, 1)},
	}
	if p.Garment == "" {
		p.Garment = dr.block.Title
	}
	for _, e := range sp.Edges {
		p.Edges = append(p.Edges, Edge{
			ID: ids.edge(e.Name), Name: e.Name, Kind: named(edgeKindNames, e.Kind), Corner: named(cornerRuleNames, e.Corner),
			Allowance: Allowance{Start: toGrid(e.Start), End: toGrid(e.End), TrimTo: toGrid(e.TrimTo)},
			Nodes:     ids.nodes(e.Nodes),
		})
	}
	p.marksOf(sp, ids)
	if sp.Grain != nil {
		p.Grain = &Grain{From: sp.Grain[0], To: sp.Grain[1]}
	} else {
		p.Grain = grainAlong(p.DrawnPath(), upright)
	}
	if sp.LabelAt != nil {
		at := *sp.LabelAt
		p.LabelAt = &at
	}
	p.foldAtZero()
	p, err := rounded(p)
	if err != nil {
		return nil, err
	}
	p.Derived = &Derived{Derivation: derivation, Role: sp.Role, Base: p.Edges, Rest: restOf(p)}
	return p, nil
}

// foldAtZero moves a piece that is cut on the fold so that its fold starts at x = 0.
// A block draws its pieces on one sheet, beside each other: without this a wider back
// would move the front, and mark it as changed.
func (p *Piece) foldAtZero() {
	fold := p.FoldEdge()
	if fold < 0 {
		return
	}
	p.shift(geom.Pt(-toGrid(p.Edges[fold].Nodes[0].At.X), 0))
}

// shift moves everything of a piece that may be written to.
func (p *Piece) shift(by geom.Point) {
	nodes := func(list []Node) {
		for i := range list {
			list[i].At = list[i].At.Add(by)
		}
	}
	for i := range p.Edges {
		nodes(p.Edges[i].Nodes)
	}
	for i := range p.Lines {
		nodes(p.Lines[i].Nodes)
	}
	for i := range p.Darts {
		p.Darts[i].Apex = p.Darts[i].Apex.Add(by)
	}
	if p.Grain != nil {
		p.Grain.From, p.Grain.To = p.Grain.From.Add(by), p.Grain.To.Add(by)
	}
	if p.LabelAt != nil {
		*p.LabelAt = p.LabelAt.Add(by)
	}
}

// marksOf takes over darts, notches, lines and spans.
func (p *Piece) marksOf(sp *block.Piece, ids blockIDs) {
	for _, d := range sp.Darts {
		p.Darts = append(p.Darts, Dart{
			ID: ids.thing("dart", d.Name), Name: d.Name, Edge: ids.edge(d.Edge), From: ids.node(d.From), To: ids.node(d.To),
			Apex: d.Apex, Press: named(pressNames, d.Press),
		})
	}
	for _, n := range sp.Notches {
		p.Notches = append(p.Notches, Notch{
			ID: ids.thing("notch", n.Name), Edge: ids.edge(n.Edge), FromEnd: n.FromEnd, At: toGrid(n.At), Double: n.Double,
		})
	}
	for _, l := range sp.Lines {
		p.Lines = append(p.Lines, Line{
			ID: ids.thing("line", l.Name), Name: l.Name, Kind: named(lineKindNames, l.Kind), Nodes: ids.nodes(l.Nodes), Closed: l.Closed,
		})
	}
	for _, s := range sp.Spans {
		span := Span{ID: ids.thing("span", s.Name), Name: s.Name, Measure: s.Measure, Share: s.Share, Ease: toGrid(s.Ease), Way: named(spanWayNames, s.Way)}
		for _, e := range s.Edges {
			span.Edges = append(span.Edges, ids.edge(e))
		}
		for _, l := range s.Lines {
			span.Lines = append(span.Lines, ids.thing("line", l))
		}
		if len(span.Edges)+len(span.Lines) == 0 {
			span.From, span.To = ids.node(s.From), ids.node(s.To)
		}
		p.Spans = append(p.Spans, span)
	}
}

func (b blockIDs) nodes(list []block.Node) []Node {
	nodes := make([]Node, len(list))
	for i, n := range list {
		nodes[i] = Node{ID: b.node(n.Name), At: n.At, In: n.In, Out: n.Out, Smooth: n.Smooth}
	}
	return nodes
}

// named returns the value with the word, the first where there is none: a block
// holds only words that its reader knows.
func named[T ~int](words names[T], word string) T {
	var v T
	_ = words.unmarshal(&v, []byte(word), "")
	return v
}

// restOf returns what belongs to a piece besides its outline. It shares memory with
// the piece, and neither is ever written to.
func restOf(p *Piece) *Rest {
	return &Rest{
		Name: p.Name, Garment: p.Garment, Note: p.Note, Layer: p.Layer, Cut: p.Cut, Grain: p.Grain, LabelAt: p.LabelAt,
		Darts: p.Darts, Notches: p.Notches, Lines: p.Lines, Spans: p.Spans, Stretches: p.Stretches,
	}
}

// piece returns the piece that was generated: the outline with the rest.
func (d *Derived) piece(id ID) *Piece {
	p := &Piece{ID: id, Edges: d.Base}
	if r := d.Rest; r != nil {
		p.Name, p.Garment, p.Note, p.Layer, p.Cut, p.Grain, p.LabelAt = r.Name, r.Garment, r.Note, r.Layer, r.Cut, r.Grain, r.LabelAt
		p.Darts, p.Notches, p.Lines, p.Spans, p.Stretches = r.Darts, r.Notches, r.Lines, r.Spans, r.Stretches
	}
	return p
}

// seamsOf returns the seams of a drafted block. stems are the ids of its pieces by
// their roles.
func seamsOf(dr *drafted, derivation ID, stems map[string]ID) []Seam {
	var list []Seam
	ids := blockIDs{derivation}
	for _, s := range dr.sheet.Seams {
		list = append(list, Seam{
			ID: ids.thing("seam", s.Name), Name: s.Name, A: runOf(s.A, stems), B: runOf(s.B, stems), Ratio: s.Ratio,
			Fuller: named(sideNames, s.Fuller), Fullness: named(fullnessNames, s.Fullness),
			From: s.From, To: s.To, BothSides: s.BothSides, Opens: s.Opens,
		})
	}
	return list
}

func runOf(uses []block.Use, stems map[string]ID) Run {
	run := make(Run, len(uses))
	for i, u := range uses {
		stem := stems[u.Piece]
		run[i] = EdgeUse{
			Piece: stem, Edge: blockIDs{stem}.edge(u.Edge), Reversed: u.Reversed,
			Copy: CopyRef{Number: max(u.Number, 1), Mirrored: u.Mirrored},
		}
		if u.Far {
			run[i].Half = Far
		}
	}
	return run
}

// pathOfEdges returns the closed path of edges.
func pathOfEdges(edges []Edge) geom.Path { return (&Piece{Edges: edges}).DrawnPath() }
