package draft

import (
	"fmt"
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
		r := &remaking{before: before, out: &out, d: d, dr: draftFor(d, w), fromBase: Lineage{}, fromNext: Lineage{}}
		if err := r.run(); err != nil {
			return Outcome{}, err
		}
	}
	return out, nil
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
			continue
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
	return nil
}

// sentence ends what an error says as a sentence ends.
func sentence(err error) string { return strings.TrimRight(err.Error(), ".") + "." }

// derivationLabel names a drafted block: "Bodice for Quill".
func (p *Project) derivationLabel(d *Derivation) string {
	label := string(d.ID)
	if b, err := blockOf(d.Text); err == nil {
		label = b.Title
	}
	if w := p.WearerOf(d); w != nil {
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

// takenIDs returns every id of the project, and every beginning of one that ends
// before a dot or a colon: the stems that a new piece must not have.
func (p *Project) takenIDs() map[ID]bool {
	taken := make(map[ID]bool)
	take := func(id ID) {
		taken[id] = true
		for i := range len(id) {
			if id[i] == '.' || id[i] == ':' {
				taken[id[:i]] = true
			}
		}
	}
	nodes := func(list []Node) {
		for i := range list {
			take(list[i].ID)
		}
	}
	for _, piece := range p.Pieces {
		take(piece.ID)
		for i := range piece.Edges {
			take(piece.Edges[i].ID)
			nodes(piece.Edges[i].Nodes)
		}
		for _, l := range piece.Lines {
			take(l.ID)
			nodes(l.Nodes)
		}
		for _, d := range piece.Darts {
			take(d.ID)
		}
		for _, n := range piece.Notches {
			take(n.ID)
		}
		for _, s := range piece.Spans {
			take(s.ID)
		}
	}
	for _, s := range p.Seams {
		take(s.ID)
	}
	for _, c := range p.Cloths {
		take(c.ID)
		nodes(c.Scrap)
	}
	for _, w := range p.Wearers {
		take(w.ID)
	}
	for _, pic := range p.Pictures {
		take(pic.ID)
	}
	return taken
}

// follow returns the piece as it follows the block.
func (r *remaking) follow(p *Piece) (*Piece, error) {
	sp := r.dr.piece(p.Derived.Role)
	if sp == nil {
		return nil, fmt.Errorf("the block makes no piece %s any more", p.Derived.Role)
	}
	next, err := pieceOf(r.dr, sp, r.d.ID, p.ID)
	if err != nil {
		return nil, err
	}
	if equalEdges(next.Derived.Base, p.Derived.Base) && equalRest(next.Derived.Rest, p.Derived.Rest) {
		return p, nil
	}
	f, err := followNext(p, next)
	if err != nil {
		return nil, err
	}
	if err := r.keepsSewn(p, f); err != nil {
		return nil, err
	}
	// What is on the grid already is not changed by the rounding of the commit; it is
	// done here to know now whether the piece fits the table.
	q, err := rounded(f.piece)
	if err != nil {
		return nil, err
	}
	for id, heirs := range f.fromBase {
		r.fromBase[id] = heirs
	}
	for id, heirs := range f.fromNext {
		r.fromNext[id] = heirs
	}
	return q, nil
}

// keepsSewn reports an edge that is gone and that a seam of the maker's own sews.
func (r *remaking) keepsSewn(p *Piece, f followed) error {
	for _, s := range r.out.Project.Seams {
		if r.generated(s.ID) != nil {
			continue
		}
		for _, u := range slices.Concat(s.A, s.B) {
			if u.Piece != p.ID {
				continue
			}
			if e, _ := f.piece.Edge(u.Edge); e == nil {
				return fmt.Errorf("seam %s sews the edge %s, which is no longer there", s.label(), p.edgeLabel(u.Edge))
			}
		}
	}
	return nil
}

// generated returns the seam as it was generated before, or nil.
func (r *remaking) generated(id ID) *Seam {
	for i := range r.d.Seams {
		if r.d.Seams[i].ID == id {
			return &r.d.Seams[i]
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
		if slices.Contains(r.d.Roles, sp.Role) {
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
	return made, nil
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
