package fit

import "math"

// envelope is a symmetric positive definite matrix that keeps of each row what
// lies between its first entry and the diagonal, with the right-hand side of
// normal equations. Cholesky's factor fits into the same room (George and Liu
// 1981, "Computer Solution of Large Sparse Positive Definite Systems", ch. 4): so
// the unknowns of a closed chain cost one long row, not a full matrix.
type envelope struct {
	first  []int
	start  []int // of row i in m, less first[i]: entry (i, j) is m[start[i]+j]
	m      []float64
	factor []float64
	g      []float64
	step   []float64
}

// newEnvelope makes room for rows that begin at first.
func newEnvelope(first []int) *envelope {
	e := &envelope{first: first, start: make([]int, len(first)), g: make([]float64, len(first)), step: make([]float64, len(first))}
	size := 0
	for i, f := range first {
		e.start[i] = size - f
		size += i - f + 1
	}
	e.m, e.factor = make([]float64, size), make([]float64, size)
	return e
}

func (e *envelope) reset() {
	clear(e.m)
	clear(e.g)
}

// add takes in one equation: row · x = -r, with weight w.
func (e *envelope) add(row *row, r, w float64) {
	for a := range row.n {
		ca, va := row.col[a], w*row.val[a]
		e.g[ca] -= va * r
		for b := range row.n {
			if cb := row.col[b]; cb <= ca {
				e.m[e.start[ca]+cb] += va * row.val[b]
			}
		}
	}
}

// solve returns the step of the normal equations with their diagonal raised by the
// share damp, as Levenberg and Marquardt do; false if they are not definite.
func (e *envelope) solve(damp float64) ([]float64, bool) {
	copy(e.factor, e.m)
	for i, f := range e.first {
		ri := e.start[i]
		for j := f; j < i; j++ {
			rj := e.start[j]
			sum := e.factor[ri+j]
			for k := max(f, e.first[j]); k < j; k++ {
				sum -= e.factor[ri+k] * e.factor[rj+k]
			}
			e.factor[ri+j] = sum / e.factor[rj+j]
		}
		d := e.m[ri+i]*(1+damp) + math.SmallestNonzeroFloat64
		for k := f; k < i; k++ {
			d -= e.factor[ri+k] * e.factor[ri+k]
		}
		if !(d > 0) {
			return nil, false
		}
		e.factor[ri+i] = math.Sqrt(d)
	}
	for i, f := range e.first {
		sum := e.g[i]
		for k := f; k < i; k++ {
			sum -= e.factor[e.start[i]+k] * e.step[k]
		}
		e.step[i] = sum / e.factor[e.start[i]+i]
	}
	for i := len(e.first) - 1; i >= 0; i-- {
		e.step[i] /= e.factor[e.start[i]+i]
		for k := e.first[i]; k < i; k++ {
			e.step[k] -= e.factor[e.start[i]+k] * e.step[i]
		}
	}
	return e.step, true
}

// rowMost is the largest number of unknowns that one distance depends on: the
// places of two joints and of two more through straight neighbours, two angles,
// two handles.
const rowMost = 12

// row is one equation, with the unknowns that it touches.
type row struct {
	n   int
	col [rowMost]int
	val [rowMost]float64
}

// add adds v to the entry of a column.
func (r *row) add(col int, v float64) {
	for a := range r.n {
		if r.col[a] == col {
			r.val[a] += v
			return
		}
	}
	r.col[r.n], r.val[r.n] = col, v
	r.n++
}
