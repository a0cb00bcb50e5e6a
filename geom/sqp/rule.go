package sqp

// Rule is a value in mm that is to be zero, or not less than zero, as a function of the
// coordinates of each block.
type Rule interface {
	// Value returns the value, in mm.
	Value(x [][]float64) float64
	// Slope adds the derivative by the coordinates of each block that the rule reads.
	Slope(x [][]float64, g *Gradient)
	// Curve adds k times the second derivative.
	Curve(x [][]float64, k float64, h []Square)
}

// Gradient is a derivative by the coordinates, for the blocks that have some in it.
type Gradient struct {
	blocks []int
	by     [][]float64
}

// Of returns the derivative by the coordinates of one block, of which there are n, to be
// added to.
func (g *Gradient) Of(block, n int) []float64 {
	for i, s := range g.blocks {
		if s == block {
			return g.by[i]
		}
	}
	g.blocks = append(g.blocks, block)
	g.by = append(g.by, make([]float64, n))
	return g.by[len(g.by)-1]
}

// Square is a symmetric matrix over the coordinates of one block, row by row.
type Square struct {
	N int
	A []float64
}

// NewSquare returns a matrix of n by n zeros.
func NewSquare(n int) Square { return Square{n, make([]float64, n*n)} }

// Times adds the product with z to y.
func (q Square) Times(z, y []float64) {
	for i := range y {
		row := q.A[i*q.N : (i+1)*q.N]
		sum := 0.0
		for j, v := range z {
			sum += row[j] * v
		}
		y[i] += sum
	}
}
