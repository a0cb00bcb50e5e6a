package draft

import (
	"math"

	"hemlet/draft/body"
)

const (
	// wholeArm is how much shorter, as a share of the arm, a sleeve may be and still go all
	// the way down it: what it lacks is made up for by a cuff. Short ones have a length of
	// their own.
	wholeArm = 0.2
	// atElbow is up to which share of the arm a sleeve ends on the upper arm, and atWrist
	// from which on at the wrist; between them it ends at the elbow.
	atElbow, atWrist = 0.4, 0.72
	// nearTop is how far, as a share of the length of a sleeve, a node may lie below the
	// top of its cap and stand for it.
	nearTop = 0.01
)

// sleeve suggests the spans of a sleeve. How high its cap is follows from the armhole.
func (f *spanFinder) sleeve(pa *PieceAnatomy) {
	f.upperArm(pa)
	length := f.sleeveLength(pa)
	if f.isBanded(pa, AtWrist) {
		return
	}
	arm := f.mm(pa.Piece, "arm_length")
	measure := "wrist_girth"
	switch {
	case arm == 0:
	case length < atElbow*arm:
		measure = "upper_arm_girth"
	case length < atWrist*arm:
		measure = "elbow_girth"
	}
	ids, _ := f.edges(pa, AtWrist)
	if len(ids) == 0 {
		return
	}
	f.suggest(pa, spanDraft{Span{Name: "end of the sleeve", Measure: measure, Share: f.perArm(pa), Edges: ids}, nil, "where on the arm it ends", 0.85})
}

// perArm is which part of the way round one arm a piece has.
func (f *spanFinder) perArm(pa *PieceAnatomy) float64 {
	if pa.Half {
		return 0.5
	}
	return 1
}

// upperArm suggests the width of a sleeve under the arm.
func (f *spanFinder) upperArm(pa *PieceAnatomy) {
	span := Span{Name: "upper arm", Measure: "upper_arm_girth", Share: f.perArm(pa), Way: AcrossGrain}
	corners := pa.Corners(AtCap, AtUnderarm)
	switch {
	case len(corners) == 2 && !pa.Half:
		span.From, span.To = corners[0].ID, corners[1].ID
	case len(corners) == 1 && pa.Half:
		node := pa.middleNode(corners[0].At)
		if node == nil {
			return
		}
		span.From, span.To = corners[0].ID, node.ID
	default:
		return
	}
	f.suggest(pa, spanDraft{span, nil, "the sleeve across, under the arm", 0.95})
}

// sleeveLength suggests the length from the top of the cap to the end, and returns it.
func (f *spanFinder) sleeveLength(pa *PieceAnatomy) float64 {
	corners := pa.Corners(AtWrist, AtUnderarm)
	if len(corners) == 0 || !pa.Has(AtCap) {
		return 0
	}
	end := corners[0]
	top, right := math.Inf(-1), 0.0
	var node *Node
	for _, i := range pa.With(AtCap) {
		nodes := pa.Piece.EdgeNodes(i)
		for k := range nodes {
			if node == nil || pa.height(nodes[k].At) > pa.height(node.At) {
				node = &nodes[k]
			}
		}
		for _, q := range pa.Piece.EdgePath(i).Flatten(levelFlat) {
			if h := pa.height(q); h > top {
				top, right = h, pa.right(q)
			}
		}
	}
	length := top - pa.height(end.At)
	if !(length > 0) {
		return 0
	}
	span := Span{Name: "sleeve length", Measure: "arm_length", Share: 1, From: node.ID, To: end.ID, Way: AlongGrain}
	why := "from the top of the cap down to the end of the sleeve"
	if arm := f.mm(pa.Piece, "arm_length"); arm > 0 && length < (1-wholeArm)*arm {
		span.Share = 0
		why += ", which style decides"
	}
	var lines []Line
	if top-pa.height(node.At) > nearTop*length {
		line := Line{ID: f.ids.make(kindLine), Name: unusedName("middle of the sleeve", pa.Piece.hasLineName)}
		for _, h := range [...]float64{top, pa.height(end.At)} {
			line.Nodes = append(line.Nodes, Node{ID: f.ids.make(kindNode), At: onGrid(pa.at(right, h))})
		}
		lines = []Line{line}
		span.From, span.To, span.Way, span.Lines = "", "", Straight, []ID{line.ID}
	}
	f.suggest(pa, spanDraft{span, lines, why, 0.85})
	return length
}

// band suggests the span of a band to which something is gathered: where nothing is, the
// edge that it is sewn to has the span.
func (f *spanFinder) band(pa *PieceAnatomy) {
	part := bandEdge[pa.Part]
	measure := map[PiecePart]string{PartNeckBand: "neck_base_girth", PartCuff: "wrist_girth", PartWaistBand: body.GirthOf("waist")}[pa.Part]
	if !f.carriesSpan(pa, part) {
		return
	}
	ids, _ := f.edges(pa, part)
	if len(ids) == 0 {
		return
	}
	share := 1.
	if pa.Half || pa.Part != PartCuff && pa.Piece.Cut.Way == CutPairs {
		share = 0.5
	}
	why := "the band goes round " + bandPlaces[pa.Part]
	f.suggest(pa, spanDraft{Span{Name: labelOf(part.String(), ""), Measure: measure, Share: share, Edges: ids}, nil, why, 0.95})
}

// carriesSpan reports whether a band is measured and not what it is sewn to: what is
// gathered to it, or nothing is sewn to it.
func (f *spanFinder) carriesSpan(pa *PieceAnatomy, part EdgePart) bool {
	sewn := false
	for _, seam := range f.anatomy.seams {
		for _, sides := range [...][2]Run{{seam.A, seam.B}, {seam.B, seam.A}} {
			for _, u := range sides[0] {
				if u.Piece != pa.Piece.ID || f.anatomy.Edge(u.Piece, u.Edge).Part != part {
					continue
				}
				for _, v := range sides[1] {
					if f.banded[edgeKey{v.Piece, v.Edge}] {
						return true
					}
					sewn = true
				}
			}
		}
	}
	return !sewn
}
