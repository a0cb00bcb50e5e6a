package warp

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

// The weights of what is made least, see the package's comment.
const (
	bendWeight       = 1.0
	similarityWeight = 1.0
	// twistWeight is how many times as much the twist of a field counts in a fit, the
	// derivative along the grain of its derivative across it: 10 to 100 bring the bodices
	// of other bodies nearest to those drafted for them.
	twistWeight = 20.0
	// outsideWeight is the share that places of the lattice outside of the shape count.
	outsideWeight = 0.05
	// gaugeWeight holds what nothing else does, such as how a shape lies as a whole, and
	// slightWeight what something may.
	gaugeWeight, slightWeight = 1.0, 1e-6
	// turnGauge is what it counts that a shape without a fold or a rail turns on the whole:
	// its grain stays where it was but for a degree or two, which its edges ask for.
	turnGauge = 30.0
	// growGauge is what it counts, where all are scaled first, that a shape grows beyond that,
	// half as much as changes of its angles: a band whose length alone is measured gets the depth
	// that the whole pattern's scale gives it.
	growGauge = 0.5
	// ridge is the share of the heaviest unknown's weight that every one has.
	ridge = 1e-11
)

// energyPoints is the number of places of the rule along a side of a cell: exact for the
// squares of the derivatives of cubics.
const energyPoints = 4

var energyAt, energyW = func() (x, w [energyPoints]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, 1)
	return x, w
}()

// stiffness is what an energy weighs, besides bending and angles.
type stiffness struct {
	along, across, stay float64
	twist               float64 // how many times more than other bending the twist counts
	curves              bool    // curves keep their form, see turnWeight
	turns, moves, grows bool    // the shape may turn, move and grow as a whole without cost
}

// energy adds up the matrix of a quadratic form over the vectors of the functions.
type energy struct {
	f       *field
	n       int // of the functions
	a       []float64
	area    float64
	rotate  []float64 // mean turn, mean growth and mean movement, as forms
	grow    []float64
	move    []float64
	stiff   stiffness
	grain   geom.Point
	squares float64 // size²
}

// energyOf returns the matrix over the field's unknowns.
func energyOf(f *field, inside func(geom.Point) bool, stiff stiffness) *mat.SymDense {
	n := f.functions()
	e := &energy{
		f: f, n: n, a: make([]float64, 4*n*n), rotate: make([]float64, 2*n), grow: make([]float64, 2*n),
		move: make([]float64, n), stiff: stiff, grain: f.grain, squares: f.size * f.size,
	}
	var terms []term
	cell := f.cell[0] * f.cell[1]
	for i := range f.count[0] {
		for j := range f.count[1] {
			for a := range energyPoints {
				for b := range energyPoints {
					s, t := (float64(i)+energyAt[a])*f.cell[0], (float64(j)+energyAt[b])*f.cell[1]
					p := f.origin.Add(f.axis[0].Mul(s)).Add(f.axis[1].Mul(t))
					w := energyW[a] * energyW[b] * cell
					in := inside(p)
					if in {
						e.area += w
					} else {
						w *= outsideWeight
					}
					terms = f.at(terms[:0], p)
					e.add(terms, w, in)
				}
			}
		}
	}
	e.settle()
	return e.tied()
}

// add adds the energy at one place of weight w.
func (e *energy) add(terms []term, w float64, inside bool) {
	g := e.grain
	h := g.Left()
	bend := w * bendWeight * e.squares
	for i := range terms {
		a := &terms[i]
		if inside {
			e.rotate[2*a.k] += w * a.gy
			e.rotate[2*a.k+1] -= w * a.gx
			e.grow[2*a.k] += w * a.gx
			e.grow[2*a.k+1] += w * a.gy
			e.move[a.k] += w * a.b
		}
		for j := range terms {
			b := &terms[j]
			same := similarityWeight*w*(a.gx*b.gx+a.gy*b.gy) + bend*(a.xx*b.xx+2*a.xy*b.xy+a.yy*b.yy)
			if e.stiff.twist > 0 {
				same += 2 * bend * e.stiff.twist * a.twist(g) * b.twist(g)
			}
			cross := similarityWeight * w * (a.gy*b.gx - a.gx*b.gy)
			uu, uv, vu, vv := same, cross, -cross, same
			if e.stiff.stay > 0 {
				s := w * e.stiff.stay * stayWeight / e.squares * a.b * b.b
				uu, vv = uu+s, vv+s
			}
			if e.stiff.along > 0 {
				s := w * e.stiff.along * (a.gx*g.X + a.gy*g.Y) * (b.gx*g.X + b.gy*g.Y)
				uu, uv, vu, vv = uu+s*g.X*g.X, uv+s*g.X*g.Y, vu+s*g.X*g.Y, vv+s*g.Y*g.Y
			}
			if e.stiff.across > 0 {
				s := w * e.stiff.across * (a.gx*h.X + a.gy*h.Y) * (b.gx*h.X + b.gy*h.Y)
				uu, uv, vu, vv = uu+s*h.X*h.X, uv+s*h.X*h.Y, vu+s*h.X*h.Y, vv+s*h.Y*h.Y
			}
			at := 4*e.n*a.k + 2*b.k
			e.a[at] += uu
			e.a[at+1] += uv
			e.a[at+2*e.n] += vu
			e.a[at+2*e.n+1] += vv
		}
	}
}

// twist returns the derivative along the unit vector g of the one across it.
func (t *term) twist(g geom.Point) float64 {
	return g.X*g.Y*(t.yy-t.xx) + (g.X*g.X-g.Y*g.Y)*t.xy
}

// stayWeight makes a Stay of 1 fade a movement out over about half of a shape: bending of
// that length then costs what moving does.
const stayWeight = 16 * math.Pi

// settle adds what holds the shape as a whole where nothing else does.
func (e *energy) settle() {
	weight := func(free bool, held float64) float64 {
		if free {
			return slightWeight
		}
		return held
	}
	area := math.Max(e.area, tiny*e.squares)
	e.square(e.rotate, weight(e.stiff.turns, turnGauge)/area)
	e.square(e.grow, weight(e.stiff.grows, growGauge)/area)
	form := make([]float64, 2*e.n)
	for side := range 2 {
		clear(form)
		for k, v := range e.move {
			form[2*k+side] = v
		}
		e.square(form, weight(e.stiff.moves, gaugeWeight)/(area*e.squares))
	}
}

// square adds w times the square of a form.
func (e *energy) square(form []float64, w float64) {
	for i, v := range form {
		if v == 0 {
			continue
		}
		row := e.a[i*2*e.n : (i+1)*2*e.n]
		for j, u := range form {
			row[j] += w * v * u
		}
	}
}

// tied returns the matrix over the unknowns.
func (e *energy) tied() *mat.SymDense {
	slots, n := e.f.slots, e.f.n
	out := make([]float64, n*n)
	for k := range slots {
		for l := range slots {
			at := 4*e.n*k + 2*l
			uu, uv, vu, vv := e.a[at], e.a[at+1], e.a[at+2*e.n], e.a[at+2*e.n+1]
			if uu == 0 && uv == 0 && vv == 0 {
				continue
			}
			s, t := &slots[k], &slots[l]
			for i := range s.dim {
				for j := range t.dim {
					a, b := s.column[i], t.column[j]
					out[(s.first+i)*n+t.first+j] += a.X*(uu*b.X+uv*b.Y) + a.Y*(vu*b.X+vv*b.Y)
				}
			}
		}
	}
	top := 0.0
	for i := range n {
		top = math.Max(top, out[i*n+i])
	}
	for i := range n {
		out[i*n+i] += ridge * top
	}
	return mat.NewSymDense(n, out)
}
