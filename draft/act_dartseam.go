package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// DartToSeamArgs are the arguments of DartToSeam.
type DartToSeamArgs struct {
	Dart DartRef   `arg:"dart" says:"the dart"`
	To   *PlaceRef `arg:"to" says:"where on the outline the seam ends that goes on from the dart's point"`
	Into *DartRef  `arg:"into" says:"or another dart of the piece, into which the seam runs on"`
	Name string    `arg:"name,optional" says:"the name of the new piece; without it, that of the piece with a number"`
	Seam string    `arg:"seam,optional" says:"what the seam is called; without it, as the dart is"`
}

// DartToSeam makes a seam of a dart: the piece is cut in two along the legs of the dart
// and on from its point to another place, or into another dart, whose legs are sewn in the
// same seam. What the darts took in stays away, and the two edges are equally long.
var DartToSeam = register(Info{
	Name: "dart-to-seam", Title: "Dart into a seam", Group: groupCutting,
	Says: "Cuts a piece in two along a dart and on from its point, so that the dart becomes a part of a seam.",
}, dartToSeam)

// opened is a piece whose darts were opened to edges, to be cut from one point to another.
type openedDarts struct {
	piece    *Piece
	lin      Lineage
	from, to ID
	into     bool
	// legs is how long in mm the two legs of the dart are, and of the one that it runs into.
	legs [2][2]float64
}

func dartToSeam(p *Project, a DartToSeamArgs) (Outcome, error) {
	whole, d, err := p.dartOf(a.Dart)
	if err != nil {
		return Outcome{}, err
	}
	if (a.To == nil) == (a.Into == nil) {
		return Outcome{}, errors.New("say where the seam ends, or into which dart it runs on")
	}
	seam, err := cleanName(a.Seam)
	if err != nil {
		return Outcome{}, err
	}
	if seam == "" {
		seam = d.label()
	}
	ids := p.newIDs()
	o, err := p.openFor(a, whole, ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", whole.label(), err)
	}
	left, right, err := o.cut(seam, ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", whole.label(), err)
	}
	for _, h := range [2]half{left, right} {
		h.piece.nameAsBefore(whole, o.lin.then(h.lin))
	}
	return p.splitInto(whole, left, right, a.Name, seam, o.lin, ids)
}

// openFor opens the dart, and the one into which the seam runs.
func (p *Project) openFor(a DartToSeamArgs, whole *Piece, ids *idSource) (openedDarts, error) {
	o := openedDarts{piece: whole.clone()}
	if err := o.piece.leavesEdge(a.Dart.Dart); err != nil {
		return o, err
	}
	legs, lin, err := o.piece.openDart(a.Dart.Dart, ids)
	if err != nil {
		return o, err
	}
	o.lin = lin
	o.from, o.legs[0] = o.apexOf(legs), o.clearGap(legs, ids)
	if a.Into != nil {
		if a.Into.Piece != whole.ID || a.Into.Dart == a.Dart.Dart {
			return o, errors.New("the seam runs on into another dart of the same piece")
		}
		if err := o.piece.leavesEdge(a.Into.Dart); err != nil {
			return o, err
		}
		if legs, lin, err = o.piece.openDart(a.Into.Dart, ids); err != nil {
			return o, err
		}
		o.lin, o.to, o.into = o.lin.then(lin), o.apexOf(legs), true
		o.legs[1] = o.clearGap(legs, ids)
		return o, nil
	}
	if a.To.Piece != whole.ID {
		return o, errors.New("the place lies on another piece than the dart")
	}
	_, place, err := p.placeOn(*a.To)
	if err != nil {
		return o, err
	}
	if place, err = o.placed(whole, place); err != nil {
		return o, err
	}
	o.to, err = o.piece.nodeFor(place, ids)
	return o, err
}

// leavesEdge reports a dart whose mouth is the whole of its edge, of which nothing would be
// left.
func (p *Piece) leavesEdge(dart ID) error {
	d, _ := p.Dart(dart)
	if d == nil {
		return fmt.Errorf("dart %s %w", dart, errGone)
	}
	if m, ok := p.mouthAt(d); !ok || len(p.Edges[m.edge].Nodes) < 2 {
		return fmt.Errorf("the mouth of %s is its whole edge, which would be gone", d.called())
	}
	return nil
}

// apexOf returns the node at the point of a dart that was opened.
func (o *openedDarts) apexOf(legs [2]ID) ID {
	e, _ := o.piece.Edge(legs[1])
	return e.Nodes[0].ID
}

// clearGap takes what the dart takes in out of the lines inside the piece: it is no cloth any
// more. A line that goes over the dart is two lines then, which meet when the seam is sewn. It
// returns how long in mm the legs are.
func (o *openedDarts) clearGap(legs [2]ID, ids *idSource) [2]float64 {
	q := o.piece
	_, i := q.Edge(legs[0])
	_, k := q.Edge(legs[1])
	edges := append(q.EdgePath(i), q.EdgePath(k)...)
	gap := append(slices.Clone(edges), geom.Line(edges.End(), edges.Start()))
	inGap := func(l Line) bool { return gap.Side(middleOf(l), Grid) == geom.Inside }
	c := &cutting{old: q, ring: q, line: edges, ids: ids}
	var lines []Line
	changed := make(map[ID]bool)
	for _, l := range q.Lines {
		parts, _ := c.divideLine(l, func(nodes []Node) bool { return inGap(Line{Nodes: nodes}) })
		kept := slices.DeleteFunc(parts, inGap)
		changed[l.ID] = len(kept) != 1 || len(parts) > 1
		lines = append(lines, kept...)
	}
	q.Lines = lines
	q.Spans = slices.DeleteFunc(q.Spans, func(s Span) bool {
		return slices.ContainsFunc(s.Lines, func(id ID) bool { return changed[id] })
	})
	return [2]float64{q.EdgeLength(i), q.EdgeLength(k)}
}

// placed returns a place of the whole piece on the one whose dart is open.
func (o *openedDarts) placed(whole *Piece, at outlinePlace) (outlinePlace, error) {
	id := whole.Edges[at.edge].ID
	heirs, divided := o.lin[id]
	if !divided {
		heirs = []Heir{{Edge: id, Old1: 1, New1: 1}}
	}
	share := at.along / whole.EdgeLength(at.edge)
	for _, h := range heirs {
		if share > h.Old1+shareSlack || h.Old1 <= h.Old0 {
			continue
		}
		_, i := o.piece.Edge(h.Edge)
		if i < 0 {
			break
		}
		length := o.piece.EdgeLength(i)
		return outlinePlace{i, min(max(between(share, h.Old0, h.Old1, h.New0, h.New1), 0), 1) * length}, nil
	}
	return at, errors.New("the place is gone once the dart is open")
}

// cut cuts the piece from point to point, and makes one edge of what is sewn in one seam
// on either half.
func (o *openedDarts) cut(seam string, ids *idSource) (left, right half, err error) {
	a, _, _ := o.piece.Node(o.from)
	b, _, _ := o.piece.Node(o.to)
	line := geom.Path{geom.Line(a.At, b.At)}
	old := o.piece.clone()
	if left, right, err = o.piece.severAt(old, o.from, o.to, line, seam, ids); err != nil {
		return left, right, err
	}
	// On the left the first leg comes before the cut, on the right the second after it;
	// those of another dart on the other side.
	left.joinLegs(true, o.into, seam, ids)
	right.joinLegs(o.into, true, seam, ids)
	// The points of the darts are notched, since there the two edges turn away from each
	// other and must meet (common practice, no source).
	left.notch(Notch{At: o.legs[0][0]}, ids)
	right.notch(Notch{At: o.legs[0][1], FromEnd: true}, ids)
	if o.into {
		left.notch(Notch{At: o.legs[1][1], FromEnd: true}, ids)
		right.notch(Notch{At: o.legs[1][0]}, ids)
	}
	return left, right, nil
}

// joinLegs makes one edge of the cut, the edge before it and the one after it.
func (h *half) joinLegs(before, after bool, seam string, ids *idSource) {
	p := h.piece
	id := p.Edges[h.cut].ID
	join := func(i int) {
		var quiet Outcome
		p.merge(i, p.cornerShare(i), true, ids, &quiet)
		id = quiet.Made
	}
	if before {
		_, i := p.Edge(id)
		join(i)
	}
	if after {
		_, i := p.Edge(id)
		join((i + 1) % len(p.Edges))
	}
	_, h.cut = p.Edge(id)
	e := &p.Edges[h.cut]
	e.Name, e.Kind, e.Allowance = "", SeamEdge, Even(e.Allowance.Widest())
	e.Name = unusedName(seam, p.hasEdgeName)
}
