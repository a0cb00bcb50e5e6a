package follow

import "math"

const (
	// waist is the angle in radians by which an outline must turn inward where two pieces
	// that are drawn with a shared line part: 25 degrees. Where it turns less, the line is
	// one that divides a piece.
	waist = 25 * math.Pi / 180
	// waistPens is the way, in pens, over which that turn is taken.
	waistPens = 4.0
	// leastSplit is the share of the ring that each of two such pieces has at least.
	leastSplit = 0.2
	// sumSplit is how much larger both together may be than the ring, for the raw lines that
	// tell their areas. Where they are, the line runs outside.
	sumSplit = 1.02
)

// split parts a ring into the rings of pieces that were drawn with a shared line: one from
// node to node of the ring, at both of which the ring turns inward, with a good part of it
// on either side, and least px² at least. The branches in in lie on rings.
func (d *drawing) split(r ring, in []bool, least float64) []ring {
	at := map[int]int{} // node to its place on the ring
	for i, h := range r.halves {
		at[d.nodeOf(h)] = i
	}
	for i, h := range r.halves {
		if !d.waistAt(r, i) {
			continue
		}
		for _, e := range d.nodes[d.nodeOf(h)].ends {
			chord := d.chord(e, r, at, in)
			if chord == nil {
				continue
			}
			k := at[d.nodeOf(chord[len(chord)-1]^1)]
			if k <= i || !d.waistAt(r, k) {
				continue
			}
			a := append(append([]int(nil), r.halves[i:k]...), backward(chord)...)
			b := append(append(append([]int(nil), chord...), r.halves[k:]...), r.halves[:i]...)
			one, two := d.ringOf(a), d.ringOf(b)
			if min(one.area, two.area) < max(leastSplit*r.area, least) || one.area+two.area > sumSplit*r.area {
				continue
			}
			return append(d.split(one, in, least), d.split(two, in, least)...)
		}
	}
	return []ring{r}
}

// ringOf returns the ring along half branches.
func (d *drawing) ringOf(halves []int) ring {
	poly := d.polygon(halves)
	return ring{halves: halves, poly: poly, area: math.Abs(signedArea(poly))}
}

// backward returns the half branches of a line from its end to its start.
func backward(halves []int) []int {
	out := make([]int, len(halves))
	for i, h := range halves {
		out[len(halves)-1-i] = h ^ 1
	}
	return out
}

// waistAt reports whether a ring turns inward where its half branch i starts, and one line
// goes on from there: where outlines cross, two do.
func (d *drawing) waistAt(r ring, i int) bool {
	n := len(r.halves)
	out := r.halves[i]
	if d.degree(d.nodeOf(out)) != 3 {
		return false
	}
	last := r.halves[(i+n-1)%n] ^ 1
	reach := waistPens * d.pen(out)
	u, v := d.heading(last, reach).Mul(-1), d.heading(out, reach)
	turn := math.Atan2(u.Cross(v), u.Dot(v))
	return -turn*math.Copysign(1, signedArea(r.poly)) > waist
}

// chord returns the line that starts with half branch e, on no ring's outside, if it leads
// to another node of the ring without meeting others; else nil.
func (d *drawing) chord(e int, r ring, at map[int]int, in []bool) []int {
	for _, h := range r.halves {
		if h/2 == e/2 {
			return nil
		}
	}
	var out []int
	for in[e/2] {
		out = append(out, e)
		n := d.nodeOf(e ^ 1)
		if _, ok := at[n]; ok {
			if n == d.nodeOf(out[0]) {
				return nil
			}
			return out
		}
		next := -1
		for _, h := range d.nodes[n].ends {
			if h == e^1 || !in[h/2] {
				continue
			}
			if next >= 0 {
				return nil
			}
			next = h
		}
		if next < 0 || len(out) > len(d.branches) {
			return nil
		}
		e = next
	}
	return nil
}
