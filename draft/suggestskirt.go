package draft

import "math"

// skirt suggests the spans of what hangs from the waist.
func (f *spanFinder) skirt(g spanGroup) {
	for _, pa := range g {
		t := &trunkSpans{spanFinder: f, group: g}
		ids, _ := f.edges(pa, AtWaist)
		if len(ids) > 0 && !f.isBanded(pa, AtWaist) {
			t.roundEdges(pa, "waist", "waist", ids, AtWaist, "its share of the waist", 0.95)
		}
		waist, hem := pa.ends(AtWaist), pa.ends(AtHem)
		if waist == nil || hem == nil {
			continue
		}
		f.skirtHip(t, pa, waist)
		if ids, _ = f.edges(pa, AtHem); len(ids) > 0 {
			t.roundEdges(pa, "hem", "hip", ids, AtHem, "its share of the way round the hips, with the fullness that it has", 0.6)
		}
		f.suggest(pa, spanDraft{
			Span{Name: "length", Measure: "waist_height", From: waist.ID, To: hem.ID, Way: AlongGrain}, nil,
			"its hem hangs at the same share of the height above the ground; style decides", 0.85,
		})
	}
}

// ends returns the corner of a part that lies in the middle of the body or, without one,
// at a side.
func (pa *PieceAnatomy) ends(part EdgePart) *Node {
	if n := pa.middleOf(part); n != nil {
		return n
	}
	if list := pa.Corners(part, AtSide); len(list) > 0 {
		return &list[0]
	}
	return nil
}

// skirtHip suggests the width at the hips of a skirt that follows the body there.
func (f *spanFinder) skirtHip(t *trunkSpans, pa *PieceAnatomy, waist *Node) {
	down, girth := f.mm(pa.Piece, "waist_to_hip"), f.mm(pa.Piece, "hip_girth")
	if !(down > 0 && girth > 0) {
		return
	}
	width := func(o *PieceAnatomy) float64 {
		n := o.ends(AtWaist)
		if n == nil {
			return 0
		}
		return o.widthAt(o.height(n.At) - down)
	}
	whole := 0.0
	for _, o := range t.group {
		whole += width(o) * o.times()
	}
	if whole > followsBody*girth || width(pa) == 0 {
		return
	}
	l := f.level(pa, "hip", pa.height(waist.At)-down, atLevel*down)
	if l == nil {
		return
	}
	span, ok := Span{Name: "hip", Lines: l.ids}, false
	if span.Measure, span.Share, ok = t.group.round(pa, "hip", width); !ok {
		return
	}
	f.suggest(pa, spanDraft{span, l.lines, "the panel across, at the level of the hips", 0.85})
}

// legs suggests the spans of trousers.
func (f *spanFinder) legs(g spanGroup) {
	for _, pa := range g {
		t := &trunkSpans{spanFinder: f, group: g}
		if ids, _ := f.edges(pa, AtWaist); len(ids) > 0 && !f.isBanded(pa, AtWaist) {
			t.roundEdges(pa, "waist", "waist", ids, AtWaist, "its share of the waist", 0.95)
		}
		if corners := pa.Corners(AtWaist, AtSide); len(corners) == 1 {
			f.skirtHip(t, pa, &corners[0])
		}
		f.rise(pa)
		f.thigh(pa, g)
		f.legLength(pa)
		if ids, length := f.edges(pa, AtAnkle); len(ids) > 0 {
			whole := 0.0
			for _, o := range g {
				_, l := f.edges(o, AtAnkle)
				whole += l * o.times() / 2
			}
			measure := "ankle_girth"
			if leg := f.mm(pa.Piece, "inside_leg"); leg > 0 {
				if _, own := f.edges(pa, AtInsideLeg); own < leg/2 {
					measure = "thigh_girth"
				} else if own < (1-wholeArm)*leg {
					measure = "knee_girth"
				}
			}
			f.suggest(pa, spanDraft{Span{Name: "end of the leg", Measure: measure, Share: shareIn(length, whole), Edges: ids}, nil, "its share of the way round the leg where it ends", 0.8})
		}
	}
}

// rise suggests how far the crotch lies below the waist.
func (f *spanFinder) rise(pa *PieceAnatomy) {
	waist, crotch := pa.Corner(AtWaist, AtSide), pa.Corner(AtCrotch, AtInsideLeg)
	if waist == nil || crotch == nil {
		return
	}
	f.suggest(pa, spanDraft{
		Span{Name: "rise", Measure: "body_rise", Share: 1, From: waist.ID, To: crotch.ID, Way: AlongGrain}, nil,
		"from the waist down to the level of the crotch", 0.9,
	})
}

// thigh suggests the width at the level of the crotch.
func (f *spanFinder) thigh(pa *PieceAnatomy, g spanGroup) {
	crotch := pa.Corner(AtCrotch, AtInsideLeg)
	if crotch == nil {
		return
	}
	width := func(o *PieceAnatomy) float64 {
		c := o.Corner(AtCrotch, AtInsideLeg)
		if c == nil {
			return 0
		}
		return o.widthAt(o.height(c.At) - 2*shortestStretch)
	}
	whole := 0.0
	for _, o := range g {
		whole += width(o) * o.times() / 2
	}
	l := f.level(pa, "thigh", pa.height(crotch.At)-2*shortestStretch, shortestStretch)
	if l == nil || !(width(pa) > 0) {
		return
	}
	f.suggest(pa, spanDraft{
		Span{Name: "thigh", Measure: "thigh_girth", Share: shareIn(width(pa), whole), Lines: l.ids}, l.lines,
		"its share of the way round the leg, at the level of the crotch", 0.85,
	})
}

// legLength suggests the length of the inside of the leg.
func (f *spanFinder) legLength(pa *PieceAnatomy) {
	ids, length := f.edges(pa, AtInsideLeg)
	if len(ids) == 0 {
		return
	}
	span := Span{Name: "inside leg", Measure: "inside_leg", Share: 1, Edges: ids}
	why := "from the crotch down the inside of the leg"
	if leg := f.mm(pa.Piece, "inside_leg"); leg > 0 && math.Abs(length-leg) > wholeArm*leg {
		span.Share = 0
		why += ", to where style ends it"
	}
	f.suggest(pa, spanDraft{span, nil, why, 0.9})
}
