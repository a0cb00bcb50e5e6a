package draft

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/warp"
)

// piece returns what a source piece has become, where the pattern's piece lay and on the
// grid.
func (f *fitMade) piece(g *givingPiece) (*Piece, error) {
	q := g.warped(f.result)
	for i := range q.Lines {
		l := &q.Lines[i]
		if goal := f.task.mouth(fitPart{q.ID, l.ID}); goal.want > 0 && len(l.Path()) > 0 {
			l.widen(goal.want)
		}
	}
	f.moved[g.shape] = q.stayMiddle(g.piece)
	f.meanEase(q)
	q, err := rounded(q)
	if err != nil {
		return nil, err
	}
	return q, q.soundAfter(g.piece)
}

// meanEase has the spans of a fitted piece say the ease that is wanted in them now, so that
// it is held against the wearer and not against the body that it was made for.
func (f *fitMade) meanEase(q *Piece) {
	for i := range f.task.targets {
		t := &f.task.targets[i]
		if t.Piece.ID != q.ID || !t.Known || t.Span.Measure == "" || t.New <= 0 {
			continue
		}
		if s := q.Span(t.Span.ID); s != nil {
			s.Ease = toGrid(t.Wants - s.Share*t.New)
		}
	}
}

// warped returns what a solution has made of a piece: outline, marks and what lies inside.
// What is said of it in words stays, and so do allowances and the sizes of what is set
// along a line.
func (g *givingPiece) warped(r *warp.Result) *Piece {
	q := g.piece.clone()
	shape := r.Shapes[g.shape]
	for i := range q.Edges {
		for k := range q.Edges[i].Nodes {
			n, to := &q.Edges[i].Nodes[k], shape.Nodes[g.first[i]+k]
			n.At, n.In, n.Out = to.At, to.In, to.Out
		}
	}
	for i := range q.Darts {
		q.Darts[i].Apex = g.warpedTip(r, q, q.Darts[i])
	}
	path := 0
	for i := range q.Lines {
		if l := &q.Lines[i]; len(l.Path()) == 0 {
			for k := range l.Nodes { // they belong to no path
				l.Nodes[k].At = r.Map(g.shape, l.Nodes[k].At)
			}
		} else {
			l.setPath(shape.Inner[path])
			l.scaleRow(g.piece.Lines[i])
			path++
		}
	}
	if q.Grain != nil {
		*q.Grain = g.warpedGrain(r, *q.Grain)
	}
	if q.LabelAt != nil {
		*q.LabelAt = r.Map(g.shape, *q.LabelAt)
	}
	q.placeMarks(g.piece)
	return q
}

// warpedTip returns where the tip of a dart comes to lie. A pleat runs as deep as it did for
// its width and the way that it did to its mouth, for its apex only says that.
func (g *givingPiece) warpedTip(r *warp.Result, q *Piece, d Dart) geom.Point {
	if d.Fold == Wedge {
		return r.Map(g.shape, d.Apex)
	}
	was, ok := g.piece.mouthAt(&d)
	now, okNow := q.mouthAt(&d)
	if !ok || !okNow {
		return r.Map(g.shape, d.Apex)
	}
	deep := r.Map(g.shape, d.Apex).Sub(r.Map(g.shape, was.middle())).Len()
	turned := now.to.Sub(now.from).Angle() - was.to.Sub(was.from).Angle()
	way := geom.Rotation(turned, geom.Point{}).ApplyVector(d.Apex.Sub(was.middle())).Unit()
	return now.middle().Add(way.Mul(deep))
}

// setPath gives a line the shape of a path of as many stretches.
func (l *Line) setPath(path geom.Path) {
	n := len(l.Nodes)
	for k, s := range path {
		a, b := &l.Nodes[k], &l.Nodes[(k+1)%n]
		a.At, b.At = s.P0, s.P3
		if s.Straight {
			a.Out, b.In = geom.Point{}, geom.Point{}
		} else {
			a.Out, b.In = s.P1.Sub(s.P0), s.P2.Sub(s.P3)
		}
	}
}

// scaleRow keeps the fastenings of a line where they were along it; they keep their sizes.
func (l *Line) scaleRow(was Line) {
	old := was.Path().Length()
	if l.Row == nil || !(old > 0) {
		return
	}
	k := l.Path().Length() / old
	l.Row.First, l.Row.Last = toGrid(l.Row.First*k), toGrid(l.Row.Last*k)
}

// warpedGrain returns where the grain line comes to lie: its middle goes along, its
// direction stays, and it grows as what lies under it does.
func (g *givingPiece) warpedGrain(r *warp.Result, was Grain) Grain {
	from, to := r.Map(g.shape, was.From), r.Map(g.shape, was.To)
	half := was.To.Sub(was.From).Unit().Mul(from.Dist(to) / 2)
	middle := r.Map(g.shape, was.From.Lerp(was.To, 0.5))
	return Grain{middle.Sub(half), middle.Add(half)}
}

// stayMiddle moves a fitted piece so that it lies where the pattern's did, and returns by
// how much: its fold on the same line, and its middle along that, or else its middle in both
// directions.
func (p *Piece) stayMiddle(was *Piece) geom.Point {
	by := was.DrawnPath().Bounds().Center().Sub(p.DrawnPath().Bounds().Center())
	if fold := p.FoldEdge(); fold >= 0 {
		a, b := was.Edges[fold].Nodes[0].At, was.EdgeNodes(fold)[len(was.EdgeNodes(fold))-1].At
		along := b.Sub(a).Unit()
		across := a.Sub(p.Edges[fold].Nodes[0].At)
		by = along.Mul(by.Dot(along)).Add(across.Sub(along.Mul(across.Dot(along))))
	}
	if by.Len() < Grid {
		return geom.Point{}
	}
	p.shift(by)
	return by
}

// placeMarks puts notches and stretches of edges where they were: at the same parameter of
// the same curve, so that what has met on two edges still meets.
func (p *Piece) placeMarks(was *Piece) {
	for i := range p.Notches {
		n := &p.Notches[i]
		_, e := was.Edge(n.Edge)
		if e < 0 {
			continue
		}
		old, now := was.EdgeLength(e), p.EdgeLength(e)
		at := p.sameSpot(was, e, n.Along(old))
		if n.FromEnd {
			at = now - at
		}
		if n.Share {
			at = shareAlong(at, now)
		}
		n.At = toGrid(max(at, 0))
	}
	for i := range p.Stretches {
		s := &p.Stretches[i]
		_, e := was.Edge(s.Edge)
		if e < 0 {
			continue
		}
		old, now := was.EdgeLength(e), p.EdgeLength(e)
		s.From = p.sameShare(was, e, s.From, old, now)
		s.To = p.sameShare(was, e, s.To, old, now)
	}
}

// sameShare is sameSpot for a share of the edge; its ends stay ends, bit for bit.
func (p *Piece) sameShare(was *Piece, edge int, share, old, now float64) float64 {
	if share <= 0 || share >= 1 || !(now > 0) {
		return share
	}
	return min(max(p.sameSpot(was, edge, share*old)/now, 0), 1)
}

// sameSpot returns where along an edge of p, in mm, the place lies that on the same edge of
// the piece as it was lies at along.
func (p *Piece) sameSpot(was *Piece, edge int, along float64) float64 {
	k, t := was.locate(edge, along)
	nodes := p.EdgeNodes(edge)
	at := 0.0
	for j := 1; j < len(nodes); j++ {
		if p.dartAt(nodes[j-1].ID, nodes[j].ID) != nil {
			continue
		}
		s := segment(nodes[j-1], nodes[j])
		if j-1 == k {
			if t >= 1 {
				return at + s.Length()
			}
			first, _ := s.Split(math.Max(t, 0))
			return at + first.Length()
		}
		at += s.Length()
	}
	return at
}
