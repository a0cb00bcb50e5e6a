package draft

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// remake brings the pieces and seams of blocks up to date whose wearer, choices or
// text an act has changed. Where a block cannot be drafted, or what was changed by
// hand cannot be carried, the pieces stay as they are, and the outcome says so: the
// act itself is never refused for that.
func remake(before *Project, out Outcome) (Outcome, error) {
	for _, d := range out.Project.Derivations {
		old := before.Derivation(d.ID)
		if d.Kind != blockKind || old == nil {
			continue
		}
		w := out.Project.WearerOf(d)
		if old == d && before.WearerOf(old) == w {
			continue
		}
		if inputsOf(d, w).like(inputsOf(old, before.WearerOf(old))) {
			continue
		}
		if err := redraft(before, &out, d); err != nil {
			return Outcome{}, err
		}
	}
	return out, nil
}

// redraft brings the pieces and seams of one derivation up to date, whatever was
// changed.
func redraft(before *Project, out *Outcome, d *Derivation) error {
	r := &remaking{before: before, out: out, d: d, dr: draftFor(d, out.Project.WearerOf(d)), stale: make(map[ID]bool), fromBase: Lineage{}, fromNext: Lineage{}}
	return r.run()
}

// blockKind is the kind of derivations that are drafted from a block.
const blockKind = "block"

// remaking brings one derivation up to date.
type remaking struct {
	before *Project
	out    *Outcome
	d      *Derivation
	dr     *drafted
	// stems are the ids of the pieces by role, of those that are not there too.
	stems map[string]ID
	// stale are seams that stay as they are because what the block makes of them now has
	// no place on the pieces.
	stale map[ID]bool
	// fromBase and fromNext lead from edges of the block to those of the pieces, as
	// they stood and as they stand.
	fromBase, fromNext Lineage
}

func (r *remaking) run() error {
	if r.dr.err != nil {
		r.out.say("%s cannot be drafted, and its pieces stay as they are: %s", r.out.Project.derivationLabel(r.d), sentence(r.dr.err))
		return nil
	}
	r.findStems()
	next := r.out.Project.shallow()
	next.Pieces = slices.Clone(next.Pieces)
	for i, p := range next.Pieces {
		if p.Derived == nil || p.Derived.Derivation != r.d.ID {
			continue
		}
		q, err := r.follow(p)
		if err != nil {
			r.out.say("%s could not follow and stays as it was: %s", p.label(), sentence(err))
		}
		next.Pieces[i] = q
	}
	made, err := r.newPieces(next)
	if err != nil {
		return err
	}
	next.Pieces = append(next.Pieces, made...)
	r.out.Project = next
	r.seams()
	r.forget()
	r.dropDangling()
	r.out.generated = true
	return nil
}

// sentence ends what an error says as a sentence ends.
func sentence(err error) string { return strings.TrimRight(err.Error(), ".") + "." }

// derivationLabel names a drafted block: "Bodice for Quill", and by its garment where
// the same is drafted for the same wearer twice: "Bodice 2 for Quill".
func (p *Project) derivationLabel(d *Derivation) string {
	label, w := string(d.ID), p.WearerOf(d)
	if b, err := blockOf(d.Text); err == nil {
		label = b.Title
	}
	twin := func(o *Derivation) bool { return o.ID != d.ID && o.Text == d.Text && p.WearerOf(o) == w }
	if slices.ContainsFunc(p.Derivations, twin) {
		if garment, ok := garmentOf(p.PiecesOf(d)); ok && garment != "" {
			label = garment
		}
	}
	if w != nil {
		label += " for " + labelOf(w.Name, w.ID)
	}
	return label
}

// findStems finds the id of every piece that the block makes.
func (r *remaking) findStems() {
	p := r.out.Project
	r.stems = make(map[string]ID)
	for _, piece := range p.PiecesOf(r.d) {
		r.stems[piece.Derived.Role] = piece.ID
	}
	taken := p.takenIDs()
	for _, sp := range r.dr.sheet.Pieces {
		if r.stems[sp.Role] == "" {
			r.stems[sp.Role] = stemOf(sp.Role, r.d.ID, func(id ID) bool { return taken[id] })
		}
	}
}

// follow returns the piece as it follows the block: as it is, with the reason, where it
// cannot.
func (r *remaking) follow(p *Piece) (*Piece, error) {
	f, q, err := r.following(p)
	if q == p {
		lin := p.fromBlock()
		f.fromBase, f.fromNext = lin, lin
	}
	maps.Copy(r.fromBase, f.fromBase)
	maps.Copy(r.fromNext, f.fromNext)
	return q, err
}

// following returns how the piece follows, and the piece that it becomes.
func (r *remaking) following(p *Piece) (followed, *Piece, error) {
	f, err := followDrafted(p, r.dr)
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
		for _, u := range slices.Concat(s.A, s.B) {
			if u.Piece != piece.ID {
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

// forget renews what the derivation keeps, and notes the edges that are gone.
func (r *remaking) forget() {
	p := r.out.Project
	d := *r.d
	for i := range r.dr.sheet.Pieces {
		if role := r.dr.sheet.Pieces[i].Role; !slices.Contains(d.Roles, role) {
			d.Roles = append(slices.Clip(d.Roles), role)
		}
	}
	d.Seams = seamsOf(r.dr, d.ID, r.stems)
	for i := range d.Seams {
		if was := r.d.seam(d.Seams[i].ID); was != nil && r.stale[was.ID] {
			d.Seams[i] = *was
		}
	}
	p.Derivations = slices.Clone(p.Derivations)
	for i := range p.Derivations {
		if p.Derivations[i].ID == d.ID {
			p.Derivations[i] = &d
		}
	}
	here := make(map[ID]bool)
	for _, piece := range p.Pieces {
		for i := range piece.Edges {
			here[piece.Edges[i].ID] = true
		}
	}
	gone := Lineage{}
	for _, piece := range r.before.Pieces {
		for i := range piece.Edges {
			if id := piece.Edges[i].ID; !here[id] {
				gone[id] = nil
			}
		}
	}
	if len(gone) == 0 {
		return
	}
	// The act's own lineage has been followed already.
	all := Lineage{}
	for id := range gone {
		all[id] = nil
	}
	for id, heirs := range r.out.Lineage {
		all[id] = heirs
	}
	for id, heirs := range r.out.followed {
		all[id] = heirs
	}
	r.out.followed = all
}

// dropDangling takes apart the seams that sew what is no longer cut.
func (r *remaking) dropDangling() {
	p := r.out.Project
	p.Seams = slices.DeleteFunc(slices.Clone(p.Seams), func(s *Seam) bool {
		for _, u := range slices.Concat(s.A, s.B) {
			if err := p.useExists(u); err != nil {
				if before := r.before.Seam(s.ID); before != nil && r.before.useExists(u) != nil {
					continue // it did so before
				}
				r.out.say("Seam %s is taken apart: it sewed %v.", s.label(), err)
				return true
			}
		}
		return false
	})
}
