package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
)

// leastDetail is the size in screen units below which a part of a fastening is left out.
const leastDetail = 4

// fastening draws one fastening of a row in its true size, as printed patterns mark
// them: a button as a circle with a cross, its hole as a bar with ends, a hook by its
// bend and an eye by its loop, a snap as two circles, an eyelet as a ring, and where a
// drawstring comes out as a slit in an oval.
func (d *pieceDrawing) fastening(r *draft.Row, f draft.FastenPlace) {
	line, half := inked(markWidth, paint.Dash{}), r.Size/2
	along, across := f.Along, f.Along.Left()
	at := func(x, y float64) geom.Point { return f.At.Add(along.Mul(x * half)).Add(across.Mul(y * half)) }
	curve := func(a, b, c, e geom.Point) {
		d.add(paint.Shape{Path: geom.Path{geom.Cubic(a, b, c, e)}, Line: line, Least: leastDetail})
	}
	detail := func(a, b geom.Point) {
		d.add(paint.Shape{Path: geom.Path{geom.Line(a, b)}, Line: line, Least: leastDetail})
	}
	const bend = 4. / 3 // handles of a half circle by one cubic
	switch r.Kind {
	case draft.Buttons:
		d.add(paint.Shape{Path: ring(f.At, half), Line: line})
		detail(at(-0.6, 0), at(0.6, 0))
		detail(at(0, -0.6), at(0, 0.6))
	case draft.Buttonholes:
		d.stroke(at(-1, 0), at(1, 0), line)
		detail(at(-1, -0.4), at(-1, 0.4))
		detail(at(1, -0.4), at(1, 0.4))
	case draft.Hooks:
		d.stroke(at(-1, 0.35), at(0.4, 0.35), line)
		curve(at(0.4, 0.35), at(0.4+0.35*bend, 0.35), at(0.4+0.35*bend, -0.35), at(0.4, -0.35))
		detail(at(0.4, -0.35), at(0, -0.35))
		d.add(paint.Shape{Path: ring(at(-1, 0), 0.3*half), Line: line, Least: leastDetail})
	case draft.HookEyes:
		d.stroke(at(-1, 0.6), at(0.2, 0.6), line)
		curve(at(0.2, 0.6), at(0.2+0.6*bend, 0.6), at(0.2+0.6*bend, -0.6), at(0.2, -0.6))
		d.stroke(at(0.2, -0.6), at(-1, -0.6), line)
	case draft.Snaps:
		d.add(paint.Shape{Path: ring(f.At, half), Line: line})
		d.add(paint.Shape{Path: ring(f.At, 0.4*half), Fill: paint.Of(paint.Ink), Least: leastDetail})
	case draft.Eyelets:
		d.add(paint.Shape{Path: ring(f.At, half), Line: line})
		d.add(paint.Shape{Path: ring(f.At, 0.6*half), Line: line, Least: leastDetail})
	case draft.Exits:
		d.stroke(at(-1, 0), at(1, 0), inked(cutWidth, paint.Dash{}))
		curve(at(-1, 0), at(-1, 0.5*bend), at(1, 0.5*bend), at(1, 0))
		curve(at(-1, 0), at(-1, -0.5*bend), at(1, -0.5*bend), at(1, 0))
	}
}
