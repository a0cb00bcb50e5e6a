package tracetest

import (
	"image/color"
	"math"

	"hemlet/geom"
)

// Tone is a colour as the share of light that it throws back, red, green and blue, 0 to 1.
type Tone [3]float32

// Tones of what lies on a sheet.
var (
	White  = Tone{.94, .94, .94}
	Cream  = Tone{.90, .87, .78}
	Black  = Tone{.08, .08, .08}
	Pencil = Tone{.42, .42, .42}
	Blue   = Tone{.55, .72, .90} // of squared paper
	Rose   = Tone{.93, .62, .60} // of squared paper
)

// Grey reports whether the tone has no colour.
func (t Tone) Grey() bool { return t[0] == t[1] && t[1] == t[2] }

// Colour returns the tone as a linear picture without any fault shows it.
func (t Tone) Colour() color.RGBA {
	b := func(v float32) uint8 { return uint8(math.Round(255 * float64(v))) }
	return color.RGBA{b(t[0]), b(t[1]), b(t[2]), 255}
}

// Layer is ink of one tone on a sheet.
type Layer struct {
	Tone  Tone
	Fills []geom.Path // closed
	Lines []geom.Path
	Pen   float64 // width of the lines in mm
}

// Sheet is what is scanned: paper of W by H mm with ink in the order in which it was laid.
type Sheet struct {
	W, H   float64
	Paper  Tone
	Layers []Layer
	Pieces []Piece      // the truth
	Marks  []geom.Point // places of matching marks, for joining
}

// Margin is the bare paper, in mm, that Lay leaves round pieces.
const Margin = 12.0

// Lay returns an empty sheet just large enough for the pieces, and the pieces moved on it.
func Lay(pieces ...Piece) (Sheet, []Piece) {
	b := Bounds(pieces...)
	for _, p := range pieces {
		for _, in := range p.Inner {
			b = b.Union(in.Bounds())
		}
	}
	move := geom.Translation(geom.Pt(Margin, Margin).Sub(b.Min))
	moved := make([]Piece, len(pieces))
	for i, p := range pieces {
		moved[i] = p.Transform(move)
	}
	return Sheet{W: b.W() + 2*Margin, H: b.H() + 2*Margin, Paper: White}, moved
}

// Filled lays the pieces on a sheet as dark shapes.
func Filled(pieces ...Piece) Sheet {
	s, moved := Lay(pieces...)
	return s.Fill(Black, moved...)
}

// Drawn lays the pieces on a sheet as lines of a pen, with their inner lines.
func Drawn(pen float64, pieces ...Piece) Sheet {
	s, moved := Lay(pieces...)
	return s.Draw(Black, pen, moved...)
}

// Fill returns the sheet with the pieces, which lie where they are, as shapes.
func (s Sheet) Fill(t Tone, pieces ...Piece) Sheet {
	l := Layer{Tone: t}
	for _, p := range pieces {
		l.Fills = append(l.Fills, p.Outline)
	}
	return s.with(l, pieces...)
}

// Draw returns the sheet with the pieces, which lie where they are, as lines.
func (s Sheet) Draw(t Tone, pen float64, pieces ...Piece) Sheet {
	l := Layer{Tone: t, Pen: pen}
	for _, p := range pieces {
		l.Lines = append(append(l.Lines, p.Outline), p.Inner...)
	}
	return s.with(l, pieces...)
}

func (s Sheet) with(l Layer, pieces ...Piece) Sheet {
	s.Layers = append(s.Layers[:len(s.Layers):len(s.Layers)], l)
	s.Pieces = append(s.Pieces[:len(s.Pieces):len(s.Pieces)], pieces...)
	return s
}

// Cover returns the sheet with more ink that is no piece.
func (s Sheet) Cover(l Layer) Sheet { return s.with(l) }

// Under returns the sheet with ink below all other.
func (s Sheet) Under(l Layer) Sheet {
	s.Layers = append([]Layer{l}, s.Layers...)
	return s
}

// Squared returns the printed lines of squared paper: a line every step mm, from the lower
// left corner of the sheet.
func (s Sheet) Squared(t Tone, step, pen float64) Layer {
	l := Layer{Tone: t, Pen: pen}
	for x := step / 2; x < s.W; x += step {
		l.Lines = append(l.Lines, geom.Path{geom.Line(geom.Pt(x, -1), geom.Pt(x, s.H+1))})
	}
	for y := step / 2; y < s.H; y += step {
		l.Lines = append(l.Lines, geom.Path{geom.Line(geom.Pt(-1, y), geom.Pt(s.W+1, y))})
	}
	return l
}

// Broken returns the path with gaps of the given width in mm whose middles lie at the
// given shares of its length. It is no longer closed.
func Broken(p geom.Path, gap float64, shares ...float64) []geom.Path {
	if len(shares) == 0 {
		return []geom.Path{p}
	}
	total := p.Length()
	var out []geom.Path
	for i, a := range shares {
		from := a*total + gap/2
		to := total + shares[0]*total - gap/2
		if i+1 < len(shares) {
			to = shares[i+1]*total - gap/2
		}
		if to <= total {
			out = append(out, p.Between(from, to))
			continue
		}
		part := append(geom.Path{}, p.Between(from, total)...)
		out = append(out, append(part, p.Between(0, to-total)...))
	}
	return out
}

// Part returns what lies on the upright rectangle r of the sheet, as a sheet of its own
// with r's lower left corner at its origin: one of the pages over which a large pattern is
// spread. Of the marks it keeps those that lie on it; pieces and ink run on beyond its
// edge.
func (s Sheet) Part(r geom.Rect) Sheet {
	move := geom.Translation(r.Min.Mul(-1))
	out := Sheet{W: r.W(), H: r.H(), Paper: s.Paper}
	paths := func(ps []geom.Path) []geom.Path {
		var moved []geom.Path
		for _, p := range ps {
			if p.Bounds().Grow(s.reach()).Overlaps(r) {
				moved = append(moved, p.Transform(move))
			}
		}
		return moved
	}
	for _, l := range s.Layers {
		out.Layers = append(out.Layers, Layer{Tone: l.Tone, Fills: paths(l.Fills), Lines: paths(l.Lines), Pen: l.Pen})
	}
	for _, p := range s.Pieces {
		out.Pieces = append(out.Pieces, p.Transform(move))
	}
	for _, m := range s.Marks {
		if r.Contains(m) {
			out.Marks = append(out.Marks, move.Apply(m))
		}
	}
	return out
}

// reach returns the widest pen of the sheet: ink reaches half of it beyond its line, and
// more where a sheet is turned.
func (s Sheet) reach() float64 {
	var w float64
	for _, l := range s.Layers {
		w = math.Max(w, l.Pen)
	}
	return w + 5
}
