package station

import (
	"strings"

	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// Widths of lines in screen units.
const (
	figureLine = 1.3
	pieceLine  = 1.7
	innerLine  = 1.1
	beforeLine = 1.4
)

// figureLayer draws the plain outline of a wearer. From behind there is no face.
func figureLayer(fig *figure.Drawing, at geom.Affine, behind bool) *sheet.Layer {
	t := &sheet.Thing{}
	rim := sheet.Fainter(sheet.Solid(paint.Faint, 2*figureLine), 0.7)
	// The parts of a layer are one silhouette: all lines first, then all fills.
	for from := 0; from < len(fig.Parts); {
		to := from
		for to < len(fig.Parts) && fig.Parts[to].Layer == fig.Parts[from].Layer {
			to++
		}
		for _, p := range fig.Parts[from:to] {
			if !(behind && p.Name == "muzzle") {
				t.Marks = append(t.Marks, sheet.Lined(p.Outline, rim))
			}
		}
		for _, p := range fig.Parts[from:to] {
			if !(behind && p.Name == "muzzle") {
				t.Marks = append(t.Marks, sheet.Filled(p.Outline, paint.Of(paint.Bench), paint.Line{}))
			}
		}
		from = to
	}
	if !behind {
		for _, d := range fig.Details {
			t.Marks = append(t.Marks, sheet.Lined(d, sheet.Fainter(sheet.Solid(paint.Faint, 1), 0.6)))
		}
	}
	return &sheet.Layer{Place: at, Aside: true, Things: []*sheet.Thing{t}}
}

// roomShare is how much of the wearer is seen round the pieces, as a share of the larger
// side of what they take.
const roomShare = 0.22

// roomFor returns what is to be seen: the pieces, as large as they go, and the wearer
// about them, or the whole wearer where no piece lies on it.
func roomFor(s *block.Sheet, fig *figure.Drawing, l placing) geom.Rect {
	all, box := geom.EmptyRect(), geom.EmptyRect()
	if l.hasFront || !l.hasBack {
		all = transformed(fig.Bounds, l.front)
	}
	if l.hasBack {
		all = all.Union(transformed(fig.Bounds, l.back))
	}
	for i := range l.pieces {
		box = box.Union(outlineOf(&s.Pieces[i]).Transform(l.pieces[i]).Bounds())
	}
	if !l.hasBack && !l.hasFront {
		return all.Union(box)
	}
	wide := box.Grow(roomShare * max(box.W(), box.H()))
	return geom.Rect{
		Min: geom.Pt(min(max(wide.Min.X, all.Min.X), box.Min.X), min(max(wide.Min.Y, all.Min.Y), box.Min.Y)),
		Max: geom.Pt(max(min(wide.Max.X, all.Max.X), box.Max.X), max(min(wide.Max.Y, all.Max.Y), box.Max.Y)),
	}
}

func transformed(b geom.Rect, m geom.Affine) geom.Rect {
	return geom.RectOf(m.Apply(b.Min), m.Apply(b.Max))
}

// roomLayer keeps a box in view; nothing of it is seen.
func roomLayer(box geom.Rect) *sheet.Layer {
	return &sheet.Layer{Things: []*sheet.Thing{{Marks: []paint.Mark{
		sheet.Lined(geom.Polygon(box.Min, geom.Pt(box.Max.X, box.Min.Y), box.Max, geom.Pt(box.Min.X, box.Max.Y)), paint.Line{}),
	}}}}
}

// levelLayer draws the levels of the wearer that the block reads across the room.
func levelLayer(fig *figure.Drawing, room geom.Rect, reads func(measure string) bool) *sheet.Layer {
	out := &sheet.Layer{Aside: true}
	for _, level := range body.Levels {
		y, ok := heightOf(fig, level)
		if !ok || !reads(body.GirthOf(level)) {
			continue
		}
		a, b := geom.Pt(room.Min.X, y), geom.Pt(room.Max.X, y)
		line := sheet.Dashed(paint.Level, 1.1)
		out.Things = append(out.Things, &sheet.Thing{ID: measureID(body.GirthOf(level)), Marks: []paint.Mark{
			sheet.Lined(geom.Path{geom.Line(a, b)}, line),
			sheet.Label(a, -4, 4, level, paint.Level, paint.End),
		}})
	}
	return out
}

// Ids of what is on the sheet: a measure, a piece, a step of the construction.
const (
	measureIDs = "measure:"
	pieceIDs   = "piece:"
	stepIDs    = "step:"
)

func measureID(name string) string { return measureIDs + name }

// piecesLayer draws the pieces as they now are.
func piecesLayer(pieces []*block.Piece, l placing) []*sheet.Layer {
	var out []*sheet.Layer
	for i, p := range pieces {
		layer := &sheet.Layer{Place: l.pieces[i]}
		body := &sheet.Thing{ID: pieceIDs + p.Role, Solid: true, Marks: []paint.Mark{
			sheet.Filled(outlineOf(p), paint.Faded(paint.Cloth, 0.82), sheet.Solid(paint.Ink, pieceLine)),
		}}
		body.Marks = append(body.Marks, innerMarks(p)...)
		layer.Things = append(layer.Things, body)
		layer.Things = append(layer.Things, spanThings(p)...)
		out = append(out, layer)
	}
	return out
}

// innerMarks draws darts, inner lines, notches, grain and the name of a piece.
func innerMarks(p *block.Piece) []paint.Mark {
	var out []paint.Mark
	fine := sheet.Solid(paint.Ink, innerLine)
	for _, d := range p.Darts {
		a, from := nodeOf(p, d.From)
		b, to := nodeOf(p, d.To)
		if from && to {
			out = append(out, sheet.Lined(geom.Path{geom.Line(a, d.Apex), geom.Line(d.Apex, b)}, fine))
		}
	}
	for _, l := range p.Lines {
		line := sheet.Fainter(sheet.Dashed(paint.Ink, innerLine), 0.6)
		if isLevel(l.Name) {
			line = sheet.Dashed(paint.Level, innerLine)
		}
		out = append(out, sheet.Lined(pathOf(l.Nodes, l.Closed), line))
	}
	for _, n := range p.Notches {
		if mark, ok := notchMark(p, n); ok {
			out = append(out, mark)
		}
	}
	if p.Grain != nil {
		out = append(out, paint.Arrow{A: p.Grain[0], B: p.Grain[1], Both: true, Line: sheet.Fainter(fine, 0.8)})
	}
	at := outlineOf(p).Bounds().Center()
	if p.LabelAt != nil {
		at = *p.LabelAt
	}
	return append(out, paint.Text{
		At: at, Text: p.Title, Size: 13, Weight: paint.SemiBold, Colour: paint.Of(paint.Ink), Anchor: paint.Middle,
		Halo: paint.Of(paint.Cloth), Room: 0.6 * outlineOf(p).Bounds().W(), Least: 0.3 * outlineOf(p).Bounds().W(),
	})
}

func isLevel(name string) bool {
	for _, level := range body.Levels {
		if strings.Contains(strings.ToLower(name), level) {
			return true
		}
	}
	return false
}

// notchMark returns the stroke of a notch. Where its edge has a dart, the mouth does not
// count for the distance.
func notchMark(p *block.Piece, n block.Notch) (paint.Mark, bool) {
	path := withoutMouths(p, n.Edge)
	length := path.Length()
	at := n.At
	if n.FromEnd {
		at = length - n.At
	}
	if len(path) == 0 || at < 0 || at > length {
		return nil, false
	}
	place := path.AtLength(at)
	count := 1
	if n.Double {
		count = 2
	}
	return paint.Tick{At: path.At(place), Dir: path.Tangent(place).Left(), Length: 7, Count: count, Line: sheet.Solid(paint.Ink, innerLine)}, true
}

// withoutMouths returns the line of an edge without the mouths of its darts.
func withoutMouths(p *block.Piece, edge string) geom.Path {
	var out geom.Path
	for _, s := range edgeOf(p, edge) {
		mouth := false
		for _, d := range p.Darts {
			a, from := nodeOf(p, d.From)
			b, to := nodeOf(p, d.To)
			mouth = mouth || d.Edge == edge && from && to && s.P0 == a && s.P3 == b
		}
		if !mouth {
			out = append(out, s)
		}
	}
	return out
}

// spanThings are the stretches that stand for measures: not seen until the measure is
// pointed at.
func spanThings(p *block.Piece) []*sheet.Thing {
	var out []*sheet.Thing
	lit := paint.Line{Colour: paint.Of(paint.Chalk), Width: 3.2, Join: paint.Round, Cap: paint.RoundCap}
	for _, s := range p.Spans {
		t := &sheet.Thing{ID: measureID(s.Measure)}
		for _, path := range stretchOf(p, s) {
			t.Lit = append(t.Lit, sheet.Lined(path, lit))
		}
		if len(t.Lit) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// markThings are the places on the figure where the measures are taken, not seen until
// the measure is pointed at.
func markThings(fig *figure.Drawing, at geom.Affine, reads func(string) bool) *sheet.Layer {
	out := &sheet.Layer{Place: at}
	lit := paint.Line{Colour: paint.Of(paint.Level), Width: 2.4, Join: paint.Round, Cap: paint.RoundCap}
	for _, m := range fig.Marks {
		if !reads(m.Measure) {
			continue
		}
		t := &sheet.Thing{ID: measureID(m.Measure)}
		for _, path := range m.Near {
			t.Lit = append(t.Lit, sheet.Lined(path, lit))
		}
		for _, path := range m.Far {
			t.Lit = append(t.Lit, sheet.Lined(path, sheet.Dashed(paint.Level, 1.4)))
		}
		out.Things = append(out.Things, t)
	}
	return out
}

// beforeLayers draws the pieces as they were, in outline.
func beforeLayers(pieces []*block.Piece, l placing, line paint.Line) []*sheet.Layer {
	var out []*sheet.Layer
	for i, p := range pieces {
		marks := []paint.Mark{sheet.Lined(outlineOf(p), line)}
		for _, d := range p.Darts {
			a, from := nodeOf(p, d.From)
			b, to := nodeOf(p, d.To)
			if from && to {
				marks = append(marks, sheet.Lined(geom.Path{geom.Line(a, d.Apex), geom.Line(d.Apex, b)}, line))
			}
		}
		out = append(out, &sheet.Layer{Place: l.pieces[i], Things: []*sheet.Thing{{Marks: marks}}})
	}
	return out
}
