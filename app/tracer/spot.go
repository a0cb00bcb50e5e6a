package tracer

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// spot is a place in a picture, in its pixels, that can be taken hold of and nudged.
type spot struct {
	pic draft.ID
	at  geom.Point
}

// place returns where the spot lies on the bench, or false where its picture is gone.
func (r *Room) place(s *spot) (geom.Point, bool) {
	pic := r.desk.Project().Picture(s.pic)
	if pic == nil {
		return geom.Point{}, false
	}
	return pic.Place.Apply(s.at), true
}

// spotAt returns a spot in the picture at a place, or nil beside it.
func spotAt(pic *draft.Picture, at geom.Point) *spot {
	px, ok := pic.PixelAt(at)
	if !ok || px.X < 0 || px.Y < 0 || px.X > float64(pic.Wide) || px.Y > float64(pic.High) {
		return nil
	}
	return &spot{pic.ID, px}
}

// spots are the places of a step that can be taken hold of.
type spots struct {
	r *Room
	// list returns those that there are.
	list func() []*spot
	// changed is told of a spot that was let go of or nudged; nudged says which.
	changed func(s *spot, nudged bool)

	// keep returns what brings all back as it now stands.
	keep func() (back func())

	held, last *spot
	// back brings back what was before the held one was taken.
	back func()
	// off is how far from the held one the pointer took hold, in mm.
	off geom.Point
}

// spotReach is how near the pointer must come to a spot to take hold of it, in screen
// units.
const spotReach = 11

// near returns the spot in reach of a place, or nil.
func (s *spots) near(at geom.Point) *spot {
	var best *spot
	dist := s.r.reach(spotReach)
	for _, x := range s.list() {
		if p, ok := s.r.place(x); ok {
			if d := p.Dist(at); d <= dist {
				best, dist = x, d
			}
		}
	}
	return best
}

func (s *spots) press(at geom.Point) bool {
	if s.held = s.near(at); s.held == nil {
		return false
	}
	s.back = s.keep()
	s.last = s.held
	p, _ := s.r.place(s.held)
	s.off = p.Sub(at)
	s.r.magnify(p)
	s.r.redraw()
	return true
}

func (s *spots) drag(at geom.Point) {
	if s.held != nil && s.put(s.held, at.Add(s.off)) {
		s.r.magnify(at.Add(s.off))
		s.r.redraw()
	}
}

func (s *spots) drop(geom.Point) {
	held := s.held
	if s.held = nil; held != nil {
		s.does("the place of a mark", "", s.back, func() { s.changed(held, false) })
	}
}

// does does something to the spots that can be taken back.
func (s *spots) does(what, fold string, back, do func()) {
	hand := s.r.hand
	s.r.does(doing{what: what, fold: fold, back: back, holds: func() bool { return s.r.hand == hand }}, do)
}

// put brings a spot to a place on the bench, no farther than its picture reaches.
func (s *spots) put(x *spot, at geom.Point) bool {
	pic := s.r.desk.Project().Picture(x.pic)
	if pic == nil {
		return false
	}
	px, ok := pic.PixelAt(at)
	if !ok || !px.Finite() {
		return false
	}
	x.at = geom.Pt(min(max(px.X, 0), float64(pic.Wide)), min(max(px.Y, 0), float64(pic.High)))
	return true
}

// How far the arrow keys move a spot, in pixels of its picture: plainly, with Shift, and
// with Alt or Ctrl.
const (
	nudgePlain = 1.0
	nudgeFar   = 10.0
	nudgeFine  = 0.1
)

// arrows are the ways of the arrow keys on the screen, y up.
var arrows = map[fyne.KeyName]geom.Point{
	fyne.KeyUp: {Y: 1}, fyne.KeyDown: {Y: -1}, fyne.KeyLeft: {X: -1}, fyne.KeyRight: {X: 1},
}

// key nudges the spot that was placed last.
func (s *spots) key(k fyne.KeyName, mods fyne.KeyModifier) bool {
	way, arrow := arrows[k]
	if !arrow || s.last == nil {
		return false
	}
	pic := s.r.desk.Project().Picture(s.last.pic)
	if pic == nil {
		return false
	}
	by := nudgePlain
	switch {
	case mods&(fyne.KeyModifierAlt|fyne.KeyModifierControl) != 0:
		by = nudgeFine
	case mods&fyne.KeyModifierShift != 0:
		by = nudgeFar
	}
	p, _ := s.r.place(s.last)
	to := p.Add(way.Mul(by * pic.Place.ScaleAt(s.last.at)))
	back := s.keep()
	if !s.put(s.last, to) {
		return false
	}
	last := s.last
	s.does("the place of a mark", "nudge", back, func() { s.changed(last, true) })
	// Where that has made the picture true anew, it lies elsewhere now.
	if at, ok := s.r.place(last); ok {
		s.r.magnify(at)
	}
	return true
}

// spotMark draws a spot: an open ring with a cross, so that what lies under it is seen.
func spotMark(at geom.Point, t paint.Token, large bool) []paint.Mark {
	return []paint.Mark{
		paint.Dot{At: at, Kind: paint.Plus, Colour: paint.Of(t), Large: large},
		paint.Dot{At: at, Kind: paint.Ring, Colour: paint.Of(t), Large: large},
	}
}

// onLayer puts marks on a layer that does not count when the pictures are fitted.
func onLayer(marks ...paint.Mark) *sheet.Layer {
	return &sheet.Layer{Aside: true, Things: []*sheet.Thing{{Marks: marks}}}
}
