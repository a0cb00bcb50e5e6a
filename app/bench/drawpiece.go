package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
	"slices"
)

// Widths and dashes of the lines of a pattern, in screen units.
const (
	cutWidth    = 1.6
	pickedWidth = 2
	stitchWidth = 1.1
	markWidth   = 1.2
)

var (
	stitchDash = paint.Dash{6, 4}
	gatherDash = paint.Dash{2, 3}
	foldDash   = paint.Dash{10, 3, 2, 3}
)

// drawPiece returns the piece as printed patterns draw it: cut line solid,
// stitching line dashed, fold, grain, notches, darts, lines, label, and the letter
// of each seam at its edges.
func drawPiece(b *body, cloth *draft.Cloth, marks *seamMarks, unit draft.Unit, picked bool) *paint.Item {
	d := &pieceDrawing{body: b, item: &paint.Item{Place: b.place}}
	line := paint.Line{Colour: paint.Of(paint.Ink), Width: cutWidth, Join: paint.Mitre}
	if picked {
		line = paint.Line{Colour: paint.Of(paint.Chalk), Width: pickedWidth, Join: paint.Mitre}
	}
	d.add(paint.Shape{Path: b.outline(), Fill: paint.Of(paint.Cloth), Line: line})
	d.stitching()
	d.fold()
	d.stretches()
	d.darts()
	d.lines()
	d.notches()
	d.grain()
	d.letters(*marks)
	d.dimensions(unit)
	d.label(cloth)
	if g := b.piece.Ghost; g > 0 {
		d.item.Marks = fade(d.item.Marks, g)
	}
	return d.item
}

type pieceDrawing struct {
	*body
	item *paint.Item
	// spots are about where the letters of seams stand, on the bench.
	spots []geom.Point
}

// part returns what lies on the piece by its ref, or nil.
func (d *pieceDrawing) part(r desk.Ref) *part { return d.body.part(r) }

func (d *pieceDrawing) add(m paint.Mark) { d.item.Marks = append(d.item.Marks, m) }

func inked(width float64, dash paint.Dash) paint.Line {
	return paint.Line{Colour: paint.Of(paint.Ink), Width: width, Dash: dash}
}

// stitching draws the stitching line of every edge that lies inside the cut line.
func (d *pieceDrawing) stitching() {
	if len(d.cut) == 0 {
		return // the outline that is drawn is the stitching line
	}
	for i, e := range d.piece.Edges {
		if e.Kind == draft.FoldEdge && d.piece.Cut.Way == draft.CutOnFold {
			continue
		}
		if e.Kind == draft.FoldEdge || e.Allowance.Widest() > 0 {
			for _, part := range d.piece.EdgeParts(i) {
				d.add(paint.Shape{Path: part, Line: inked(stitchWidth, stitchDash)})
			}
		}
	}
}

// fold draws the bracket whose arrows point at the fold.
func (d *pieceDrawing) fold() {
	i := d.piece.FoldEdge()
	if i < 0 || len(d.edges[i]) == 0 {
		return
	}
	a, b := d.edges[i].Start(), d.edges[i].End()
	// The ends of the bracket stay clear of the corners.
	d.add(paint.Bracket{A: a.Lerp(b, 0.15), B: a.Lerp(b, 0.85), Right: true, Line: inked(markWidth, paint.Dash{})})
}

func (d *pieceDrawing) grain() {
	if g := d.piece.Grain; g != nil {
		d.add(paint.Arrow{A: g.From, B: g.To, Both: true, Line: inked(markWidth, paint.Dash{})})
	}
}

// letterInset is how far inside the stitching line the letter of a seam stands, in
// screen units, letterOutset how far outside the cut line where a piece is too
// shallow, and letterDrop how far its baseline lies below its middle.
const (
	letterInset  = 13
	letterOutset = 11
	letterDrop   = 4
)

// letterDepth is how deep, in mm, a piece must be beside the letter of a seam to
// have room for it besides the label; of shallower ones it stands outside.
const letterDepth = 22

// letterDeep is about how deep, in mm, a letter stands inside a piece that is seen whole.
const letterDeep = 5

// letters sets the letter of each seam beside its edges.
func (d *pieceDrawing) letters(marks seamMarks) {
	for i, e := range d.piece.Edges {
		length := d.edges[i].Length()
		if length == 0 {
			continue
		}
		for _, m := range marks[e.ID] {
			m.share = d.aside(i, length, m.share)
			d.add(d.letter(i, length, m, e.Allowance))
		}
	}
}

// aside returns the share of the edge nearest to the one that is wanted where a letter
// comes not on another, such as that of the next edge in a narrow corner; the share itself
// where there is none.
func (d *pieceDrawing) aside(i int, length, share float64) float64 {
	const apart, corner = 3 * letterHalf, 0.1
	for _, by := range [...]float64{0, letterStep, -letterStep, 2 * letterStep, -2 * letterStep, 3 * letterStep} {
		s := share + by
		if s < corner || s > 1-corner {
			continue
		}
		place := d.edges[i].AtLength(length * s)
		spot := d.place.Apply(d.edges[i].At(place).Add(d.edges[i].Tangent(place).Left().Mul(letterDeep)))
		if !slices.ContainsFunc(d.spots, func(p geom.Point) bool { return p.Dist(spot) < apart }) {
			return s
		}
	}
	return share
}

// letter returns the letter of a seam beside edge i, clear of the lines on either
// side of it at any scale.
func (d *pieceDrawing) letter(i int, length float64, m seamMark, a draft.Allowance) paint.Text {
	place := d.edges[i].AtLength(length * m.share)
	at, in := d.edges[i].At(place), d.edges[i].Tangent(place).Left()
	text := paint.Text{
		At: at, Text: m.letter, Size: 11, Weight: paint.SemiBold,
		Colour: paint.Of(paint.Chalk), Anchor: paint.Middle, Halo: paint.Of(paint.Cloth), Yield: letterYields,
	}
	way := d.place.ApplyVector(in)
	out := paint.Spot{At: at.Sub(in.Mul(a.Start + (a.End-a.Start)*m.share)), DX: -letterOutset * way.X, DY: letterDrop + letterOutset*way.Y, Halo: paint.Of(paint.Bench)}
	if !d.stitch.Contains(at.Add(in.Mul(letterDepth))) {
		text.At, text.DX, text.DY, text.Halo = out.At, out.DX, out.DY, out.Halo
		return text
	}
	d.spots = append(d.spots, d.place.Apply(at.Add(in.Mul(letterDeep))))
	text.DX, text.DY = letterInset*way.X, letterDrop-letterInset*way.Y
	text.Else = &out // where there is no room for it inside
	return text
}

// How the texts of a piece yield where there is no room for all of them: its name stands, then
// come the letters of the seams, then what it is cut from and what is done along its lines.
const (
	letterYields = 1
	wordYields   = 2
)
