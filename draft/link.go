package draft

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"hemlet/geom"
)

// A link is a derivation that makes one piece of another: a copy traced off, a
// lining, a facing, a stiffener. Its first input is the parent, its settings say how
// the piece is made, and everything in the piece bears the id of its fellow in the
// parent after the id of the piece and a dot. So a linked piece follows its parent
// as a block's piece follows the block, by ids.

// pieceKind is the kind of derivations that are made from another piece.
const pieceKind = "piece"

// parentOf returns the piece from which a link is made, nil where it is gone.
func (p *Project) parentOf(d *Derivation) *Piece {
	if d.Kind != pieceKind || len(d.Inputs) == 0 {
		return nil
	}
	return p.Piece(d.Inputs[0])
}

// ParentOf returns the piece that a linked piece follows, or nil.
func (p *Project) ParentOf(piece *Piece) *Piece {
	if piece.Derived == nil {
		return nil
	}
	d := p.Derivation(piece.Derived.Derivation)
	if d == nil {
		return nil
	}
	return p.parentOf(d)
}

// LinksOf returns the pieces that are linked to a piece, in the order of the project.
func (p *Project) LinksOf(parent *Piece) []*Piece {
	var list []*Piece
	for _, piece := range p.Pieces {
		if p.ParentOf(piece) == parent {
			list = append(list, piece)
		}
	}
	return list
}

// recipe says how a piece is made of its parent. It is read from the settings of the
// link.
type recipe interface {
	// role is the name of the piece among what a derivation makes.
	role() string
	// follow returns the recipe after edges of the parent have become others, and
	// false where nothing of it has changed.
	follow(lin Lineage) (recipe, bool)
	// settings are what the recipe is read from.
	settings() []Setting
	// make returns the piece, without Derived.
	make(parent *Piece, ids linkIDs) (*Piece, error)
}

// linkIDs makes the ids of one linked piece.
type linkIDs struct{ blockIDs }

// of returns the id of the fellow of what has the id in the parent.
func (l linkIDs) of(id ID) ID { return l.made("." + string(id)) }

// extra returns an id for what has no fellow of its own, but belongs to one.
func (l linkIDs) extra(id ID, what string) ID { return l.made("." + string(id) + "~" + what) }

// line returns a line of the parent as it lies in the linked piece.
func (l linkIDs) line(old Line) Line {
	old.ID = l.of(old.ID)
	old.Nodes = slices.Clone(old.Nodes)
	for i := range old.Nodes {
		old.Nodes[i].ID = l.of(old.Nodes[i].ID)
	}
	return old
}

// between returns the id of node number n that a moved line needs after the node that
// has the id, which is one of the piece's own.
func (l linkIDs) between(after ID, n int) ID {
	return blockIDs{after}.made("~" + strconv.Itoa(n))
}

func newLinkIDs(piece ID) linkIDs { return linkIDs{blockIDs{piece}} }

// linked is a link with what it reads: the maker of a linked piece.
type linked struct {
	// parent is on the grid, nil where it is gone.
	parent *Piece
	how    recipe
	err    error
}

var errParentGone = errors.New("the piece from which it is made is gone")

// linkFor returns the maker of a link.
func linkFor(d *Derivation, parent *Piece) *linked {
	l := &linked{}
	if l.how, l.err = readRecipe(d.Settings); l.err != nil {
		return l
	}
	if parent == nil {
		l.err = errParentGone
		return l
	}
	// What an act has made of the parent goes to the grid only when the act ends.
	l.parent, l.err = rounded(parent)
	return l
}

func (l *linked) trouble() error { return l.err }

func (l *linked) makes(role string) bool { return l.how != nil && l.how.role() == role }

// renames is true: the maker of the parent may divide its edges.
func (l *linked) renames() bool { return true }

func (l *linked) generate(role string, derivation, id ID) (*Piece, error) {
	if l.err != nil {
		return nil, l.err
	}
	if !l.makes(role) {
		return nil, noRole(role)
	}
	p, err := l.how.make(l.parent, newLinkIDs(id))
	if err != nil {
		return nil, err
	}
	p.ID = id
	if p, err = rounded(p); err != nil {
		return nil, err
	}
	if err := sound(p.Edges, l.parent.Edges); err != nil {
		return nil, err
	}
	if err := p.consistent(); err != nil {
		return nil, err
	}
	p.Derived = &Derived{Derivation: derivation, Role: role, Base: p.Edges, Rest: restOf(p)}
	return p, nil
}

// traced returns a copy of a piece under other ids: outline, marks and what is
// written on it. It has neither cloth nor place, and no spans: the body is measured on
// the piece that it comes from.
func traced(p *Piece, ids linkIDs) *Piece {
	q := p.clone()
	q.Derived, q.Cloth, q.Place, q.Spans = nil, "", Placement{}, nil
	q.Hidden, q.Locked, q.Ghost = false, false, 0
	nodes := func(list []Node) {
		for i := range list {
			list[i].ID = ids.of(list[i].ID)
		}
	}
	for i := range q.Edges {
		q.Edges[i].ID = ids.of(q.Edges[i].ID)
		nodes(q.Edges[i].Nodes)
	}
	for i := range q.Lines {
		q.Lines[i] = ids.line(q.Lines[i])
	}
	for i := range q.Darts {
		d := &q.Darts[i]
		d.ID, d.Edge, d.From, d.To = ids.of(d.ID), ids.of(d.Edge), ids.of(d.From), ids.of(d.To)
	}
	for i := range q.Notches {
		q.Notches[i].ID, q.Notches[i].Edge = ids.of(q.Notches[i].ID), ids.of(q.Notches[i].Edge)
		q.Notches[i].Mark = "" // it is sewn in no seam of its parent
	}
	for i := range q.Stretches {
		q.Stretches[i].ID, q.Stretches[i].Edge = ids.of(q.Stretches[i].ID), ids.of(q.Stretches[i].Edge)
	}
	return q
}

// turnedOver returns the mirror image of a piece about its own line x = 0.
func turnedOver(p *Piece) *Piece {
	q := p.clone()
	q.turnOver(geom.Scaling(-1, 1))
	return q
}

// noRole says that a derivation makes no piece of a name any more.
func noRole(role string) error { return fmt.Errorf("the block makes no piece %s any more", role) }

// withRecipe returns a link as it is with another recipe.
func (d *Derivation) withRecipe(how recipe) *Derivation {
	next := *d
	next.Settings = how.settings()
	return &next
}

// readsLike reports whether two states of a link would make the same of the same
// parent.
func (d *Derivation) readsLike(o *Derivation) bool {
	return d == o || slices.Equal(d.Settings, o.Settings) && slices.Equal(d.Inputs, o.Inputs)
}
