package fit

import (
	"math"

	"hemlet/geom"
)

// arm is a quadratic fitted to a stretch of an evened line on one side of a place,
// that begins a gap away from it: a + b x + c x², with x in steps from the place.
type arm struct {
	a, b, c geom.Point
	rms     float64 // mm, of what the quadratic leaves across itself
}

// armKernel turns the points of an arm into its coefficients. On even steps they
// are sums with weights that depend on gap and length alone (Savitzky and Golay
// 1964, one-sided).
type armKernel struct {
	gap    int
	weight [3][]float64
}

type armKey struct{ gap, n int }

// armKernels keeps the kernels that were needed.
type armKernels map[armKey]*armKernel

func (m armKernels) get(gap, n int) *armKernel {
	k, ok := m[armKey{gap, n}]
	if !ok {
		k = newArmKernel(gap, n)
		m[armKey{gap, n}] = k
	}
	return k
}

func newArmKernel(gap, n int) *armKernel {
	// Least squares in the scaled x = (gap + i) / scale.
	scale := float64(gap + n)
	var m [3][3]float64
	for i := range n {
		x := float64(gap+i) / scale
		w := [3]float64{1, x, x * x}
		for a := range 3 {
			for b := range 3 {
				m[a][b] += w[a] * w[b]
			}
		}
	}
	inv := inverse3(m)
	k := &armKernel{gap: gap}
	for a := range 3 {
		k.weight[a] = make([]float64, n)
		unscale := math.Pow(scale, -float64(a))
		for i := range n {
			x := float64(gap+i) / scale
			k.weight[a][i] = (inv[a][0] + inv[a][1]*x + inv[a][2]*x*x) * unscale
		}
	}
	return k
}

// inverse3 inverts a symmetric 3×3 matrix by its cofactors.
func inverse3(m [3][3]float64) (inv [3][3]float64) {
	cof := func(a, b int) float64 {
		a1, a2, b1, b2 := (a+1)%3, (a+2)%3, (b+1)%3, (b+2)%3
		return m[a1][b1]*m[a2][b2] - m[a1][b2]*m[a2][b1]
	}
	det := m[0][0]*cof(0, 0) + m[0][1]*cof(0, 1) + m[0][2]*cof(0, 2)
	for a := range 3 {
		for b := range 3 {
			inv[a][b] = cof(b, a) / det
		}
	}
	return inv
}

// slopeNoise returns by how much the direction of an arm scatters in radians where
// the points scatter by noise mm at steps of step mm.
func (k *armKernel) slopeNoise(noise, step float64) float64 {
	sum := 0.0
	for _, w := range k.weight[1] {
		sum += w * w
	}
	return math.Sqrt(sum) * noise / step
}

// arm fits the arm at point i that goes forward (side 1) or backward (side -1).
func (e *even) arm(k *armKernel, i, side int) arm {
	var f arm
	o := e.at(i)
	n := len(k.weight[0])
	for q := range n {
		p := e.at(i + side*(k.gap+q)).Sub(o)
		f.a = f.a.Add(p.Mul(k.weight[0][q]))
		f.b = f.b.Add(p.Mul(k.weight[1][q]))
		f.c = f.c.Add(p.Mul(k.weight[2][q]))
	}
	normal := f.b.Unit().Left()
	sum := 0.0
	for q := range n {
		x := float64(k.gap + q)
		d := normal.Dot(e.at(i + side*(k.gap+q)).Sub(o).Sub(f.at(x)))
		sum += d * d
	}
	f.rms = math.Sqrt(sum / float64(n))
	f.a = f.a.Add(o)
	return f
}

// at returns the place of the arm's quadratic x steps along it.
func (f *arm) at(x float64) geom.Point { return f.a.Add(f.b.Mul(x)).Add(f.c.Mul(x * x)) }

// slope returns its derivative by x.
func (f *arm) slope(x float64) geom.Point { return f.b.Add(f.c.Mul(2 * x)) }

// turn returns the turn in radians from the travel towards the place on the arm
// behind it to the travel away from it on the arm before it.
func turn(behind, ahead *arm) float64 {
	u, v := behind.b.Mul(-1), ahead.b
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// meet returns where the two arms about a place meet, and how far from the place in
// steps on the arm ahead, less those on the arm behind. It is false where they are
// too nearly parallel to say.
func meet(behind, ahead *arm, reach float64) (p geom.Point, x, y float64, ok bool) {
	x, y = 0, 0
	for range 8 {
		u, v := behind.slope(x), ahead.slope(y)
		d := ahead.at(y).Sub(behind.at(x))
		det := u.Cross(v)
		if math.Abs(det) < 1e-6*u.Len()*v.Len() {
			return p, 0, 0, false
		}
		// behind(x) + u dx = ahead(y) + v dy
		dx, dy := d.Cross(v)/det, d.Cross(u)/det
		x, y = x+dx, y+dy
		if math.Abs(x) > reach || math.Abs(y) > reach {
			return p, 0, 0, false
		}
		if math.Abs(dx)+math.Abs(dy) < 1e-6 {
			break
		}
	}
	return behind.at(x).Lerp(ahead.at(y), 0.5), x, y, true
}
