package geom

import (
	"errors"
	"fmt"
	"math"
)

// Walk matches two runs that are to be sewn together from their starts on, B with
// Ratio times the length of A: 1 for a plain seam, more where B is fuller. The
// fullness lies evenly over the stretch of A from From to To mm; outside it the
// runs match one to one. From = To = 0 spreads it over the whole of A.
//
// The positions are matched by the wanted ratio, not by the lengths as they are,
// so that what is too long or too short shows at the end, as it does when one
// piece is walked along the other.
type Walk struct {
	A, B     Run
	Ratio    float64
	From, To float64
}

// Check returns an error that says why the positions cannot be matched: a run
// without length, a ratio that is not positive, a stretch that is not on A or too
// short for the ratio (B would have to run backwards).
func (w Walk) Check() error {
	a := w.A.Length()
	switch {
	case !(a > 0) || math.IsInf(a, 0):
		return errors.New("walk: the first run has no length")
	case !(w.B.Length() > 0) || math.IsInf(w.B.Length(), 0):
		return errors.New("walk: the second run has no length")
	case !(w.Ratio > 0) || math.IsInf(w.Ratio, 0):
		return fmt.Errorf("walk: the ratio %g is not positive", w.Ratio)
	case w.From == 0 && w.To == 0:
		return nil
	case !(w.From >= 0 && w.From < w.To && w.To <= a*(1+nodeSnap)):
		return fmt.Errorf("walk: the stretch from %.3f to %.3f mm is not on the first run of %.3f mm", w.From, w.To, a)
	case !(w.local() > 0):
		return fmt.Errorf("walk: the stretch of %.3f mm is too short for the ratio %g over %.3f mm", w.To-w.From, w.Ratio, a)
	}
	return nil
}

// local returns the ratio within the stretch that gives Ratio over the whole.
func (w Walk) local() float64 {
	if w.From == 0 && w.To == 0 {
		return w.Ratio
	}
	return 1 + (w.Ratio-1)*w.A.Length()/(w.To-w.From)
}

// stretch returns the ends of the stretch on A.
func (w Walk) stretch() (from, to float64) {
	if w.From == 0 && w.To == 0 {
		return 0, w.A.Length()
	}
	return w.From, w.To
}

// Wanted returns the length that B should have, in mm.
func (w Walk) Wanted() float64 { return w.Ratio * w.A.Length() }

// Excess returns by how many mm B is longer than wanted, negative where it is
// shorter.
func (w Walk) Excess() float64 { return w.B.Length() - w.Wanted() }

// ToB returns the distance along B, in mm, that belongs to distance a along A. It
// is not held within B: a value beyond B's length has nothing to be sewn to.
// Outside A it goes on at the ratio next to it. Check must have passed.
func (w Walk) ToB(a float64) float64 {
	from, to := w.stretch()
	k := w.local()
	whole := w.From == 0 && w.To == 0
	switch {
	case whole:
		return k * a
	case a <= from:
		return a
	case a <= to:
		return from + k*(a-from)
	}
	return from + k*(to-from) + a - to
}

// ToA returns the distance along A that belongs to distance b along B: the
// inverse of ToB.
func (w Walk) ToA(b float64) float64 {
	from, to := w.stretch()
	k := w.local()
	end := from + k*(to-from)
	whole := w.From == 0 && w.To == 0
	switch {
	case whole:
		return b / k
	case b <= from:
		return b
	case b <= end:
		return from + (b-from)/k
	}
	return to + b - end
}

// Contact is one position of a walk: the second piece laid against the first.
type Contact struct {
	// Map takes the plane of B to that of A: a turn and a move, after a mirror
	// image where that was asked for.
	Map Affine
	// AtA and AtB are the distances along the runs, in mm.
	AtA, AtB float64
	// RestA and RestB are the lengths that remain from there to the ends. With
	// a plain seam that fits they are equal; RestB - RestA is what B is too
	// long.
	RestA, RestB float64
}

// Lay returns the position in which B's point that belongs to distance a along A
// lies on A's, with the directions of both runs aligned: so B rolls along A as a
// grows, without sliding where the ratio is 1. If both runs follow the seam from
// the same end, and each has its own piece on its other side, the pieces lie side
// by side. With mirror B is turned over first, about its own tangent, and the
// pieces lie on one another.
//
// At a node or a gap the directions are those of what follows. a is held within A,
// and the place on B within B. It is false if a run has no segment, or no direction
// there.
func (w Walk) Lay(a float64, mirror bool) (Contact, bool) {
	a = math.Max(0, math.Min(a, w.A.Length()))
	b := math.Max(0, math.Min(w.ToB(a), w.B.Length()))
	pa, okA := w.A.After(a)
	pb, okB := w.B.After(b)
	if !okA || !okB || math.IsNaN(a) || math.IsNaN(b) {
		return Contact{}, false
	}
	m, ok := aligned(w.B.Point(pb), w.B.Tangent(pb), w.A.Point(pa), w.A.Tangent(pa), mirror)
	if !ok {
		return Contact{}, false
	}
	return Contact{m, a, b, w.A.Length() - a, w.B.Length() - b}, true
}

// aligned returns the rigid map that takes p with direction u to q with direction
// v, mirrored about the tangent if asked for.
func aligned(p, u, q, v Point, mirror bool) (Affine, bool) {
	if u == (Point{}) || v == (Point{}) {
		return Identity, false
	}
	// The turn by the angle from u to v has cosine u·v and sine u×v. The
	// mirror image about the line along u is first turned with it.
	c, s := u.Dot(v), u.Cross(v)
	n := math.Hypot(c, s)
	turn := Affine{A: c / n, B: s / n, C: -s / n, D: c / n}
	if mirror {
		flip, _ := Reflection(Point{}, u)
		turn = flip.Then(turn)
	}
	o := turn.Apply(p)
	turn.E, turn.F = q.X-o.X, q.Y-o.Y
	return turn, true
}
