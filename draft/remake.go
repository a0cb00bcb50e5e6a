package draft

import (
	"maps"
	"slices"
	"strings"
)

// remake brings up to date the pieces and seams of derivations that read what an act
// has changed: a wearer, the choices or the text of a block, a parent piece. What reads
// what another makes comes after it, so that a lining follows its piece, and that the
// block, in one step. Where nothing can be generated, or what was changed by hand
// cannot be carried, the pieces stay as they are, and the outcome says so: the act
// itself is never refused for that.
func remake(before *Project, out Outcome) (Outcome, error) {
	for _, id := range out.Project.derivationsInOrder() {
		d := out.Project.Derivation(id)
		if !before.makesOther(out.Project, d) {
			continue
		}
		if err := redraft(before, &out, d); err != nil {
			return Outcome{}, err
		}
	}
	return out, nil
}

// derivationsInOrder lists the derivations so that each comes after those whose pieces
// it reads. Where some wait for each other in a circle, which no sound project has, the
// circle is broken.
func (p *Project) derivationsInOrder() []ID {
	list := make([]ID, 0, len(p.Derivations))
	seen := make(map[ID]bool, len(p.Derivations))
	var visit func(d *Derivation)
	visit = func(d *Derivation) {
		if seen[d.ID] {
			return
		}
		seen[d.ID] = true
		for _, in := range d.Inputs {
			if piece := p.Piece(in); piece != nil && piece.Derived != nil {
				in = piece.Derived.Derivation
			}
			if maker := p.Derivation(in); maker != nil {
				visit(maker)
			}
		}
		list = append(list, d.ID)
	}
	for _, d := range p.Derivations {
		visit(d)
	}
	return list
}

// makesOther reports whether a derivation that was there before reads something else
// in the project after an act.
func (p *Project) makesOther(after *Project, d *Derivation) bool {
	old := p.Derivation(d.ID)
	if old == nil {
		return false
	}
	switch d.Kind {
	case blockKind:
		w, was := after.WearerOf(d), p.WearerOf(old)
		return (old != d || was != w) && !inputsOf(d, w).like(inputsOf(old, was))
	case pieceKind:
		return !d.readsLike(old) || after.parentOf(d) != p.parentOf(old)
	case fitKind:
		return p.fitsOther(after, old, d)
	}
	return false
}

// redraft brings the pieces and seams of one derivation up to date, whatever was
// changed.
func redraft(before *Project, out *Outcome, d *Derivation) error {
	by := out.Project.makerOf(d)
	if by == nil {
		return nil
	}
	r := &remaking{before: before, out: out, d: d, by: by, stale: make(map[ID]bool), fromBase: Lineage{}, fromNext: Lineage{}, renamed: Lineage{}}
	switch m := by.(type) {
	case *drafted:
		r.dr = m
	case *redone:
		r.dr, r.again = m.dr, m
	}
	return r.run()
}

// blockKind is the kind of derivations that are drafted from a block.
const blockKind = "block"

// fitLabel is what a fit is called, with its wearer after it.
const fitLabel = "Fit"

// fitKind is the kind of derivations that re-shape a pattern for another body.
const fitKind = "fit"

// remaking brings one derivation up to date.
type remaking struct {
	before *Project
	out    *Outcome
	d      *Derivation
	by     maker
	// dr is the drafted block, which makes seams and more than one piece; nil for a link.
	dr *drafted
	// again is the block with the acts that were recorded since, nil where there are none.
	again *redone
	// stems are the ids of the pieces by role, of those that are not there too.
	stems map[string]ID
	// stale are seams that stay as they are because what the block makes of them now has
	// no place on the pieces.
	stale map[ID]bool
	// fromBase and fromNext lead from edges of the block to those of the pieces, as
	// they stood and as they stand.
	fromBase, fromNext Lineage
	// renamed leads from edges of the pieces as they stood to those that stand there now.
	renamed Lineage
}

func (r *remaking) run() error {
	if err := r.by.trouble(); err != nil {
		r.out.say("%s %s: %s", r.out.Project.derivationLabel(r.d), staysBehind(r.d), sentence(err))
		return nil
	}
	next := r.out.Project.shallow()
	next.Pieces = slices.Clone(next.Pieces)
	r.followAll(next.Pieces)
	if len(r.renamed) > 0 {
		if err := followSeams(next, r.renamed); err != nil {
			return err
		}
	}
	r.out.Project = next
	if r.dr != nil {
		if err := r.restOfBlock(); err != nil {
			return err
		}
	} else {
		r.meanSeams()
	}
	r.noteGone()
	r.dropDangling()
	r.out.generated = true
	return nil
}

// restOfBlock makes what a block makes besides the pieces that are there: pieces that it
// makes for the first time, and seams.
func (r *remaking) restOfBlock() error {
	next := r.out.Project
	r.findStems()
	made, err := r.newPieces(next)
	if err != nil {
		return err
	}
	next.Pieces = append(next.Pieces, made...)
	r.seams()
	r.remember()
	return nil
}

// staysBehind says of a derivation that cannot be made what becomes of its pieces.
func staysBehind(d *Derivation) string {
	switch d.Kind {
	case blockKind:
		return "cannot be drafted, and its pieces stay as they are"
	case fitKind:
		return "cannot be worked out, and its pieces stay as they are"
	}
	return "cannot follow, and stays as it is"
}

// sentence ends what an error says as a sentence ends.
func sentence(err error) string { return strings.TrimRight(err.Error(), ".") + "." }

// derivationLabel names a derivation: a link by its piece, a drafted block as "Bodice
// for Quill", and by its garment where the same is drafted for the same wearer twice:
// "Bodice 2 for Quill".
func (p *Project) derivationLabel(d *Derivation) string {
	if made := p.PiecesOf(d); d.Kind == pieceKind && len(made) > 0 {
		return made[0].label()
	}
	label, w := string(d.ID), p.WearerOf(d)
	if d.Kind == fitKind {
		label = fitLabel
	} else if b, err := blockOf(d.Text); err == nil {
		label = b.Title
	}
	twin := func(o *Derivation) bool {
		return o.ID != d.ID && o.Kind == d.Kind && o.Text == d.Text && p.WearerOf(o) == w
	}
	if slices.ContainsFunc(p.Derivations, twin) {
		if garment, ok := garmentOf(p.PiecesOf(d)); ok && garment != "" && d.Kind == fitKind {
			label += " of " + garment
		} else if ok && garment != "" {
			label = garment
		}
	}
	if w != nil {
		label += " for " + labelOf(w.Name, w.ID)
	}
	return label
}

// remember renews what the derivation keeps: the roles, and the seams as generated.
func (r *remaking) remember() {
	p := r.out.Project
	d := *r.d
	for i := range r.dr.sheet.Pieces {
		if role := r.dr.sheet.Pieces[i].Role; !slices.Contains(d.Roles, role) {
			d.Roles = append(slices.Clip(d.Roles), role)
		}
	}
	d.Seams = r.madeSeams()
	for i := range d.Seams {
		if was := r.d.seam(d.Seams[i].ID); was != nil && r.stale[was.ID] {
			d.Seams[i] = *was
		}
	}
	for _, was := range r.d.Seams {
		if r.stale[was.ID] && seamNamed(d.Seams, was.ID) == nil {
			d.Seams = append(d.Seams, was)
		}
	}
	p.Derivations = slices.Clone(p.Derivations)
	for i := range p.Derivations {
		if p.Derivations[i].ID == d.ID {
			p.Derivations[i] = &d
		}
	}
}

// noteGone adds the edges that are gone to the lineage of the act, which has been
// followed already.
func (r *remaking) noteGone() {
	here := make(map[ID]bool)
	for _, piece := range r.out.Project.Pieces {
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
	if len(gone) == 0 && len(r.renamed) == 0 {
		return
	}
	known := r.out.followed
	if known == nil {
		known = r.out.Lineage
	}
	maps.Copy(gone, known.then(r.renamed))
	r.out.followed = gone
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
