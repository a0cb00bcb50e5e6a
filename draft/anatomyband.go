package draft

import "math"

// bands finds the bands: long rectangles that are sewn to the neck, to the end of a sleeve
// or to the waist, or are called after them.
func (a *anatomist) bands(out *Anatomy) {
	for _, look := range a.looks {
		pa := out.of[look.piece.ID]
		named := look.partByName()
		isBand := named == PartNeckBand || named == PartCuff || named == PartWaistBand
		if isTrimming(look.piece.Name) || !look.band && !isBand || pa.Part != PartUnknown && !isBand {
			continue
		}
		part, inner := a.bandSewnTo(look, out)
		why, sure := "it is a long strip, sewn to "+bandPlaces[part], 0.85
		if part == PartUnknown && isBand {
			part, why, sure = named, "its name says so", sureOfNames
		}
		half := look.piece.Cut.Way == CutOnFold
		if part == PartUnknown {
			part, half = a.bandAsLong(look, out)
			why, sure = "it is a strip as long as "+bandPlaces[part], sureOfStrip
		}
		if part == PartUnknown {
			continue
		}
		pa.Part, pa.Why, pa.Sure, pa.Half = part, why, sure, half
		pa.nameBandEdges(look, inner)
	}
}

// bandPlaces says where a band of each part is sewn on.
var bandPlaces = map[PiecePart]string{PartNeckBand: "the neck", PartCuff: "the end of a sleeve", PartWaistBand: "the waist"}

// bandEdge is what the sewn edge of a band of each part is.
var bandEdge = map[PiecePart]EdgePart{PartNeckBand: AtNeck, PartCuff: AtWrist, PartWaistBand: AtWaist}

// bandSewnTo returns what a band is by what it is sewn to, and the edge that is.
func (a *anatomist) bandSewnTo(look *pieceLook, out *Anatomy) (PiecePart, int) {
	for _, seam := range a.seams {
		for _, sides := range [...][2]Run{{seam.A, seam.B}, {seam.B, seam.A}} {
			for _, u := range sides[0] {
				if u.Piece != look.piece.ID {
					continue
				}
				_, i := look.piece.Edge(u.Edge)
				if i < 0 || !look.long(i) {
					continue
				}
				for _, v := range sides[1] {
					other := out.Edge(v.Piece, v.Edge).Part
					if v.Piece == look.piece.ID {
						continue
					}
					switch other {
					case AtNeck:
						return PartNeckBand, i
					case AtWrist:
						return PartCuff, i
					case AtWaist, AtHem:
						if on := out.of[v.Piece]; on != nil && on.Part != PartSleeve && other == AtWaist {
							return PartWaistBand, i
						}
					}
				}
			}
		}
	}
	return PartUnknown, -1
}

const (
	// sureOfStrip is how sure it makes that a strip is as long as what it may be sewn to.
	sureOfStrip = 0.6
	// stripFits is by which share the two may differ: a band is cut to the neck and not
	// eased into it.
	stripFits = 0.02
)

// bandAsLong returns what a strip is by its length: a neck band where it is as long as the
// neck of its garment is round, or half as long, as it may be drawn; a cuff where it is as long
// as the end of a sleeve. Nothing is known where it is both.
func (a *anatomist) bandAsLong(look *pieceLook, out *Anatomy) (part PiecePart, half bool) {
	longest := 0.0
	for _, l := range look.lengths {
		longest = max(longest, l)
	}
	folded := look.piece.Cut.Way == CutOnFold
	is := func(times, round float64) bool { return round > 0 && math.Abs(times*longest-round) <= stripFits*round }
	neck, times := a.neckRound(look.piece, out), 1.
	if folded {
		times = 2
	}
	if half = is(2, neck); half || is(times, neck) {
		part = PartNeckBand
	}
	for _, pa := range out.Pieces {
		if pa.Part != PartSleeve || !a.together(pa.Piece, look.piece) {
			continue
		}
		round := pa.along(a.of[pa.Piece.ID], AtWrist)
		if pa.Half {
			round *= 2
		}
		switch {
		case !is(times, round):
		case part == PartNeckBand:
			return PartUnknown, false
		default:
			part, half = PartCuff, folded
		}
	}
	return part, half
}

// neckRound returns how long the necks of fronts and backs are together that are worn with a
// piece, over all copies, in mm; 0 where there is not one of each.
func (a *anatomist) neckRound(with *Piece, out *Anatomy) float64 {
	sum := 0.0
	var front, back bool
	for _, pa := range out.Pieces {
		if pa.Part != PartTrunk || !pa.Has(AtNeck) || !a.together(pa.Piece, with) {
			continue
		}
		sum += pa.along(a.of[pa.Piece.ID], AtNeck) * pa.times()
		front, back = front || pa.Aspect == AspectFront, back || pa.Aspect == AspectBack
	}
	if !front || !back {
		return 0
	}
	return sum
}

// along returns how long the edges of a part are, in mm.
func (pa *PieceAnatomy) along(look *pieceLook, part EdgePart) float64 {
	sum := 0.0
	for _, i := range pa.With(part) {
		sum += look.lengths[i]
	}
	return sum
}

// together reports whether two pieces are worn as one: of one layer and, where both have one,
// of one garment.
func (a *anatomist) together(p, q *Piece) bool {
	return p.Layer == q.Layer && (p.Garment == q.Garment || p.Garment == "" || q.Garment == "")
}

// long reports whether an edge is one of the long ones of a band.
func (look *pieceLook) long(i int) bool {
	longest := 0.0
	for _, l := range look.lengths {
		longest = max(longest, l)
	}
	return look.lengths[i] > longest/2
}

// nameBandEdges says what the edges of a band are: the one that is sewn on, known by its
// index or by its name, the free long one, and the ends.
func (pa *PieceAnatomy) nameBandEdges(look *pieceLook, inner int) {
	part := bandEdge[pa.Part]
	if inner < 0 {
		for i := range pa.Edges {
			if look.told[i].name == part && look.long(i) {
				inner = i
			}
		}
	}
	for i := range pa.Edges {
		e := &pa.Edges[i]
		e.Sure, e.Why = pa.Sure, "by the shape of the band"
		switch {
		case i == inner:
			e.Part, e.Why = part, "it is sewn to "+bandPlaces[pa.Part]
		case look.long(i):
			e.Part = AtOuter
		case look.piece.Edges[i].Kind == FoldEdge:
			e.Part = AtCentre
		default:
			e.Part = AtEnd
		}
	}
	if inner < 0 {
		// Nothing tells which long edge is sewn on: they are as long.
		for i := range pa.Edges {
			if pa.Edges[i].Part == AtOuter {
				pa.Edges[i].Part, pa.Edges[i].Why = part, "one long edge of the band is as good as the other"
				return
			}
		}
	}
}
