package draft

// maker generates the pieces of a derivation from what the derivation reads: a block
// drafted for a wearer, another piece, or a pattern that is fitted to a body. What it generates has nothing changed by
// hand; to bring that together with what a maker has made of it is the same work
// whatever generated it.
type maker interface {
	// trouble says why nothing can be generated, nil where something can.
	trouble() error
	// makes reports whether it generates a piece for the role.
	makes(role string) bool
	// generate returns the piece of a role under an id, on the grid, with Derived set.
	generate(role string, derivation, id ID) (*Piece, error)
	// renames reports whether edges may bear other ids than when they were generated
	// last, so that what refers to them has to be led from the old ones to the new.
	renames() bool
}

// makerOf returns what generates the pieces of a derivation of the project, or nil
// where its kind generates nothing.
func (p *Project) makerOf(d *Derivation) maker {
	switch d.Kind {
	case blockKind:
		dr := draftFor(d, p.WearerOf(d))
		if len(d.Steps) > 0 {
			return redoFor(d, dr)
		}
		return dr
	case pieceKind:
		return linkFor(d, p.parentOf(d))
	case fitKind:
		return p.fittedOf(d)
	}
	return nil
}

// maker is Project.makerOf, kept for as long as what the derivation reads is the same.
func (s *Slots) maker(p *Project, d *Derivation) maker {
	switch d.Kind {
	case blockKind:
		dr := s.drafted(p, d)
		if len(d.Steps) == 0 {
			return dr
		}
		return slotOf(s, "redone", d.ID, slotInputs{d, dr}, func() *redone { return redoFor(d, dr) })
	case pieceKind:
		parent := p.parentOf(d)
		return slotOf(s, "linked", d.ID, slotInputs{d, parent}, func() *linked { return linkFor(d, parent) })
	case fitKind:
		return s.fitted(p, d)
	}
	return nil
}

func (dr *drafted) trouble() error { return dr.err }

func (dr *drafted) makes(role string) bool { return dr.piece(role) != nil }

func (dr *drafted) generate(role string, derivation, id ID) (*Piece, error) {
	sp := dr.piece(role)
	if sp == nil {
		return nil, noRole(role)
	}
	return pieceOf(dr, sp, derivation, id)
}

// renames is false: a block names its edges.
func (dr *drafted) renames() bool { return false }
