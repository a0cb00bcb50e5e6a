package draft

import "hemlet/geom/warp"

// linesAcross lists where lines run on across the seams of a pattern, which they are to go on
// doing: hems, necks, armholes, gathered ones too, which are cut before they are gathered. A
// corner that nobody takes for one line is left out.
func (b *fitBasis) linesAcross() []warp.Joint {
	given := make(map[ID]*givingPiece, len(b.m.given))
	for _, g := range b.m.given {
		given[g.piece.ID] = g
	}
	var list []warp.Joint
	told := make(map[[2]edgeCorner]bool)
	for _, j := range NewSlots().Joints(b.project) {
		if j.Corner() || told[j.lines()] {
			continue
		}
		told[j.lines()] = true
		joint := warp.Joint{cornerIn(given, j.A, true), cornerIn(given, j.B, true)}
		for _, side := range j.Between {
			joint = append(joint, cornerIn(given, side, false))
		}
		list = append(list, joint)
	}
	return list
}

// cornerIn returns the corner of a piece at a joint. ends says that the line that runs on ends
// there; a piece in between is laid to the next along what JointSide has as its line.
func cornerIn(given map[ID]*givingPiece, side JointSide, ends bool) warp.Corner {
	g, i := given[side.Piece.ID], side.lineIndex()
	if side.LineEnd == EdgeFinish {
		return warp.Corner{Shape: g.shape, Node: g.end(i), Comes: ends}
	}
	return warp.Corner{Shape: g.shape, Node: g.first[i], Leaves: ends}
}
