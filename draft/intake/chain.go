package intake

import (
	"fmt"
	"math"

	"hemlet/geom"
)

// chained joins open lines of one layer end to end, where exactly two ends meet
// within closeTolerance, and returns what comes of them: closed outlines, and
// lines that stayed open. It goes by the order of the file, so that the same
// file always gives the same outlines in the same direction.
func (r *dxfReader) chained(loose []drawn) []drawn {
	byLayer := map[string][]drawn{}
	var layers []string
	for _, d := range loose {
		if byLayer[d.Layer] == nil {
			layers = append(layers, d.Layer)
		}
		byLayer[d.Layer] = append(byLayer[d.Layer], d)
	}
	var out []drawn
	for _, l := range layers {
		c := chainer{r: r, links: r.once(byLayer[l])}
		out = append(out, c.run()...)
	}
	return out
}

// once leaves out lines that are drawn a second time, in either direction.
func (r *dxfReader) once(list []drawn) []drawn {
	seen := map[[9]int64]bool{}
	out := list[:0]
	for _, d := range list {
		if len(d.Path) == 1 {
			if pointlike(d.Path[0]) {
				continue
			}
			if k := lineKey(d.Path[0], d.PieceNo); seen[k] {
				r.out.warn(d.Where, "left out: it is drawn twice")
				continue
			} else {
				seen[k] = true
			}
		}
		out = append(out, d)
	}
	return out
}

// lineKey is the same for a segment and its reverse.
func lineKey(s geom.Segment, piece int) [9]int64 {
	q := func(v float64) int64 { return int64(math.Round(v / sameTolerance)) }
	key := func(s geom.Segment) [9]int64 {
		return [9]int64{q(s.P0.X), q(s.P0.Y), q(s.P1.X), q(s.P1.Y), q(s.P2.X), q(s.P2.Y), q(s.P3.X), q(s.P3.Y), int64(piece)}
	}
	a, b := key(s), key(s.Reverse())
	for i := range a {
		if a[i] != b[i] {
			if b[i] < a[i] {
				return b
			}
			return a
		}
	}
	return a
}

// sameTolerance is the distance, in mm, within which control points of a line
// that is drawn twice agree.
const sameTolerance = 0.001

// chainer joins the lines of one layer.
type chainer struct {
	r     *dxfReader
	links []drawn
	spots []spot
	grid  map[[2]int64][]int // spots by cell
	ends  [][2]int           // the spots of each link's start and end
	used  []bool
}

// spot is a place where ends of lines meet.
type spot struct {
	at   geom.Point
	ends []int // links, once for each end
}

func (c *chainer) run() []drawn {
	c.grid = map[[2]int64][]int{}
	c.used = make([]bool, len(c.links))
	c.ends = make([][2]int, len(c.links))
	for i, l := range c.links {
		c.ends[i] = [2]int{c.spot(l.Path.Start(), i), c.spot(l.Path.End(), i)}
	}
	for _, s := range c.spots {
		if len(s.ends) > 2 {
			where := c.links[s.ends[0]].Where
			c.r.out.warn(where, fmt.Sprintf("%d ends meet at (%.5g, %.5g) mm; an outline is not followed through there", len(s.ends), s.at.X, s.at.Y))
		}
	}
	var out []drawn
	for i := range c.links {
		if !c.used[i] {
			out = append(out, c.follow(i))
		}
	}
	return out
}

// spot finds the nearest place within the tolerance, or makes a new one.
func (c *chainer) spot(p geom.Point, link int) int {
	k := cell(p, closeTolerance)
	best, dist := -1, closeTolerance
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, s := range c.grid[[2]int64{k[0] + dx, k[1] + dy}] {
				if d := c.spots[s].at.Dist(p); d <= dist && (best < 0 || d < dist) {
					best, dist = s, d
				}
			}
		}
	}
	if best < 0 {
		best = len(c.spots)
		c.spots = append(c.spots, spot{at: p})
		c.grid[k] = append(c.grid[k], best)
	}
	c.spots[best].ends = append(c.spots[best].ends, link)
	return best
}

// follow walks from link i both ways as far as ends meet in pairs.
func (c *chainer) follow(i int) drawn {
	c.used[i] = true
	first := c.links[i]
	start, end := c.ends[i][0], c.ends[i][1]
	forward, end := c.walk(i, end)
	var backward []geom.Path
	if end != start {
		backward, start = c.walk(i, start)
	}
	n := len(forward) + len(backward)
	var path geom.Path
	for j := len(backward) - 1; j >= 0; j-- {
		path = linked(path, backward[j].Reverse())
	}
	path = linked(path, first.Path)
	for _, p := range forward {
		path = linked(path, p)
	}
	first.Path = path
	if first.Closed = start == end && len(path) > 1; first.Closed {
		first.Path = sealed(path)
	}
	if n > 0 {
		first.Where.What += fmt.Sprintf(" with %d more", n)
	}
	return first
}

// walk follows links away from a spot and returns their paths, each running away
// from it, and the spot where it stops.
func (c *chainer) walk(from, at int) (paths []geom.Path, end int) {
	for {
		ends := c.spots[at].ends
		if len(ends) != 2 {
			return paths, at
		}
		next := ends[0]
		if next == from {
			next = ends[1]
		}
		if c.used[next] {
			return paths, at
		}
		c.used[next] = true
		path := c.links[next].Path
		if c.ends[next][0] == at {
			at = c.ends[next][1]
		} else {
			path, at = path.Reverse(), c.ends[next][0]
		}
		paths, from = append(paths, path), next
	}
}

// linked appends a path whose start is moved onto the end of the one before.
func linked(path, more geom.Path) geom.Path {
	if len(path) == 0 {
		return append(path, more...)
	}
	n := len(path)
	path = append(path, more...)
	path[n] = movedEnds(path[n], path[n-1].P3, path[n].P3)
	return path
}
