package draft

import (
	"errors"
	"fmt"
	"slices"
)

// LinePieceArgs are the arguments of LinePiece.
type LinePieceArgs struct {
	Piece  PieceRef  `arg:"piece" says:"the piece of the shell"`
	Inside *Length   `arg:"inside" says:"how far neck, armhole and other edges that are sewn to nothing lie inside; without it, 0.5 to 1 mm by the allowance"`
	Hem    *Length   `arg:"hem" says:"how much shorter it is at the hem; without it, half of the hem's allowance"`
	Equal  []EdgeRef `arg:"equal,optional" says:"edges that stay as they are"`
	Sew    bool      `arg:"sew" says:"whether the seams to the shell and to other linings are recorded" default:"yes"`
	Name   string    `arg:"name,optional" says:"its name; without it, one after that of the piece"`
}

// The rules of scale for linings: neck and armhole lie 0.5 to 1 mm inside, here an
// eighth of the allowance, from 4 mm of a doll at 1:6 to 8 mm of a puppet; the hem is
// shorter by half of what is turned up. (Common practice, no source.)
const (
	liningInsideMin   = 0.5 // mm
	liningInsideMax   = 1   // mm
	liningInsideShare = 1. / 8
	liningHemShare    = 1. / 2
)

// LinePiece makes the lining of a piece, which follows it: edges that are sewn to
// other pieces are equal, those that are not lie a little inside so that the lining is
// not seen, and the hem is shorter.
var LinePiece = register(Info{
	Name: "line-piece", Title: "Lining", Group: groupCutting,
	Says: "Makes the lining of a piece: its seams equal, its open edges a little inside, its hem shorter; it follows the piece.",
}, linePiece)

func linePiece(p *Project, a LinePieceArgs) (Outcome, error) {
	shell := p.Piece(ID(a.Piece))
	if shell == nil {
		return Outcome{}, fmt.Errorf("piece %s %w", a.Piece, errGone)
	}
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	how := lining{name: name, inside: make(map[ID]float64), mirrored: shell.Cut.Way == CutSingle}
	for i := range shell.Edges {
		e := &shell.Edges[i]
		equal := slices.ContainsFunc(a.Equal, func(r EdgeRef) bool { return r.Piece == shell.ID && r.Edge == e.ID })
		if w := p.liningInside(shell, e, a); w > 0 && !equal {
			how.inside[e.ID] = w
		}
	}
	for _, r := range a.Equal {
		if r.Piece != shell.ID {
			return Outcome{}, errors.New("the edges that stay as they are must be those of the piece")
		}
	}
	out, made, err := p.link(shell.ID, how)
	if err != nil {
		return Outcome{}, err
	}
	made.Cloth = p.clothOfLayer(shell.Garment, Lining, "")
	out.tellTurnedOver(how.mirrored, made, shell)
	if a.Sew {
		ids := out.Project.newIDs()
		for i := range shell.Edges {
			if e := &shell.Edges[i]; e.Kind == SeamEdge && p.sewnIn(shell.ID, e.ID) == nil {
				out.sewToParent(made, shell, e.ID, fmt.Sprintf("%s of %s to lining", e.label(), shell.label()), ids)
			}
		}
		out.sewLikeParents(made, ids)
		out.Project.NextID = ids.next
	}
	return out, nil
}

// tellTurnedOver says why a piece that lies inside another is its mirror image.
func (o *Outcome) tellTurnedOver(yes bool, made, shell *Piece) {
	if yes {
		o.say("%s is turned over: %s is cut as drawn, and they are sewn right sides together.", made.label(), shell.label())
	}
}

// liningInside returns by the rules of scale how far the edge of a lining lies inside
// that of the shell.
func (p *Project) liningInside(shell *Piece, e *Edge, a LinePieceArgs) float64 {
	inside := min(max(e.Allowance.Widest()*liningInsideShare, liningInsideMin), liningInsideMax)
	if a.Inside != nil {
		inside = float64(*a.Inside)
	}
	switch e.Kind {
	case HemEdge:
		if a.Hem != nil {
			return float64(*a.Hem)
		}
		return max(e.Allowance.Widest()*liningHemShare, inside)
	case SeamEdge:
		if p.sewnIn(shell.ID, e.ID) != nil {
			return 0
		}
		return inside
	case RawEdge:
		return inside
	}
	return 0
}

// clothOfLayer returns the cloth of the first piece of a garment that lies on a layer,
// or the given one where there is none.
func (p *Project) clothOfLayer(garment string, layer Layer, without ID) ID {
	for _, piece := range p.Pieces {
		if piece.Garment == garment && piece.Layer == layer && piece.Cloth != "" {
			return piece.Cloth
		}
	}
	return without
}

// SetLiningArgs are the arguments of SetLining.
type SetLiningArgs struct {
	Edges  []EdgeRef `arg:"edges" says:"edges of linings"`
	Inside Length    `arg:"inside" says:"how far they lie inside those of the shell"`
}

// SetLining says how far edges of linings lie inside those of the shell.
var SetLining = register(Info{
	Name: "set-lining", Title: "Set how far a lining lies inside", Group: groupCutting,
	Says: "Says how far edges of a lining lie inside those of the piece that it lines.",
}, func(p *Project, a SetLiningArgs) (Outcome, error) {
	if len(a.Edges) == 0 {
		return Outcome{}, errors.New("no edge is named")
	}
	if a.Inside < 0 {
		return Outcome{}, errors.New("a lining cannot lie outside its shell; the width is 0 or more")
	}
	out := Outcome{Project: p}
	var ids []ID
	for _, r := range a.Edges {
		next, err := out.Project.setInside(r, float64(a.Inside))
		if err != nil {
			return Outcome{}, err
		}
		out.Project = next
		ids = append(ids, r.Piece)
	}
	out.subject = p.subject(distinct(ids))
	return out, nil
})

// setInside returns the project with one edge of a lining made to lie inside by a width.
func (p *Project) setInside(r EdgeRef, width float64) (*Project, error) {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return nil, fmt.Errorf("piece %s %w", r.Piece, errGone)
	}
	d, parent, how, err := p.linkOf(piece)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", piece.label(), err)
	}
	m, ok := how.(lining)
	if !ok {
		return nil, fmt.Errorf("%s is no lining", piece.label())
	}
	ids := newLinkIDs(piece.ID)
	for i := range parent.Edges {
		e := &parent.Edges[i]
		if ids.of(e.ID) != r.Edge {
			continue
		}
		inside := make(map[ID]float64, len(m.inside)+1)
		for id, w := range m.inside {
			inside[id] = w
		}
		if inside[e.ID] = width; width == 0 {
			delete(inside, e.ID)
		}
		m.inside = inside
		if err := m.checkEdges(parent); err != nil {
			return nil, err
		}
		return p.withLink(d, m, parent)
	}
	return nil, fmt.Errorf("edge %s of %s was not made from an edge of %s", piece.edgeLabel(r.Edge), piece.label(), parent.label())
}

// linkOf returns the link that a piece follows by, its parent and its recipe.
func (p *Project) linkOf(piece *Piece) (*Derivation, *Piece, recipe, error) {
	parent := p.ParentOf(piece)
	if parent == nil {
		return nil, nil, nil, errors.New("it follows no other piece")
	}
	d := p.Derivation(piece.Derived.Derivation)
	how, err := readRecipe(d.Settings)
	return d, parent, how, err
}

// withLink returns the project with another recipe for a link, which must be able to
// make something of the parent. The piece is made anew in the commit.
func (p *Project) withLink(d *Derivation, how recipe, parent *Piece) (*Project, error) {
	next := d.withRecipe(how)
	if by := linkFor(next, parent); by.err != nil {
		return nil, by.err
	} else if _, err := by.generate(how.role(), d.ID, p.PiecesOf(d)[0].ID); err != nil {
		return nil, err
	}
	q := p.shallow()
	q.Derivations = slices.Clone(p.Derivations)
	q.Derivations[slices.Index(q.Derivations, d)] = next
	return q, nil
}
