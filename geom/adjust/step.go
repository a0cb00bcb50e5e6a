package adjust

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// A Newton step. With the metric M, the rules c and their multipliers λ, the solution is
// where M z + cʹᵀ λ = 0 and c = D λ, D being zero for what is hard. A step p solves
//
//	B p + Aᵀ λ = -M z,  A p - D λ = -c
//
// with A the slopes of the rules and B the metric and the rules' curvature.

// state is a place on the way to the solution.
type state struct {
	z [][]float64
	// multipliers of the wishes, of the rules that hold, and of the guards.
	wish, hold, guard []float64
}

// row is a rule that takes part in a step.
type row struct {
	rule
	multiplier *float64 // where it is kept
	soft       float64  // D
	miss       float64
	g          gradient
	guard      int // the index of the guard, -1 for what is none
}

// system is the linear system of one step, with the shapes' matrices factorised.
type system struct {
	m    *model
	chol []mat.Cholesky
	pull [][]float64 // -M z
}

var errSingular = errors.New("adjust: the rules cannot be told apart in numbers")

// newSystem factorises B for each shape. Curvature that would make it no longer positive
// is taken in part only: the step is then shorter of sight, but goes the same way.
func (m *model) newSystem(s *state, rows []row) (*system, error) {
	sys := &system{m: m, chol: make([]mat.Cholesky, len(m.outlines)), pull: make([][]float64, len(m.outlines))}
	bends := make([]square, len(m.outlines))
	for i, o := range m.outlines {
		bends[i] = newSquare(o.n)
		sys.pull[i] = make([]float64, o.n)
		m.metric[i].times(s.z[i], sys.pull[i])
		for j := range sys.pull[i] {
			sys.pull[i][j] *= -1
		}
	}
	for i := range rows {
		if k := *rows[i].multiplier; k != 0 {
			rows[i].curve(s.z, k, bends)
		}
	}
	for i, o := range m.outlines {
		if o.n > 0 && !factorised(&sys.chol[i], m.metric[i], bends[i]) {
			return nil, errSingular
		}
	}
	return sys, nil
}

// curvatures are the shares of the rules' curvature that are tried.
var curvatures = [...]float64{1, 0.5, 0.25, 0.1, 0.03, 0}

func factorised(c *mat.Cholesky, metric, bend square) bool {
	n := metric.n
	a := make([]float64, n*n)
	for _, share := range curvatures {
		for i := range a {
			a[i] = metric.a[i] + share*bend.a[i]
		}
		if c.Factorize(mat.NewSymDense(n, a)) && c.Cond() < mostCondition {
			return true
		}
	}
	return c.Factorize(mat.NewSymDense(n, append([]float64(nil), metric.a...)))
}

// mostCondition is the condition of a shape's matrix beyond which a step is mostly
// rounding.
const mostCondition = 1e13

// solve returns the step and the multipliers of the rows.
func (sys *system) solve(rows []row) (p [][]float64, multipliers []float64, err error) {
	n := len(rows)
	schur := mat.NewSymDense(max(n, 1), nil)
	right := make([]float64, n)
	half := make([]blas64.General, len(sys.m.outlines)) // U⁻ᵀ Aᵀ
	who := make([][]int, len(sys.m.outlines))
	free := make([][]float64, len(sys.m.outlines)) // U⁻ᵀ pull
	for i := range rows {
		right[i] = rows[i].miss
		for _, s := range rows[i].g.shapes {
			who[s] = append(who[s], i)
		}
	}
	for s, o := range sys.m.outlines {
		if o.n == 0 {
			continue
		}
		u := sys.chol[s].RawU().(*mat.TriDense).RawTriangular()
		k := len(who[s])
		h := blas64.General{Rows: o.n, Cols: k + 1, Stride: k + 1, Data: make([]float64, o.n*(k+1))}
		for c, i := range who[s] {
			for j, v := range rows[i].g.of(s, o.n) {
				h.Data[j*h.Stride+c] = v
			}
		}
		for j, v := range sys.pull[s] {
			h.Data[j*h.Stride+k] = v
		}
		blas64.Trsm(blas.Left, blas.Trans, 1, u, h)
		free[s] = make([]float64, o.n)
		for j := range free[s] {
			free[s][j] = h.Data[j*h.Stride+k]
		}
		half[s] = h
		gram := blas64.Symmetric{N: k + 1, Stride: k + 1, Data: make([]float64, (k+1)*(k+1)), Uplo: blas.Upper}
		blas64.Syrk(blas.Trans, 1, h, 0, gram)
		for a, i := range who[s] {
			for b := a; b < k; b++ {
				j := who[s][b]
				schur.SetSym(i, j, schur.At(i, j)+gram.Data[a*gram.Stride+b])
			}
			right[i] += gram.Data[a*gram.Stride+k]
		}
	}
	multipliers, err = solvedSoft(schur, rows, right)
	if err != nil {
		return nil, nil, err
	}
	p = sys.m.zeros()
	for s, o := range sys.m.outlines {
		if o.n == 0 {
			continue
		}
		y := free[s]
		for j := range y {
			for c, i := range who[s] {
				y[j] -= half[s].Data[j*half[s].Stride+c] * multipliers[i]
			}
		}
		u := sys.chol[s].RawU().(*mat.TriDense).RawTriangular()
		blas64.Trsv(blas.NoTrans, u, blas64.Vector{N: o.n, Data: y, Inc: 1})
		copy(p[s], y)
	}
	return p, multipliers, nil
}

// rowNoise is the share of a hard rule's own size that is added to it, so that rules that
// follow from one another can be solved together.
const rowNoise = 1e-12

// solvedSoft solves (S + D) λ = right.
func solvedSoft(schur *mat.SymDense, rows []row, right []float64) ([]float64, error) {
	n := len(rows)
	if n == 0 {
		return nil, nil
	}
	// Every row is scaled to 1 on the diagonal, since sizes differ by orders.
	scale := make([]float64, n)
	for i := range rows {
		d := schur.At(i, i)*(1+rowNoise) + rows[i].soft
		if !(d > 0) || math.IsInf(d, 0) {
			d = 1
		}
		scale[i] = 1 / math.Sqrt(d)
	}
	a := mat.NewSymDense(n, nil)
	for noise := 0.0; noise < 1e-6; noise = max(100*noise, 1e-14) {
		for i := range n {
			for j := i + 1; j < n; j++ {
				a.SetSym(i, j, schur.At(i, j)*scale[i]*scale[j])
			}
			a.SetSym(i, i, 1+noise)
		}
		var c mat.Cholesky
		if !c.Factorize(a) {
			continue
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = right[i] * scale[i]
		}
		var x mat.VecDense
		_ = c.SolveVecTo(&x, mat.NewVecDense(n, b)) // its error tells of a bad condition, which Newton mends
		out := make([]float64, n)
		for i := range out {
			out[i] = x.AtVec(i) * scale[i]
			if math.IsNaN(out[i]) || math.IsInf(out[i], 0) {
				return nil, errSingular
			}
		}
		return out, nil
	}
	return nil, errSingular
}

// compliance returns by how much a row's value gives way to a unit of its own pull.
func (sys *system) compliance(r *row) float64 {
	sum := 0.0
	for i, s := range r.g.shapes {
		o := sys.m.outlines[s]
		if o.n == 0 {
			continue
		}
		y := append([]float64(nil), r.g.by[i]...)
		u := sys.chol[s].RawU().(*mat.TriDense).RawTriangular()
		blas64.Trsv(blas.Trans, u, blas64.Vector{N: o.n, Data: y, Inc: 1})
		for _, v := range y {
			sum += v * v
		}
	}
	return sum
}
