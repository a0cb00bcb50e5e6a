package follow

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom"
)

// headingPens is the way, in pens, at which the order of the lines round a crossing is
// told: there they are apart.
const headingPens = 2.5

// ring is a closed line of the drawing.
type ring struct {
	halves []int // empty for a branch that is a loop of its own
	loop   int
	poly   []geom.Point
	area   float64 // px²
}

// ringed returns which branches lie on a ring at all: those left once loose ends, and lines
// that do but lead from one ring to another, are taken away.
func (d *drawing) ringed() []bool {
	in := make([]bool, len(d.branches))
	deg := make([]int, len(d.nodes))
	for k := range d.branches {
		if r := &d.branches[k]; !r.gone && r.from >= 0 {
			in[k] = true
			deg[r.from]++
			deg[r.to]++
		}
	}
	d.shed(in, deg)
	face, _ := d.faces(in)
	for k := range in {
		if in[k] && face[2*k] == face[2*k+1] {
			in[k] = false
			deg[d.branches[k].from]--
			deg[d.branches[k].to]--
		}
	}
	d.shed(in, deg)
	return in
}

// shed takes out loose ends until there are none.
func (d *drawing) shed(in []bool, deg []int) {
	var todo []int
	for n := range deg {
		if deg[n] == 1 {
			todo = append(todo, n)
		}
	}
	for len(todo) > 0 {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, h := range d.nodes[n].ends {
			if !in[h/2] || deg[n] != 1 {
				continue
			}
			in[h/2] = false
			deg[n]--
			far := d.nodeOf(h ^ 1)
			if deg[far]--; deg[far] == 1 {
				todo = append(todo, far)
			}
		}
	}
}

// faces returns the face on one side of each half branch, and the half branches round each
// face in order. Faces that are bounded run with a positive shoelace sum, the one outside of
// each connected part with a negative one.
func (d *drawing) faces(in []bool) (face []int, walks [][]int) {
	// turn is the half branch that goes on round the face where half branch h arrives.
	turn := make([]int, 2*len(d.branches))
	for n := range d.nodes {
		var ends []int
		at := map[int]float64{}
		for _, h := range d.nodes[n].ends {
			if in[h/2] {
				ends = append(ends, h)
				at[h] = d.heading(h, headingPens*d.pen(h)).Angle()
			}
		}
		slices.SortFunc(ends, func(a, b int) int { return cmp.Compare(at[a], at[b]) })
		for i, h := range ends {
			turn[h^1] = ends[(i+len(ends)-1)%len(ends)]
		}
	}
	face = make([]int, 2*len(d.branches))
	for i := range face {
		face[i] = -1
	}
	for h := range face {
		if !in[h/2] || face[h] >= 0 {
			continue
		}
		var walk []int
		for e := h; face[e] < 0; e = turn[e] {
			face[e] = len(walks)
			walk = append(walk, e)
		}
		walks = append(walks, walk)
	}
	return face, walks
}

// polygon returns the raw line along half branches.
func (d *drawing) polygon(halves []int) []geom.Point {
	var pts []geom.Point
	for _, h := range halves {
		pts = append(pts, d.nodes[d.nodeOf(h)].at)
		raw := d.branches[h/2].raw
		for i := range raw {
			if h%2 == 1 {
				i = len(raw) - 1 - i
			}
			pts = append(pts, raw[i])
		}
	}
	return pts
}

// rings returns the outer rings of each connected part of the drawing, with loops of their
// own, of at least least px², the largest first. In in it tells which branches lie on rings.
func (d *drawing) rings(least float64) (rings []ring, in []bool) {
	var out []ring
	add := func(r ring) {
		if r.area >= least {
			out = append(out, r)
		}
	}
	in = d.ringed()
	_, walks := d.faces(in)
	for _, walk := range walks {
		if signedArea(d.polygon(walk)) > 0 {
			continue
		}
		for _, halves := range d.simpleRings(walk) {
			for _, r := range d.split(d.ringOf(halves), in, least) {
				add(r)
			}
		}
	}
	for k := range d.branches {
		if r := &d.branches[k]; !r.gone && r.from < 0 {
			add(ring{loop: k, poly: r.raw, area: math.Abs(signedArea(r.raw))})
		}
	}
	slices.SortStableFunc(out, func(a, b ring) int { return cmp.Compare(b.area, a.area) })
	return out, in
}

// crossings returns at how many nodes of a ring another ring crosses it: where four
// branches meet that lie on rings.
func (d *drawing) crossings(r ring, in []bool) int {
	n := 0
	for _, h := range r.halves {
		meet := 0
		for _, e := range d.nodes[d.nodeOf(h)].ends {
			if in[e/2] {
				meet++
			}
		}
		if meet >= 4 {
			n++
		}
	}
	return n
}

// simpleRings parts a closed walk into rings that meet no node twice.
func (d *drawing) simpleRings(walk []int) [][]int {
	var out [][]int
	var stack []int
	seen := map[int]int{} // node to its place in the stack
	for _, h := range walk {
		n := d.nodeOf(h)
		if at, ok := seen[n]; ok {
			ring := slices.Clone(stack[at:])
			for _, e := range ring {
				delete(seen, d.nodeOf(e))
			}
			stack = stack[:at]
			out = append(out, ring)
		}
		seen[n] = len(stack)
		stack = append(stack, h)
	}
	if len(stack) > 0 {
		out = append(out, stack)
	}
	return out
}

// contains reports whether a polygon holds a point: whether a line from afar crosses it an
// odd number of times.
func contains(poly []geom.Point, p geom.Point) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y <= p.Y) != (b.Y <= p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
