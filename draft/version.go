package draft

// Version is the pattern as it was when its maker kept it, printed for a toile say, so that
// a later one can be laid beside it.
type Version struct {
	ID   ID
	Name string
	// Pieces bear the ids of the project's pieces, as far as these are still there. They
	// have no cloth, no origin and no derivation.
	Pieces []*Piece
}

// MaxVersions bounds the versions that a project keeps.
const MaxVersions = 50

// Version returns the version with the id, or nil.
func (p *Project) Version(id ID) *Version {
	for _, v := range p.Versions {
		if v.ID == id {
			return v
		}
	}
	return nil
}

// Piece returns the piece with the id as it was, or nil.
func (v *Version) Piece(id ID) *Piece {
	for _, p := range v.Pieces {
		if p.ID == id {
			return p
		}
	}
	return nil
}
