package regular

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

const (
	// exact is the distance in mm within which a rule holds: a tenth of what a document
	// keeps.
	exact = 1e-8
	// mostRounds bounds the rounds of a solution, which takes five to ten.
	mostRounds = 60
	// samples is the number of places of an edge whose movement is made least.
	samples = 12
	// idle is the weight of an unknown that moves nothing else.
	idle = 1e-6
	// leastPull is the share of the largest singular value below which a rule follows from
	// the others.
	leastPull = 1e-7
)

// weight returns the matrix of the mean squared movement of the outline, as a function of
// the movement of the unknowns, in mm².
func (m *model) weight() *mat.SymDense {
	n := len(m.start)
	h := mat.NewSymDense(n, nil)
	total := 0.0
	lengths := make([]float64, len(m.edges))
	for i := range m.edges {
		lengths[i] = max(m.lengthAt(i, m.start), exact)
		total += lengths[i]
	}
	for i := range m.edges {
		vars := m.vars(i)
		// The edge is linear in its unknowns: its movement by each is a difference.
		base := m.places(i, m.start)
		by := make([][]geom.Point, len(vars))
		z := append([]float64{}, m.start...)
		for v, k := range vars {
			z[k]++
			by[v] = m.places(i, z)
			z[k] = m.start[k]
			for s := range by[v] {
				by[v][s] = by[v][s].Sub(base[s])
			}
		}
		share := lengths[i] / total / samples
		for v, k := range vars {
			for w, l := range vars {
				if l < k {
					continue
				}
				sum := 0.0
				for s := range by[v] {
					sum += by[v][s].Dot(by[w][s])
				}
				h.SetSym(k, l, h.At(k, l)+share*sum)
			}
		}
	}
	for k := range n {
		h.SetSym(k, k, h.At(k, k)+idle)
	}
	return h
}

// places returns points of an edge, evenly by the parameter over all its segments.
func (m *model) places(i int, z []float64) []geom.Point {
	p := m.at(i, z)
	out := make([]geom.Point, samples)
	for s := range out {
		t := (float64(s) + .5) / samples * float64(len(p))
		j := min(int(t), len(p)-1)
		out[s] = p[j].At(t - float64(j))
	}
	return out
}

// solve returns the unknowns that keep all rules with the least movement, or false where
// no such are found nearby.
//
// Method: Gauss-Newton on the rules (sequential quadratic programming with the movement
// as its quadratic form), each step by the singular values of the rules' derivatives in
// the metric of the movement, so that a rule that follows from others does no harm.
func (m *model) solve(rules []rule) ([]float64, bool) {
	z := append([]float64{}, m.start...)
	if len(rules) == 0 {
		return z, true
	}
	var chol mat.Cholesky
	if !chol.Factorize(m.weight()) {
		return z, false
	}
	var upper mat.TriDense
	chol.UTo(&upper) // weight = upperᵀ upper
	n := len(z)
	for range mostRounds {
		miss, worst := misses(rules, z)
		if math.IsNaN(worst) {
			return z, false
		}
		a := derivatives(rules, z, n, m.size)
		// In y = upper (z - start) the movement is the length of y.
		var b mat.Dense
		if solveUpper(&b, &upper, a) != nil {
			return z, false
		}
		d := make([]float64, n)
		for i := range d {
			d[i] = z[i] - m.start[i]
		}
		var y, want mat.VecDense
		y.MulVec(&upper, mat.NewVecDense(n, d))
		want.MulVec(&b, &y)
		for i, c := range miss {
			want.SetVec(i, want.AtVec(i)-c)
		}
		next, ok := leastVector(&b, &want)
		if !ok {
			return z, false
		}
		var step mat.VecDense
		if step.SolveVec(&upper, next) != nil {
			return z, false
		}
		far := 0.0
		for i := range z {
			to := m.start[i] + step.AtVec(i)
			far = max(far, math.Abs(to-z[i]))
			z[i] = to
		}
		if far > m.size {
			return z, false
		}
		if _, worst = misses(rules, z); worst < exact && far < settled*m.size {
			return z, true
		}
	}
	_, worst := misses(rules, z)
	return z, worst < exact
}

// settled is the share of the outline's size that the last step of a solution moves at
// most: what is left of it is the square of that.
const settled = 1e-6

// solveUpper sets b to a times the inverse of upper.
func solveUpper(b *mat.Dense, upper *mat.TriDense, a *mat.Dense) error {
	var t mat.Dense
	if err := t.Solve(upper.T(), a.T()); err != nil {
		return err
	}
	b.CloneFrom(t.T())
	return nil
}

// leastVector returns the shortest vector y that b brings nearest to want.
func leastVector(b *mat.Dense, want *mat.VecDense) (*mat.VecDense, bool) {
	var svd mat.SVD
	if !svd.Factorize(b, mat.SVDThin) {
		return nil, false
	}
	s := svd.Values(nil)
	rank := 0
	for _, v := range s {
		if v > leastPull*s[0] && v > 0 {
			rank++
		}
	}
	_, n := b.Dims()
	if rank == 0 {
		return mat.NewVecDense(n, nil), true
	}
	var y mat.VecDense
	svd.SolveVecTo(&y, want, rank)
	return &y, true
}

// misses returns how far the rules are from holding, and the worst.
func misses(rules []rule, z []float64) (all []float64, worst float64) {
	all = make([]float64, len(rules))
	for i, r := range rules {
		all[i] = r.miss(z)
		worst = math.Max(worst, math.Abs(all[i]))
	}
	return all, worst
}

// derivatives returns the derivatives of the rules by the unknowns, as central
// differences.
func derivatives(rules []rule, z []float64, n int, size float64) *mat.Dense {
	// The cube root of the rounding is the step with the least error.
	step := size * 6e-6
	a := mat.NewDense(len(rules), n, nil)
	for i, r := range rules {
		seen := map[int]bool{}
		for _, k := range r.vars {
			if seen[k] {
				continue
			}
			seen[k] = true
			old := z[k]
			z[k] = old + step
			up := r.miss(z)
			z[k] = old - step
			down := r.miss(z)
			z[k] = old
			a.Set(i, k, (up-down)/(2*step))
		}
	}
	return a
}
