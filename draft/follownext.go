package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// followed is a piece that follows what it was generated from.
type followed struct {
	piece *Piece
	// fromBase and fromNext lead from the edges of the block, as they were and as they
	// are, to those of the piece before and after; see carried.
	fromBase, fromNext Lineage
	// renamed leads from the edges of the piece as it was to those that stand there now,
	// where edges may bear other ids than before; edges that are still themselves are not
	// named.
	renamed Lineage
}

// errNotKept says that a project does not say all that was generated.
var errNotKept = errors.New("what the block had made of it was not kept")

// followMade returns a piece as it follows what makes it, as that makes it now: the
// piece itself where the same would be generated of it again. The error says what
// cannot be carried.
func followMade(p *Piece, by maker) (followed, error) {
	next, err := by.generate(p.Derived.Role, p.Derived.Derivation, p.ID)
	if err != nil {
		return followed{}, err
	}
	if equalEdges(next.Derived.Base, p.Derived.Base) && equalRest(next.Derived.Rest, p.Derived.Rest) {
		return followed{piece: p}, nil
	}
	return followNext(p, next, by.renames())
}

// followNext returns mine as it follows from being generated as base to being
// generated as next. With renames, edges of next may stand under other ids where edges
// of base stood, and what refers to them is led there. The error says what cannot be
// carried.
func followNext(mine, next *Piece, renames bool) (followed, error) {
	base := mine.Derived.piece(mine.ID)
	outline, err := carryOutline(base, mine, next)
	if err != nil {
		return followed{}, err
	}
	out := &Piece{
		ID: mine.ID, Edges: cloneEdges(outline.edges), Cloth: mine.Cloth, Place: stayingPut(mine.Place, base, next), Derived: next.Derived,
		Origin: mine.Origin, Hidden: mine.Hidden, Locked: mine.Locked, Ghost: mine.Ghost,
	}
	now, err := laidOn(next, outline.edges, outline.fromNext)
	if err != nil {
		return followed{}, err
	}
	was := mine
	if mine.Derived.Rest != nil {
		if was, err = laidOn(base, mine.Edges, outline.fromBase); err != nil {
			return followed{}, err
		}
	} else if !equalEdges(mine.Edges, base.Edges) {
		return followed{}, errNotKept
	}
	f := followed{piece: out, fromBase: outline.fromBase, fromNext: outline.fromNext}
	marked := mine
	if renames {
		if f.renamed, was, marked, err = led(was, mine, out); err != nil {
			return followed{}, err
		}
	}
	if err := mergeRest(was, marked, now, out); err != nil {
		return followed{}, err
	}
	return f, out.consistent()
}

// stayingPut returns where the new piece lies on the bench so that most of it stays
// where it was: a block may draw a piece elsewhere on its sheet only because another
// has grown. The way by which most points were moved is taken back.
func stayingPut(place Placement, base, next *Piece) Placement {
	moved := make(map[geom.Point]int)
	var way geom.Point
	for _, e := range next.Edges {
		for _, n := range e.Nodes {
			was, _, _ := base.Node(n.ID)
			if was == nil {
				continue
			}
			by := n.At.Sub(was.At)
			by = geom.Pt(toGrid(by.X), toGrid(by.Y))
			if moved[by]++; moved[by] > moved[way] {
				way = by
			}
		}
	}
	if moved[way] < 2 || moved[way] <= moved[geom.Point{}] {
		return place
	}
	place.At = place.At.Sub(geom.Rotation(place.Turn, geom.Point{}).ApplyVector(way))
	return place
}

// laidOn returns a generated piece with its marks moved to other edges.
func laidOn(p *Piece, edges []Edge, lin Lineage) (*Piece, error) {
	q := p.clone()
	q.Edges = edges
	if len(lin) == 0 {
		return q, nil
	}
	return followPiece(p, q, lin)
}

// consistent reports a dart whose mouth is not on the outline, or a span that
// measures nothing: what the maker made of the outline has no place for it.
func (p *Piece) consistent() error {
	opens, stretches := make(map[ID]bool, len(p.Darts)), p.stretches()
	for _, d := range p.Darts {
		if stretches[d.From].next != d.To || opens[d.From] {
			return fmt.Errorf("the %s has no place on the changed outline", d.called())
		}
		opens[d.From] = true
	}
	for _, s := range p.Spans {
		if err := p.measurable(s); err != nil {
			return fmt.Errorf("the length %s %w", labelOf(s.Name, s.ID), err)
		}
	}
	ids := make(map[ID]bool)
	for i := range p.Edges {
		if ids[p.Edges[i].ID] {
			return fmt.Errorf("the edge %s would be there twice", p.Edges[i].label())
		}
		ids[p.Edges[i].ID] = true
	}
	seen := make(map[ID]bool)
	twice := ID("")
	p.eachID(func(id ID) {
		if seen[id] {
			twice = id
		}
		seen[id] = true
	})
	if twice != "" {
		return fmt.Errorf("two things in it would be called %s", twice)
	}
	return nil
}
