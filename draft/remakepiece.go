package draft

import (
	"errors"
	"fmt"
	"maps"
	"slices"
)

// findStems finds the id of every piece that the block makes.
func (r *remaking) findStems() {
	p := r.out.Project
	r.stems = make(map[string]ID)
	for _, piece := range p.PiecesOf(r.d) {
		r.stems[piece.Derived.Role] = piece.ID
	}
	for _, s := range r.d.Stems {
		if r.stems[s.Role] == "" {
			r.stems[s.Role] = s.ID
		}
	}
	taken := p.takenIDs()
	for _, sp := range r.dr.sheet.Pieces {
		if r.stems[sp.Role] == "" {
			r.stems[sp.Role] = stemOf(sp.Role, r.d.ID, func(id ID) bool { return taken[id] })
		}
	}
}

// followAll puts pieces as they follow in the place of those of the derivation. One that
// cannot stays as it is, and the outcome says why.
func (r *remaking) followAll(pieces []*Piece) {
	old := slices.Clone(pieces)
	ways := make([]followed, len(pieces))
	stay := func(i int, err error) {
		r.out.say("%s could not follow and stays as it was: %s", old[i].label(), sentence(err))
		lin := old[i].fromBlock()
		pieces[i], ways[i] = old[i], followed{fromBase: lin, fromNext: lin}
	}
	var own []int
	for i, p := range old {
		if p.Derived == nil || p.Derived.Derivation != r.d.ID {
			continue
		}
		own = append(own, i)
		f, q, err := r.following(p)
		if pieces[i], ways[i] = q, f; err != nil {
			stay(i, err)
		} else if q == p {
			lin := p.fromBlock()
			ways[i] = followed{fromBase: lin, fromNext: lin}
		}
	}
	if r.again != nil {
		for i := twice(pieces, old); i >= 0; i = twice(pieces, old) {
			stay(i, errTwice)
		}
	}
	for _, i := range own {
		maps.Copy(r.fromBase, ways[i].fromBase)
		maps.Copy(r.fromNext, ways[i].fromNext)
		maps.Copy(r.renamed, ways[i].renamed)
	}
}

// errTwice says that a mark would be on two pieces at once: the step that parts them gives
// it to another now, and that other could not follow, or has it by hand.
var errTwice = errors.New("what is marked on it would be on another piece as well")

// twice returns the index of a piece that is another than it was and has something in it
// that bears the id of something in another piece, -1 where there is none.
func twice(pieces, old []*Piece) int {
	in := make(map[ID]int)
	hit := -1
	for i, p := range pieces {
		p.eachID(func(id ID) {
			k, taken := in[id]
			in[id] = i
			switch {
			case !taken || k == i || hit >= 0:
			case p != old[i]:
				hit = i
			case pieces[k] != old[k]:
				hit = k
			}
		})
	}
	return hit
}

// following returns how the piece follows, and the piece that it becomes.
func (r *remaking) following(p *Piece) (followed, *Piece, error) {
	f, err := followMade(p, r.by)
	if err != nil || f.piece == p {
		return followed{}, p, err
	}
	if err := r.out.Project.keepsSewn(r.d, p, f); err != nil {
		return followed{}, p, err
	}
	// What is on the grid already is not changed by the rounding of the commit; it is
	// done here to know now whether the piece fits the table.
	q, err := rounded(f.piece)
	if err != nil {
		return followed{}, p, err
	}
	return f, q, nil
}

// fromBlock leads from the edges of the block, as they were generated, to those that
// the maker has made of them; nil where that cannot be told.
func (p *Piece) fromBlock() Lineage {
	base := p.Derived.piece(p.ID)
	outline, err := carryOutline(base, p, base)
	if err != nil {
		return nil
	}
	return outline.fromBase
}

// keepsSewn reports an edge of a piece that is gone when the piece follows, and that
// a seam of the maker's own sews.
func (p *Project) keepsSewn(d *Derivation, piece *Piece, f followed) error {
	for _, s := range p.Seams {
		if d.seam(s.ID) != nil {
			continue
		}
		for _, run := range []Run{s.A, s.B} {
			if _, err := followRun(run, f.renamed); err != nil {
				return fmt.Errorf("seam %s %w", s.label(), err)
			}
		}
		for _, u := range slices.Concat(s.A, s.B) {
			if u.Piece != piece.ID || len(f.renamed[u.Edge]) > 0 {
				continue
			}
			if e, _ := f.piece.Edge(u.Edge); e == nil {
				return fmt.Errorf("seam %s sews the edge %s, which is no longer there", s.label(), piece.edgeLabel(u.Edge))
			}
		}
	}
	return nil
}

// newPieces makes the pieces that the block has made for the first time, beside what
// lies on the bench.
func (r *remaking) newPieces(p *Project) ([]*Piece, error) {
	var made []*Piece
	var room benchRoom
	for i := range r.dr.sheet.Pieces {
		sp := &r.dr.sheet.Pieces[i]
		if slices.Contains(r.d.Roles, sp.Role) || p.Piece(r.stems[sp.Role]) != nil {
			continue
		}
		piece, err := pieceOf(r.dr, sp, r.d.ID, r.stems[sp.Role])
		if err != nil {
			return nil, fmt.Errorf("piece %s: %w", sp.Title, err)
		}
		if made == nil {
			for _, other := range p.Pieces {
				room.take(other)
			}
		}
		room.lay(piece)
		made = append(made, piece)
	}
	if len(made) > 0 {
		garment := r.garment(p, made[0].Garment)
		for _, piece := range made {
			piece.Garment = garment
		}
	}
	return made, nil
}

// garment returns the garment of new pieces: that of the block's other pieces or, where
// there are none, one that no other draft of the same block has. Two bodices are two
// garments.
func (r *remaking) garment(p *Project, own string) string {
	if of, ok := garmentOf(p.PiecesOf(r.d)); ok {
		return of
	}
	taken := make(map[string]bool)
	for _, d := range p.Derivations {
		if d.ID == r.d.ID || d.Kind != blockKind {
			continue
		}
		if name, err := nameOfBlock(d.Text); err != nil || name != r.dr.block.Name {
			continue
		}
		for _, piece := range p.PiecesOf(d) {
			taken[piece.Garment] = true
		}
	}
	return unusedName(own, func(name string) bool { return taken[name] })
}

// garmentOf returns the garment that the pieces have in common, false where there is
// none.
func garmentOf(pieces []*Piece) (string, bool) {
	for _, piece := range pieces {
		if piece.Garment != pieces[0].Garment {
			return "", false
		}
	}
	if len(pieces) == 0 {
		return "", false
	}
	return pieces[0].Garment, true
}
