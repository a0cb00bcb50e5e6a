package tracetest

import (
	"math"

	"hemlet/geom"
)

// coverage says how much of each pixel of a window lies inside shapes: exactly, for
// shapes of straight lines, by the sums of signed areas. Windings add up, so that what is
// covered twice is covered.
type coverage struct {
	x0, y0, w, h int       // the window in pixels
	sums         []float32 // differences along the rows, w+2 a row
}

// cover makes the window for shapes whose points lie within r, cut to a picture of w by h.
func cover(r geom.Rect, w, h int) *coverage {
	x0, y0 := max(0, int(math.Floor(r.Min.X))-1), max(0, int(math.Floor(r.Min.Y))-1)
	x1, y1 := min(w, int(math.Ceil(r.Max.X))+1), min(h, int(math.Ceil(r.Max.Y))+1)
	c := &coverage{x0: x0, y0: y0, w: max(0, x1-x0), h: max(0, y1-y0)}
	c.sums = make([]float32, (c.w+2)*c.h)
	return c
}

// polygon adds a closed polygon, in pixels of the picture.
func (c *coverage) polygon(pts []geom.Point) {
	for i, p := range pts {
		c.edge(p, pts[(i+1)%len(pts)])
	}
}

// edge adds what lies to the right of the line from a to b: positive where it runs down.
func (c *coverage) edge(a, b geom.Point) {
	off := geom.Pt(float64(c.x0), float64(c.y0))
	a, b = a.Sub(off), b.Sub(off)
	sign := 1.0
	if a.Y > b.Y {
		a, b, sign = b, a, -1
	}
	top, low := math.Max(a.Y, 0), math.Min(b.Y, float64(c.h))
	if top >= low {
		return
	}
	slope := (b.X - a.X) / (b.Y - a.Y)
	at := func(y float64) float64 { return a.X + (y-a.Y)*slope }
	for y := int(top); y < c.h && float64(y) < low; y++ {
		ya, yb := math.Max(top, float64(y)), math.Min(low, float64(y+1))
		c.row(y, at(ya), at(yb), sign*(yb-ya))
	}
}

// row adds what lies to the right of a line that crosses height dy of row y between xa
// and xb.
func (c *coverage) row(y int, xa, xb, dy float64) {
	if xa > xb {
		xa, xb = xb, xa
	}
	row := c.sums[y*(c.w+2) : (y+1)*(c.w+2)]
	wide := float64(c.w)
	switch {
	case xb <= 0:
		row[0] += float32(dy)
		return
	case xa >= wide:
		return
	case xa < 0:
		part := -xa / (xb - xa)
		row[0] += float32(dy * part)
		c.row(y, 0, xb, dy*(1-part))
		return
	case xb > wide:
		c.row(y, xa, wide, dy*(wide-xa)/(xb-xa))
		return
	}
	i, j := int(xa), int(xb)
	if i == j {
		// The share of the pixel to the right of the line's middle, and the rest of the row.
		right := float64(i+1) - (xa+xb)/2
		row[i] += float32(dy * right)
		row[i+1] += float32(dy * (1 - right))
		return
	}
	per := dy / (xb - xa)
	for k := i; k <= j; k++ {
		l, r := math.Max(xa, float64(k)), math.Min(xb, float64(k+1))
		if r <= l {
			continue
		}
		d := per * (r - l)
		right := float64(k+1) - (l+r)/2
		row[k] += float32(d * right)
		row[k+1] += float32(d * (1 - right))
	}
}

// each calls do with the covered share, from 0 to 1, of every pixel that is touched.
func (c *coverage) each(do func(x, y int, share float32)) {
	for y := range c.h {
		row := c.sums[y*(c.w+2) : (y+1)*(c.w+2)]
		var sum float64
		for x := range c.w {
			sum += float64(row[x])
			share := float32(math.Min(1, math.Abs(sum)))
			if share > 1e-5 {
				do(c.x0+x, c.y0+y, share)
			}
		}
	}
}

// sampling is the longest chord, in mm, by which curves are drawn: at a radius of 3 mm it
// strays by a third of a micrometre.
const sampling = 0.09

// chords returns points along the path, without its end where it is closed, and for each
// whether the path turns there.
func chords(p geom.Path) (pts []geom.Point, turns []bool) {
	for i, s := range p {
		n := 1
		if !s.Straight {
			n = max(4, int(math.Ceil(s.Length()/sampling)))
		}
		sharp := false
		if i > 0 || p.Closed() {
			u, v := p[(i+len(p)-1)%len(p)].Tangent(1), s.Tangent(0)
			sharp = math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) > 0.02
		}
		for k := range n {
			pts, turns = append(pts, s.At(float64(k)/float64(n))), append(turns, sharp && k == 0)
		}
	}
	if !p.Closed() && len(p) > 0 {
		pts, turns = append(pts, p.End()), append(turns, false)
	}
	return pts, turns
}

// wedge is the largest step, in radians, of round pen joins and ends.
const wedge = 0.1

// stroke returns polygons in mm, all run the same way round, that cover exactly what a
// round pen of the given width covers on the path, some places twice.
func stroke(p geom.Path, pen float64) [][]geom.Point {
	pts, turns := chords(p)
	n, closed := len(pts), p.Closed()
	if n < 2 {
		return nil
	}
	half := pen / 2
	side := func(i int) geom.Point { return pts[(i+1)%n].Sub(pts[i]).Unit().Left().Mul(half) }
	var out [][]geom.Point
	last := n - 1
	if closed {
		last = n
	}
	// Chords that run on share the side of the middle direction, so that they meet.
	joint := func(i int) geom.Point {
		u, v := side((i+n-1)%n), side(i%n)
		m := u.Add(v).Unit()
		return m.Mul(half / math.Max(0.5, m.Dot(u.Unit())))
	}
	for i := range last {
		a, b := pts[i], pts[(i+1)%n]
		l, r := side(i), side(i)
		if (closed || i > 0) && !turns[i] {
			l = joint(i)
		}
		if j := (i + 1) % n; (closed || i+1 < last) && !turns[j] {
			r = joint(i + 1)
		}
		out = append(out, []geom.Point{a.Sub(l), b.Sub(r), b.Add(r), a.Add(l)})
		if turns[i] {
			out = append(out, pie(a, side((i+n-1)%n), side(i)))
		}
	}
	if !closed {
		out = append(out, sector(pts[0], side(0), math.Pi), sector(pts[n-1], side(n-2).Mul(-1), math.Pi))
	}
	return out
}

// pie returns the sector round c on the outer side of a turn from side u to side v, each
// the left side of an edge.
func pie(c, u, v geom.Point) []geom.Point {
	turn := math.Atan2(u.Cross(v), u.Dot(v))
	if turn > 0 {
		return sector(c, u.Mul(-1), turn) // a turn to the left opens on the right
	}
	return sector(c, v, -turn)
}

// sector returns the sector round c that starts at c+u and goes on counter-clockwise.
func sector(c, u geom.Point, angle float64) []geom.Point {
	n := max(1, int(math.Ceil(angle/wedge)))
	out := []geom.Point{c}
	for k := range n + 1 {
		s, co := math.Sincos(angle * float64(k) / float64(n))
		out = append(out, c.Add(geom.Pt(u.X*co-u.Y*s, u.X*s+u.Y*co)))
	}
	return out
}
