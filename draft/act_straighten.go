package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// StraightenEdgeArgs are the arguments of StraightenEdge.
type StraightenEdgeArgs struct {
	Edges []EdgeRef `arg:"edges" says:"the edges"`
}

// StraightenEdge makes edges straight between their ends, which stay. Points within move
// onto the straight line, where they keep their share of the way.
var StraightenEdge = register(Info{
	Name: "straighten-edge", Title: "Straighten an edge", Group: groupEdges,
	Says: "Makes an edge straight between its ends, which stay where they are.",
}, func(p *Project, a StraightenEdgeArgs) (Outcome, error) {
	return byEdge(p, a.Edges, func(q *Piece, i int) error { return q.straighten(i) })
})

// straighten makes edge i of the piece, which may be written to, straight.
func (p *Piece) straighten(i int) error {
	e := &p.Edges[i]
	if len(p.Edges) == 1 {
		return fmt.Errorf("edge %s is closed in itself and has no two ends", e.label())
	}
	for _, d := range p.Darts {
		if d.Edge == e.ID {
			return errors.New("a dart opens in edge " + e.label() + "; take it out first")
		}
	}
	path := p.EdgePath(i)
	a, b, whole := path.Start(), path.End(), path.Length()
	if a == b {
		return fmt.Errorf("the ends of edge %s lie in one place", e.label())
	}
	way := 0.0
	for k := range path {
		n := &e.Nodes[k]
		n.At, n.Out = a.Lerp(b, way/whole), geom.Point{}
		way += path[k].Length()
		p.nodeAt(i, k+1).In = geom.Point{}
	}
	e.Nodes[0].At = a
	return nil
}
