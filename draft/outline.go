package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// drawnEdge is one edge of an outline under way.
type drawnEdge struct {
	name string
	path geom.Path
}

// outlineGap is how far, in mm, the ends of a drawn outline's segments may be apart
// and still be one point: far above rounding, far below what can be drawn.
const outlineGap = 1e-3

// edges returns the edges of the outline from corner to corner, counter-clockwise,
// or says why it is no outline of a piece.
func (o Outline) edges() ([]drawnEdge, error) {
	path, corner, err := o.clean()
	if err != nil {
		return nil, err
	}
	edges := cutAtCorners(path, corner)
	for i := range min(len(edges), len(o.EdgeNames)) {
		name, err := cleanName(o.EdgeNames[i])
		if err != nil {
			return nil, fmt.Errorf("edge %d: %w", i+1, err)
		}
		edges[i].name = name
	}
	area := path.Area()
	if box := path.Bounds(); math.Abs(area) <= areaSlack*math.Max(box.W(), box.H()) {
		return nil, errors.New("its outline encloses nothing")
	}
	if area < 0 {
		edges = reversedEdges(edges)
	}
	return edges, nil
}

// areaSlack is the mean width in mm below which an outline encloses nothing: ten
// steps of the grid to which coordinates are rounded.
const areaSlack = 10 * Grid

// clean returns the path without segments of no length, closed exactly, with its
// corners; at least one is set.
func (o Outline) clean() (geom.Path, []bool, error) {
	if len(o.Corner) != len(o.Path) {
		return nil, nil, fmt.Errorf("its outline has %d segments but says of %d whether they start at a corner", len(o.Path), len(o.Corner))
	}
	var path geom.Path
	var corner []bool
	carried := false
	for i, s := range o.Path {
		if !(s.P0.Finite() && s.P1.Finite() && s.P2.Finite() && s.P3.Finite()) {
			return nil, nil, errors.New("its outline holds a number that is not finite")
		}
		next := o.Path[(i+1)%len(o.Path)].P0
		if gap := s.P3.Dist(next); gap > outlineGap {
			return nil, nil, fmt.Errorf("its outline is open: there is a gap of %.3g mm at (%.2f, %.2f)", gap, s.P3.X, s.P3.Y)
		}
		s.P3 = next
		if s.HandleBounds().W() < Grid && s.HandleBounds().H() < Grid {
			carried = carried || o.Corner[i]
			continue
		}
		if s.Straight {
			s = geom.Line(s.P0, s.P3)
		}
		path, corner = append(path, s), append(corner, o.Corner[i] || carried)
		carried = false
	}
	if len(path) == 0 {
		return nil, nil, errors.New("it has no outline")
	}
	corner[0] = corner[0] || carried
	for i := range path {
		path[i].P3 = path[(i+1)%len(path)].P0
		if corner[i] {
			return closedUp(path), corner, nil
		}
	}
	corner[0] = true
	return closedUp(path), corner, nil
}

// closedUp makes each segment end exactly where the next starts.
func closedUp(path geom.Path) geom.Path {
	for i := range path {
		path[i].P3 = path[(i+1)%len(path)].P0
	}
	return path
}

// cutAtCorners divides a closed path at its corners, of which there is one at
// least. The first edge starts at the first corner.
func cutAtCorners(path geom.Path, corner []bool) []drawnEdge {
	first := 0
	for !corner[first] {
		first++
	}
	var edges []drawnEdge
	for k := range path {
		i := (first + k) % len(path)
		if corner[i] {
			edges = append(edges, drawnEdge{})
		}
		last := &edges[len(edges)-1]
		last.path = append(last.path, path[i])
	}
	return edges
}

// reversedEdges returns the edges run the other way round, the first still first.
func reversedEdges(edges []drawnEdge) []drawnEdge {
	n := len(edges)
	out := make([]drawnEdge, n)
	for i, e := range edges {
		out[(n-i)%n] = drawnEdge{e.name, e.path.Reverse()}
	}
	return out
}

// stitchInside returns the edges of the stitching line that lies width mm inside
// the cut line. Each stretch keeps the name of the edge that it follows; edges
// without a stitching line left are missing.
func stitchInside(cut []drawnEdge, width float64) ([]drawnEdge, error) {
	edges := make([]geom.AllowanceEdge, len(cut))
	for i, e := range cut {
		edges[i] = geom.AllowanceEdge{Path: e.path, Start: -width, End: -width}
	}
	line, err := geom.Allowance(edges)
	if err != nil {
		return nil, err
	}
	path, source := tidied(line.Path, line.Source)
	corner := make([]bool, len(path))
	any := false
	for i := range path {
		corner[i] = source[i] != source[(i+len(path)-1)%len(path)]
		any = any || corner[i]
	}
	if !any {
		corner[nearestNode(path, cut[0].path.Start())] = true
	}
	// Edge 0 is to stay the first.
	first := 0
	for i := range path {
		if corner[i] && (!corner[first] || source[i] < source[first]) {
			first = i
		}
	}
	path = append(append(geom.Path(nil), path[first:]...), path[:first]...)
	corner = append(append([]bool(nil), corner[first:]...), corner[:first]...)
	source = append(append([]int(nil), source[first:]...), source[:first]...)
	stitch := cutAtCorners(path, corner)
	at := 0
	for i := range stitch {
		stitch[i].name = cut[source[at]].name
		at += len(stitch[i].path)
	}
	return stitch, nil
}

// tidied leaves out the segments of no length that rounding would make of slivers.
func tidied(path geom.Path, source []int) (geom.Path, []int) {
	var p geom.Path
	var src []int
	for i, s := range path {
		if box := s.HandleBounds(); box.W() < 2*Grid && box.H() < 2*Grid {
			continue
		}
		p, src = append(p, s), append(src, source[i])
	}
	for i := range p {
		next := p[(i+1)%len(p)].P0
		if p[i].Straight {
			p[i] = geom.Line(p[i].P0, next)
		}
		p[i].P3 = next
	}
	return p, src
}

// nearestNode returns the index of the segment that starts nearest to q.
func nearestNode(path geom.Path, q geom.Point) int {
	best := 0
	for i, s := range path {
		if s.P0.Dist(q) < path[best].P0.Dist(q) {
			best = i
		}
	}
	return best
}
