package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// CutOutArgs are the arguments of CutOut.
type CutOutArgs struct {
	Piece  *PieceRef    `arg:"piece" says:"the piece with the opening inside it"`
	At     *Vector      `arg:"at" says:"the middle of the opening, in mm on the bench"`
	Edge   *PlaceRef    `arg:"edge" says:"or the place on an edge out of which it is cut"`
	Line   *LineRef     `arg:"line" says:"or a closed line inside a piece that becomes the opening"`
	Shape  OpeningShape `arg:"shape" says:"the shape of the opening" default:"oval"`
	Width  Length       `arg:"width" says:"how wide it is; on an edge, along the edge" default:"20mm"`
	Height Length       `arg:"height" says:"how high it is; on an edge, how deep" default:"20mm"`
	Turn   Angle        `arg:"turn" says:"how far it is turned inside a piece" default:"0"`
	Facing *Length      `arg:"facing" says:"how wide its facing is, 0 for none; without it, three times the allowance"`
	Name   string       `arg:"name,optional" says:"what it is for: tail, ear" default:"opening"`
}

// CutOut cuts an opening into a piece, for a tail, an ear or a rod: a hole inside it, or a
// bite out of an edge, with its facing, and with its sharp corners reinforced.
var CutOut = register(Info{
	Name: "cut-out", Title: "Cut-out", Group: groupCutting,
	Says: "Cuts an opening for a tail, an ear or a rod into a piece or out of an edge, with its facing.",
}, cutOut)

func cutOut(p *Project, a CutOutArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	a.Name = nameOr(name, "opening")
	ways := 0
	for _, given := range []bool{a.At != nil, a.Edge != nil, a.Line != nil} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		return Outcome{}, errors.New("needs the middle of the opening, or a place on an edge, or a closed line inside a piece")
	}
	if a.Line == nil && !(float64(a.Width) >= smallestShape && float64(a.Height) >= smallestShape) {
		return Outcome{}, fmt.Errorf("an opening is at least %.1f mm wide and high", smallestShape)
	}
	if a.Edge != nil {
		return p.cutBite(a)
	}
	return p.cutHole(a)
}

// facingFor returns how wide the facing of an opening is.
func (a CutOutArgs) facingFor(piece *Piece) float64 {
	if a.Facing != nil {
		return float64(*a.Facing)
	}
	return facingWidths * piece.seamWidth()
}

// cutHole cuts an opening inside a piece.
func (p *Project) cutHole(a CutOutArgs) (Outcome, error) {
	piece, err := p.pieceForHole(a)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	q := piece.clone()
	line, err := q.holeLine(a, ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	l := q.Line(line)
	if !l.Closed || len(l.Path()) == 0 {
		return Outcome{}, fmt.Errorf("line %s is not closed, and so no opening", labelOf(l.Name, l.ID))
	}
	if !l.within(q.DrawnPath()) {
		return Outcome{}, fmt.Errorf("the opening does not lie inside %s; move it, make it smaller, or cut it out of an edge", piece.label())
	}
	width, turnIn := a.facingFor(piece), 0.0
	if width > 0 {
		box := l.Path().Bounds()
		turnIn = min(piece.seamWidth(), turnInShare*min(box.W(), box.H())/2)
		if turnIn <= 0 {
			turnIn = turnInShare * min(box.W(), box.H()) / 2
		}
	}
	marks, err := q.openedBy(line, turnIn, ids)
	if err != nil {
		return Outcome{}, err
	}
	next := p.withPiece(q)
	next.NextID = ids.next
	out := Outcome{Project: next, Made: line, subject: piece.label()}
	if width <= 0 {
		return out, nil
	}
	faced, made, err := next.link(piece.ID, holeFacing{line: line, marks: marks, width: toGrid(width), mirrored: piece.Cut.Way == CutSingle})
	if err != nil {
		return Outcome{}, err
	}
	if inner := made.DrawnPath(); !withinPath(inner, q.DrawnPath()) && !faced.Project.isTurnedOver(made) {
		faced.say("%s reaches beyond the edge of %s; make it narrower.", made.label(), piece.label())
	}
	faced.subject = piece.label()
	faced.say("%s is sewn to it along the line %s, cut inside it, clipped and turned.", made.label(), labelOf(l.Name, l.ID))
	return faced, nil
}

// withinPath reports whether a closed path lies inside another.
func withinPath(inner, outer geom.Path) bool {
	return outer.Contains(inner.Start()) && len(inner.Intersections(outer)) == 0
}

// pieceForHole returns the piece into which an opening is cut.
func (p *Project) pieceForHole(a CutOutArgs) (*Piece, error) {
	var id ID
	switch {
	case a.Line != nil:
		id = a.Line.Piece
	case a.Piece != nil:
		id = ID(*a.Piece)
	default:
		return nil, errors.New("needs the piece into which it is cut")
	}
	piece := p.Piece(id)
	if piece == nil {
		return nil, fmt.Errorf("piece %s %w", id, errGone)
	}
	if a.Line != nil && a.Piece != nil && ID(*a.Piece) != id {
		return nil, errors.New("the line lies on another piece")
	}
	return piece, nil
}

// holeLine returns the line of an opening, which is drawn where it is not there yet.
func (p *Piece) holeLine(a CutOutArgs, ids *idSource) (ID, error) {
	if a.Line != nil {
		l := p.Line(a.Line.Line)
		if l == nil {
			return "", fmt.Errorf("line %s %w", a.Line.Line, errGone)
		}
		if l.Row != nil || len(l.Nodes) < 2 {
			return "", fmt.Errorf("line %s is no outline of an opening", labelOf(l.Name, l.ID))
		}
		return l.ID, nil
	}
	path, err := a.Shape.hole(float64(a.Width), float64(a.Height))
	if err != nil {
		return "", err
	}
	toPiece, ok := p.Place.Affine().Invert()
	if !ok {
		return "", errors.New("it lies nowhere")
	}
	// It is turned as one sees it on the bench.
	m := geom.Rotation(float64(a.Turn)-p.Place.Turn, geom.Point{}).Then(geom.Translation(toPiece.Apply(geom.Point(*a.At))))
	l := p.addInner(a.Name, CutoutLine, path.Transform(m), ids)
	l.Closed = true
	return l.ID, nil
}

// cutBite cuts an opening out of an edge.
func (p *Project) cutBite(a CutOutArgs) (Outcome, error) {
	piece, at, err := p.placeOn(*a.Edge)
	if err != nil {
		return Outcome{}, err
	}
	if a.Piece != nil && ID(*a.Piece) != piece.ID {
		return Outcome{}, errors.New("the edge is one of another piece")
	}
	if piece.foldsOn(at.edge) {
		return Outcome{}, errors.New("the fold is one straight edge; unfold the piece, or cut the opening beside the fold")
	}
	ids := p.newIDs()
	q := piece.clone()
	i, lin, err := q.takeBite(at, a.Shape, float64(a.Width), float64(a.Height), ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	e := &q.Edges[i]
	e.Name = unusedName(a.Name, q.hasEdgeName)
	e.Kind, e.Allowance = SeamEdge, Even(min(piece.seamWidth(), turnInShare*min(float64(a.Width), float64(a.Height))))
	width := a.facingFor(piece)
	if width <= 0 {
		e.Kind, e.Allowance = RawEdge, Allowance{}
	}
	for _, n := range e.Nodes[1:] {
		if slices.Contains(corners(q.EdgePath(i)), n.At) {
			q.Lines = append(q.Lines, Line{ID: ids.make(kindLine), Kind: ReinforcePoint, Nodes: []Node{{ID: ids.make(kindNode), At: n.At}}})
		}
	}
	if err := sound(q.Edges, piece.Edges); err != nil {
		return Outcome{}, fmt.Errorf("%s: %w; make the opening smaller, or move it", piece.label(), err)
	}
	made := e.ID
	next := p.withPiece(q)
	// What refers to the edge follows now: the facing is sewn as the piece is sewn by then.
	if next, err = followLineage(p, next, lin); err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	q = next.Piece(piece.ID)
	next.NextID = ids.next
	out := Outcome{Project: next, followed: lin, Made: made, subject: piece.label()}
	if s := p.sewnIn(piece.ID, piece.Edges[at.edge].ID); s != nil {
		out.say("%s", s.openedAlong(piece))
	}
	if width <= 0 {
		return out, nil
	}
	how := facing{edges: []ID{made}, width: toGrid(width), mirrored: piece.Cut.Way == CutSingle}
	return out.withFacing(q, how)
}

// withFacing adds the facing of an edge that the act has made, and its seam.
func (o Outcome) withFacing(piece *Piece, how facing) (Outcome, error) {
	out, made, err := o.Project.link(piece.ID, how)
	if err != nil {
		return Outcome{}, err
	}
	out.followed, out.Says, out.subject = o.followed, o.Says, o.subject
	out.sewFacing(made, piece, how.edges)
	return out, nil
}

// openedAlong says what becomes of a seam out of whose edge on a piece an opening is cut.
func (s *Seam) openedAlong(piece *Piece) string {
	on := func(run Run) bool {
		return slices.ContainsFunc(run, func(u EdgeUse) bool { return u.Piece == piece.ID })
	}
	if on(s.A) && on(s.B) {
		return fmt.Sprintf("Seam %s is left open along the opening, which is cut out of the right and the left %s alike.", s.label(), piece.label())
	}
	return fmt.Sprintf("Seam %s is left open along the opening; its other side is not cut and stays longer by as much. Cut the same opening there, or make that edge shorter.", s.label())
}
