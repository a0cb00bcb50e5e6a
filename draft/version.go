package draft

// Version is the pattern as it was when its maker kept it, printed for a toile say, so that
// a later one can be laid beside it.
type Version struct {
	ID   ID
	Name string
	// Pieces bear the ids of the project's pieces, as far as these are still there. They
	// have no cloth, no origin and no derivation.
	Pieces []*Piece
	// Seams are those that sew these pieces.
	Seams []*Seam
	// Follows is the earlier version in whose arrangement the pages of this one were printed:
	// only those that had changed. It is empty where all were printed.
	Follows ID
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
func (v *Version) Piece(id ID) *Piece { return pieceIn(v.Pieces, id) }

// AsOf returns the project as it was when a version was kept: its pieces and seams. Cloths,
// wearers and pictures are those of now, and so is which piece is of which cloth.
func (p *Project) AsOf(v *Version) *Project {
	q := p.shallow()
	q.Seams, q.Waivers, q.Notes, q.Versions = v.Seams, nil, nil, nil
	q.Pieces = make([]*Piece, len(v.Pieces))
	for i, was := range v.Pieces {
		q.Pieces[i] = was
		if now := p.Piece(was.ID); now != nil {
			own := *was
			own.Cloth, own.Origin, own.Derived = now.Cloth, now.Origin, now.Derived
			q.Pieces[i] = &own
		}
	}
	return q
}

// LastVersion returns the version that was kept last, or nil.
func (p *Project) LastVersion() *Version {
	if len(p.Versions) == 0 {
		return nil
	}
	return p.Versions[len(p.Versions)-1]
}
