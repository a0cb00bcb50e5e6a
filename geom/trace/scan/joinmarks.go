package scan

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

// Errors of joining sheets.
var (
	errFewMarks   = errors.New("two sheets are joined by two or more marks that both show")
	errSameMarks  = errors.New("the marks lie on one another: two marks far apart fix how a sheet is turned")
	errLostMark   = errors.New("a mark has no place")
	errSheetLoose = errors.New("a sheet hangs on no other by two marks or more")
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

// Tie is a mark that shows on two sheets: at APoint on sheet A and at BPoint on sheet B,
// each in the mm of its own sheet.
type Tie struct {
	A, B           int
	APoint, BPoint geom.Point
}

// Joined tells how several sheets are laid together.
type Joined struct {
	Maps  []geom.Affine // of each sheet, turn and move; the first stays where it is
	RMS   float64       // mm
	Each  []float64     // mm, of each tie
	Worst int           // index of the tie that is off by most
}

// joinRounds bounds the steps of JoinAll, which converges in a few.
const joinRounds = 20

// joinStep is the step, in mm or radians, below which JoinAll is done.
const joinStep = 1e-10

// JoinAll lays sheets together by all their ties at once, with the least squares of
// distances, so that a ring of sheets closes as well as it can. The first sheet stays.
// Every sheet must hang on the first, over others if need be, by pairs of sheets with two
// ties or more.
func JoinAll(sheets int, ties []Tie) (Joined, error) {
	if sheets < 1 {
		return Joined{}, errors.New("there is no sheet to join")
	}
	for i, t := range ties {
		if t.A < 0 || t.B < 0 || t.A >= sheets || t.B >= sheets || t.A == t.B {
			return Joined{}, fmt.Errorf("mark %d joins sheets %d and %d of %d", i+1, t.A+1, t.B+1, sheets)
		}
		if !t.APoint.Finite() || !t.BPoint.Finite() {
			return Joined{}, fmt.Errorf("mark %d: %w", i+1, errLostMark)
		}
	}
	maps, err := chainSheets(sheets, ties)
	if err != nil {
		return Joined{}, err
	}
	for range joinRounds {
		moved, ok := joinOnce(maps, ties)
		if !ok || moved < joinStep {
			break
		}
	}
	r := Joined{Maps: maps, Each: make([]float64, len(ties))}
	var sum float64
	for i, t := range ties {
		r.Each[i] = maps[t.A].Apply(t.APoint).Dist(maps[t.B].Apply(t.BPoint))
		sum += r.Each[i] * r.Each[i]
		if r.Each[i] > r.Each[r.Worst] {
			r.Worst = i
		}
	}
	if len(ties) > 0 {
		r.RMS = math.Sqrt(sum / float64(len(ties)))
	}
	return r, nil
}

// chainSheets lays each sheet onto one that already lies, from the first on.
func chainSheets(sheets int, ties []Tie) ([]geom.Affine, error) {
	maps, lies := make([]geom.Affine, sheets), make([]bool, sheets)
	maps[0], lies[0] = geom.Identity, true
	var why error
	for grown := true; grown; {
		grown = false
		for s := range maps {
			if lies[s] {
				continue
			}
			var from, to []geom.Point
			for _, t := range ties {
				switch {
				case t.B == s && lies[t.A]:
					from, to = append(from, t.BPoint), append(to, maps[t.A].Apply(t.APoint))
				case t.A == s && lies[t.B]:
					from, to = append(from, t.APoint), append(to, maps[t.B].Apply(t.BPoint))
				}
			}
			j, err := JoinMarks(from, to)
			if err != nil {
				if len(from) > 1 {
					why = fmt.Errorf("sheet %d: %w", s+1, err)
				}
				continue
			}
			maps[s], lies[s], grown = j.Map, true, true
		}
	}
	for s := range lies {
		if !lies[s] {
			if why == nil {
				why = fmt.Errorf("sheet %d: %w", s+1, errSheetLoose)
			}
			return nil, why
		}
	}
	return maps, nil
}

// joinOnce moves and turns all sheets but the first by one step of Gauss and Newton, and
// returns the largest change in mm or radians.
func joinOnce(maps []geom.Affine, ties []Tie) (float64, bool) {
	n := 3 * (len(maps) - 1)
	if n == 0 || 2*len(ties) < n {
		return 0, false
	}
	// Each sheet turns about the middle of its marks, which keeps turn and move apart.
	mids := make([]geom.Point, len(maps))
	count := make([]float64, len(maps))
	for _, t := range ties {
		mids[t.A], mids[t.B] = mids[t.A].Add(t.APoint), mids[t.B].Add(t.BPoint)
		count[t.A]++
		count[t.B]++
	}
	for s := range mids {
		mids[s] = maps[s].Apply(mids[s].Mul(1 / math.Max(count[s], 1)))
	}
	a, b := mat.NewDense(2*len(ties), n, nil), mat.NewVecDense(2*len(ties), nil)
	for i, t := range ties {
		p, q := maps[t.A].Apply(t.APoint), maps[t.B].Apply(t.BPoint)
		place := func(s int, at geom.Point, sign float64) {
			if s == 0 {
				return
			}
			k, arm := 3*(s-1), at.Sub(mids[s]).Left()
			a.Set(2*i, k, sign*arm.X)
			a.Set(2*i, k+1, sign)
			a.Set(2*i+1, k, sign*arm.Y)
			a.Set(2*i+1, k+2, sign)
		}
		place(t.A, p, 1)
		place(t.B, q, -1)
		b.SetVec(2*i, q.X-p.X)
		b.SetVec(2*i+1, q.Y-p.Y)
	}
	var x mat.VecDense
	if x.SolveVec(a, b) != nil {
		return 0, false
	}
	var most float64
	for s := 1; s < len(maps); s++ {
		k := 3 * (s - 1)
		turn, move := x.AtVec(k), geom.Pt(x.AtVec(k+1), x.AtVec(k+2))
		maps[s] = maps[s].Then(geom.Rotation(turn, mids[s])).Then(geom.Translation(move))
		most = math.Max(most, math.Max(math.Abs(turn), move.Len()))
	}
	return most, true
}
