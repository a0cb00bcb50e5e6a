package tracetest

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"hemlet/geom"
)

// Cross returns the two lines of a matching mark: of the given size in mm, about c.
func Cross(c geom.Point, size float64) []geom.Path {
	h := size / 2
	return []geom.Path{
		{geom.Line(c.Sub(geom.Pt(h, 0)), c.Add(geom.Pt(h, 0)))},
		{geom.Line(c.Sub(geom.Pt(0, h)), c.Add(geom.Pt(0, h)))},
	}
}

// Mark returns the sheet with crosses at the places, drawn with a 0.5 mm pen.
func (s Sheet) Mark(size float64, at ...geom.Point) Sheet {
	l := Layer{Tone: Black, Pen: .5}
	for _, c := range at {
		l.Lines = append(l.Lines, Cross(c, size)...)
	}
	s = s.Cover(l)
	s.Marks = append(s.Marks[:len(s.Marks):len(s.Marks)], at...)
	return s
}

// Tick returns a notch tick: a line square to the outline at a share of its length, from
// the outline inward, long mm.
func Tick(p geom.Path, share, long float64) geom.Path {
	at := p.AtLength(share * p.Length())
	a := p.At(at)
	return geom.Path{geom.Line(a, a.Add(p.Tangent(at).Unit().Left().Mul(long)))}
}

// Text returns letters as shapes, the left end of whose foot line lies at a; height is
// that of capitals, in mm. The letters are those of the Go fonts (Bigelow & Holmes 2016).
func Text(a geom.Point, height float64, text string) ([]geom.Path, error) {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, err
	}
	const em = 1000
	const capitals = 0.72 // of an em, from the font's own table of sizes
	k := height / (em * capitals * 64)
	var buf sfnt.Buffer
	var out []geom.Path
	pen := fixed.Int26_6(0)
	for _, r := range text {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			return nil, fmt.Errorf("letter %q: %w", r, err)
		}
		parts, err := f.LoadGlyph(&buf, g, fixed.I(em), nil)
		if err != nil {
			return nil, fmt.Errorf("letter %q: %w", r, err)
		}
		at := func(p fixed.Point26_6) geom.Point {
			return a.Add(geom.Pt(float64(p.X+pen)*k, -float64(p.Y)*k))
		}
		out = append(out, glyph(parts, at)...)
		wide, err := f.GlyphAdvance(&buf, g, fixed.I(em), font.HintingNone)
		if err != nil {
			return nil, fmt.Errorf("letter %q: %w", r, err)
		}
		pen += wide
	}
	return out, nil
}

// glyph turns the strokes of one letter into closed paths.
func glyph(parts sfnt.Segments, at func(fixed.Point26_6) geom.Point) []geom.Path {
	var out []geom.Path
	var p geom.Path
	var start, here geom.Point
	shut := func() {
		if here != start {
			p = append(p, geom.Line(here, start))
		}
		if len(p) > 0 {
			out = append(out, p)
		}
		p = nil
	}
	for _, s := range parts {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			shut()
			start = at(s.Args[0])
			here = start
		case sfnt.SegmentOpLineTo:
			b := at(s.Args[0])
			p, here = append(p, geom.Line(here, b)), b
		case sfnt.SegmentOpQuadTo:
			m, b := at(s.Args[0]), at(s.Args[1])
			p, here = append(p, geom.Cubic(here, here.Lerp(m, 2./3), b.Lerp(m, 2./3), b)), b
		case sfnt.SegmentOpCubeTo:
			b := at(s.Args[2])
			p, here = append(p, geom.Cubic(here, at(s.Args[0]), at(s.Args[1]), b)), b
		}
	}
	shut()
	return out
}
