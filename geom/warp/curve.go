package warp

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

// turnWeight and growWeight are how much it counts in a fit that a curve ends otherwise than
// it did: the square of how far in mm the end of a handle lies across, and along it, from
// where it would if the curve had turned and grown as the line of its ends has. With these,
// bodices and shirts come nearest to those drafted for the body at once, and a foundation
// of 1918 stays within an eighth of an inch of its own rules.
const (
	turnWeight = 1000.0
	growWeight = 90.0
)

// follower is a handle that would go with the line of the ends of its curve.
type follower struct{ handle, line mix }

// followers lists the handles of the outline at corners. At a smooth joint the curve on the
// other side says where a handle goes.
func (b *body) followers() []follower {
	var list []follower
	for i, n := range b.shape.Nodes {
		c := b.control(0, i)
		line := mix{{c[3], 1}, {c[0], -1}}
		if c[1] < 0 || line.of(b) == (geom.Point{}) {
			continue
		}
		if !n.Smooth {
			list = append(list, follower{b.head(i), line})
		}
		if !b.shape.Nodes[b.shape.next(i)].Smooth {
			list = append(list, follower{b.tail(i), line})
		}
	}
	return list
}

// keepCurves adds to the energy k of the field what curves that end otherwise cost. movement
// says how the unknowns move the points.
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
	blas64.Gemm(blas.NoTrans, blas.Trans, 1, off, movement, 0, by)
	blas64.Syrk(blas.Trans, 1, by, 1, k.RawSymmetric())
}

// write writes how far the end of the handle lies off along it and across it, weighted, as
// linear forms of the coordinates. With vectors as complex numbers and u the unit vector
// along the handle as it was, that is (handle - (was/line) line')/u.
func (f *follower) write(b *body, along, across []float64) {
	line, was := f.line.of(b), f.handle.of(b)
	u := was.Unit()
	grow, turn := math.Sqrt(growWeight), math.Sqrt(turnWeight)
	add := func(point int, re, im float64) { // (re + i im) times the point
		along[2*point] += grow * (re*u.X + im*u.Y)
		along[2*point+1] += grow * (re*u.Y - im*u.X)
		across[2*point] += turn * (im*u.X - re*u.Y)
		across[2*point+1] += turn * (re*u.X + im*u.Y)
	}
	for _, s := range f.handle {
		add(s.point, s.by, 0)
	}
	size := line.Dot(line)
	for _, s := range f.line {
		add(s.point, -s.by*line.Dot(was)/size, -s.by*line.Cross(was)/size)
	}
}
