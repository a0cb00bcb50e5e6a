package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// UnfoldPieceArgs are the arguments of UnfoldPiece.
type UnfoldPieceArgs struct {
	Piece PieceRef `arg:"piece" says:"a piece that is cut on the fold"`
}

// UnfoldPiece draws a piece that is cut on the fold whole. Edges that run square into the
// fold become one edge with their mirror image, unless a seam begins or ends there. A seam
// that stood for both sides of the body becomes two.
var UnfoldPiece = register(Info{
	Name: "unfold-piece", Title: "Unfold", Group: groupCutting,
	Says: "Draws a piece that is cut on the fold whole, so that its two halves can be made different.",
}, func(p *Project, a UnfoldPieceArgs) (Outcome, error) {
	piece := p.Piece(ID(a.Piece))
	if piece == nil {
		return Outcome{}, fmt.Errorf("piece %s %w", a.Piece, errGone)
	}
	fold := piece.FoldEdge()
	if fold < 0 || len(piece.Edges) < 2 {
		return Outcome{}, fmt.Errorf("%s is not cut on the fold and is whole already", piece.label())
	}
	u := &unfolding{project: p, piece: piece, ids: p.newIDs(), far: make(map[ID]ID)}
	if err := u.halves(fold); err != nil {
		return Outcome{}, err
	}
	var first error
	for _, divided := range u.join.mergings() {
		out, err := u.whole(divided)
		if err == nil {
			_, err = followLineage(p, out.Project.rewrite(out.uses), out.Lineage)
		}
		if err == nil {
			return out, nil
		}
		if first == nil {
			first = err
		}
	}
	return Outcome{}, first
})

// unfolding is a folded piece becoming whole.
type unfolding struct {
	project *Project
	piece   *Piece
	ids     *idSource
	// join has the near half on the left and the far one on the right, each with the fold
	// for its cut.
	join *pieceJoin
	// far is the edge of the far half that mirrors one of the near half.
	far map[ID]ID
}

// halves makes the two halves.
func (u *unfolding) halves(fold int) error {
	line := u.piece.EdgePath(fold)
	m, ok := geom.Reflection(line.Start(), line.End())
	if !ok {
		return errors.New("its fold edge has no length")
	}
	near, far := u.piece.clone(), u.piece.clone()
	far.turnOver(m)
	// The far half has the same marks once more; a length is measured on one half only.
	far.Spans, far.Grain, far.LabelAt = nil, nil, nil
	old := cloneEdges(far.Edges)
	far.renew(u.ids)
	far.ID = u.piece.ID
	for i := range old {
		u.far[old[i].ID] = far.Edges[i].ID
	}
	_, farFold := far.Edge(u.far[u.piece.Edges[fold].ID])
	// What lies on the fold is its own mirror image, but for rounding.
	far.Edges[farFold].Nodes[0].At = line.End()
	far.Edges[(farFold+1)%len(far.Edges)].Nodes[0].At = line.Start()
	first := func(p *Piece, k int) { p.Edges = append(append([]Edge(nil), p.Edges[k:]...), p.Edges[:k]...) }
	first(near, fold)
	first(far, farFold)
	u.join = &pieceJoin{project: u.project, a: u.piece, b: u.piece, left: half{piece: near}, right: half{piece: far}}
	return nil
}

// whole makes the project with the piece whole, edges merged at the ends of the fold that
// are told.
func (u *unfolding) whole(divided [2]bool) (Outcome, error) {
	p := u.project
	out := Outcome{subject: u.piece.label(), Made: u.piece.ID, unit: p.Unit}
	ids := &idSource{next: u.ids.next}
	left, right := u.join.left, u.join.right
	left.piece = left.piece.clone()
	left.divided, right.divided = divided, [2]bool{divided[1], divided[0]}
	left.lin = Lineage{left.piece.Edges[0].ID: nil}
	u.widenSpans(left.piece, divided)
	q, lin, err := rejoinSaying(left, right, geom.Identity, ids, &out)
	if err != nil {
		return Outcome{}, err
	}
	if err := q.DrawnPath().Simple(); err != nil {
		return Outcome{}, fmt.Errorf("the two halves of %s lie on each other in part; its outline crosses the fold", u.piece.label())
	}
	q.Cut.Way = CutSingle
	u.widenLines(q)
	u.firstAsBefore(q, lin)
	out.Made = u.piece.ID
	next := p.withPiece(q)
	u.bothSides(next, ids)
	next.NextID = ids.next
	out.Project, out.Lineage = next, lin
	out.uses = func(use EdgeUse) EdgeUse {
		if use.Piece == u.piece.ID && use.Half == Far {
			use.Half, use.Reversed = Near, !use.Reversed
			use.Edge = u.far[use.Edge]
		}
		return use
	}
	out.free(q)
	return out, nil
}

// firstAsBefore lets the edge be first that came first before, or the one after the fold.
func (u *unfolding) firstAsBefore(q *Piece, lin Lineage) {
	for i := range u.piece.Edges {
		id := u.piece.Edges[i].ID
		if heirs := lin[id]; len(heirs) > 0 {
			id = heirs[0].Edge
		}
		if _, k := q.Edge(id); k >= 0 {
			q.Edges = append(append([]Edge(nil), q.Edges[k:]...), q.Edges[:k]...)
			return
		}
	}
}

// widenSpans lets a length along edges that become one with their mirror image be measured
// along both, and stand for twice the share.
func (u *unfolding) widenSpans(near *Piece, divided [2]bool) {
	n := len(near.Edges)
	for k := range near.Spans {
		s := &near.Spans[k]
		var mirror []ID
		for i := len(s.Edges) - 1; i >= 0; i-- {
			mirror = append(mirror, u.far[s.Edges[i]])
		}
		switch {
		case divided[0] && slices.Contains(s.Edges, near.Edges[n-1].ID):
			s.Edges = append(slices.Clone(s.Edges), mirror...)
		case divided[1] && slices.Contains(s.Edges, near.Edges[1%n].ID):
			s.Edges = append(mirror, s.Edges...)
		default:
			continue
		}
		s.Share, s.Ease = min(2*s.Share, maxShare), 2*s.Ease
	}
}

// widenLines lets a length along lines that go on beyond the fold stand for twice the share.
func (u *unfolding) widenLines(q *Piece) {
	for k := range q.Spans {
		s := &q.Spans[k]
		if len(s.Lines) == 0 {
			continue
		}
		if was, is := u.piece.linesLength(s.Lines), q.linesLength(s.Lines); was > 0 && isTwice(is, was) {
			s.Share, s.Ease = min(2*s.Share, maxShare), 2*s.Ease
		}
	}
}

// isTwice reports whether one length in mm is twice the other, but for rounding.
func isTwice(a, b float64) bool { return max(a-2*b, 2*b-a) <= joinSlack*max(1, b) }

// linesLength returns the length in mm of lines inside the piece together.
func (p *Piece) linesLength(ids []ID) float64 {
	sum := 0.0
	for _, id := range ids {
		if l := p.Line(id); l != nil {
			sum += l.Path().Length()
		}
	}
	return sum
}

// bothSides makes two seams of each that sews the piece and stands for both sides of the
// body.
func (u *unfolding) bothSides(next *Project, ids *idSource) {
	var seams []*Seam
	taken := func(name string) bool {
		same := func(s *Seam) bool { return s.Name == name }
		return slices.ContainsFunc(next.Seams, same) || slices.ContainsFunc(seams, same)
	}
	for _, s := range u.project.Seams {
		if !s.BothSides || !s.sews(map[ID]bool{u.piece.ID: true}) {
			seams = append(seams, s)
			continue
		}
		one := *s
		one.BothSides = false
		seams = append(seams, &one)
		a, okA := u.project.mirrored(s.A)
		b, okB := u.project.mirrored(s.B)
		if okA && okB {
			other := one
			other.ID, other.A, other.B = ids.make(kindSeam), a, b
			other.Marks = nil // one drawing bears the notches of both
			stem, _ := nameStem(s.Name)
			other.Name = unusedName(stem, taken)
			seams = append(seams, &other)
		}
	}
	next.Seams = seams
}
