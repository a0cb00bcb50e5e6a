package sqp

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// randomSparse returns a positive matrix of n rows, the Gram matrix of vectors that have few
// numbers each, in both forms.
func randomSparse(r *rand.Rand, n int) (*sparse, *mat.SymDense) {
	a := mat.NewDense(n, 2*n, nil)
	for i := range n {
		for range 3 {
			a.Set(i, r.IntN(2*n), r.NormFloat64())
		}
		a.Set(i, n+i, 1+r.Float64())
	}
	var gram mat.Dense
	gram.Mul(a, a.T())
	s, d := newSparse(n), mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			if v := gram.At(i, j); v != 0 {
				d.SetSym(i, j, v)
				half := v * r.Float64() // what comes in parts is added up
				s.add(i, j, half)
				s.add(j, i, v-half)
			}
		}
	}
	return s, d
}

// TestSparseIsDense: the sparse factors solve what a dense Cholesky factorisation of a
// general-purpose library (gonum) solves.
func TestSparseIsDense(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	for n := 1; n < 120; n += 7 {
		s, d := randomSparse(r, n)
		right := make([]float64, n)
		for i := range right {
			right[i] = r.NormFloat64()
		}
		var c mat.Cholesky
		if !c.Factorize(d) {
			t.Fatalf("the made-up matrix of %d rows is not positive", n)
		}
		var want mat.VecDense
		if err := c.SolveVecTo(&want, mat.NewVecDense(n, append([]float64(nil), right...))); err != nil {
			t.Fatal(err)
		}
		f, ok := s.factorised(make([]float64, n), false)
		if !ok {
			t.Fatalf("%d rows: no factors", n)
		}
		f.solve(right)
		for i, v := range right {
			if math.Abs(v-want.AtVec(i)) > 1e-9*(1+math.Abs(v)) {
				t.Errorf("%d rows, unknown %d: %g, dense %g", n, i, v, want.AtVec(i))
			}
		}
	}
}

// TestNegativePivots: a matrix that is not positive is factorised if that is allowed.
func TestNegativePivots(t *testing.T) {
	s := newSparse(3)
	a := mat.NewSymDense(3, []float64{2, 1, 0, 1, -3, 1, 0, 1, 1})
	for i := range 3 {
		for j := range i + 1 {
			s.add(i, j, a.At(i, j))
		}
	}
	x := []float64{1, 2, 3}
	f, ok := s.factorised([]float64{1e-9, 1e-9, 1e-9}, true)
	if !ok {
		t.Fatal("no factors")
	}
	f.solve(x)
	for i, b := range []float64{1, 2, 3} {
		sum := 0.0
		for j := range x {
			sum += a.At(i, j) * x[j]
		}
		if math.Abs(sum-b) > 1e-12 {
			t.Errorf("row %d: %g, want %g", i, sum, b)
		}
	}
}

// TestRowsThatFollow: a row that is a multiple of another is left out, and the others are
// solved as if it were not there.
func TestRowsThatFollow(t *testing.T) {
	s := newSparse(3)
	for i, row := range [][]float64{{1}, {0.5, 1}, {1, 0.5, 1}} { // the last is the first
		for j, v := range row {
			s.add(i, j, v)
		}
	}
	x := []float64{1, 2, 1}
	f, _ := s.factorised([]float64{sameRow, sameRow, sameRow}, false)
	f.solve(x)
	if x[2] != 0 || math.Abs(x[0]+0.5*x[1]-1) > 1e-15 || math.Abs(0.5*x[0]+x[1]-2) > 1e-15 {
		t.Errorf("got %g", x)
	}
}
