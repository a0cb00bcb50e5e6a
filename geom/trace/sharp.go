package trace

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/fit"
)

const (
	// sharpTurn is the least change of direction, in radians, of 10 degrees, that counts as
	// a corner of a path.
	sharpTurn = math.Pi / 18
	// sharpReach is how far from where it can be seen the ink of both sides may meet, in
	// ways that it was rounded off: where it meets farther away the corner is another one.
	sharpReach = 3.0
	// sharpLeast is the least distance, in such ways, of the three places of a side that
	// tell how it bends: nearer ones tell more of their noise.
	sharpLeast = 0.5
	// sharpRounds bounds the steps of Newton's method in which two sides are brought to
	// meet, sharpMeets is how near in mm they then are.
	sharpRounds = 12
	sharpMeets  = 1e-6
)

// Sharpened returns ink with the corners that its path has. A pen's middle, or an edge that
// is blurred, turns round a corner within some tenths of a millimetre, however sharp it was
// drawn: held against that, a corner at its true place would seem to lie off. There the ink
// is led on, as it bends where it can be seen, as far as fit.LeaveOut leaves out, until both
// sides meet; where they do not, or are too short to tell, it stays as it is. What was drawn
// round farther than that stays round.
//
// Ink is a polyline in mm, which closes by repeating its first point; blur and pen, in mm,
// are those of fit.Options.
func Sharpened(path geom.Path, ink []geom.Point, blur, pen float64) []geom.Point {
	n := len(ink)
	closed := n > 3 && ink[0] == ink[n-1] && path.Closed()
	if closed {
		n--
	}
	w := sharpener{ink: ink[:n:n], closed: closed, at: map[int][]geom.Point{}, gone: make([]bool, n)}
	for _, c := range cornersOf(path, closed) {
		w.sharpen(c, fit.LeaveOut(c.turn, blur, pen))
	}
	return w.result()
}

// pathCorner is a corner of a path.
type pathCorner struct {
	p             geom.Point
	turn          float64 // radians, without its sign
	before, after float64 // mm to the next corners or ends along the path
}

// cornersOf returns the corners of a path.
func cornersOf(path geom.Path, closed bool) []pathCorner {
	var out []pathCorner
	var at []float64 // how far along the path they lie
	long := 0.0
	for i, s := range path {
		before := i - 1
		if i == 0 && closed {
			before = len(path) - 1
		}
		if before >= 0 {
			u, v := path[before].Tangent(1), s.Tangent(0)
			if turn := math.Abs(math.Atan2(u.Cross(v), u.Dot(v))); turn >= sharpTurn {
				out, at = append(out, pathCorner{p: s.P0, turn: turn}), append(at, long)
			}
		}
		long += s.Length()
	}
	for i := range out {
		c := &out[i]
		switch {
		case i > 0:
			c.before = at[i] - at[i-1]
		case closed:
			c.before = at[i] + long - at[len(at)-1]
		default:
			c.before = at[i]
		}
		if i > 0 {
			out[i-1].after = c.before
		} else if closed {
			out[len(out)-1].after = c.before
		}
	}
	if n := len(out); n > 0 && !closed {
		out[n-1].after = long - at[n-1]
	}
	return out
}

// sharpener puts corners into a polyline.
type sharpener struct {
	ink    []geom.Point
	closed bool
	at     map[int][]geom.Point // the corners, by the points in whose place they come
	gone   []bool               // the points round them
}

// sharpen puts a corner in place of the ink within away mm of it.
func (w *sharpener) sharpen(c pathCorner, away float64) {
	mid := 0
	for i, q := range w.ink {
		if q.Dist(c.p) < w.ink[mid].Dist(c.p) {
			mid = i
		}
	}
	a, from, ok := w.side(mid, -1, away, c.before)
	b, to, and := w.side(mid, 1, away, c.after)
	if !ok || !and {
		return
	}
	s, t, ok := meet(a, b)
	if !ok {
		return
	}
	for i := from; i != to; i = w.next(i, 1) {
		if w.gone[i] {
			return // that of another corner
		}
	}
	for i := w.next(from, 1); i != to; i = w.next(i, 1) {
		w.gone[i] = true
	}
	w.at[mid] = []geom.Point{a.at(s / 2), a.at(s), b.at(t / 2)}
}

// lead is how ink leads on from where it can be seen: a parabola through three places that
// lie step mm apart along it, led on by distances beyond the first in mm.
type lead struct {
	p    [3]geom.Point
	step float64
}

// at returns the place s mm further on.
func (l lead) at(s float64) geom.Point {
	x := -s / l.step
	return l.p[0].Mul((x - 1) * (x - 2) / 2).Add(l.p[1].Mul(x * (2 - x))).Add(l.p[2].Mul(x * (x - 1) / 2))
}

// along returns the derivative of at.
func (l lead) along(s float64) geom.Point {
	x := -s / l.step
	return l.p[0].Mul(x - 1.5).Add(l.p[1].Mul(2 - 2*x)).Add(l.p[2].Mul(x - 0.5)).Mul(-1 / l.step)
}

// meet returns how far two sides lead on until they meet.
func meet(a, b lead) (s, t float64, ok bool) {
	most := sharpReach * a.step
	for range sharpRounds {
		miss := b.at(t).Sub(a.at(s))
		if miss.Len() < sharpMeets {
			return s, t, s >= 0 && t >= 0
		}
		u, v := a.along(s), b.along(t)
		den := u.Cross(v)
		if den == 0 {
			return 0, 0, false
		}
		s += miss.Cross(v) / den
		t += miss.Cross(u) / den
		if !(math.Abs(s) <= most && math.Abs(t) <= most) {
			return 0, 0, false
		}
	}
	return 0, 0, false
}

// side goes along the ink from the point mid, forward or backward, until away mm are behind
// it, and returns how it leads back from there to the corner, and the index of the last
// point before. It fails where there is not as much ink up to the next corner, which is room
// mm away.
func (w *sharpener) side(mid, step int, away, room float64) (l lead, from int, ok bool) {
	l.step = math.Min(away, (room-2*away)/2)
	if !(away > 0) || l.step < sharpLeast*away {
		return l, 0, false
	}
	i, long := mid, 0.0
	for k := range l.p {
		most := away + float64(k)*l.step
		for {
			j := w.next(i, step)
			if j < 0 || j == mid {
				return l, 0, false
			}
			chord := w.ink[i].Dist(w.ink[j])
			if long+chord >= most {
				l.p[k] = w.ink[i].Lerp(w.ink[j], (most-long)/math.Max(chord, math.SmallestNonzeroFloat64))
				if k == 0 {
					from = j
				}
				break
			}
			long += chord
			i = j
		}
	}
	return l, from, true
}

// next returns the index step after i, below 0 beyond an end.
func (w *sharpener) next(i, step int) int {
	i += step
	if n := len(w.ink); w.closed {
		return (i + n) % n
	} else if i >= n {
		return -1
	}
	return i
}

// result returns the ink with its corners.
func (w *sharpener) result() []geom.Point {
	out := make([]geom.Point, 0, len(w.ink)+1)
	for i, p := range w.ink {
		if c, ok := w.at[i]; ok {
			out = append(out, c...)
		} else if !w.gone[i] {
			out = append(out, p)
		}
	}
	if w.closed && len(out) > 0 {
		out = append(out, out[0])
	}
	return out
}
