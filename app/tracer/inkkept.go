package tracer

import (
	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
)

// inkKept returns which place, in mm, is to be in the middle and how many screen units a mm
// takes for the same ink of a picture to be seen as large and where it was, after the
// picture was laid elsewhere, such as at its true size.
func inkKept(v paint.View, was, now *draft.Picture) (middle geom.Point, unitsPerMM float64) {
	mid := v.ToMM(geom.Pt(float64(v.W)/2, float64(v.H)/2))
	// The nearest place of the picture stands for what lies beside it.
	px, ok := was.PixelAt(mid)
	if !ok {
		px = geom.Pt(float64(was.Wide)/2, float64(was.High)/2)
	}
	px = geom.Pt(min(max(px.X, 0), float64(was.Wide)), min(max(px.Y, 0), float64(was.High)))
	by := now.Place.ScaleAt(px) / was.Place.ScaleAt(px)
	beside := mid.Sub(was.Place.Apply(px)).Mul(by)
	return now.Place.Apply(px).Add(beside), v.Scale / v.DPR / by
}
