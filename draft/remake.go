package draft

import (
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
	r.remember()
	r.noteGone()
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

// remember renews what the derivation keeps: the roles, and the seams as generated.
func (r *remaking) remember() {
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
	if len(gone) == 0 {
		return
	}
	maps.Copy(gone, r.out.Lineage)
	maps.Copy(gone, r.out.followed)
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
