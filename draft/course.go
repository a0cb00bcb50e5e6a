package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// course is what an act bends or measures: an edge with the corner at which it ends, or
// a line inside a piece. Its nodes may be written to.
type course struct {
	piece *Piece
	// edge is the index of the edge, -1 for a line, whose index is line.
	edge, line int
	// nodes are in order; the last of a closed line is its first again.
	nodes []*Node
	// list is where the nodes are kept.
	list *[]Node
	// before and after are the nodes beyond the two ends, nil where there is nothing.
	before, after *Node
	what          string
}

// courseOfEdge returns the course of edge i.
func (p *Piece) courseOfEdge(i int) *course {
	e := &p.Edges[i]
	c := &course{piece: p, edge: i, line: -1, list: &e.Nodes, what: "edge " + e.label()}
	for k := range e.Nodes {
		c.nodes = append(c.nodes, &e.Nodes[k])
	}
	c.nodes = append(c.nodes, p.nodeAt(i, len(e.Nodes)))
	next := (i + 1) % len(p.Edges)
	c.before, _ = p.nodesAround(i, 0)
	_, c.after = p.nodesAround(next, 0)
	return c
}

// courseOfLine returns the course of line j.
func (p *Piece) courseOfLine(j int) *course {
	l := &p.Lines[j]
	c := &course{piece: p, edge: -1, line: j, list: &l.Nodes, nodes: l.course(), what: "line " + l.label()}
	if l.Closed {
		c.before, _ = l.around(0)
		c.after = &l.Nodes[1%len(l.Nodes)]
	}
	return c
}

// onEdge applies f to a copy of the edge.
func onEdge(p *Project, r EdgeRef, f func(q *Piece, c *course) error) (Outcome, error) {
	return byEdge(p, []EdgeRef{r}, func(q *Piece, i int) error { return f(q, q.courseOfEdge(i)) })
}

// onLine applies f to a copy of the line.
func onLine(p *Project, r LineRef, f func(q *Piece, c *course) error) (Outcome, error) {
	next, ids, err := byPiece(p, []LineRef{r}, pieceOfLine, "line", func(q *Piece, _ []LineRef) error {
		j := q.lineIndex(r.Line)
		switch {
		case j < 0:
			return fmt.Errorf("line %s %w", r.Line, errGone)
		case len(q.Lines[j].Nodes) < 2:
			return fmt.Errorf("line %s is a single point", q.Lines[j].label())
		}
		return f(q, q.courseOfLine(j))
	})
	return Outcome{Project: next, subject: p.subject(ids)}, err
}

// closed reports whether the course ends where it starts.
func (c *course) closed() bool { return c.nodes[0] == c.nodes[len(c.nodes)-1] }

// gap reports whether the stretch after node k is the mouth of a dart.
func (c *course) gap(k int) bool {
	return c.edge >= 0 && c.piece.dartAt(c.nodes[k].ID, c.nodes[k+1].ID) != nil
}

// stretch returns the stretch after node k.
func (c *course) stretch(k int) geom.Segment { return segment(*c.nodes[k], *c.nodes[k+1]) }

// length returns the length in mm without the mouths of darts.
func (c *course) length() float64 {
	sum := 0.0
	for k := range len(c.nodes) - 1 {
		if !c.gap(k) {
			sum += c.stretch(k).Length()
		}
	}
	return sum
}

// place returns the stretch, by the node after which it follows, on which a place lies,
// and the parameter there.
func (c *course) place(at EdgePlace, unit Unit) (k int, t float64, err error) {
	if c.edge >= 0 {
		along, err := at.along(c.piece, c.edge, unit)
		if err != nil {
			return 0, 0, err
		}
		k, t = c.piece.locate(c.edge, along)
		return k, t, nil
	}
	length := c.length()
	along := at.At
	if at.Share {
		along *= length
	}
	if !(along >= 0 && along <= length+unit.placeSlack()) {
		return 0, 0, fmt.Errorf("%s of %s is %s long, so that there is no place at %s", c.what, c.piece.label(), unit.Format(length), unit.Format(along))
	}
	if at.FromEnd {
		along = length - along
	}
	along = min(max(along, 0), length)
	for k = range len(c.nodes) - 1 {
		s := c.stretch(k)
		l := s.Length()
		if along < l || k == len(c.nodes)-2 {
			return k, s.AtLength(along), nil
		}
		along -= l
	}
	return 0, 0, errors.New("the line has no length")
}

// path returns the drawn line, mouths included.
func (c *course) path() geom.Path {
	var p geom.Path
	for k := range len(c.nodes) - 1 {
		p = append(p, c.stretch(k))
	}
	return p
}
