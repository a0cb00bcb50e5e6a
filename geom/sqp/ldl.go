package sqp

import "math"

// entry is a number in a row or column of a sparse matrix.
type entry struct {
	at int
	v  float64
}

// sparse is a symmetric matrix with 1 or so on the diagonal: for each row what stands
// before the diagonal, where what stands there twice is added up.
type sparse struct {
	rows [][]entry
	diag []float64
}

func newSparse(n int) *sparse { return &sparse{make([][]entry, n), make([]float64, n)} }

func (s *sparse) add(i, j int, v float64) {
	switch {
	case i == j:
		s.diag[i] += v
	case i > j:
		s.rows[i] = append(s.rows[i], entry{j, v})
	default:
		s.rows[j] = append(s.rows[j], entry{i, v})
	}
}

// factors are those of a sparse matrix: L D Lᵀ, L by columns without its diagonal.
type factors struct {
	columns [][]entry
	inverse []float64 // of D, 0 for a row that was left out
}

// factorised factorises the matrix row by row. Each row is solved for with the columns
// before it, of which the elimination tree tells which are not zero (Davis 2005,
// algorithm 849). A row whose pivot is not larger than least[i] says nothing that those
// before it do not say, to rounding, and is left out: its unknown is 0. With negative
// pivots allowed, their size counts.
func (s *sparse) factorised(least []float64, negative bool) (*factors, bool) {
	n := len(s.diag)
	f := &factors{make([][]entry, n), make([]float64, n)}
	parent, seen := make([]int, n), make([]int, n)
	y := make([]float64, n)
	stack, path := make([]int, n), make([]int, 0, n)
	for k := range n {
		parent[k], seen[k] = -1, k
		top := n
		for _, e := range s.rows[k] {
			y[e.at] += e.v
			path = path[:0]
			for i := e.at; seen[i] != k; i = parent[i] {
				if parent[i] < 0 {
					parent[i] = k
				}
				seen[i] = k
				path = append(path, i)
			}
			for len(path) > 0 {
				top--
				stack[top] = path[len(path)-1]
				path = path[:len(path)-1]
			}
		}
		d := s.diag[k]
		for _, i := range stack[top:] {
			v := y[i]
			y[i] = 0
			for _, e := range f.columns[i] {
				y[e.at] -= e.v * v
			}
			l := v * f.inverse[i]
			d -= l * v
			if l != 0 {
				f.columns[i] = append(f.columns[i], entry{k, l})
			}
		}
		switch {
		case math.IsNaN(d) || math.IsInf(d, 0):
			return nil, false
		case d > least[k] || negative && -d > least[k]:
			f.inverse[k] = 1 / d
		}
	}
	return f, true
}

// solve puts the solution in the place of the right side.
func (f *factors) solve(x []float64) {
	for i := range x {
		for _, e := range f.columns[i] {
			x[e.at] -= e.v * x[i]
		}
	}
	for i := range x {
		x[i] *= f.inverse[i]
	}
	for i := len(x) - 1; i >= 0; i-- {
		for _, e := range f.columns[i] {
			x[i] -= e.v * x[e.at]
		}
		if f.inverse[i] == 0 {
			x[i] = 0
		}
	}
}
