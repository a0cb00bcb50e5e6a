package draft

import "fmt"

// LineRef names a line inside a piece, by its name or id: "Front.yoke line".
type LineRef struct{ Piece, Line ID }

func (r *LineRef) readArg(p *Project, text string) error {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return err
	}
	c, err := pick("line", rest, piece.lineCandidates())
	if err != nil {
		return fmt.Errorf("%s: %w", piece.label(), err)
	}
	*r = LineRef{piece.ID, c.id}
	return nil
}

func (*LineRef) argKind() string { return "line" }

func (p *Piece) lineCandidates() []candidate {
	list := make([]candidate, len(p.Lines))
	for i, l := range p.Lines {
		list[i] = candidate{l.ID, l.Name, shownAs(l.Name, l.ID), i}
	}
	return list
}

func pieceOfLine(r LineRef) ID { return r.Piece }

func (l *Line) label() string { return labelOf(l.Name, l.ID) }

// lineIndex returns where in the piece's list the line is, -1 where it is not.
func (p *Piece) lineIndex(id ID) int {
	for i := range p.Lines {
		if p.Lines[i].ID == id {
			return i
		}
	}
	return -1
}

// LineNode returns the node of a line inside the piece with the id, and the indices of
// the line and of its place in it, or nil.
func (p *Piece) LineNode(id ID) (n *Node, line, node int) {
	for i := range p.Lines {
		for k := range p.Lines[i].Nodes {
			if p.Lines[i].Nodes[k].ID == id {
				return &p.Lines[i].Nodes[k], i, k
			}
		}
	}
	return nil, -1, -1
}

// AnyNode returns the node with the id, of the outline or of a line inside the piece,
// or nil.
func (p *Piece) AnyNode(id ID) *Node {
	if n, _, _ := p.Node(id); n != nil {
		return n
	}
	n, _, _ := p.LineNode(id)
	return n
}

// around returns the nodes before and after node k of the line, nil where the line
// ends.
func (l *Line) around(k int) (before, after *Node) {
	n := len(l.Nodes)
	if k > 0 {
		before = &l.Nodes[k-1]
	} else if l.Closed {
		before = &l.Nodes[n-1]
	}
	if k < n-1 {
		after = &l.Nodes[k+1]
	} else if l.Closed {
		after = &l.Nodes[0]
	}
	return before, after
}

// course returns the nodes of the line in order, those of a closed one with the first
// again at the end.
func (l *Line) course() []*Node {
	var list []*Node
	for k := range l.Nodes {
		list = append(list, &l.Nodes[k])
	}
	if l.Closed && len(list) > 0 {
		list = append(list, list[0])
	}
	return list
}
