package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/draft"
)

// leastDetail is the size in screen units below which a part of a fastening is left out.
const leastDetail = 4

// fastening draws one fastening of a row in its true size, as printed patterns mark it.
func (d *pieceDrawing) fastening(r *draft.Row, f draft.FastenPlace) {
	line := inked(markWidth, paint.Dash{})
	whole, detail := r.Sign(f)
	for _, path := range whole {
		d.add(paint.Shape{Path: path, Line: line})
	}
	for _, path := range detail {
		d.add(paint.Shape{Path: path, Line: line, Least: leastDetail})
	}
}
