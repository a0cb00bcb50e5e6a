package sheet

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/geom"
)

// Fit shows all of the drawing. Until the view is moved it is fitted anew whenever
// the sheet changes its size.
func (s *Sheet) Fit() {
	s.whole, s.sized = true, true
	s.view = s.fitted()
	s.viewed()
}

// FitTo shows the box, in mm, as large as there is room.
func (s *Sheet) FitTo(box geom.Rect) {
	s.look(s.view.FitWithin(box, s.margins))
}

// SetMargins says what is left free round the drawing when it is fitted, in screen
// units: room for what lies over the sheet.
func (s *Sheet) SetMargins(m paint.Margins) {
	if s.margins != m {
		s.margins, s.sized = m, false
		s.redraw()
	}
}

// LookAt shows a place, in mm, in the middle, with so many screen units to a mm.
func (s *Sheet) LookAt(at geom.Point, unitsPerMM float64) {
	v := s.view
	if v.Scale > 0 {
		mid := geom.Pt(float64(v.W)/2, float64(v.H)/2)
		v = v.ZoomAt(mid, unitsPerMM*v.DPR/v.Scale)
	}
	s.look(v.Centre(at))
}

// Bare returns the painted sheet alone, which hears neither pointer nor keys.
func (s *Sheet) Bare() fyne.CanvasObject { return s.raster }

// ZoomBy scales the view about its middle.
func (s *Sheet) ZoomBy(factor float64) {
	s.look(s.view.ZoomAt(geom.Pt(float64(s.view.W)/2, float64(s.view.H)/2), factor))
}

// Percent returns the scale as a share of true size on a screen of 96 dots an inch,
// times 100.
func (s *Sheet) Percent() float64 { return s.view.Percent() }

// View returns what is seen.
func (s *Sheet) View() paint.View { return s.view }

func (s *Sheet) fitted() paint.View { return s.view.FitWithin(s.bounds(), s.margins) }

// Of the fitted size, the share below which a drawing is fitted anew.
const outgrownBelow = 0.5

// outgrown reports whether the drawing is out of sight in part, or small in it.
func (s *Sheet) outgrown() bool {
	box := s.bounds()
	if box.Empty() || s.view.W <= 1 {
		return true
	}
	seen := s.view.Visible()
	if !seen.Contains(box.Min) || !seen.Contains(box.Max) {
		return true
	}
	return s.view.Scale < outgrownBelow*s.fitted().Scale
}

// look moves the view.
func (s *Sheet) look(v paint.View) {
	s.view, s.whole = v, false
	s.viewed()
}

func (s *Sheet) viewed() {
	s.redraw()
	if s.OnView != nil {
		s.OnView()
	}
}
