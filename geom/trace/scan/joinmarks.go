package scan

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Errors of joining sheets.
var (
	errFewMarks  = errors.New("two sheets are joined by two or more marks that both show")
	errSameMarks = errors.New("the marks lie on one another: two marks far apart fix how a sheet is turned")
	errLostMark  = errors.New("a mark has no place")
)

// leastApart is how far marks must lie apart, as a share of how far they lie from the
// origin, below which rounding would turn the sheet, and at any rate in mm.
const (
	leastApart   = 1e-9
	leastApartMM = 1e-3
)

// Join tells how one sheet is laid onto another.
type Join struct {
	Map   geom.Affine // turn and move, mm to mm
	RMS   float64     // mm, root of the mean square of Each
	Each  []float64   // mm, how far each mark lies from its mate
	Worst int         // index of the mark that is off by most
	Scale float64     // by how much the sheet would have to be enlarged to fit best: 1 where both are true
}

// Says tells in words whether the sheets are of one size, and is empty where they are
// within slight of each other (0.002 is 0.2 %).
func (j Join) Says(slight float64) string {
	off := 1/j.Scale - 1
	if math.Abs(off) <= slight {
		return ""
	}
	word := "larger"
	if off < 0 {
		word = "smaller"
	}
	return fmt.Sprintf("the second sheet is %.1f %% %s than the first", 100*math.Abs(off), word)
}

// JoinMarks returns the turn and move that brings the marks from, in mm on the second
// sheet, closest to the marks to, in mm on the first: the least squares of distances in
// closed form (Kabsch 1976 in the plane). It needs two pairs or more that do not lie on one
// point. It never mirrors and never scales: what a scale would have to be is told in
// Scale.
func JoinMarks(from, to []geom.Point) (Join, error) {
	n := min(len(from), len(to))
	if n < 2 {
		return Join{}, errFewMarks
	}
	var mf, mt geom.Point
	for i := range n {
		if !from[i].Finite() || !to[i].Finite() {
			return Join{}, errLostMark
		}
		mf, mt = mf.Add(from[i].Mul(1/float64(n))), mt.Add(to[i].Mul(1/float64(n)))
	}
	var dot, cross, ff, tt float64
	for i := range n {
		f, t := from[i].Sub(mf), to[i].Sub(mt)
		dot, cross = dot+f.Dot(t), cross+f.Cross(t)
		ff, tt = ff+f.Dot(f), tt+t.Dot(t)
	}
	least := math.Max(leastApartMM, leastApart*math.Max(mf.Len(), mt.Len()))
	turned := math.Hypot(dot, cross)
	if !(ff > least*least) || !(tt > least*least) || !(turned > least*least) || math.IsInf(turned, 0) {
		return Join{}, errSameMarks
	}
	c, s := dot/turned, cross/turned
	m := geom.Affine{A: c, B: s, C: -s, D: c}
	move := mt.Sub(m.Apply(mf))
	m.E, m.F = move.X, move.Y
	j := Join{Map: m, Scale: turned / ff, Each: make([]float64, n)}
	var sum float64
	for i := range n {
		j.Each[i] = m.Apply(from[i]).Dist(to[i])
		sum += j.Each[i] * j.Each[i]
		if j.Each[i] > j.Each[j.Worst] {
			j.Worst = i
		}
	}
	j.RMS = math.Sqrt(sum / float64(n))
	return j, nil
}
