package sheet

import (
	"hemlet/app/bench/paint"
	"hemlet/geom"
)

// Layer is a part of a drawing that changes together, bottom first.
type Layer struct {
	// Place maps the layer's millimetres to the sheet's. The zero map stands for no
	// change.
	Place geom.Affine
	// Aside says that the layer does not count when the drawing is fitted to the
	// view: rulers, legends, what was before.
	Aside  bool
	Things []*Thing
}

// place returns the map of the layer.
func (l *Layer) place() geom.Affine {
	if l.Place == (geom.Affine{}) {
		return geom.Identity
	}
	return l.Place
}

// Thing is what is pointed at as one: a piece, a level line, a point with its name.
type Thing struct {
	// ID is what the callbacks tell and what Highlight takes. Things without one are
	// not pointed at. Several things may share an id: they light up together.
	ID string
	// Marks are painted in order, bottom first.
	Marks []paint.Mark
	// Solid says that the inside of its shapes counts too, not only their lines.
	Solid bool
	// Lit, where not empty, are the marks that are laid over it while it is
	// highlighted. Without them its lines and points are painted over in chalk.
	Lit []paint.Mark
}

// Solid lines in a token's colour; width is in screen units.
func Solid(t paint.Token, width float64) paint.Line {
	return paint.Line{Colour: paint.Of(t), Width: width, Join: paint.Round, Cap: paint.RoundCap}
}

// Dashed is Solid with dashes, as stitching lines and levels have them.
func Dashed(t paint.Token, width float64) paint.Line {
	l := Solid(t, width)
	l.Cap, l.Dash = paint.Butt, paint.Dash{5, 4, 5, 4}
	return l
}

// Dotted is Solid with short dashes, for help lines.
func Dotted(t paint.Token, width float64) paint.Line {
	l := Solid(t, width)
	l.Cap, l.Dash = paint.Butt, paint.Dash{1.5, 3.5, 1.5, 3.5}
	return l
}

// Fainter returns the line at the share of its opacity, 0 to 1.
func Fainter(l paint.Line, opacity float64) paint.Line {
	l.Colour.Fade = 255 - uint8(float64(255-l.Colour.Fade)*min(max(opacity, 0), 1)+0.5)
	return l
}

// Lined returns a path that is lined and not filled.
func Lined(p geom.Path, l paint.Line) paint.Mark { return paint.Shape{Path: p, Line: l} }

// Filled returns a path that is filled and lined; a zero Line leaves the rim away.
func Filled(p geom.Path, fill paint.Colour, l paint.Line) paint.Mark {
	return paint.Shape{Path: p, Fill: fill, Line: l}
}

// Point returns a small round mark.
func Point(at geom.Point, t paint.Token) paint.Mark {
	return paint.Dot{At: at, Kind: paint.SmoothNode, Colour: paint.Of(t), Fill: paint.Of(paint.Node)}
}

// labelSize is that of labels, in screen units.
const labelSize = 11

// Label returns a small text beside a point: dx and dy, in screen units, y down,
// move it from there.
func Label(at geom.Point, dx, dy float64, text string, t paint.Token, a paint.Anchor) paint.Mark {
	return paint.Text{At: at, DX: dx, DY: dy, Text: text, Size: labelSize, Colour: paint.Of(t), Anchor: a, Halo: paint.Of(paint.Bench)}
}

// Strong returns a text in the semi-bold cut, such as the name of a piece.
func Strong(at geom.Point, dx, dy float64, text string, size float64, t paint.Token, a paint.Anchor) paint.Mark {
	return paint.Text{At: at, DX: dx, DY: dy, Text: text, Size: size, Weight: paint.SemiBold, Colour: paint.Of(t), Anchor: a, Halo: paint.Of(paint.Bench)}
}

// lit returns the marks that are laid over a thing while it is highlighted; faintly
// where only the pointer is on it.
func (t *Thing) lit(faint bool) []paint.Mark {
	if len(t.Lit) > 0 {
		return t.Lit
	}
	colour := paint.Of(paint.Chalk)
	if faint {
		colour = paint.Faded(paint.Chalk, 0.5)
	}
	var out []paint.Mark
	for _, m := range t.Marks {
		switch m := m.(type) {
		case paint.Shape:
			if m.Line.Width > 0 {
				out = append(out, paint.Shape{Path: m.Path, Line: paint.Line{Colour: colour, Width: max(m.Line.Width+1.4, 2.6), Join: paint.Round, Cap: paint.RoundCap}})
			}
		case paint.Dot:
			m.Colour, m.Large = paint.Of(paint.Chalk), true
			out = append(out, m)
		case paint.Arrow:
			m.Line.Colour, m.Line.Width = colour, max(m.Line.Width+1.4, 2.6)
			out = append(out, m)
		case paint.Text:
			m.Colour, m.Weight = paint.Of(paint.Chalk), paint.SemiBold
			out = append(out, m)
		}
	}
	return out
}

// bounds returns the box of the marks in the layer's millimetres.
func (t *Thing) bounds() geom.Rect {
	box := geom.EmptyRect()
	for _, m := range t.Marks {
		switch m := m.(type) {
		case paint.Shape:
			if len(m.Path) > 0 {
				box = box.Union(m.Path.Bounds())
			}
		case paint.Dot:
			box = box.Include(m.At)
		case paint.Arrow:
			box = box.Include(m.A).Include(m.B)
		case paint.Text:
			box = box.Include(m.At)
		case paint.Picture:
			box = box.Union(pictureBox(m))
		}
	}
	return box
}

// pictureBox returns the box of what is seen of a picture in the layer's millimetres.
func pictureBox(m paint.Picture) geom.Rect {
	if m.Of == nil {
		return geom.EmptyRect()
	}
	place := geom.Plane
	if m.Place != nil {
		place = *m.Place
	}
	ring := m.Ring
	if ring == nil {
		w, h := float64(m.Of.W), float64(m.Of.H)
		ring = []geom.Point{geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h)}
	}
	box := geom.EmptyRect()
	for _, c := range ring {
		box = box.Include(place.Apply(c))
	}
	return box
}
