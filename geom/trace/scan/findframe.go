package scan

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"hemlet/geom"
)

// errNoFrame says that no sheet was found.
var errNoFrame = errors.New("no sheet stands out from its ground: click its four corners")

// Parameters of finding a frame.
const (
	// findSize is the size in px to which the longer side of a picture is lessened.
	findSize = 640
	// leastFrame is the least share of the picture that a sheet fills.
	leastFrame = .04
	// leastMat is the least share of the picture that a thing darker than its ground fills: a
	// cutting mat is photographed large, a filled shape on paper rarely is so large.
	leastMat = .25
	// fullFrame is the least share of its four-sided shape that a sheet fills: less where
	// things lie on its edge.
	fullFrame = .8
	// findTries bounds the bright regions that are looked at.
	findTries = 3
	// largerBy is by what factor a region found later must be larger.
	largerBy = 1.1
	// borderShare is the share of the picture's border that a sheet may touch: one that
	// touches more runs out of the picture.
	borderShare = .02
)

// FindFrame finds the largest four-sided sheet that is lighter than its ground, or else
// darker, and returns its fitted corners, from the top left one clockwise as the picture
// shows it.
func FindFrame(r *Raster) ([4]geom.Point, error) {
	if !r.whole() {
		return [4]geom.Point{}, errNoPicture
	}
	small, k := lessened(r, findSize)
	// Three kinds of things lie about: ink, a table and paper, the table anywhere between.
	level := splitLevel(small, 0, 255)
	above, below := splitLevel(small, level+1, 255), splitLevel(small, 0, level)
	for _, bright := range []bool{true, false} {
		if c, ok := largestQuad(small, []uint8{level, above, below}, bright); ok {
			for i := range c {
				c[i] = geom.Pt(clamp(c[i].X*k, 0, float64(r.W)), clamp(c[i].Y*k, 0, float64(r.H)))
			}
			f, err := FitFrame(r, fromTopLeft(c))
			if err == nil && checkQuad(f.Corners) == nil {
				return f.Corners, nil
			}
		}
	}
	return [4]geom.Point{}, errNoFrame
}

// largestQuad returns the largest four-sided region that is lighter, or darker, than one of
// the levels.
func largestQuad(r *Raster, levels []uint8, bright bool) (best [4]geom.Point, ok bool) {
	var most float64
	mask := make([]bool, r.W*r.H)
	for _, level := range levels {
		for i, v := range r.Pix[:len(mask)] {
			mask[i] = (v > level) == bright
		}
		for _, reg := range largestRegions(mask, r.W, r.H) {
			c, four := reg.quad(r.W, r.H)
			// Larger by little is but a shadow that comes along.
			area := math.Abs(ringArea(c[:]))
			if !bright && area < leastMat*float64(r.W*r.H) {
				continue // a drawn piece
			}
			if four && area > most*largerBy {
				best, ok, most = c, true, area
			}
		}
	}
	return best, ok
}

// lessened returns the picture with its longer side at most size px, each px the mean of a
// square of k by k.
func lessened(r *Raster, size int) (*Raster, float64) {
	k := (max(r.W, r.H) + size - 1) / size
	if k <= 1 {
		return r, 1
	}
	// A thin picture still keeps a row.
	w, h := max(r.W/k, 1), max(r.H/k, 1)
	s := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	sums := make([]int, w)
	for j := range h {
		clear(sums)
		rows := min(k, r.H-j*k)
		cols := min(k, r.W)
		for y := range rows {
			row := r.Pix[(j*k+y)*r.W : (j*k+y+1)*r.W]
			for i := range w {
				sum := 0
				for _, v := range row[i*k : min((i+1)*k, r.W)] {
					sum += int(v)
				}
				sums[i] += sum
			}
		}
		for i, sum := range sums {
			s.Pix[j*w+i] = uint8((sum + rows*cols/2) / (rows * cols))
		}
	}
	return s, float64(k)
}

// splitLevel returns the level that parts the greys from low to high into two kinds with the
// least spread within each (Otsu 1979).
func splitLevel(r *Raster, low, high uint8) uint8 {
	var hist [256]float64
	for _, v := range r.Pix[:r.W*r.H] {
		if v >= low && v <= high {
			hist[v]++
		}
	}
	var all, sum float64
	for v, n := range hist {
		all, sum = all+n, sum+n*float64(v)
	}
	var under, underSum, best float64
	var first, last int
	for v, n := range hist {
		under, underSum = under+n, underSum+n*float64(v)
		if under == 0 || under == all {
			continue
		}
		d := underSum/under - (sum-underSum)/(all-under)
		switch spread := under * (all - under) * d * d; {
		case spread > best:
			best, first, last = spread, v, v
		case spread == best:
			last = v
		}
	}
	return uint8((first + last) / 2)
}

// region is a connected part of a picture: its size and its outermost px in each row.
type region struct {
	count, border int
	left, right   map[int]int
}

// largestRegions returns the largest connected regions of the mask, which it clears.
func largestRegions(mask []bool, w, h int) []region {
	var all []region
	var stack []int
	for start, is := range mask {
		if !is {
			continue
		}
		g := region{left: map[int]int{}, right: map[int]int{}}
		mask[start] = false
		stack = append(stack[:0], start)
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := at%w, at/w
			g.count++
			if l, ok := g.left[y]; !ok || x < l {
				g.left[y] = x
			}
			if r, ok := g.right[y]; !ok || x > r {
				g.right[y] = x
			}
			if x == 0 || y == 0 || x == w-1 || y == h-1 {
				g.border++
			}
			for _, n := range [4]struct {
				ok bool
				at int
			}{{x > 0, at - 1}, {x < w-1, at + 1}, {y > 0, at - w}, {y < h-1, at + w}} {
				if n.ok && mask[n.at] {
					mask[n.at] = false
					stack = append(stack, n.at)
				}
			}
		}
		if float64(g.count) >= leastFrame*float64(w*h)*fullFrame/2 {
			all = append(all, g)
		}
	}
	slices.SortFunc(all, func(a, b region) int { return cmp.Compare(b.count, a.count) })
	return all[:min(len(all), findTries)]
}

// quad returns the four-sided shape round the region, if it is about one.
func (g region) quad(w, h int) ([4]geom.Point, bool) {
	if float64(g.border) > borderShare*float64(2*(w+h)) {
		return [4]geom.Point{}, false
	}
	var pts []geom.Point
	for y, x := range g.left {
		pts = append(pts, geom.Pt(float64(x), float64(y)), geom.Pt(float64(x), float64(y+1)))
	}
	for y, x := range g.right {
		pts = append(pts, geom.Pt(float64(x+1), float64(y)), geom.Pt(float64(x+1), float64(y+1)))
	}
	hull := hullOf(pts)
	c, ok := fourSides(hull)
	if !ok || checkQuad(c) != nil {
		return c, false
	}
	area := math.Abs(ringArea(c[:]))
	return c, area >= leastFrame*float64(w*h) && math.Abs(ringArea(hull)) >= fullFrame*area
}

// hullOf returns the convex hull of points, whose sides all turn one way (Andrew 1979).
func hullOf(pts []geom.Point) []geom.Point {
	slices.SortFunc(pts, func(a, b geom.Point) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	var hull []geom.Point
	half := func(floor int, p geom.Point) {
		for len(hull) >= floor+2 && hull[len(hull)-1].Sub(hull[len(hull)-2]).Cross(p.Sub(hull[len(hull)-1])) <= 0 {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	for _, p := range pts {
		half(0, p)
	}
	floor := len(hull) - 1
	for i := len(pts) - 2; i >= 0; i-- {
		half(floor, pts[i])
	}
	return hull[:max(len(hull)-1, 0)]
}

// ringArea returns the area of a ring of points, above 0 where it turns left.
func ringArea(ring []geom.Point) float64 {
	var sum float64
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)])
	}
	return sum / 2
}

// fourSides takes sides from a convex ring, lengthening their neighbours until they
// meet, the one whose loss adds the least area first, until four are left.
func fourSides(hull []geom.Point) ([4]geom.Point, bool) {
	ring := slices.Clone(hull)
	for len(ring) > 4 {
		n := len(ring)
		best, at := math.Inf(1), -1
		var tip geom.Point
		for i := range n {
			a, b, c, d := ring[(i+n-1)%n], ring[i], ring[(i+1)%n], ring[(i+2)%n]
			u, v := b.Sub(a), c.Sub(d)
			s := u.Cross(v)
			if s >= 0 {
				continue // the neighbours part
			}
			p := b.Add(u.Mul(c.Sub(b).Cross(v) / s))
			if add := math.Abs(c.Sub(b).Cross(p.Sub(b))); add < best {
				best, at, tip = add, i, p
			}
		}
		if at < 0 {
			return [4]geom.Point{}, false
		}
		ring[at] = tip
		ring = slices.Delete(ring, (at+1)%n, (at+1)%n+1)
	}
	if len(ring) < 4 {
		return [4]geom.Point{}, false
	}
	return [4]geom.Point(ring), true
}

// fromTopLeft orders corners clockwise as the picture shows them, from the top left one.
func fromTopLeft(c [4]geom.Point) [4]geom.Point {
	if ringArea(c[:]) < 0 { // y runs down
		c[1], c[3] = c[3], c[1]
	}
	first := 0
	for i, p := range c {
		if p.X+p.Y < c[first].X+c[first].Y {
			first = i
		}
	}
	var r [4]geom.Point
	for i := range r {
		r[i] = c[(first+i)%4]
	}
	return r
}
