package geom

import "math"

// band is a symmetric positive matrix whose entries lie within fitBand of the
// diagonal, with a right-hand side: the normal equations of a fit.
type band struct {
	n int
	a [][fitBand]float64 // a[i][d] is the entry (i, i+d)
	g []float64          // the gradient, half of it
	l [][fitBand]float64
	x []float64
}

func newBand(n int) *band {
	return &band{n, make([][fitBand]float64, n), make([]float64, n), make([][fitBand]float64, n), make([]float64, n)}
}

func (m *band) reset() {
	clear(m.a)
	clear(m.g)
}

// add adds one equation row · δ = -r of the weight, with the unknowns from o on.
func (m *band) add(o int, row [fitBand]float64, r, weight float64) {
	for i, v := range row {
		if v == 0 {
			continue
		}
		w := weight * v
		m.g[o+i] += w * r
		for j := i; j < fitBand; j++ {
			m.a[o+i][j-i] += w * row[j]
		}
	}
}

// solve returns the step δ of the equations damped by the share damp of the
// diagonal, 0 for the fixed unknowns, by Cholesky's method; false if the matrix
// is not positive.
func (m *band) solve(damp float64, fixed []bool) ([]float64, bool) {
	copy(m.l, m.a)
	largest := 0.0
	for i := range m.l {
		largest = math.Max(largest, m.l[i][0])
	}
	for i := range m.l {
		m.x[i] = -m.g[i]
		m.l[i][0] = m.l[i][0]*(1+damp) + 1e-14*largest
		if fixed[i] {
			m.fix(i)
		}
	}
	for i := range m.n {
		if !(m.l[i][0] > 0) {
			return nil, false
		}
		pivot := math.Sqrt(m.l[i][0])
		m.l[i][0] = pivot
		for d := 1; d < fitBand; d++ {
			m.l[i][d] /= pivot
		}
		m.x[i] /= pivot
		for d := 1; d < fitBand && i+d < m.n; d++ {
			f := m.l[i][d]
			for e := d; e < fitBand; e++ {
				m.l[i+d][e-d] -= f * m.l[i][e]
			}
			m.x[i+d] -= f * m.x[i]
		}
	}
	for i := m.n - 1; i >= 0; i-- {
		for d := 1; d < fitBand && i+d < m.n; d++ {
			m.x[i] -= m.l[i][d] * m.x[i+d]
		}
		m.x[i] /= m.l[i][0]
		if math.IsNaN(m.x[i]) {
			return nil, false
		}
	}
	return m.x, true
}

// fix makes unknown i zero and uncouples it.
func (m *band) fix(i int) {
	m.l[i] = [fitBand]float64{1}
	m.x[i] = 0
	for d := 1; d < fitBand && i-d >= 0; d++ {
		m.l[i-d][d] = 0
	}
}
