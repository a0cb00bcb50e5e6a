package draft

// Waiver is a finding that the maker has decided to live with.
type Waiver struct {
	// Finding is the stable key of the finding; see Finding.Key.
	Finding, Reason string
}

// Project is the whole document: every piece, seam, cloth and wearer of one piece
// of work. It is a value; see the package comment.
type Project struct {
	Name string
	// Unit is what lengths are shown and typed in.
	Unit Unit
	// NextID is the number that the next new thing gets.
	NextID      int
	Wearers     []*Wearer
	Cloths      []*Cloth
	Pieces      []*Piece
	Seams       []*Seam
	Pictures    []*Picture
	Origins     []*Origin
	Derivations []*Derivation
	Waivers     []Waiver
	// Notes were taken at fittings of the toile; Versions are what was kept to compare.
	Notes    []*ToileNote
	Versions []*Version
}

// New returns an empty project with a name.
func New(name string) *Project { return &Project{Name: name, Unit: Millimetre, NextID: 1} }

// Piece returns the piece with the id, or nil.
func (p *Project) Piece(id ID) *Piece {
	if i := p.pieceIndex(id); i >= 0 {
		return p.Pieces[i]
	}
	return nil
}

// Seam returns the seam with the id, or nil.
func (p *Project) Seam(id ID) *Seam {
	for _, s := range p.Seams {
		if s.ID == id {
			return s
		}
	}
	return nil
}

// Cloth returns the cloth with the id, or nil.
func (p *Project) Cloth(id ID) *Cloth {
	for _, c := range p.Cloths {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// Wearer returns the wearer with the id, or nil.
func (p *Project) Wearer(id ID) *Wearer {
	for _, w := range p.Wearers {
		if w.ID == id {
			return w
		}
	}
	return nil
}

// Picture returns the picture with the id, or nil.
func (p *Project) Picture(id ID) *Picture {
	for _, pic := range p.Pictures {
		if pic.ID == id {
			return pic
		}
	}
	return nil
}

// Origin returns the origin with the id, or nil.
func (p *Project) Origin(id ID) *Origin {
	for _, o := range p.Origins {
		if o.ID == id {
			return o
		}
	}
	return nil
}

func (p *Project) pieceIndex(id ID) int {
	for i, piece := range p.Pieces {
		if piece.ID == id {
			return i
		}
	}
	return -1
}

// shallow returns a copy of p whose own fields may be set; its slices are still
// shared with p and must be replaced, not written to.
func (p *Project) shallow() *Project {
	q := *p
	return &q
}

// withPiece returns p with the piece of the same id replaced.
func (p *Project) withPiece(piece *Piece) *Project {
	q := p.shallow()
	q.Pieces = append([]*Piece(nil), p.Pieces...)
	q.Pieces[p.pieceIndex(piece.ID)] = piece
	return q
}
