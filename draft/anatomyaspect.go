package draft

import (
	"math"
	"slices"
)

// frontNeck is from which depth of the neck, as a share of its width, a piece that hangs
// together with no other is taken for a front: a back neck is far wider than deep. (Common
// practice, no source.)
const frontNeck = 0.65

// aspects tells fronts and backs apart: by the names of pieces and of their middles, by a
// neck that is deeper than that of the piece it is sewn to.
func (a *anatomist) aspects(out *Anatomy) {
	for _, pa := range out.Pieces {
		if pa.Aspect == AspectUnknown {
			pa.Aspect = pa.aspectOfMiddle()
		}
	}
	for _, pa := range out.Pieces {
		if pa.Part != PartTrunk || pa.Aspect != AspectUnknown {
			continue
		}
		pa.Aspect = pa.aspectBeside(a.beside(pa, out))
	}
	// What is sewn at the side to a front is a back.
	for _, pa := range out.Pieces {
		if pa.Aspect != AspectUnknown || pa.Part == PartSleeve || pa.Part == PartUnknown {
			continue
		}
		for _, other := range a.beside(pa, out) {
			if other.Aspect != AspectUnknown {
				pa.Aspect = other.Aspect.other()
			}
		}
	}
	for _, pa := range out.Pieces {
		for i := range pa.Edges {
			if pa.Edges[i].Part != AtCentre || pa.Part == PartSleeve || pa.Part == PartCuff {
				continue
			}
			switch pa.Aspect {
			case AspectFront:
				pa.Edges[i].Part = AtCentreFront
			case AspectBack:
				pa.Edges[i].Part = AtCentreBack
			}
		}
	}
}

func (a Aspect) other() Aspect {
	switch a {
	case AspectFront:
		return AspectBack
	case AspectBack:
		return AspectFront
	}
	return AspectUnknown
}

// aspectOfMiddle returns what the name of its middle says of a piece.
func (a *PieceAnatomy) aspectOfMiddle() Aspect {
	return aspectOf(a.Has(AtCentreFront), a.Has(AtCentreBack))
}

// aspectOf returns the aspect of what speaks for a front, for a back, or, which tells nothing,
// for both.
func aspectOf(front, back bool) Aspect {
	switch {
	case front && !back:
		return AspectFront
	case back && !front:
		return AspectBack
	}
	return AspectUnknown
}

// beside returns the pieces of the same part to which the sides or shoulders of a piece are
// sewn; where none is, those of its garment.
func (a *anatomist) beside(pa *PieceAnatomy, out *Anatomy) []*PieceAnatomy {
	var list []*PieceAnatomy
	add := func(other *PieceAnatomy) {
		if other != nil && other != pa && other.Part == pa.Part && !slices.Contains(list, other) {
			list = append(list, other)
		}
	}
	for _, seam := range a.seams {
		for _, u := range seam.A {
			for _, v := range seam.B {
				if u.Piece == v.Piece || u.Piece != pa.Piece.ID && v.Piece != pa.Piece.ID {
					continue
				}
				if part := out.Edge(u.Piece, u.Edge).Part; part != AtSide && part != AtShoulder {
					continue
				}
				add(out.of[u.Piece])
				add(out.of[v.Piece])
			}
		}
	}
	if len(list) > 0 {
		return list
	}
	for _, other := range out.Pieces {
		if other.Piece.Garment == pa.Piece.Garment && other.Piece.Layer == pa.Piece.Layer {
			add(other)
		}
	}
	return list
}

// aspectBeside tells by the depth of the neck whether a piece is a front or a back.
func (a *PieceAnatomy) aspectBeside(others []*PieceAnatomy) Aspect {
	deep, ok := a.neckDepth()
	if !ok {
		return AspectUnknown
	}
	for _, other := range others {
		depth, ok := other.neckDepth()
		if !ok || math.Abs(depth-deep) <= Grid {
			continue
		}
		if deep > depth {
			return AspectFront
		}
		return AspectBack
	}
	if deep >= frontNeck {
		return AspectFront
	}
	return AspectBack
}

// neckDepth returns how deep the neck is cut, as a share of its width.
func (a *PieceAnatomy) neckDepth() (float64, bool) {
	point, middle := a.NeckPoint(), a.NeckMiddle()
	if point == nil || middle == nil {
		return 0, false
	}
	d := point.At.Sub(middle.At)
	width := math.Abs(d.Cross(a.Up))
	if width <= Grid {
		return 0, false
	}
	return d.Dot(a.Up) / width, true
}

// hems tells the lower edges apart: what is sewn to a skirt, to a waistband or to another
// waist is a waist.
func (a *anatomist) hems(out *Anatomy) {
	for _, seam := range a.seams {
		for _, sides := range [...][2]Run{{seam.A, seam.B}, {seam.B, seam.A}} {
			for _, u := range sides[0] {
				pa := out.of[u.Piece]
				if pa == nil || pa.Part != PartTrunk {
					continue
				}
				_, i := pa.Piece.Edge(u.Edge)
				if i < 0 || pa.Edges[i].Part != AtHem {
					continue
				}
				for _, v := range sides[1] {
					if other := out.Edge(v.Piece, v.Edge); other.Part == AtWaist {
						pa.Edges[i].Part, pa.Edges[i].Why = AtWaist, "it is sewn to the waist of "+a.p.pieceLabel(v.Piece)
					}
				}
			}
		}
	}
}

func (p *Project) pieceLabel(id ID) string {
	if piece := p.Piece(id); piece != nil {
		return piece.label()
	}
	return string(id)
}
