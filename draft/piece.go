package draft

import "hemlet/geom"

// Grain is the line that is laid along the lengthwise threads of the cloth.
type Grain struct{ From, To geom.Point }

// Placement is where a piece lies on the bench; it changes nothing about the
// piece itself.
type Placement struct {
	At geom.Point
	// Turn is in radians, counter-clockwise.
	Turn float64
}

// Affine returns the map from the piece's own millimetres to the bench's.
func (p Placement) Affine() geom.Affine {
	return geom.Rotation(p.Turn, geom.Point{}).Then(geom.Translation(p.At))
}

// Piece is one pattern piece: a closed stitching line, counter-clockwise, divided
// into named edges.
type Piece struct {
	ID      ID
	Name    string
	Garment string
	Cloth   ID
	Layer   Layer
	Cut     CutRule
	Edges   []Edge
	Grain   *Grain
	Darts   []Dart
	Notches []Notch
	Lines   []Line
	Spans   []Span
	// LabelAt is where the label is centred; nil lets it find its own place.
	LabelAt *geom.Point
	// Note is printed under the label.
	Note    string
	Place   Placement
	Derived *Derived
	// Origin is where a piece came from that was traced or brought in, empty where that
	// was not noted.
	Origin ID
	// Stretches say what is done along a part of an edge.
	Stretches []Stretch
	// Hidden pieces are not shown on the bench, Locked ones cannot be touched there.
	Hidden, Locked bool
	// Ghost is from above 0 to 1 the opacity of a piece that is only looked at: it
	// lies under the others and is neither checked nor sewn nor cut. A piece of the
	// pattern has 0.
	Ghost float64
}

// Edge returns the edge with the id and its index, or nil and -1.
func (p *Piece) Edge(id ID) (*Edge, int) {
	for i := range p.Edges {
		if p.Edges[i].ID == id {
			return &p.Edges[i], i
		}
	}
	return nil, -1
}

// Node returns the node with the id and the indices of its edge and of its place
// in that edge, or nil.
func (p *Piece) Node(id ID) (n *Node, edge, node int) {
	for i := range p.Edges {
		for j := range p.Edges[i].Nodes {
			if p.Edges[i].Nodes[j].ID == id {
				return &p.Edges[i].Nodes[j], i, j
			}
		}
	}
	return nil, -1, -1
}

// Line returns the line inside the piece with the id, or nil.
func (p *Piece) Line(id ID) *Line {
	for i := range p.Lines {
		if p.Lines[i].ID == id {
			return &p.Lines[i]
		}
	}
	return nil
}

// FoldEdge returns the index of the edge on which the piece is unfolded, or -1.
func (p *Piece) FoldEdge() int {
	if p.Cut.Way != CutOnFold {
		return -1
	}
	for i := range p.Edges {
		if p.Edges[i].Kind == FoldEdge {
			return i
		}
	}
	return -1
}

// EdgeNodes returns the nodes of edge i with the corner at which it ends.
func (p *Piece) EdgeNodes(i int) []Node {
	e, next := p.Edges[i], p.Edges[(i+1)%len(p.Edges)]
	nodes := make([]Node, 0, len(e.Nodes)+1)
	nodes = append(nodes, e.Nodes...)
	return append(nodes, next.Nodes[0])
}

// EdgePath returns the drawn line of edge i, the mouths of its darts included.
func (p *Piece) EdgePath(i int) geom.Path { return pathOf(p.EdgeNodes(i)) }

// DrawnPath returns the whole drawn outline, the mouths of the darts included.
func (p *Piece) DrawnPath() geom.Path {
	var path geom.Path
	for i := range p.Edges {
		path = append(path, p.EdgePath(i)...)
	}
	return path
}

// clone returns a copy that shares no slice with p, so that an act may write to it.
func (p *Piece) clone() *Piece {
	q := *p
	q.Edges = cloneEdges(p.Edges)
	q.Darts = append([]Dart(nil), p.Darts...)
	q.Notches = append([]Notch(nil), p.Notches...)
	q.Lines = append([]Line(nil), p.Lines...)
	for i := range q.Lines {
		q.Lines[i].Nodes = append([]Node(nil), q.Lines[i].Nodes...)
		if row := q.Lines[i].Row; row != nil {
			r := *row
			q.Lines[i].Row = &r
		}
	}
	q.Stretches = append([]Stretch(nil), p.Stretches...)
	q.Spans = append([]Span(nil), p.Spans...)
	for i := range q.Spans {
		q.Spans[i].Edges = append([]ID(nil), q.Spans[i].Edges...)
		q.Spans[i].Lines = append([]ID(nil), q.Spans[i].Lines...)
	}
	if p.Grain != nil {
		g := *p.Grain
		q.Grain = &g
	}
	if p.LabelAt != nil {
		at := *p.LabelAt
		q.LabelAt = &at
	}
	return &q
}

func cloneEdges(edges []Edge) []Edge {
	out := append([]Edge(nil), edges...)
	for i := range out {
		out[i].Nodes = append([]Node(nil), out[i].Nodes...)
	}
	return out
}
