package sheet

import (
	"math"

	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/geom"
)

// How near, in screen units, the pointer must come to touch a thing: about the size
// of what is drawn and a little more, for a shaky hand.
const (
	reachPoint = 9
	reachLine  = 7
)

// at returns the id of what lies under a place of the widget, and the place in mm.
func (s *Sheet) at(pos fyne.Position) (string, geom.Point) {
	at := s.view.UnitsToMM(float64(pos.X), float64(pos.Y))
	return s.Under(at), at
}

// Under returns the id of what lies under a place in mm: the nearest point in reach,
// or else a label, or else the nearest line, or else the topmost solid thing.
func (s *Sheet) Under(at geom.Point) string {
	mm := s.view.MM(1)
	for _, find := range []func(geom.Point, float64) string{s.pointAt, s.labelAt, s.lineAt, s.solidAt} {
		if id := find(at, mm); id != "" {
			return id
		}
	}
	return ""
}

// each calls f for every thing that can be pointed at, topmost first, with the place
// in the millimetres of its layer and how many of them one of the sheet's makes,
// until f says stop.
func (s *Sheet) each(at geom.Point, f func(t *Thing, local geom.Point, scale float64) (stop bool)) {
	for i := len(s.shown) - 1; i >= 0; i-- {
		l := s.shown[i]
		back, ok := l.place().Invert()
		if !ok {
			continue
		}
		scale := math.Sqrt(math.Abs(back.Det()))
		for k := len(l.Things) - 1; k >= 0; k-- {
			if t := l.Things[k]; t.ID != "" && f(t, back.Apply(at), scale) {
				return
			}
		}
	}
}

func (s *Sheet) pointAt(at geom.Point, mm float64) string {
	best, dist := "", mm*reachPoint
	s.each(at, func(t *Thing, local geom.Point, scale float64) bool {
		for _, m := range t.Marks {
			if dot, ok := m.(paint.Dot); ok {
				if d := dot.At.Dist(local) / scale; d < dist {
					best, dist = t.ID, d
				}
			}
		}
		return false
	})
	return best
}

// labelAt looks for a text, which is upright and of a size of its own.
func (s *Sheet) labelAt(at geom.Point, mm float64) string {
	const above, below, beside = 1, 0.35, 3 // of the size; of a unit
	found := ""
	px := s.view.ToPx(at)
	s.eachPlaced(func(t *Thing, place geom.Affine) bool {
		for _, m := range t.Marks {
			text, ok := m.(paint.Text)
			if !ok {
				continue
			}
			dpr := s.view.DPR
			from := s.view.ToPx(place.Apply(text.At)).Add(geom.Pt(text.DX*dpr, text.DY*dpr))
			wide := s.painter.TextWidth(text.Text, text.Size, text.Weight, dpr) * dpr
			from.X -= wide * [...]float64{paint.Start: 0, paint.Middle: 0.5, paint.End: 1}[text.Anchor]
			box := geom.Rect{
				Min: geom.Pt(from.X-beside*dpr, from.Y-above*text.Size*dpr),
				Max: geom.Pt(from.X+wide+beside*dpr, from.Y+below*text.Size*dpr),
			}
			if box.Contains(px) {
				found = t.ID
				return true
			}
		}
		return false
	})
	return found
}

// eachPlaced is each with the map of the thing's layer.
func (s *Sheet) eachPlaced(f func(t *Thing, place geom.Affine) (stop bool)) {
	for i := len(s.shown) - 1; i >= 0; i-- {
		l := s.shown[i]
		for k := len(l.Things) - 1; k >= 0; k-- {
			if t := l.Things[k]; t.ID != "" && f(t, l.place()) {
				return
			}
		}
	}
}

func (s *Sheet) lineAt(at geom.Point, mm float64) string {
	best, dist := "", mm*reachLine
	s.each(at, func(t *Thing, local geom.Point, scale float64) bool {
		for _, m := range t.Marks {
			var path geom.Path
			switch m := m.(type) {
			case paint.Shape:
				if m.Line.Width > 0 {
					path = m.Path
				}
			case paint.Arrow:
				path = geom.Path{geom.Line(m.A, m.B)}
			}
			if len(path) == 0 || !path.Bounds().Grow(dist*scale).Contains(local) {
				continue
			}
			if _, d := path.Nearest(local); d/scale < dist {
				best, dist = t.ID, d/scale
			}
		}
		return false
	})
	return best
}

func (s *Sheet) solidAt(at geom.Point, _ float64) string {
	found := ""
	s.each(at, func(t *Thing, local geom.Point, _ float64) bool {
		if !t.Solid {
			return false
		}
		for _, m := range t.Marks {
			if shape, ok := m.(paint.Shape); ok && len(shape.Path) > 0 && shape.Path.Bounds().Contains(local) && shape.Path.Contains(local) {
				found = t.ID
				return true
			}
		}
		return false
	})
	return found
}
