package draft

import (
	"fmt"
	"slices"
	"strconv"
)

// StretchRef names a stretch of an edge: "Front.g4" by its id, "Front.waist#2" as the
// second along its edge.
type StretchRef struct{ Piece, Stretch ID }

func (r *StretchRef) readArg(p *Project, text string) error {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return err
	}
	if k := piece.stretchIndex(ID(unquote(rest))); k >= 0 {
		*r = StretchRef{piece.ID, piece.Stretches[k].ID}
		return nil
	}
	parts, err := splitOutside(rest, "#")
	if err != nil {
		return err
	}
	if len(parts) != 2 {
		return fmt.Errorf("%s has no stretch %q; name it by its id, or as the first of its edge: EDGE#1", piece.Name, rest)
	}
	c, err := pick("edge", parts[0], piece.edgeCandidates())
	if err != nil {
		return fmt.Errorf("%s: %w", piece.Name, err)
	}
	along := piece.StretchesAlong(c.index)
	k, err := strconv.Atoi(parts[1])
	if err != nil || k < 1 || k > len(along) {
		return fmt.Errorf("%s, edge %s: there is no stretch number %s; the edge has %d", piece.Name, c.shown, parts[1], len(along))
	}
	*r = StretchRef{piece.ID, along[k-1].ID}
	return nil
}

func (*StretchRef) argKind() string { return "stretch" }

// StretchesAlong returns the stretches of edge i in their order along it.
func (p *Piece) StretchesAlong(i int) []Stretch {
	var list []Stretch
	for _, s := range p.Stretches {
		if s.Edge == p.Edges[i].ID {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b Stretch) int {
		switch {
		case a.From < b.From:
			return -1
		case a.From > b.From:
			return 1
		}
		return 0
	})
	return list
}

// MarkRef names anything that is marked on a piece: a notch or stretch as those are
// named, a line or a length by its name or id.
type MarkRef struct{ Piece, Mark ID }

func (r *MarkRef) readArg(p *Project, text string) error {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return err
	}
	var list []candidate
	for i, l := range piece.Lines {
		list = append(list, candidate{l.ID, l.Name, shownAs(l.Name, l.ID), i})
	}
	for i, s := range piece.Spans {
		list = append(list, candidate{s.ID, s.Name, shownAs(s.Name, s.ID), i})
	}
	c, err := pick("mark", rest, list)
	if err == nil {
		*r = MarkRef{piece.ID, c.id}
		return nil
	}
	var n NotchRef
	if n.readArg(p, text) == nil {
		*r = MarkRef{n.Piece, n.Notch}
		return nil
	}
	var s StretchRef
	if s.readArg(p, text) == nil {
		*r = MarkRef{s.Piece, s.Stretch}
		return nil
	}
	return fmt.Errorf("%s: %w", piece.Name, err)
}

func (*MarkRef) argKind() string { return "mark" }
