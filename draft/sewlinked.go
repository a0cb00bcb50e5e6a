package draft

import "slices"

// sewToParent records that an edge of a linked piece is sewn to its fellow in the
// parent, right sides together, unless that is sewn to something already; it tells so
// then. The seam holds as the edges are drawn.
func (o *Outcome) sewToParent(made, parent *Piece, edge ID, name string, ids *idSource) {
	p := o.Project
	own := newLinkIDs(made.ID).of(edge)
	e, _ := parent.Edge(edge)
	if mine, _ := made.Edge(own); e == nil || mine == nil || e.Kind == FoldEdge {
		return
	}
	if s := p.sewnIn(parent.ID, edge); s != nil {
		o.say("Edge %s of %s is sewn in seam %s already; that %s goes with it is not recorded.", e.label(), parent.label(), s.label(), made.label())
		return
	}
	s := &Seam{A: Run{use(parent.ID, edge)}, B: Run{use(made.ID, own)}, Ratio: 1, To: 1}
	p.matchOwnMirror(s)
	p.matchEnds(s)
	p.meanLengths(s)
	if o.record(s, name, ids) && s.Ratio > 1 {
		o.sayEased(s, made, parent)
	}
}

// sayEased tells that two edges of a piece and of what is made of it are not equally long,
// as a neck is longer where it lies farther inside: which of them is eased in, and whether
// that is more than can be.
func (o *Outcome) sayEased(s *Seam, made, parent *Piece) {
	p := o.Project
	a, b, fuller := p.runLength(s.A), p.runLength(s.B), parent
	if s.Fuller == SideB {
		a, b, fuller = b, a, made
	}
	o.say("Along %s %s is %s longer and is eased in, %.2f to 1.", s.Name, fuller.label(), p.Unit.FormatSmall(a-b), s.Ratio)
	if s.Ratio > easeTo {
		o.say("That is more than eases in unseen, %.2f to 1; let %s lie less far inside there.", easeTo, made.label())
	}
}

// use names an edge of the first copy of a piece as it is drawn.
func use(piece, edge ID) EdgeUse {
	return EdgeUse{Piece: piece, Edge: edge, Copy: CopyRef{Number: 1}}
}

// record adds a seam under a name that no other bears, for both sides of the body where
// there are two.
func (o *Outcome) record(s *Seam, name string, ids *idSource) bool {
	p := o.Project
	s.Name = unusedName(name, func(n string) bool {
		return slices.ContainsFunc(p.Seams, func(other *Seam) bool { return other.Name == n })
	})
	var quiet Outcome // that it stands for both sides goes without saying here
	if err := p.setBothSides(s, nil, &quiet); err != nil || p.checkRuns(s) != nil {
		return false
	}
	s.ID = ids.make(kindSeam)
	p.Seams = append(slices.Clip(p.Seams), s)
	o.say("Seam %s is recorded.", s.Name)
	return true
}

// sewnIn returns the first seam that sews the edge, or nil.
func (p *Project) sewnIn(piece, edge ID) *Seam {
	if seams := p.seamsAt(EdgeRef{piece, edge}); len(seams) > 0 {
		return seams[0]
	}
	return nil
}

// sewLikeParents records the seams between linked pieces of one role that are sewn as
// their parents are: the side of a lining to the side of the next one. Seams of which a
// piece, or an edge, has no fellow are left out.
func (o *Outcome) sewLikeParents(made *Piece, ids *idSource) {
	p := o.Project
	parent := p.ParentOf(made)
	if parent == nil {
		return
	}
	fellows := p.fellowsOf(made.Derived.Role)
	fellows[parent.ID] = made
	for _, s := range slices.Clone(p.Seams) {
		if !s.sews(map[ID]bool{parent.ID: true}) {
			continue
		}
		like := *s
		like.Marks = nil // its pieces have the notches of their parents
		okA, okB := false, false
		like.A, okA = p.fellowRun(s.A, fellows)
		like.B, okB = p.fellowRun(s.B, fellows)
		if !okA || !okB || p.anySewn(like.A, like.B) {
			continue
		}
		if p.lengthsHold(s) && !p.lengthsHold(&like) {
			if like.Fullness == Gathers || like.Fullness == Pleats {
				p.meanFullness(&like)
			} else {
				p.meanLengths(&like)
			}
		}
		o.record(&like, s.label()+" "+made.Derived.Role, ids)
	}
}

// fellowsOf returns the linked pieces of a role by their parents, the first of each.
func (p *Project) fellowsOf(role string) map[ID]*Piece {
	out := make(map[ID]*Piece)
	for _, piece := range p.Pieces {
		parent := p.ParentOf(piece)
		if parent == nil || piece.Derived.Role != role || out[parent.ID] != nil {
			continue
		}
		out[parent.ID] = piece
	}
	return out
}

// fellowRun returns the run along the fellows of what a run goes along, false where one
// has none.
func (p *Project) fellowRun(run Run, fellows map[ID]*Piece) (Run, bool) {
	out := make(Run, len(run))
	for i, u := range run {
		made, parent := fellows[u.Piece], p.Piece(u.Piece)
		if made == nil || parent == nil {
			return nil, false
		}
		own := newLinkIDs(made.ID).of(u.Edge)
		e, _ := made.Edge(own)
		if e == nil || e.Kind == FoldEdge {
			return nil, false
		}
		out[i] = u
		out[i].Piece, out[i].Edge = made.ID, own
		if p.isTurnedOver(made) {
			out[i].Reversed = !u.Reversed
		}
		if p.useExists(out[i]) != nil {
			return nil, false
		}
	}
	return out, len(out) > 0
}

// isTurnedOver reports whether a linked piece is the mirror image of its parent, so that
// its edges run the other way.
func (p *Project) isTurnedOver(made *Piece) bool {
	d := p.Derivation(made.Derived.Derivation)
	mirrored, _ := d.Setting(settingMirrored)
	return mirrored == "yes"
}

// anySewn reports whether an edge of the runs is sewn already.
func (p *Project) anySewn(runs ...Run) bool {
	for _, run := range runs {
		for _, u := range run {
			if p.sewnIn(u.Piece, u.Edge) != nil {
				return true
			}
		}
	}
	return false
}

// lengthsHold reports whether the sides of a seam are as long as it means them to be.
func (p *Project) lengthsHold(s *Seam) bool {
	state, err := NewSlots().SeamState(p, s)
	return err == nil && state.Holds
}

// meanFullness sets the ratio of a gathered or pleated seam to that of its sides as they
// are drawn.
func (p *Project) meanFullness(s *Seam) {
	a, b := p.runLength(s.A), p.runLength(s.B)
	if s.Fuller == SideB {
		a, b = b, a
	}
	if a >= b && b > 0 {
		s.Ratio = min(a/b, MaxRatio)
	}
}
