package bench

import (
	"math"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// How stretches are drawn beside their edge, in screen units: gathers as a wave, ease
// dashed, a stay as a plain line.
const (
	stretchInset = 7
	waveSwing    = 2.6
	waveLength   = 9
	stretchWidth = 1.3
	stretchWord  = 10
)

var (
	easeDash = paint.Dash{5, 3}
	clipDash = paint.Dash{1.5, 4} // as snips with scissors
)

// stretchLine returns the line of a stretch of a kind beside its edge.
func stretchLine(kind draft.StretchKind, path geom.Path, c paint.Colour, width float64) paint.Beside {
	line := paint.Beside{Path: path, Inset: stretchInset, Line: paint.Line{Colour: c, Width: width}}
	switch kind {
	case draft.GatherStretch:
		line.Swing, line.Wave = waveSwing, waveLength
	case draft.EaseStretch:
		line.Line.Dash = easeDash
	case draft.ClipStretch:
		line.Line.Dash = clipDash
	}
	return line
}

// stretches draws what is done along parts of the edges, with a word where there is
// room for it.
func (d *pieceDrawing) stretches() {
	for _, s := range d.piece.Stretches {
		x := d.part(desk.ThingRef(desk.Stretch, d.piece.ID, s.ID))
		if x == nil {
			continue
		}
		if s.Kind == draft.ClipStretch && x.inset == 0 { // as they lie in the allowance
			for _, clip := range x.paths {
				d.add(paint.Shape{Path: clip, Line: inked(stretchWidth, paint.Dash{})})
			}
			continue
		}
		for _, path := range x.paths {
			d.add(stretchLine(s.Kind, path, paint.Of(paint.Ink), stretchWidth))
		}
		d.stretchEnds(x)
		d.beside(x.paths[0], stretchInset+stretchWord, s.Kind.String())
	}
}

// stretchEnds draws a short stroke across both ends of a stretch.
func (d *pieceDrawing) stretchEnds(x *part) {
	first, last := x.paths[0], x.paths[len(x.paths)-1]
	for _, end := range []struct{ at, along geom.Point }{
		{first.Start(), first.Tangent(geom.Place{})},
		{last.End(), last.Tangent(geom.Place{Seg: len(last) - 1, T: 1})},
	} {
		d.add(paint.Tick{At: end.at, Dir: end.along.Left(), Length: 2 * stretchInset, Count: 1, Line: inked(stretchWidth, paint.Dash{})})
	}
}

// beside writes a small word in the middle of a path, so many units to the left of it.
func (d *pieceDrawing) beside(path geom.Path, inset float64, word string) {
	tape := path.Tape()
	at := tape.At(tape.Length() / 2)
	off := d.place.ApplyVector(path.Tangent(at).Left()).Mul(inset)
	text := paint.Text{
		At: path.At(at), DX: off.X, DY: letterDrop - off.Y, Text: word, Size: stretchWord,
		Colour: paint.Of(paint.Faint), Anchor: paint.Middle, Halo: paint.Of(paint.Cloth), Room: tape.Length(), Yield: wordYields,
	}
	// Beside a steep line a word begins or ends there and does not cross it.
	if math.Abs(off.X) > math.Abs(off.Y) {
		text.Anchor = paint.Start
		if off.X < 0 {
			text.Anchor = paint.End
		}
		text.Room *= steepRoom
	}
	d.add(text)
}

// steepRoom is the share of its length that a steep line gives to the word beside it.
const steepRoom = 0.6

// darts draws darts by their legs, pleats and tucks by their two lines and arrows from
// the line that is folded to the one on which it is laid.
func (d *pieceDrawing) darts() {
	for i := range d.piece.Darts {
		dart := &d.piece.Darts[i]
		x := d.part(desk.ThingRef(desk.Dart, d.piece.ID, dart.ID))
		if x == nil {
			continue
		}
		line := inked(stitchWidth, stitchDash)
		if dart.Fold == draft.Pleat {
			line.Dash = paint.Dash{} // folded, not sewn
		}
		for _, path := range x.paths {
			d.add(paint.Shape{Path: path, Line: line})
		}
		d.folds(*dart)
	}
}

// folds draws where the cloth of a pleat or tuck turns back, and the arrows from what is
// folded to where it is laid.
func (d *pieceDrawing) folds(dart draft.Dart) {
	_, turn := d.piece.FoldLines(dart)
	for _, s := range turn {
		d.add(paint.Shape{Path: geom.Path{s}, Line: inked(1, foldDash)})
	}
	for _, s := range d.piece.FoldArrows(dart) {
		d.add(paint.Arrow{A: s.P0, B: s.P3, Line: inked(markWidth, paint.Dash{})})
	}
}

var styleDash = paint.Dash{14, 4}

// lineLook returns how the lines of a kind are drawn.
func lineLook(k draft.LineKind) paint.Line {
	line := inked(stitchWidth, paint.Dash{})
	switch {
	case k == draft.GatheringLine:
		line.Dash = gatherDash
	case k == draft.PlacementLine, k == draft.FastenLine:
		line.Dash = foldDash
	case k == draft.DartLine:
		line.Dash = stitchDash
	case k == draft.StyleLine:
		line.Dash = styleDash
	case k.Cut():
		line.Width = cutWidth
	}
	return line
}

func (d *pieceDrawing) lines() {
	for i := range d.piece.Lines {
		l := &d.piece.Lines[i]
		x := d.part(desk.ThingRef(desk.Line, d.piece.ID, l.ID))
		if x == nil {
			continue
		}
		look := lineLook(l.Kind)
		for _, path := range x.paths {
			d.add(paint.Shape{Path: path, Line: look})
			if l.Name != "" && l.Kind != draft.DartLine && l.Row == nil { // a row shows what it is
				d.beside(path, lineWordOff, l.Name)
			}
		}
		if l.Row != nil {
			for _, f := range l.Fastenings() {
				d.fastening(l.Row, f)
			}
			continue
		}
		for _, path := range l.PointSign() {
			d.add(paint.Shape{Path: path, Line: look})
		}
		if len(x.spots) > 0 && l.Name != "" {
			d.add(paint.Text{
				At: x.spots[0], DY: pointWordOff, Text: l.Name, Size: stretchWord,
				Colour: paint.Of(paint.Faint), Anchor: paint.Middle, Halo: paint.Of(paint.Cloth), Room: d.box.W() / 4,
			})
		}
	}
}

// pointWordOff is how far below a marked point the foot of its name stands, in screen
// units.
const pointWordOff = 17

// lineWordOff is how far beside a line its name stands, in screen units.
const lineWordOff = 9

// notchLength is how long the stroke of a notch is, in screen units.
const notchLength = 9

func (d *pieceDrawing) notches() {
	for i := range d.piece.Notches {
		n := &d.piece.Notches[i]
		if x := d.part(desk.ThingRef(desk.Notch, d.piece.ID, n.ID)); x != nil {
			d.add(notchTick(n, x, inked(cutWidth, paint.Dash{})))
		}
	}
}

func notchTick(n *draft.Notch, x *part, line paint.Line) paint.Tick {
	count := 1
	if n.Double {
		count = 2
	}
	forms := map[draft.NotchShape]paint.TickForm{draft.NotchV: paint.TickV, draft.NotchT: paint.TickT}
	return paint.Tick{At: x.notch, Dir: x.out, Length: notchLength, Count: count, Form: forms[n.Shape], Line: line}
}

// dimensionInset is how far inside its edges a dimension line runs, in screen units.
const dimensionInset = 22

// dimensions draws the live dimension lines: spans that stand for no measure of the
// wearer.
func (d *pieceDrawing) dimensions(unit draft.Unit) {
	look := paint.Line{Colour: paint.Of(paint.Chalk), Width: 1}
	for _, s := range d.piece.Spans {
		if s.Measure != "" {
			continue
		}
		x := d.part(desk.ThingRef(desk.Dimension, d.piece.ID, s.ID))
		if x == nil {
			continue
		}
		paths, inset := x.paths, x.inset
		sum, middle := 0.0, geom.Path(nil)
		for _, path := range paths {
			d.add(dimensionLine(path, inset, look))
			if long := path.Length(); long > 0 {
				if sum += long; middle == nil || long > middle.Length() {
					middle = path
				}
			}
		}
		if middle == nil {
			continue
		}
		if inset > 0 {
			d.dimensionEnds(paths, inset, look)
		}
		text := unit.Format(sum)
		if s.Name != "" {
			text = s.Name + " " + text
		}
		d.dimensionText(middle, inset, text)
	}
}

// spanned returns what a span is measured along: edges, lines, or straight from one
// point to another.
func spanned(p *draft.Piece, s draft.Span) []geom.Path {
	var out []geom.Path
	for _, id := range s.Edges {
		if _, i := p.Edge(id); i >= 0 {
			out = append(out, p.EdgeParts(i)...)
		}
	}
	for _, id := range s.Lines {
		if l := p.Line(id); l != nil && len(l.Path()) > 0 {
			out = append(out, l.Path())
		}
	}
	if len(s.Edges)+len(s.Lines) > 0 {
		return out
	}
	from, to := p.AnyNode(s.From), p.AnyNode(s.To)
	if from == nil || to == nil || from.At == to.At {
		return nil
	}
	return []geom.Path{{geom.Line(from.At, to.At)}}
}

// dimensionLine returns the line of a dimension: with an arrow at either end where it runs
// straight from point to point, as it is printed.
func dimensionLine(path geom.Path, inset float64, look paint.Line) paint.Mark {
	if len(path) == 1 && inset == 0 {
		return paint.Arrow{A: path.Start(), B: path.End(), Both: true, Line: look}
	}
	return paint.Beside{Path: path, Inset: inset, Line: look}
}

// dimensionEnds draws a short stroke from either end of the edges across the line.
func (d *pieceDrawing) dimensionEnds(paths []geom.Path, inset float64, look paint.Line) {
	first, last := paths[0], paths[len(paths)-1]
	for _, end := range []struct{ at, along geom.Point }{
		{first.Start(), first.Tangent(geom.Place{})},
		{last.End(), last.Tangent(geom.Place{Seg: len(last) - 1, T: 1})},
	} {
		d.add(paint.Tick{At: end.at, Dir: end.along.Left(), Length: inset + 5, Count: 1, Line: look})
	}
}

// dimensionText writes a length over the middle of its line.
func (d *pieceDrawing) dimensionText(path geom.Path, inset float64, text string) {
	tape := path.Tape()
	at := tape.At(tape.Length() / 2)
	off := d.place.ApplyVector(path.Tangent(at).Left()).Mul(inset)
	d.add(paint.Text{
		At: path.At(at), DX: off.X, DY: letterDrop - off.Y, Text: text, Size: 11.5, Weight: paint.SemiBold,
		Colour: paint.Of(paint.Chalk), Anchor: paint.Middle, Halo: paint.Of(paint.Cloth), Room: tape.Length(),
	})
}
