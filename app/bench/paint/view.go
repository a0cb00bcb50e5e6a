package paint

import (
	"math"

	"hemlet/geom"
)

// View says which part of the document is seen: W by H device pixels, y down,
// with the document's origin at the pixel place (X, Y) and Scale device pixels
// per mm. DPR is the number of device pixels to a screen unit.
type View struct {
	W, H  int
	DPR   float64
	Scale float64
	X, Y  float64
}

// Bounds of the scale in screen units per mm: from a 20 m hall hanging in a
// small window to a hundredth of a millimetre as one unit.
const (
	minScale = 0.02
	maxScale = 100
)

// unitsPerMM is the scale at which a 96 dpi screen shows true size.
const unitsPerMM = 96 / 25.4

// NewView returns a view of w by h device pixels with dpr device pixels to a unit,
// with the document's origin in the middle, at true size on a 96 dpi screen.
// A dpr that is not positive counts as 1.
func NewView(w, h int, dpr float64) View {
	if !(dpr > 0) {
		dpr = 1
	}
	return View{W: w, H: h, DPR: dpr, Scale: unitsPerMM * dpr, X: float64(w) / 2, Y: float64(h) / 2}
}

// ToPx returns the device pixel place of p.
func (v View) ToPx(p geom.Point) geom.Point {
	return geom.Point{X: v.X + p.X*v.Scale, Y: v.Y - p.Y*v.Scale}
}

// ToMM returns the document point at the device pixel place.
func (v View) ToMM(px geom.Point) geom.Point {
	return geom.Point{X: (px.X - v.X) / v.Scale, Y: (v.Y - px.Y) / v.Scale}
}

// UnitsToMM returns the document point at the place (x, y) in screen units, as
// pointer events tell it.
func (v View) UnitsToMM(x, y float64) geom.Point {
	return v.ToMM(geom.Point{X: x * v.DPR, Y: y * v.DPR})
}

// MM returns how many mm the length in screen units covers, for the reach of a
// pointer.
func (v View) MM(units float64) float64 { return units * v.DPR / v.Scale }

// Affine returns the map from mm to device pixels.
func (v View) Affine() geom.Affine {
	return geom.Affine{A: v.Scale, D: -v.Scale, E: v.X, F: v.Y}
}

// Visible returns the part of the document that is seen, in mm.
func (v View) Visible() geom.Rect {
	return geom.RectOf(v.ToMM(geom.Point{}), v.ToMM(geom.Point{X: float64(v.W), Y: float64(v.H)}))
}

// Pan returns the view with the picture moved by dx, dy device pixels.
func (v View) Pan(dx, dy float64) View {
	v.X += dx
	v.Y += dy
	return v
}

// ZoomAt returns the view scaled by the factor with the document point under the
// device pixel place staying where it is. The scale stops at its bounds.
func (v View) ZoomAt(px geom.Point, factor float64) View {
	return v.scaleAt(px, v.Scale*factor)
}

// scaleAt is ZoomAt with the new scale itself.
func (v View) scaleAt(px geom.Point, scale float64) View {
	if math.IsNaN(scale) {
		return v
	}
	at := v.ToMM(px)
	v.Scale = min(max(scale, minScale*v.DPR), maxScale*v.DPR)
	v.X, v.Y = px.X-at.X*v.Scale, px.Y+at.Y*v.Scale
	return v
}

// Margins are what is left free at the sides of a view, in screen units.
type Margins struct{ Left, Top, Right, Bottom float64 }

// Fit returns the view with r in the middle, as large as the margin in screen
// units on every side lets it be. An empty r changes nothing; a point or a line
// is only brought to the middle.
func (v View) Fit(r geom.Rect, margin float64) View {
	return v.FitWithin(r, Margins{margin, margin, margin, margin})
}

// FitWithin is Fit with a margin of its own at each side; the middle is that of
// what they leave. Margins that leave nothing do not change the scale.
func (v View) FitWithin(r geom.Rect, m Margins) View {
	if r.Empty() {
		return v
	}
	free := geom.Rect{
		Min: geom.Point{X: m.Left * v.DPR, Y: m.Top * v.DPR},
		Max: geom.Point{X: float64(v.W) - m.Right*v.DPR, Y: float64(v.H) - m.Bottom*v.DPR},
	}
	scale := math.Min((free.Max.X-free.Min.X)/r.W(), (free.Max.Y-free.Min.Y)/r.H())
	if !(scale > 0) || math.IsInf(scale, 0) {
		scale = v.Scale
	}
	v.Scale = min(max(scale, minScale*v.DPR), maxScale*v.DPR)
	v = v.Centre(r.Center())
	return v.Pan((free.Min.X+free.Max.X-float64(v.W))/2, (free.Min.Y+free.Max.Y-float64(v.H))/2)
}

// Centre returns the view with p in the middle at the same scale.
func (v View) Centre(p geom.Point) View {
	v.X, v.Y = float64(v.W)/2-p.X*v.Scale, float64(v.H)/2+p.Y*v.Scale
	return v
}

// Resized returns the view for a surface of another size or pixel density: the
// middle stays in the middle and a mm covers as many screen units as before.
func (v View) Resized(w, h int, dpr float64) View {
	if w == v.W && h == v.H && dpr == v.DPR || !(dpr > 0) {
		return v
	}
	mid := v.ToMM(geom.Point{X: float64(v.W) / 2, Y: float64(v.H) / 2})
	v.Scale *= dpr / v.DPR
	v.W, v.H, v.DPR = w, h, dpr
	return v.Centre(mid)
}

// Percent returns the scale as a share of true size on a 96 dpi screen, times 100.
func (v View) Percent() float64 { return v.Scale / v.DPR / unitsPerMM * 100 }
