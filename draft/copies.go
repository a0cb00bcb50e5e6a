package draft

import "hemlet/geom"

// Copy is one bit of cloth that a piece is cut as.
type Copy struct {
	Ref CopyRef
	// Mirror says that the copy is the mirror image of the piece as drawn.
	Mirror bool
}

// Copies lists every copy that the piece's cut rule makes, rights before lefts.
func (p *Piece) Copies() []Copy {
	count := max(p.Cut.Count, 1)
	out := make([]Copy, 0, p.Cut.Copies())
	for n := 1; n <= count; n++ {
		out = append(out, Copy{Ref: CopyRef{Number: n}})
	}
	if p.Cut.Way == CutPairs {
		for n := 1; n <= count; n++ {
			out = append(out, Copy{Ref: CopyRef{Number: n, Mirrored: true}, Mirror: true})
		}
	}
	return out
}

// Affine returns the map from the piece's own millimetres to this copy's: the
// identity, or the mirror image about the piece's vertical line x = 0.
func (c Copy) Affine() geom.Affine {
	if c.Mirror {
		return geom.Scaling(-1, 1)
	}
	return geom.Identity
}
