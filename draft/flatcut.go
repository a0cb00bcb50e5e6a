package draft

import (
	"fmt"

	"hemlet/geom"
)

// LayFlat returns the piece as it lies when cut, with its cut line.
func LayFlat(p *Piece) (*Flat, error) {
	flat, err := Unfold(p)
	if err != nil {
		return nil, err
	}
	edges, source := flat.allowances()
	cut, err := geom.Allowance(edges)
	if unsound, ok := err.(*geom.OutlineError); ok && unsound.Edge >= 0 {
		here := *unsound
		here.Edge = source[unsound.Edge]
		err = &here
	}
	if err != nil {
		return flat, fmt.Errorf("piece %s: no cut line: %w", p.Name, err)
	}
	flat.Cut, flat.CutEdge = cut.Path, cut.Source
	for i, from := range flat.CutEdge {
		flat.CutEdge[i] = source[from]
		if cut.Join(i) {
			flat.CutEdge[i] = -1
		}
	}
	return flat, nil
}

// allowances returns the edges as the cut line is made of them, and of each the
// index into Edges that it is a stretch of.
func (f *Flat) allowances() (edges []geom.AllowanceEdge, source []int) {
	for i, e := range f.Edges {
		for _, stretch := range e.stretches() {
			edges, source = append(edges, stretch), append(source, i)
		}
	}
	return edges, source
}

// stretches returns the edge as it is grown by its allowance: in one, unless a
// tapering allowance goes round the caps of darts. Then each cap has the width of
// the place on the sewn edge at which its dart closes, so that the two sides of the
// dart meet in one width.
func (e FlatEdge) stretches() []geom.AllowanceEdge {
	whole := geom.AllowanceEdge{Path: e.Line, Start: e.Start, End: e.End, Corner: e.corner, Hem: e.Edge.turned()}
	length := e.Length()
	if e.Start == e.End || len(e.cap) == 0 || length == 0 {
		return []geom.AllowanceEdge{whole}
	}
	var out []geom.AllowanceEdge
	along, width := 0.0, e.Start
	for from := 0; from < len(e.cap); {
		to := from + 1
		for to < len(e.cap) && e.cap[to] == e.cap[from] {
			to++
		}
		part := geom.AllowanceEdge{Path: e.Line[from:to], Start: width, Hem: whole.Hem}
		if !e.cap[from] {
			along += part.Path.Length()
			width = e.Start + (e.End-e.Start)*min(along/length, 1)
		}
		part.End = width
		out = append(out, part)
		from = to
	}
	out[0].Corner = e.corner
	out[len(out)-1].End = e.End
	return out
}

// turned reports whether the edge's allowance is folded back onto the piece.
func (e *Edge) turned() bool { return e.Kind == HemEdge || e.Kind == CasingEdge }

func (r CornerRule) geom() geom.CornerRule {
	switch r {
	case Square:
		return geom.Square
	case SquareBefore:
		return geom.SquareBefore
	case TurnedBack:
		return geom.TurnedBack
	default:
		return geom.Mitre
	}
}
