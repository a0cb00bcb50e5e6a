package follow

import (
	"math"
	"slices"

	"hemlet/geom"
)

// place is where a line may run beside one point of a way.
type place struct {
	off    float64 // px to the left
	weight float64 // how well it is known
}

// places are those beside every point of a way.
type places struct {
	list  [][]place
	width float64 // px, of the stroke where it runs alone
}

const (
	// oneBorder is the weight of a place of which one border of the stroke is seen.
	oneBorder = 0.1
	// placeReach is how far, in widths of the pen, a place may lie from where the line is
	// taken to be; borderReach is that in pixels along edges.
	placeReach, borderReach = 0.4, 3.0
)

// newPlaces makes places of what is in sight: a stroke that is as wide as it is alone has
// its middle; where two run together each has one border of its own.
func newPlaces(seen []sighting, ink *inkMap) *places {
	var widths, tops []float64
	left := 0
	for i := range seen {
		if x, ok := seen[i].nearest(); ok {
			widths, tops = append(widths, x.width()), append(tops, x.top)
			if x.inkLeft {
				left++
			}
		}
	}
	p := &places{list: make([][]place, len(seen))}
	if len(widths) == 0 {
		return p
	}
	slices.Sort(widths)
	slices.Sort(tops)
	p.width = densest(widths)
	top := tops[len(tops)/2]
	lean := 2*left > len(widths)
	room := make([]place, 0, 2*len(seen))
	for i := range seen {
		first := len(room)
		for _, x := range seen[i].list[:seen[i].n] {
			switch odd := x.width() - p.width; {
			case x.top < faintShare*top:
			case ink.mode == AlongEdges:
				if x.inkLeft == lean {
					room = append(room, place{x.left, 1})
				}
			case math.Abs(odd) <= oddWidth*p.width+0.25:
				room = append(room, place{x.off(), 1})
			case odd > 0:
				room = append(room, place{x.right + p.width/2, oneBorder}, place{x.left - p.width/2, oneBorder})
				room = hidden(room, x, p.width)
			}
		}
		p.list[i] = room[first:len(room):len(room)]
	}
	if ink.mode == AlongEdges {
		p.width = borderReach / placeReach
	}
	return p
}

// hidden adds the places in a stretch of ink at which a stroke shows neither border, because
// others cover both.
func hidden(room []place, x stretch, width float64) []place {
	lo, hi := x.right+width/2, x.left-width/2
	n := int((hi - lo) / (hiddenStep * width))
	for i := 1; i < n; i++ {
		room = append(room, place{off: lo + (hi-lo)*float64(i)/float64(n)})
	}
	return room
}

// near returns at every point the place nearest to where the line is taken to be, at the
// way itself if taken is nil, and its weight; 0 for none.
func (p *places) near(taken []float64) (offs, weight []float64) {
	offs, weight = make([]float64, len(p.list)), make([]float64, len(p.list))
	for i, list := range p.list {
		at := 0.0
		if taken != nil {
			at = taken[i]
		}
		best := placeReach * p.width
		for _, q := range list {
			if d := math.Abs(q.off - at); d < best && q.weight > 0 {
				best, offs[i], weight[i] = d, q.off, q.weight
			}
		}
	}
	return offs, weight
}

const (
	// lookWidths is the distance in widths of the pen of the points at which the places of
	// a line are chosen, and lookLeast the least in pixels.
	lookWidths, lookLeast = 1.5, 6.0
	// strayCost is the cost of a place as far from the way as a stroke is wide, in squares
	// of a turn in radians; anchorCost is that at both ends, which someone pointed at.
	strayCost, anchorCost, anchorReach = 1e-3, 0.03, 3.0
	// hiddenStep is the distance of places that are tried within ink, in widths of the
	// pen, and hiddenCost the cost of each in squares of a turn.
	hiddenStep, hiddenCost = 0.25, 1e-3
)

// along chooses the places that lie on the least bent line: where two lines run together
// and part again, going straight on and turning off differ in nothing else.
//
// Method: the cheapest chain of places (Viterbi 1967), whose cost is the square of every
// change of direction, over pairs of places.
func (p *places) along(pts, dirs, anchors []geom.Point, step float64) (offs, weight []float64) {
	every := max(1, int(math.Max(lookWidths*p.width, lookLeast)/step))
	var at []int // the points that are looked at
	for i := every / 2; i < len(pts); i += every {
		if len(p.list[i]) > 0 {
			at = append(at, i)
		}
	}
	if len(at) < 3 {
		return p.near(nil)
	}
	c := chooser{p: p, at: at, pts: pts, dirs: dirs, anchor: make([]*geom.Point, len(at))}
	for i := range anchors {
		c.tie(&anchors[i], step)
	}
	chosen := c.choose()
	// Between the points that were looked at the line is taken to run evenly.
	taken := make([]float64, len(pts))
	for k := 0; k+1 < len(at); k++ {
		for i := at[k]; i <= at[k+1]; i++ {
			t := float64(i-at[k]) / float64(at[k+1]-at[k])
			taken[i] = chosen[k] + (chosen[k+1]-chosen[k])*t
		}
	}
	for i := range at[0] {
		taken[i] = chosen[0]
	}
	for i := at[len(at)-1]; i < len(pts); i++ {
		taken[i] = chosen[len(at)-1]
	}
	return p.near(taken)
}

// chooser finds the least bent chain of places.
type chooser struct {
	p         *places
	at        []int
	pts, dirs []geom.Point
	anchor    []*geom.Point // of each point that is looked at: where someone pointed, or nil
}

// tie makes the point that is looked at nearest to a place where someone pointed go by it.
func (c *chooser) tie(a *geom.Point, step float64) {
	i := nearestOf(c.pts, *a)
	best := 0
	for k, j := range c.at {
		if abs(j-i) < abs(c.at[best]-i) {
			best = k
		}
	}
	if float64(abs(c.at[best]-i))*step < anchorReach*c.p.width {
		c.anchor[best] = a
	}
}

func abs(i int) int { return max(i, -i) }

// point returns the j-th place of the k-th point that is looked at.
func (c *chooser) point(k, j int) geom.Point {
	i := c.at[k]
	return c.pts[i].Add(c.dirs[i].Left().Mul(c.p.list[i][j].off))
}

// alone is the cost of a place by itself.
func (c *chooser) alone(k, j int) float64 {
	q := c.p.list[c.at[k]][j]
	off := q.off / c.p.width
	cost := strayCost * off * off
	if q.weight == 0 {
		cost += hiddenCost
	}
	if a := c.anchor[k]; a != nil {
		i := c.at[k]
		d := (a.Sub(c.pts[i]).Dot(c.dirs[i].Left()) - q.off) / c.p.width
		cost += anchorCost * d * d
	}
	return cost
}

// choose returns the offsets of the chosen places.
func (c *chooser) choose() []float64 {
	n := len(c.at)
	size := func(k int) int { return len(c.p.list[c.at[k]]) }
	// cost[a*size+b] is that of the cheapest chain that ends with place a of the point
	// before and place b of this one.
	cost := make([]float64, size(0)*size(1))
	for a := range size(0) {
		for b := range size(1) {
			cost[a*size(1)+b] = c.alone(0, a) + c.alone(1, b)
		}
	}
	from := make([][]int8, n)
	for k := 2; k < n; k++ {
		na, nb, nc := size(k-2), size(k-1), size(k)
		next := make([]float64, nb*nc)
		from[k] = make([]int8, nb*nc)
		for b := range nb {
			q := c.point(k-1, b)
			for d := range nc {
				out := c.point(k, d).Sub(q)
				best := math.Inf(1)
				for a := range na {
					in := q.Sub(c.point(k-2, a))
					t := turnBetween(in, out)
					if v := cost[a*nb+b] + t*t; v < best {
						best = v
						from[k][b*nc+d] = int8(a)
					}
				}
				next[b*nc+d] = best + c.alone(k, d)
			}
		}
		cost = next
	}
	best := 0
	for i, v := range cost {
		if v < cost[best] {
			best = i
		}
	}
	offs := make([]float64, n)
	b, d := best/size(n-1), best%size(n-1)
	for k := n - 1; k >= 0; k-- {
		offs[k] = c.p.list[c.at[k]][d].off
		if k >= 2 {
			b, d = int(from[k][b*size(k)+d]), b
		} else {
			d = b
		}
	}
	return offs
}
