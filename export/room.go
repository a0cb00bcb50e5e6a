package export

import (
	"math"
	"sort"

	"hemlet/geom"
)

// clearOf is how far a label keeps off every line, as a share of its size.
const clearOf = 0.5

// roomGrid is into how many steps the longer side of a piece is divided in the
// search for room, roomAcross how many the shorter side has at least.
const (
	roomGrid   = 28
	roomAcross = 8
)

// room is the inside of a piece as chords, to find a place for its label in.
type room struct {
	outline geom.Path
	box     geom.Rect
	chords  [][2]geom.Point
	// spots lie inside, the best first.
	spots []geom.Point
}

func roomIn(l *Laid, borders []geom.Path) *room {
	box := l.Stitch.Bounds()
	span := math.Max(box.W(), box.H())
	// A hundredth of a small letter, or what a large piece does not show.
	tol := math.Max(0.02, span/2000)
	r := &room{outline: l.Stitch, box: box}
	r.add(l.Stitch, tol)
	for _, m := range l.Marks {
		for _, c := range m.Chains {
			r.add(c, tol)
		}
	}
	for _, t := range l.Notes {
		r.add(rectPath(t.Bounds()), tol)
	}
	for _, c := range borders {
		r.add(c, tol)
	}
	best, ok := l.Stitch.Centroid()
	if !ok {
		best = box.Center()
	}
	// The spots are counted from the middle, so that a label that has room there
	// stands there exactly.
	step := span / roomGrid
	for _, x := range gridAbout(best.X, box.Min.X, box.Max.X, step) {
		for _, y := range gridAbout(best.Y, box.Min.Y, box.Max.Y, step) {
			if p := geom.Pt(x, y); l.Stitch.Contains(p) {
				r.spots = append(r.spots, p)
			}
		}
	}
	sort.SliceStable(r.spots, func(i, j int) bool { return r.spots[i].Dist(best) < r.spots[j].Dist(best) })
	return r
}

// gridAbout returns the places from lo to hi that lie whole steps from the middle;
// the steps are made smaller where there would be few.
func gridAbout(middle, lo, hi, step float64) []float64 {
	step = math.Min(step, (hi-lo)/roomAcross)
	if !(step > 0) {
		return []float64{middle}
	}
	var out []float64
	for k := math.Ceil((lo - middle) / step); middle+k*step <= hi; k++ {
		out = append(out, middle+k*step)
	}
	return out
}

func (r *room) add(p geom.Path, tol float64) {
	pts := p.AppendFlat(nil, tol)
	for i := 1; i < len(pts); i++ {
		r.chords = append(r.chords, [2]geom.Point{pts[i-1], pts[i]})
	}
}

// find returns the middle at which a box of w by h mm with letters of the size fits.
func (r *room) find(w, h, size float64) (geom.Point, bool) {
	if w > r.box.W() || h > r.box.H() {
		return geom.Point{}, false
	}
	for _, p := range r.spots {
		if r.holds(p, w, h, clearOf*size) {
			return p, true
		}
	}
	return geom.Point{}, false
}

// holds reports whether a box of w by h mm about p, and clear mm more on every
// side, is free of lines.
func (r *room) holds(p geom.Point, w, h, clear float64) bool {
	half := geom.Pt(w/2+clear, h/2+clear)
	box := geom.Rect{Min: p.Sub(half), Max: p.Add(half)}
	for _, c := range r.chords {
		if crossesBox(c[0], c[1], box) {
			return false
		}
	}
	return r.outline.Contains(p)
}

// crossesBox reports whether the line from a to b has a point in the box, by
// clipping its parameter range against each pair of sides (Liang and Barsky 1984).
func crossesBox(a, b geom.Point, box geom.Rect) bool {
	_, _, ok := clipLine(a, b, box)
	return ok
}

// clipLine returns the range of the parameter over which the line from a to b
// lies in the box.
func clipLine(a, b geom.Point, box geom.Rect) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	d := b.Sub(a)
	for _, s := range [...]struct{ from, step, lo, hi float64 }{
		{a.X, d.X, box.Min.X, box.Max.X}, {a.Y, d.Y, box.Min.Y, box.Max.Y},
	} {
		if s.step == 0 {
			if s.from < s.lo || s.from > s.hi {
				return 0, 0, false
			}
			continue
		}
		u, v := (s.lo-s.from)/s.step, (s.hi-s.from)/s.step
		if u > v {
			u, v = v, u
		}
		t0, t1 = math.Max(t0, u), math.Min(t1, v)
	}
	return t0, t1, t0 <= t1
}

// middle returns a point well inside the piece, not far from where it is seen from.
func (r *room) middle(from geom.Point) geom.Point {
	clear := make([]float64, len(r.spots))
	most := 0.0
	for i, p := range r.spots {
		_, clear[i] = r.outline.Nearest(p)
		most = math.Max(most, clear[i])
	}
	const enough = 0.6 // of the largest distance from the outline
	best, near := r.outline.Start(), math.Inf(1)
	for i, p := range r.spots {
		if d := p.Dist(from); clear[i] >= enough*most && d < near {
			best, near = p, d
		}
	}
	return best
}
