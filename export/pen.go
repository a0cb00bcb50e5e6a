package export

import (
	"image/color"
	"math"

	"github.com/tdewolff/canvas"

	"hemlet/geom"
)

// pen draws on a surface of the drawing library, in the millimetres of a sheet or
// a page.
type pen struct {
	to    canvas.Renderer
	fonts *lettering
	// place maps sheet millimetres to those of the surface.
	place geom.Affine
	// flatten, where above 0, is the tolerance in mm to which curves become chords
	// before the library sees them: its own flattening strays where a handle has no
	// length.
	flatten float64
}

// strokePath draws a path of the sheet; from is where along the whole line it
// starts, for its dashes.
func (p pen) strokePath(path geom.Path, look stroke, from float64) {
	style := canvas.DefaultStyle
	style.Fill = canvas.Paint{}
	style.Stroke = canvas.Paint{Color: rgb(look.colour)}
	style.StrokeWidth = look.width
	style.StrokeCapper, style.StrokeJoiner = canvas.RoundCap, canvas.RoundJoin
	if look.dashes != nil {
		style.StrokeCapper = canvas.ButtCap
		// The library multiplies dashes by the width of the stroke.
		period := 0.0
		for _, d := range look.dashes {
			style.Dashes = append(style.Dashes, d/look.width)
			period += d
		}
		style.DashOffset = mod(from, period) / look.width
	}
	p.to.RenderPath(p.path(path), style, canvas.Identity)
}

// fillPath fills a closed path of the sheet.
func (p pen) fillPath(path geom.Path, colour string) {
	style := canvas.DefaultStyle
	style.Fill = canvas.Paint{Color: rgb(colour)}
	p.to.RenderPath(p.path(path), style, canvas.Identity)
}

// path returns the path on the surface.
func (p pen) path(path geom.Path) *canvas.Path {
	out := &canvas.Path{}
	for i, s := range path.Transform(p.place) {
		if i == 0 {
			out.MoveTo(s.P0.X, s.P0.Y)
		}
		switch {
		case s.Straight:
			out.LineTo(s.P3.X, s.P3.Y)
		case p.flatten > 0:
			for _, q := range s.AppendFlat(nil, p.flatten) {
				out.LineTo(q.X, q.Y)
			}
		default:
			out.CubeTo(s.P1.X, s.P1.Y, s.P2.X, s.P2.Y, s.P3.X, s.P3.Y)
		}
	}
	if path.Closed() {
		out.Close()
	}
	return out
}

// write draws a line of text of the sheet; letters keep their shape under any
// correction of the size.
func (p pen) write(t Text) {
	if t.Words == "" {
		return
	}
	line := canvas.NewTextLine(p.fonts.face(t.Size, t.Strong), t.Words, canvas.Left)
	at := p.place.Apply(t.At)
	m := canvas.Identity.Translate(at.X, at.Y).Rotate(t.Turn * 180 / math.Pi)
	if t.Anchor == Middle {
		m = m.Translate(-textWidth(t.Words, t.Size, t.Strong)/2, 0)
	}
	p.to.RenderText(line, m)
}

// piece draws what of the copy lies in the window.
func (p pen) piece(l *Laid, window geom.Rect) {
	for _, m := range l.Strokes() {
		for _, c := range m.Chains {
			for _, part := range clip(c, window) {
				p.strokePath(part.path, lookOf(m), m.DashFrom+part.from)
			}
		}
	}
	for _, t := range l.Words() {
		if t.Bounds().Overlaps(window) {
			p.write(t)
		}
	}
}

// mod returns x reduced to [0, m) for x of 0 or more.
func mod(x, m float64) float64 { return math.Mod(x, m) }

// rgb reads "#rrggbb"; the colours are constants of this package.
func rgb(s string) color.RGBA {
	const digits = "0123456789abcdef"
	at := func(i int) uint8 {
		v := 0
		for d, c := range digits {
			if byte(c) == s[i] {
				v = d
			}
		}
		return uint8(v)
	}
	return color.RGBA{at(1)<<4 | at(2), at(3)<<4 | at(4), at(5)<<4 | at(6), 255}
}
