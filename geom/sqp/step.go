package sqp

import (
	"cmp"
	"errors"
	"math"
	"slices"

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

// row is a Rule that takes part in a step.
type row struct {
	Rule
	multiplier *float64 // where it is kept
	soft       float64  // D
	miss       float64
	g          Gradient
	guard      int // the index of the guard, -1 for what is none
}

// system is the linear system of one step, with the shapes' matrices factorised.
type system struct {
	m     *Program
	solve []solver    // of each shape's B, nil for a shape without unknowns
	pull  [][]float64 // -M z
	exact bool
}

// solver solves with a factorised matrix.
type solver interface {
	SolveTo(dst *mat.Dense, b mat.Matrix) error
}

type luSolver struct{ mat.LU }

func (l *luSolver) SolveTo(dst *mat.Dense, b mat.Matrix) error { return l.LU.SolveTo(dst, false, b) }

var errSingular = errors.New("sqp: the rules cannot be told apart in numbers")

// newSystem factorises B for each shape. A system that is exact takes the curvature as it
// is: its step leads to where all derivatives are zero, which is the solution only from
// nearby.
func (m *Program) newSystem(s *state, rows []row, exact bool) (*system, error) {
	sys := &system{m: m, solve: make([]solver, len(m.Blocks)), pull: make([][]float64, len(m.Blocks)), exact: exact}
	bends := make([]Square, len(m.Blocks))
	for i := range m.Blocks {
		b := &m.Blocks[i]
		bends[i] = NewSquare(b.coordinates())
		sys.pull[i] = make([]float64, b.Metric.N)
		b.Metric.Times(s.z[i], sys.pull[i])
		for j := range sys.pull[i] {
			sys.pull[i][j] *= -1
		}
	}
	x := m.At(s.z)
	for i := range rows {
		if k := *rows[i].multiplier; k != 0 {
			rows[i].Curve(x, k, bends)
		}
	}
	for i := range m.Blocks {
		metric := m.Blocks[i].Metric
		switch {
		case metric.N == 0:
		case exact:
			sys.solve[i] = factorisedExactly(metric, m.bent(i, bends[i]))
		default:
			sys.solve[i] = factorised(metric, m.bent(i, bends[i]))
		}
		if metric.N > 0 && sys.solve[i] == nil {
			return nil, errSingular
		}
	}
	return sys, nil
}

func sumOf(metric, bend Square) []float64 {
	a := make([]float64, len(metric.A))
	for i := range a {
		a[i] = metric.A[i] + bend.A[i]
	}
	return a
}

func factorisedExactly(metric, bend Square) solver {
	var l luSolver
	l.Factorize(mat.NewDense(metric.N, metric.N, sumOf(metric, bend)))
	if !(l.Cond() < mostCondition) {
		return nil
	}
	return &l
}

// factorised factorises the metric with the rules' curvature. Where the sum bends down
// in some direction, which no minimum does, its size counts there (the modified Newton
// method of Nocedal and Wright 2006, section 3.4): the step stays as short as the curvature
// asks, and goes downhill.
func factorised(metric, bend Square) solver {
	n, c := metric.N, &mat.Cholesky{}
	if c.Factorize(mat.NewSymDense(n, sumOf(metric, bend))) && c.Cond() < mostCondition {
		return c
	}
	if !c.Factorize(mat.NewSymDense(n, append([]float64(nil), metric.A...))) {
		return nil
	}
	var whole mat.Cholesky
	if whole.Factorize(reflected(c, bend)) {
		return &whole
	}
	return c // the metric alone
}

// reflected returns metric + bend, with the size of what is negative in place of it; c is
// the factorised metric.
func reflected(c *mat.Cholesky, bend Square) *mat.SymDense {
	n := bend.N
	u := c.RawU().(*mat.TriDense).RawTriangular()
	// With the metric UᵀU, the curvature as the metric sees it: U⁻ᵀ bend U⁻¹.
	g := blas64.General{Rows: n, Cols: n, Stride: n, Data: append([]float64(nil), bend.A...)}
	blas64.Trsm(blas.Left, blas.Trans, 1, u, g)
	blas64.Trsm(blas.Right, blas.NoTrans, 1, u, g)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, (g.Data[i*n+j]+g.Data[j*n+i])/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(sym, true) {
		return mat.NewSymDense(n, nil) // which nothing factorises
	}
	var v mat.Dense
	eigen.VectorsTo(&v)
	for j, e := range eigen.Values(nil) {
		k := math.Sqrt(math.Max(math.Abs(1+e), leastBend))
		for i := range n {
			v.Set(i, j, v.At(i, j)*k)
		}
	}
	// B = Uᵀ V |1+Λ| Vᵀ U = wᵀ w with w = Vᵀ U, scaled.
	w := blas64.General{Rows: n, Cols: n, Stride: n, Data: make([]float64, n*n)}
	for i := range n {
		for j := range n {
			w.Data[i*n+j] = v.At(j, i)
		}
	}
	blas64.Trmm(blas.Right, blas.NoTrans, 1, u, w)
	whole := mat.NewSymDense(n, nil)
	blas64.Syrk(blas.Trans, 1, w, 0, whole.RawSymmetric())
	return whole
}

// leastBend is the share of the metric that stays where the curvature takes it away.
const leastBend = 0.1

// mostCondition is the condition of a shape's matrix beyond which a step is mostly
// rounding.
const mostCondition = 1e13

// step returns the step and the multipliers of the rows.
func (sys *system) step(rows []row) (p [][]float64, multipliers []float64, err error) {
	n := len(rows)
	place := eliminationOrder(rows)
	schur := newSparse(n)
	right := make([]float64, n)
	who := make([][]int, len(sys.m.Blocks)) // the rows of each block
	for i := range rows {
		right[i] = rows[i].miss
		for _, s := range rows[i].g.blocks {
			who[s] = append(who[s], i)
		}
	}
	ways := make([]*mat.Dense, len(sys.m.Blocks)) // B⁻¹ [Aᵀ, -M z]
	for s := range sys.m.Blocks {
		size := sys.m.Blocks[s].Metric.N
		if size == 0 {
			continue
		}
		k := len(who[s])
		a := mat.NewDense(size, k+1, nil)
		for c, i := range who[s] {
			a.SetCol(c, rows[i].g.Of(s, size))
		}
		a.SetCol(k, sys.pull[s])
		ways[s] = mat.NewDense(size, k+1, nil)
		_ = sys.solve[s].SolveTo(ways[s], a) // its error tells of a bad condition, which Newton mends
		var gram mat.Dense
		gram.Mul(a.T(), ways[s])
		for a, i := range who[s] {
			for b := a; b < k; b++ {
				schur.add(place[i], place[who[s][b]], (gram.At(a, b)+gram.At(b, a))/2)
			}
			right[i] += gram.At(a, k)
		}
	}
	if multipliers, err = schur.solved(rows, place, right, sys.exact); err != nil {
		return nil, nil, err
	}
	p = sys.m.Zeros()
	for s := range sys.m.Blocks {
		for j := range p[s] {
			way := ways[s].RawRowView(j)
			v := way[len(way)-1]
			for c, i := range who[s] {
				v -= way[c] * multipliers[i]
			}
			p[s][j] = v
		}
	}
	return p, multipliers, nil
}

// eliminationOrder returns the place of each row in the order in which they are solved for:
// by the first block that they read, so that rules about neighbours fill the factors beside
// the diagonal only, and of each block hard rules before guards before wishes: what is left
// out since it follows from others is rather a guard than what keeps the form.
func eliminationOrder(rows []row) []int {
	class := func(i int) (kind, block int) {
		blocks := rows[i].g.blocks
		if len(blocks) > 0 {
			block = slices.Min(blocks)
		}
		switch {
		case rows[i].soft > 0:
			return 3, block
		case rows[i].guard >= 0:
			return 2, block
		case len(blocks) > 1:
			return 1, block
		}
		return 0, block
	}
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := class(i)
		c, d := class(j)
		return cmp.Or(cmp.Compare(b, d), cmp.Compare(a, c))
	})
	place := make([]int, len(rows))
	for at, i := range order {
		place[i] = at
	}
	return place
}

const (
	// sameRow is the share of a hard rule's own size that has to be left of it beside
	// the others: with less it follows from them, or contradicts them.
	sameRow = 1e-10
	// sameWish is what has to be left of any other row, among wishes.
	sameWish = 1e-15
	// deadRow is the share of the largest row's size below which nothing moves a rule.
	deadRow = 1e-20
)

// following tells which of the hard rows follow from those before them. No wish has a say in
// that, however hard it is.
func (s *sparse) following(hard []bool, exact bool) []bool {
	at, list := make([]int, len(hard)), []int(nil)
	for k, yes := range hard {
		if yes {
			at[k] = len(list)
			list = append(list, k)
		}
	}
	part, least := newSparse(len(list)), make([]float64, len(list))
	for i, k := range list {
		part.diag[i], least[i] = s.diag[k], sameRow
		for _, e := range s.rows[k] {
			if hard[e.at] {
				part.rows[i] = append(part.rows[i], entry{at[e.at], e.v})
			}
		}
	}
	out := make([]bool, len(hard))
	if f, ok := part.factorised(least, exact); ok {
		for i, k := range list {
			out[k] = f.inverse[i] == 0
		}
	}
	return out
}

// solved solves (S + D) λ = right, the rows being at their places in S.
func (s *sparse) solved(rows []row, place []int, right []float64, exact bool) ([]float64, error) {
	n := len(rows)
	top := 0.0
	for _, d := range s.diag {
		top = math.Max(top, math.Abs(d))
	}
	// Every row is scaled to 1 on the diagonal, since sizes differ by orders.
	scale, least, hard := make([]float64, n), make([]float64, n), make([]bool, n)
	for i := range rows {
		k := place[i]
		s.diag[k] += rows[i].soft
		d := math.Abs(s.diag[k])
		if !(d > deadRow*top) || math.IsInf(d, 0) {
			least[k] = math.Inf(1)
			continue
		}
		scale[k] = 1 / math.Sqrt(d)
		s.diag[k] *= scale[k] * scale[k]
		least[k] = sameWish
		hard[k] = rows[i].soft == 0
	}
	for k := range s.rows {
		for e := range s.rows[k] {
			s.rows[k][e].v *= scale[k] * scale[s.rows[k][e].at]
		}
	}
	for k, follows := range s.following(hard, exact) {
		if follows {
			least[k] = math.Inf(1)
		}
	}
	f, ok := s.factorised(least, exact)
	if !ok {
		return nil, errSingular
	}
	x := make([]float64, n)
	for i, k := range place {
		x[k] = right[i] * scale[k]
	}
	f.solve(x)
	out := make([]float64, n)
	for i, k := range place {
		if out[i] = x[k] * scale[k]; math.IsNaN(out[i]) || math.IsInf(out[i], 0) {
			return nil, errSingular
		}
	}
	return out, nil
}

// compliance returns by how much a row's value gives way to a unit of its own pull.
func (sys *system) compliance(r *row) float64 {
	sum := 0.0
	for i, s := range r.g.blocks {
		if sys.solve[s] == nil {
			continue
		}
		g := mat.NewDense(len(r.g.by[i]), 1, r.g.by[i])
		var y mat.Dense
		_ = sys.solve[s].SolveTo(&y, g) // as in step
		sum += mat.Dot(g.ColView(0), y.ColView(0))
	}
	return sum
}
