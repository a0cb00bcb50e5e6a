package sqp

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// Wish is a rule that is met as far as others let it.
type Wish struct {
	Rule
	// Weight is how much the square of what is missed counts against others, above 0.
	Weight float64
}

// Block is a set of unknowns that the metric couples only with one another: those of one
// shape.
type Block struct {
	// Metric is what the square of the change is measured with; it is positive.
	Metric Square
	// Way maps the unknowns to changes of the coordinates that the rules read, a row for
	// each of them; where it has no rows, the unknowns are those coordinates.
	Way blas64.General
	// Base are the coordinates where nothing is changed; nil where they are the unknowns.
	Base []float64
}

// coordinates returns the number of coordinates that rules read.
func (b *Block) coordinates() int {
	if b.Base == nil {
		return b.Metric.N
	}
	return len(b.Base)
}

// Program is a problem of least change under rules.
type Program struct {
	Blocks []Block
	Wishes []Wish
	// Guards are the rules that are not to be less than zero.
	Guards []Rule
	// Size is that of the largest shape, in mm.
	Size float64
	// Reach returns the largest distance in mm by which the unknowns z move anything.
	Reach func(z [][]float64) float64
	// Give is how softly the unknowns follow a wish, in mm for a unit of pull; where it is
	// 0, the mean over the wishes is taken.
	Give float64
	// Start is where Follow starts from, and then tries sooner to finish at once; nil where
	// nothing is changed at first.
	Start *Start
	// Stepped, if it is not nil, is called after each Newton step of Follow with their
	// number.
	Stepped func(steps int)

	steps int
}

// Start are unknowns near a solution, that of a problem which is a little different.
type Start struct {
	Z [][]float64
	// Met says that all wishes were met there, and can be expected to be again: they are
	// hard from the first.
	Met bool
}

// Zeros returns unknowns that change nothing.
func (m *Program) Zeros() [][]float64 {
	z := make([][]float64, len(m.Blocks))
	for i := range m.Blocks {
		z[i] = make([]float64, m.Blocks[i].Metric.N)
	}
	return z
}

// At returns the coordinates at the unknowns z.
func (m *Program) At(z [][]float64) [][]float64 {
	x := make([][]float64, len(z))
	for i := range m.Blocks {
		b := &m.Blocks[i]
		if b.Base == nil {
			x[i] = z[i]
			continue
		}
		x[i] = append([]float64(nil), b.Base...)
		if len(z[i]) > 0 && len(x[i]) > 0 {
			blas64.Gemv(blas.NoTrans, 1, b.Way, vector(z[i]), 1, vector(x[i]))
		}
	}
	return x
}

func vector(v []float64) blas64.Vector { return blas64.Vector{N: len(v), Inc: 1, Data: v} }

// pulled turns a derivative by the coordinates into one by the unknowns.
func (m *Program) pulled(g *Gradient) {
	for i, k := range g.blocks {
		b := &m.Blocks[k]
		if b.Base == nil {
			continue
		}
		out := make([]float64, b.Metric.N)
		for r, v := range g.by[i] {
			if v == 0 {
				continue
			}
			for c, w := range b.Way.Data[r*b.Way.Stride : r*b.Way.Stride+len(out)] {
				out[c] += v * w
			}
		}
		g.by[i] = out
	}
}

// bent turns second derivatives by the coordinates of block k into those by its unknowns.
func (m *Program) bent(k int, h Square) Square {
	b := &m.Blocks[k]
	n := b.Metric.N
	if b.Base == nil || n == 0 {
		return h
	}
	half := blas64.General{Rows: h.N, Cols: n, Stride: n, Data: make([]float64, h.N*n)}
	for r := range h.N {
		into := half.Data[r*n : (r+1)*n]
		for c, v := range h.A[r*h.N : (r+1)*h.N] {
			if v == 0 {
				continue
			}
			for j, w := range b.Way.Data[c*b.Way.Stride : c*b.Way.Stride+n] {
				into[j] += v * w
			}
		}
	}
	out := NewSquare(n)
	blas64.Gemm(blas.Trans, blas.NoTrans, 1, b.Way, half, 0, blas64.General{Rows: n, Cols: n, Stride: n, Data: out.A})
	return out
}

// change returns half the change of the whole as the metric has it.
func (m *Program) change(z [][]float64) float64 {
	sum := 0.0
	for i := range m.Blocks {
		q := &m.Blocks[i].Metric
		y := make([]float64, q.N)
		q.Times(z[i], y)
		for j, v := range z[i] {
			sum += v * y[j]
		}
	}
	return sum / 2
}

// Missed returns the root of the weighted sum of squares of what the wishes miss, in mm.
func (m *Program) Missed(z [][]float64) float64 {
	sum, x := 0.0, m.At(z)
	for i := range m.Wishes {
		v := m.Wishes[i].Value(x)
		sum += m.Wishes[i].Weight * v * v
	}
	return math.Sqrt(sum)
}

// Worst returns how much in mm a wish misses at most.
func (m *Program) Worst(z [][]float64) float64 {
	worst, x := 0.0, m.At(z)
	for i := range m.Wishes {
		worst = math.Max(worst, math.Abs(m.Wishes[i].Value(x)))
	}
	return worst
}

// tiny is a length in mm below which nothing is divided by it.
const tiny = 1e-9
