package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// DrawLineArgs are the arguments of DrawLine.
type DrawLineArgs struct {
	Line  Drawn    `arg:"line" says:"the line, in mm on the bench"`
	Piece PieceRef `arg:"piece,optional" says:"the piece; without it, the one on which the line lies"`
	Kind  LineKind `arg:"kind" says:"what the line is for" default:"style"`
	Name  string   `arg:"name,optional" says:"what the line is called"`
}

// DrawLine draws a line inside the piece on which it lies.
var DrawLine = register(Info{
	Name: "draw-line", Title: "Draw a line", Group: groupDrawing,
	Says: "Draws a line inside the piece on which it lies.",
}, drawLine)

func drawLine(p *Project, a DrawLineArgs) (Outcome, error) {
	piece, err := p.pieceUnder(geom.Path(a.Line), ID(a.Piece))
	if err != nil {
		return Outcome{}, err
	}
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	l := Line{ID: ids.make(kindLine), Name: name}
	path, err := piece.drawnHere(geom.Path(a.Line))
	if err != nil {
		return Outcome{}, err
	}
	l.runAlong(path, ids)
	if err := l.become(a.Kind); err != nil {
		return Outcome{}, err
	}
	next, err := onePiece(p, piece.ID, func(q *Piece) error {
		if l.Name == "" {
			l.Name = unusedName(lineNames[l.Kind], q.hasLineName)
		} else if q.hasLineName(l.Name) {
			return fmt.Errorf("another line is called %s already", l.Name)
		}
		q.Lines = append(q.Lines, l)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	return Outcome{Project: next, Made: l.ID, subject: p.subject([]ID{piece.ID})}, nil
}

// lineNames are what lines are called that nobody has named.
var lineNames = map[LineKind]string{
	PlacementLine: "placement line", GatheringLine: "gathering line", PleatLine: "pleat line",
	SlitLine: "slit", CutoutLine: "cut-out", DartLine: "dart line", StyleLine: "style line",
}

func (p *Piece) hasLineName(name string) bool {
	for i := range p.Lines {
		if p.Lines[i].Name == name {
			return true
		}
	}
	return false
}

// pieceUnder returns the piece with the id or, without one, the uppermost on which
// most of the line lies.
func (p *Project) pieceUnder(line geom.Path, id ID) (*Piece, error) {
	if id != "" {
		piece := p.Piece(id)
		switch {
		case piece == nil:
			return nil, fmt.Errorf("piece %s %w", id, errGone)
		case piece.shareUnder(line) == 0:
			return nil, fmt.Errorf("the line lies beside %s, and not on it", piece.label())
		}
		return piece, nil
	}
	var best *Piece
	most := 0
	for _, piece := range p.Pieces {
		if piece.Hidden || piece.Ghost > 0 {
			continue
		}
		if n := piece.shareUnder(line); n > 0 && n >= most {
			best, most = piece, n
		}
	}
	if best == nil {
		return nil, errors.New("the line lies on no piece; a line belongs to the piece on which it lies, and a closed one can be a piece of its own")
	}
	return best, nil
}

// lineSamples is at how many places of each stretch it is looked where a line lies.
const lineSamples = 8

// shareUnder counts the sampled places of a line on the bench that lie on the piece.
func (p *Piece) shareUnder(line geom.Path) int {
	back, ok := p.Place.Affine().Invert()
	if !ok {
		return 0
	}
	outline := p.DrawnPath()
	box := outline.Bounds().Grow(Grid)
	n := 0
	for _, s := range line {
		for k := range lineSamples {
			q := back.Apply(s.At((float64(k) + 0.5) / lineSamples))
			if box.Contains(q) && outline.Contains(q) {
				n++
			}
		}
	}
	return n
}

// drawnHere returns a line on the bench in the piece's own millimetres, without
// stretches of no length.
func (p *Piece) drawnHere(line geom.Path) (geom.Path, error) {
	back, ok := p.Place.Affine().Invert()
	if !ok {
		return nil, errors.New("the piece has no place on the bench")
	}
	var path geom.Path
	for _, s := range line {
		if box := s.HandleBounds(); box.W() < shortestStretch && box.H() < shortestStretch {
			continue
		}
		s = s.Transform(back)
		if len(path) > 0 { // what was left out leaves a gap of less than that
			s = withStart(s, path.End())
		}
		path = append(path, s)
	}
	if len(path) == 0 {
		return nil, errors.New("the line is a single point")
	}
	if line.Closed() {
		last := &path[len(path)-1]
		*last = withStart(last.Reverse(), path.Start()).Reverse()
	}
	return path, nil
}

// withStart returns the segment begun at another point that is near.
func withStart(s geom.Segment, p geom.Point) geom.Segment {
	if s.Straight {
		return geom.Line(p, s.P3)
	}
	return geom.Cubic(p, s.P1, s.P2, s.P3)
}

// runAlong lets the line run along a path, closed where the path is. Of a closed line the
// nodes are where its stretches begin, so a loop of one stretch is divided.
func (l *Line) runAlong(path geom.Path, ids *idSource) {
	if l.Closed = path.Closed(); !l.Closed {
		l.Nodes = openNodesOf(path, ids)
		return
	}
	if len(path) == 1 {
		path = geom.Path{path[0].Between(0, 0.5), path[0].Between(0.5, 1)}
	}
	l.Nodes = nodesAlong(path, true, ids)
}

// openNodesOf returns the nodes of a path, one more than it has stretches, whether or not
// it ends where it starts.
func openNodesOf(path geom.Path, ids *idSource) []Node { return nodesAlong(path, false, ids) }

// nodesAlong returns the nodes at which the stretches of a path begin, and that at its end
// where it is not taken for a closed one.
func nodesAlong(path geom.Path, closed bool, ids *idSource) []Node {
	var nodes []Node
	for i, s := range path {
		n := Node{ID: ids.make(kindNode), At: s.P0}
		switch {
		case i > 0:
			n = nodeBetween(n.ID, path[i-1], s)
		case closed:
			n = nodeBetween(n.ID, path[len(path)-1], s)
		case !s.Straight:
			n.Out = s.P1.Sub(s.P0)
		}
		nodes = append(nodes, n)
	}
	if closed {
		return nodes
	}
	last := path[len(path)-1]
	n := Node{ID: ids.make(kindNode), At: last.P3}
	if !last.Straight {
		n.In = last.P2.Sub(last.P3)
	}
	return append(nodes, n)
}

// become makes the line one of another kind.
func (l *Line) become(kind LineKind) error {
	if _, err := kind.MarshalText(); err != nil {
		return err
	}
	single := len(l.Nodes) == 1 && !l.Closed
	switch {
	case kind == DrillPoint || kind == ReinforcePoint:
		if !single {
			return fmt.Errorf("a %s point is a single place, and a line cannot be one", kind)
		}
	case single:
		return fmt.Errorf("a single place cannot be a %s line", kind)
	case kind == FastenLine && l.Row == nil:
		return errors.New("a line of fastenings says what is set along it; add the fastenings to the line instead")
	case (kind == CutoutLine || kind == DartLine) && !l.Closed:
		return fmt.Errorf("a %s line is closed, and this one is open", kind)
	}
	if l.Kind = kind; kind != FastenLine {
		l.Row = nil
	}
	return nil
}

// ExtendLineArgs are the arguments of ExtendLine.
type ExtendLineArgs struct {
	Line LineRef `arg:"line" says:"the line, which is open"`
	By   Drawn   `arg:"by" says:"what is drawn on from one of its ends, in mm on the bench"`
}

// ExtendLine goes on with an open line from the end nearer to which the new part begins;
// where that is not at the end itself, a straight stretch leads to it. Where the new
// part ends at the line's other end, the line is closed.
var ExtendLine = register(Info{
	Name: "extend-line", Title: "Go on with a line", Group: groupDrawing,
	Says: "Draws an open line inside a piece on from one of its ends.",
}, func(p *Project, a ExtendLineArgs) (Outcome, error) {
	ids := p.newIDs()
	next, _, err := byPiece(p, []LineRef{a.Line}, pieceOfLine, "line", func(q *Piece, _ []LineRef) error {
		j := q.lineIndex(a.Line.Line)
		if j < 0 {
			return fmt.Errorf("line %s %w", a.Line.Line, errGone)
		}
		more, err := q.drawnHere(geom.Path(a.By))
		if err != nil {
			return err
		}
		return q.Lines[j].extend(more, ids)
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	return Outcome{Project: next, Made: a.Line.Line, subject: p.subject([]ID{a.Line.Piece})}, nil
})

// meetReach is how far, in mm, an end may lie from another and still be meant as the
// same point: less than the width of a pencil line.
const meetReach = 0.25

// extend goes on with the line by a path.
func (l *Line) extend(more geom.Path, ids *idSource) error {
	n := len(l.Nodes)
	if l.Closed || n < 2 {
		return fmt.Errorf("line %s has no end from which to go on", l.label())
	}
	first, last := l.Nodes[0].At, l.Nodes[n-1].At
	if more.Start().Dist(first) < more.Start().Dist(last) {
		l.reverse()
		first, last = last, first
	}
	if more.Start().Dist(last) > meetReach {
		more = append(geom.Path{geom.Line(last, more.Start())}, more...)
	} else {
		more[0] = withStart(more[0], last)
	}
	closes := more.End().Dist(first) <= meetReach
	if closes {
		k := len(more) - 1
		more[k] = withStart(more[k].Reverse(), first).Reverse()
	}
	whole := append(l.Path(), more...)
	join := nodeBetween(l.Nodes[n-1].ID, whole[n-2], whole[n-1])
	l.Nodes[n-1] = join
	fresh := openNodesOf(more, ids)[1:]
	if closes {
		end := l.Nodes[0]
		l.Nodes[0] = nodeBetween(end.ID, whole[len(whole)-1], whole[0])
		fresh = fresh[:len(fresh)-1]
		l.Closed = true
	}
	l.Nodes = append(l.Nodes, fresh...)
	return nil
}

// reverse runs the line the other way.
func (l *Line) reverse() {
	n := len(l.Nodes)
	nodes := make([]Node, n)
	for k, m := range l.Nodes {
		m.In, m.Out = m.Out, m.In
		nodes[n-1-k] = m
	}
	l.Nodes = nodes
}
