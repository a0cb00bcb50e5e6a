package draft

import (
	"math"
	"slices"
)

// sureOfPart is how sure, from 0 to 1, the anatomy must be of an edge before it tells what
// the edge is sewn to.
const sureOfPart = 0.4

// lineOfPart is the line of the garment that each part belongs to.
var lineOfPart = map[EdgePart]garmentLine{
	AtNeck: neckLine, AtShoulder: shoulderLine, AtArmhole: armholeLine, AtCap: armholeLine, AtSide: sideLine, AtUnderarm: underarmLine,
	AtWaist: waistLine, AtWrist: wristLine, AtCentreFront: centreFrontLine, AtCentreBack: centreBackLine, AtCentre: centreLine,
	AtCrotch: crotchLine, AtInsideLeg: insideLegLine, AtAnkle: ankleLine,
}

// partOf returns what an edge is: what its name says, or else the anatomy.
func (g *suggester) partOf(piece *Piece, i int) EdgePart {
	e := &piece.Edges[i]
	if part := partOfName(e.Name); part != EdgeUnknown || g.anatomy == nil {
		return part
	}
	if pa := g.anatomy.Of(piece.ID); pa != nil && pa.Edges[i].Sure >= sureOfPart {
		return pa.Edges[i].Part
	}
	return EdgeUnknown
}

// pieceOf returns what a piece is, nothing known where there is no anatomy.
func (g *suggester) pieceOf(piece *Piece) PieceAnatomy {
	if g.anatomy != nil {
		if pa := g.anatomy.Of(piece.ID); pa != nil {
			return *pa
		}
	}
	return PieceAnatomy{Piece: piece}
}

// lineAt returns the line of an edge by its name, or else by what it is.
func (g *suggester) lineAt(piece *Piece, i int) garmentLine {
	if line := lineOfName(piece.Edges[i].Name); line != noLine {
		return line
	}
	return lineOfPart[g.partOf(piece, i)]
}

// joinName returns the name under which the lines that go over a seam know it: that of an
// edge, or what the edge is where its name does not tell.
func (g *suggester) joinName(u EdgeUse, name string) string {
	piece, i, err := g.look.edge(u)
	if lineOfName(name) != noLine || err != nil {
		return name
	}
	if part := g.partOf(piece, i); part != EdgeUnknown {
		return part.String()
	}
	return name
}

// partsMeet reports whether what the two edges are lets them be sewn to each other: a side
// to a side of the other half of the body, and so on. What nobody knows may be sewn to what
// is no opening.
func (g *suggester) partsMeet(a, b *freeEdge) bool {
	if a.part == EdgeUnknown || b.part == EdgeUnknown {
		for _, part := range [...]EdgePart{a.part, b.part} {
			switch part {
			case AtHem, AtOuter, AtEnd, AtDart:
				return false
			}
		}
		return true
	}
	if a.part.Middle() && b.part.Middle() {
		return true
	}
	if a.part != b.part {
		return false
	}
	switch a.part {
	case AtSide, AtShoulder:
		p, q := g.pieceOf(a.piece), g.pieceOf(b.piece)
		return p.Aspect != q.Aspect || p.Aspect == AspectUnknown
	case AtUnderarm, AtInsideLeg, AtCrotch:
		return true
	}
	return false
}

// partWays says which ends of two edges meet as far as it is known what lies beside them: at
// a side, the end at the hem of one meets that of the other. Neither is true where that
// does not tell.
func (g *suggester) partWays(a, b *freeEdge) (same, against bool) {
	beforeA, afterA := g.beside(a)
	beforeB, afterB := g.beside(b)
	same = endsMeet(beforeA, beforeB) && endsMeet(afterA, afterB)
	against = endsMeet(beforeA, afterB) && endsMeet(afterA, beforeB)
	return same && !against, against && !same
}

// beside returns what the edges before and after an edge are.
func (g *suggester) beside(f *freeEdge) (before, after EdgePart) {
	n := len(f.piece.Edges)
	return g.partOf(f.piece, (f.index+n-1)%n), g.partOf(f.piece, (f.index+1)%n)
}

// endsMeet reports whether two edges of different pieces begin at one place.
func endsMeet(a, b EdgePart) bool {
	if a == EdgeUnknown || b == EdgeUnknown {
		return false
	}
	return a == b || a.Middle() && b.Middle()
}

// looseHalf reports whether a piece is one half of something, of which nobody has said yet
// that it is cut twice or on the fold, as the tracing of a book page gives it.
func (g *suggester) looseHalf(piece *Piece) bool {
	return piece.Cut.Way == CutSingle && g.pieceOf(piece).Half
}

// roundsMeet reports whether what two lines are lets one be sewn to the other: a cap to an
// armhole and not an armhole to an armhole, a band to a neck and not a neck to a neck.
func (g *suggester) roundsMeet(a, b *roundRun) bool {
	if a.line == armholeLine {
		hole, other := a, b
		if g.capOf(a) {
			hole, other = b, a
		}
		return g.capOf(other) && !g.capOf(hole) && (hole.closed || g.anatomy == nil) // no cap goes into half an armhole
	}
	p, q := g.pieceOf(g.p.Piece(a.run[0].Piece)).Part, g.pieceOf(g.p.Piece(b.run[0].Piece)).Part
	if p == q && p != PartUnknown {
		return false
	}
	for _, u := range append(append(Run{}, a.run...), b.run...) {
		if piece := g.p.Piece(u.Piece); a.line != wristLine && g.looseHalf(piece) {
			return false // how long the whole line is is not known
		}
	}
	return true
}

// capOf reports whether a line is the cap of a sleeve.
func (g *suggester) capOf(r *roundRun) bool {
	piece, i, err := g.look.edge(r.run[0])
	return err == nil && (g.partOf(piece, i) == AtCap || g.pieceOf(piece).Part == PartSleeve)
}

// looseCaps suggests to let the sleeve into the armhole of a front and a back of which only
// halves are drawn and nobody has said how they are cut: there the armholes do not follow
// each other, for one of the two would have to be mirrored.
func (g *suggester) looseCaps() {
	var front, back, sleeve []*freeEdge
	for _, f := range g.free {
		pa := g.pieceOf(f.piece)
		switch {
		case g.taken[f.key()]:
		case f.part == AtCap && pa.Part == PartSleeve:
			sleeve = append(sleeve, f)
		case f.part != AtArmhole || !g.looseHalf(f.piece):
		case pa.Aspect == AspectFront:
			front = append(front, f)
		case pa.Aspect == AspectBack:
			back = append(back, f)
		}
	}
	if len(front) != 1 || len(back) != 1 {
		return
	}
	sleeve = slices.DeleteFunc(sleeve, func(f *freeEdge) bool { return f.length*(1+nearlyEqual) < front[0].length+back[0].length })
	if len(sleeve) != 1 || !sameCloth(front[0], back[0]) || !sameCloth(front[0], sleeve[0]) {
		return
	}
	up, down := front[0].upward(g), back[0].upward(g)
	if up == nil || down == nil {
		return
	}
	a, b := &roundRun{line: armholeLine, closed: true, run: Run{*up, down.turned()}}, &roundRun{line: armholeLine}
	a.length, b.length = front[0].length+back[0].length, sleeve[0].length
	// The front as it is drawn and the sleeve as it is drawn lie side by side: their edges
	// run against each other.
	b.run = Run{{Piece: sleeve[0].piece.ID, Copy: CopyRef{Number: 1}, Edge: sleeve[0].edge.ID, Reversed: !up.Reversed}}
	sure, why := g.roundFit(a, b)
	if sure < leastSure {
		return
	}
	seam := &Seam{A: a.run, B: b.run, Ratio: 1, To: 1}
	if seam = g.filled(seam, a.length, b.length); seam != nil {
		g.take(seam, why, sure)
	}
}

// looseBands suggests to sew the half of a band to the neck of a front and a back of which
// only halves are drawn too and nobody has said how they are cut: all three end in the middle.
func (g *suggester) looseBands() {
	var front, back, band []*freeEdge
	for _, f := range g.free {
		pa := g.pieceOf(f.piece)
		switch {
		case g.taken[f.key()] || f.part != AtNeck || !g.looseHalf(f.piece):
		case pa.Part == PartNeckBand:
			band = append(band, f)
		case pa.Aspect == AspectFront:
			front = append(front, f)
		case pa.Aspect == AspectBack:
			back = append(back, f)
		}
	}
	if len(front) != 1 || len(back) != 1 || len(band) != 1 || !sameCloth(front[0], back[0]) || !sameCloth(front[0], band[0]) {
		return
	}
	neck := front[0].length + back[0].length
	if math.Abs(neck-band[0].length) > seamLimit(neck) {
		return
	}
	inward, outward := front[0].toShoulder(g), back[0].toShoulder(g)
	if inward == nil || outward == nil {
		return
	}
	// As with a sleeve, the front and the band as they are drawn lie side by side.
	seam := &Seam{A: Run{*inward, outward.turned()}, Ratio: 1, To: 1}
	seam.B = Run{{Piece: band[0].piece.ID, Copy: CopyRef{Number: 1}, Edge: band[0].edge.ID, Reversed: !inward.Reversed}}
	if seam = g.filled(seam, neck, band[0].length); seam != nil {
		g.take(seam, neckLine.meets()+", both are "+g.p.Unit.Format(neck)+" long", sureOfRound+sureOfEqual)
	}
}

func sameCloth(a, b *freeEdge) bool {
	return a.piece.Layer == b.piece.Layer && (a.piece.Garment == b.piece.Garment || a.piece.Garment == "" || b.piece.Garment == "")
}

// upward returns an armhole run from the side to the shoulder, nil where it does not lie
// between the two.
func (f *freeEdge) upward(g *suggester) *EdgeUse {
	return f.towards(g, func(e EdgePart) bool { return e == AtSide })
}

// toShoulder returns a neck run from the middle to the shoulder, nil where it does not lie
// between the two.
func (f *freeEdge) toShoulder(g *suggester) *EdgeUse { return f.towards(g, EdgePart.Middle) }

// towards returns the edge run from what is said to the shoulder, nil where it does not lie
// between the two.
func (f *freeEdge) towards(g *suggester, from func(EdgePart) bool) *EdgeUse {
	u := EdgeUse{Piece: f.piece.ID, Copy: CopyRef{Number: 1}, Edge: f.edge.ID}
	switch before, after := g.beside(f); {
	case from(before) && after == AtShoulder:
		return &u
	case before == AtShoulder && from(after):
		u.Reversed = true
		return &u
	}
	return nil
}

// partsTell reports whether what an edge of the run is follows from the anatomy and not from
// its name.
func (g *suggester) partsTell(run Run) bool {
	for _, u := range run {
		piece, i, err := g.look.edge(u)
		if err == nil && lineOfName(piece.Edges[i].Name) == noLine {
			return true
		}
	}
	return false
}

// meets says what is let into a line that goes round.
func (l garmentLine) meets() string {
	switch l {
	case neckLine:
		return "a band goes on the neck"
	case armholeLine:
		return "the cap of a sleeve goes into the armhole"
	case waistLine:
		return "both lie at the waist"
	case wristLine:
		return "a cuff goes on the end of a sleeve"
	}
	return "both go round the leg at one place"
}
