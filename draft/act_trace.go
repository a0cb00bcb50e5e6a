package draft

import (
	"fmt"
	"slices"
)

// groupCutting is the heading of the acts of the cutting table.
const groupCutting = "Cutting table"

// TraceCopyArgs are the arguments of TraceCopy.
type TraceCopyArgs struct {
	Piece    PieceRef `arg:"piece" says:"the piece"`
	Linked   bool     `arg:"linked" says:"whether the copy follows the piece" default:"yes"`
	Mirrored bool     `arg:"mirrored" says:"whether it is turned over" default:"no"`
	Name     string   `arg:"name,optional" says:"its name; without it, one after that of the piece"`
}

// TraceCopy traces a copy off a piece, as a pattern maker does with carbon paper before
// changing anything: linked, so that it follows, or free.
var TraceCopy = register(Info{
	Name: "trace-copy", Title: "Trace off a copy", Group: groupCutting,
	Says: "Traces a copy off a piece, turned over or not; a linked one follows the piece from then on.",
}, func(p *Project, a TraceCopyArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	out, piece, err := p.link(ID(a.Piece), tracing{name: name, mirrored: a.Mirrored})
	if err != nil {
		return Outcome{}, err
	}
	if !a.Linked {
		out.release(piece)
	}
	return out, nil
})

// link makes a piece of a parent, and the link that it follows by. The piece lies
// beside what lies on the bench. It may be written to until the act returns.
func (p *Project) link(parent ID, how recipe) (Outcome, *Piece, error) {
	from := p.Piece(parent)
	if from == nil {
		return Outcome{}, nil, fmt.Errorf("piece %s %w", parent, errGone)
	}
	ids := p.newIDs()
	d := &Derivation{ID: ids.make(kindDerivation), Kind: pieceKind, Inputs: []ID{from.ID}, Settings: how.settings(), Roles: []string{how.role()}}
	by := linkFor(d, from)
	if by.err != nil {
		return Outcome{}, nil, by.err
	}
	made, err := by.generate(how.role(), d.ID, ids.make(kindPiece))
	if err != nil {
		return Outcome{}, nil, err
	}
	made = made.clone() // what was generated is kept in Derived
	made.Cloth, made.Place = from.Cloth, from.Place
	var room benchRoom
	for _, piece := range p.Pieces {
		room.take(piece)
	}
	room.lay(made)
	out := Outcome{Project: p.shallow(), Made: made.ID, subject: made.label(), generated: true}
	out.Project.NextID = ids.next
	out.Project.Derivations = append(slices.Clip(p.Derivations), d)
	out.Project.Pieces = append(slices.Clip(p.Pieces), made)
	return out, made, nil
}

// release takes the link of a piece that the act has made away again: the piece is free.
func (o *Outcome) release(made *Piece) {
	p := o.Project
	p.Derivations = slices.DeleteFunc(slices.Clone(p.Derivations), func(d *Derivation) bool { return d.ID == made.Derived.Derivation })
	ids := p.newIDs()
	id := made.ID
	made.Derived = nil
	made.renew(ids)
	made.ID = id
	p.NextID = ids.next
}
