package draft

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
		if part == PartUnknown {
			continue
		}
		pa.Part, pa.Why, pa.Sure, pa.Half = part, why, sure, look.piece.Cut.Way == CutOnFold
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
