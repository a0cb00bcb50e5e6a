package draft

import (
	"errors"
	"slices"
)

// keepFollowing records an act with the derivation of the pieces that it has changed, where
// it can be done again on what they were made from: so pieces follow on that it has freed.
// Where it cannot these are free, and the outcome says so. The act has been committed.
func (a *Act[A]) keepFollowing(before *Project, args A, out Outcome) Outcome {
	for _, way := range waysToSay(before, args) {
		texts, err := argTexts(a.params, way)
		if err != nil || !repeatable[a.info.Name] {
			continue
		}
		step := Recorded{Act: a.info.Name, Args: texts, Next: max(before.NextID, 1), Until: out.Project.NextID}
		if next, err := record(before, out, step); err == nil {
			out.Project = next
			return out
		}
	}
	if len(out.freed) == 0 {
		return out // what it has changed is carried over as if it were done by hand
	}
	out.Leaves, out.Left = before.leaving(out.freed)
	if out.Left != "" {
		out.say("%s", out.Left)
	}
	out.Project = out.Project.shallow()
	out.Project.dropIdle(before)
	return out
}

// waysToSay returns the arguments as they were given and, where they name a line inside a
// piece, with the places at which it meets the outline: a line that the maker has drawn is
// not there when the piece is generated, and does not grow with it.
func waysToSay(before *Project, args any) []any {
	ways := []any{args}
	if by, ok := args.(interface {
		byPlaces(before *Project) (any, bool)
	}); ok {
		if placed, ok := by.byPlaces(before); ok {
			ways = append(ways, placed)
		}
	}
	return ways
}

// errNotRepeated says that an act makes something else of what was generated than it made
// of the pieces as they are.
var errNotRepeated = errors.New("done again it would make something else")

// recording is an act being recorded.
type recording struct {
	before, after *Project
	d             *Derivation
	step          Recorded
	// from and to are the pieces and seams as they were generated, before and after the
	// act was done on those too.
	from, to *Project
	roles    map[ID]string
}

// record returns the project after an act with the act recorded: the pieces that it took
// and made follow the derivation of those that it took. It is refused where they belong to
// more than one, or to none, and where the act makes something else of the pieces as they
// were generated.
func record(before *Project, out Outcome, step Recorded) (*Project, error) {
	r := &recording{before: before, after: out.Project, step: step, roles: make(map[ID]string)}
	if err := r.findDerivation(); err != nil {
		return nil, err
	}
	if err := r.generated(); err != nil {
		return nil, err
	}
	var err error
	if r.to, err = r.step.again(r.from); err != nil {
		return nil, err
	}
	if err := r.compare(); err != nil {
		return nil, err
	}
	next, err := r.followed()
	if err != nil {
		return nil, err
	}
	return next, r.prove(next)
}

// findDerivation finds the one derivation to which all pieces belong that the act has
// changed, made or taken away.
func (r *recording) findDerivation() error {
	for _, old := range r.before.Pieces {
		now := r.after.Piece(old.ID)
		if now == old || now != nil && old.Derived == nil {
			continue // it was free before: an act that needs it will not find it
		}
		if old.Derived == nil {
			return errNotRepeated
		}
		d := r.before.Derivation(old.Derived.Derivation)
		if d != nil && d.Kind != blockKind && now != nil && now.Derived != nil {
			continue // a link, which has followed
		}
		if d == nil || d.Kind != blockKind || r.d != nil && d != r.d {
			return errNotRepeated
		}
		r.d = d
	}
	size := 0
	for _, a := range r.step.Args {
		size += len(a.Value)
	}
	if r.d == nil || len(r.d.Steps) >= MaxRecorded || size > maxStepText || r.step.Until-r.step.Next > maxStepIDs {
		return errNotRepeated
	}
	return nil
}

// generated puts together the pieces and seams of the derivation as they were generated
// last.
func (r *recording) generated() error {
	r.from = &Project{NextID: r.step.Next}
	for _, piece := range r.before.PiecesOf(r.d) {
		if piece.Derived.Rest == nil {
			return errNotKept
		}
		r.from.Pieces = append(r.from.Pieces, piece.Derived.piece(piece.ID))
		r.roles[piece.ID] = piece.Derived.Role
	}
	for i := range r.d.Seams {
		s := r.d.Seams[i]
		r.from.Seams = append(r.from.Seams, &s)
	}
	r.from.dropLoose()
	return nil
}

// compare notes what the act took and made, and refuses where that is something else than
// of the pieces as they are.
func (r *recording) compare() error {
	var made []ID
	for _, old := range r.from.Pieces {
		if r.to.Piece(old.ID) != old {
			r.step.Pieces = append(r.step.Pieces, old.ID)
		}
	}
	for _, now := range r.to.Pieces {
		if r.from.Piece(now.ID) == nil {
			made = append(made, now.ID)
		}
	}
	if len(r.step.Pieces) == 0 || len(r.step.Pieces)+len(made) > MaxStepPieces || r.to.NextID != r.step.Until {
		return errNotRepeated
	}
	r.step.Pieces = append(r.step.Pieces, made...)
	for _, id := range r.step.Pieces {
		if (r.to.Piece(id) == nil) != (r.after.Piece(id) == nil) {
			return errNotRepeated
		}
	}
	for _, now := range r.after.Pieces {
		old := r.before.Piece(now.ID)
		if old == nil && !slices.Contains(made, now.ID) || now != old && r.wasOurs(old) && !slices.Contains(r.step.Pieces, now.ID) {
			return errNotRepeated
		}
	}
	for id, role := range r.step.rolesOf(r.from, r.to, r.roles) {
		r.roles[id] = role
	}
	return nil
}

func (r *recording) wasOurs(old *Piece) bool {
	return old != nil && old.Derived != nil && old.Derived.Derivation == r.d.ID
}

// followed returns the project in which the pieces follow on.
func (r *recording) followed() (*Project, error) {
	d := r.d.recorded(r.step)
	d.Roles, d.Stems = slices.Clone(d.Roles), r.allStems()
	next := r.after.shallow()
	next.Pieces = slices.Clone(next.Pieces)
	for i, piece := range next.Pieces {
		if !slices.Contains(r.step.Pieces, piece.ID) {
			continue
		}
		made := r.to.Piece(piece.ID).clone().madeBy(d.ID, r.roles[piece.ID])
		q := piece.clone()
		q.Derived = made.Derived
		if !q.carries() {
			return nil, errNotRepeated
		}
		next.Pieces[i] = q
		if !slices.Contains(d.Roles, made.Derived.Role) {
			d.Roles = append(d.Roles, made.Derived.Role)
		}
	}
	d.Seams = r.seams()
	next.Derivations = slices.Clone(next.Derivations)
	k := slices.IndexFunc(next.Derivations, func(o *Derivation) bool { return o.ID == d.ID })
	if k < 0 {
		return nil, errNotRepeated
	}
	next.Derivations[k] = d
	return next, nil
}

// seams returns the seams as they are generated with the act done: those of pieces that are
// gone stay as they were.
func (r *recording) seams() []Seam {
	var list []Seam
	for _, s := range r.d.Seams {
		if r.from.Seam(s.ID) == nil {
			list = append(list, s)
		}
	}
	for _, s := range r.to.Seams {
		list = append(list, *s)
	}
	return list
}

// allStems returns the ids of the block's pieces by their roles.
func (r *recording) allStems() []Stem {
	m := &remaking{before: r.before, out: &Outcome{Project: r.before}, d: r.d, dr: draftFor(r.d, r.before.WearerOf(r.d))}
	if m.dr.sheet == nil {
		return r.d.Stems
	}
	m.findStems()
	list := slices.Clone(r.d.Stems)
	for i := range m.dr.sheet.Pieces {
		if role := m.dr.sheet.Pieces[i].Role; r.d.stem(role) == "" {
			list = append(list, Stem{role, m.stems[role]})
		}
	}
	return list
}

// prove drafts the block and does all recorded acts again, and refuses the act where other
// things come out than now: a measure would only leave the pieces behind.
func (r *recording) prove(next *Project) error {
	d := next.Derivation(r.d.ID)
	m := redoFor(d, draftFor(d, next.WearerOf(d)))
	if err := m.trouble(); err != nil {
		return err
	}
	for _, piece := range next.PiecesOf(d) {
		if !slices.Contains(r.step.Pieces, piece.ID) {
			continue
		}
		made, err := m.generate(piece.Derived.Role, d.ID, piece.ID)
		if err != nil {
			return err
		}
		if !sameEdgeIDs(made.Edges, piece.Derived.Base) {
			return errNotRepeated
		}
	}
	for i := range m.seams {
		s := &m.seams[i]
		if was := d.seam(s.ID); was != nil && !(sameRun(s.A, was.A) && sameRun(s.B, was.B)) {
			return errNotRepeated
		}
	}
	return nil
}

// sameEdgeIDs reports whether two outlines have the same edges and points.
func sameEdgeIDs(a, b []Edge) bool {
	return slices.EqualFunc(a, b, func(x, y Edge) bool { return x.ID == y.ID && sameIDs(x.Nodes, y.Nodes) })
}
