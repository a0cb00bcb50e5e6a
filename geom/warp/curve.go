package warp

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

// curveWeight is how much it counts in a fit that a curve changes its form: the square of
// how far in mm the end of a handle lies from where it would if the curve had turned and
// grown as the line of its ends has. From 1000 to 2000, bodices and shirts that are fitted
// come nearest to those drafted for the body at once.
const curveWeight = 1500.0

// follower is a handle that would go with the line of the ends of its curve.
type follower struct{ handle, line mix }

// followers lists the handles of the outline.
func (b *body) followers() []follower {
	var list []follower
	for i := range b.shape.Nodes {
		c := b.control(0, i)
		line := mix{{c[3], 1}, {c[0], -1}}
		if c[1] < 0 || line.of(b) == (geom.Point{}) {
			continue
		}
		list = append(list, follower{b.head(i), line}, follower{b.tail(i), line})
	}
	return list
}

// keepCurves adds to the energy k of the field what curves that change their form cost.
// movement says how the unknowns move the points.
func (b *body) keepCurves(k *mat.SymDense, movement blas64.General) {
	list := b.followers()
	if len(list) == 0 {
		return
	}
	off := blas64.General{Rows: 2 * len(list), Cols: movement.Cols, Stride: movement.Cols}
	off.Data = make([]float64, off.Rows*off.Cols)
	for i, f := range list {
		f.write(b, off.Data[2*i*off.Cols:(2*i+1)*off.Cols], off.Data[(2*i+1)*off.Cols:(2*i+2)*off.Cols])
	}
	by := blas64.General{Rows: off.Rows, Cols: movement.Rows, Stride: movement.Rows, Data: make([]float64, off.Rows*movement.Rows)}
	blas64.Gemm(blas.NoTrans, blas.Trans, math.Sqrt(curveWeight), off, movement, 0, by)
	blas64.Syrk(blas.Trans, 1, by, 1, k.RawSymmetric())
}

// write writes how far the handle lies off, as a linear form of the coordinates for x and
// for y. With vectors as complex numbers, that is handle - (was/line) line'.
func (f *follower) write(b *body, x, y []float64) {
	line, was := f.line.of(b), f.handle.of(b)
	size := line.Dot(line)
	re, im := line.Dot(was)/size, line.Cross(was)/size
	for _, s := range f.handle {
		x[2*s.point] += s.by
		y[2*s.point+1] += s.by
	}
	for _, s := range f.line {
		x[2*s.point] -= s.by * re
		x[2*s.point+1] += s.by * im
		y[2*s.point] -= s.by * im
		y[2*s.point+1] -= s.by * re
	}
}
