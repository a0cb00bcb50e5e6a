package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// LengthenSides says what becomes of the edges that are lengthened.
type LengthenSides int

const (
	// TrueSides draws the stretches that the line crosses anew: straight ones straight from
	// point to point, curves with the directions in which they leave and arrive.
	TrueSides LengthenSides = iota
	// SidesAsCut spreads the piece along the line and bridges the gap.
	SidesAsCut
)

var lengthenSidesNames = names[LengthenSides]{"trued", "as cut"}

func (s LengthenSides) String() string               { return lengthenSidesNames.text(s) }
func (s LengthenSides) MarshalText() ([]byte, error) { return lengthenSidesNames.marshal(s) }

// UnmarshalText reads trued or as cut.
func (s *LengthenSides) UnmarshalText(b []byte) error {
	return lengthenSidesNames.unmarshal(s, b, "way of the sides")
}

// LengthenPieceArgs are the arguments of LengthenPiece.
type LengthenPieceArgs struct {
	From   PlaceRef      `arg:"from" says:"the place on an edge at which the line across begins"`
	To     PlaceRef      `arg:"to" says:"the place on another edge at which it ends; what lies to the left of the way from the first to the second moves"`
	By     Length        `arg:"by" says:"how much longer the piece becomes; below 0 it becomes shorter"`
	Second *EdgePlace    `arg:"second" says:"where a second line, level with the first, crosses the edge of the first place; all between the two is stretched evenly"`
	Sides  LengthenSides `arg:"sides" says:"whether the edges across are drawn anew in one line or left as the cut leaves them" default:"trued"`
}

// LengthenPiece makes a piece longer or shorter at a line across it, or evenly between two
// lines. What lies beyond moves square to the line; where the line reaches the fold, along
// the fold.
var LengthenPiece = register(Info{
	Name: "lengthen-piece", Title: "Lengthen or shorten", Group: groupCutting,
	Says: "Makes a piece longer or shorter at a line across it, or evenly between two lines.",
}, func(p *Project, a LengthenPieceArgs) (Outcome, error) {
	piece, from, to, err := p.twoPlaces(a.From, a.To)
	if err != nil {
		return Outcome{}, err
	}
	by := float64(a.By)
	if !(math.Abs(by) <= MaxCoordinate) || by == 0 {
		return Outcome{}, errors.New("say by how much; below 0 shortens")
	}
	l, err := newLengthening(p, piece, from, to, by)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	if a.Second != nil {
		if a.Sides == SidesAsCut {
			return Outcome{}, errors.New("between two lines the piece is stretched and not cut; leave out the second line, or have the sides trued")
		}
		if err := l.until(from.edge, *a.Second); err != nil {
			return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
		}
	}
	out := Outcome{subject: piece.label(), Made: piece.ID, unit: p.Unit}
	if a.Sides == SidesAsCut {
		err = l.cutAndSpread(&out)
	} else {
		err = l.stretch(&out)
	}
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	return out, out.tellSeams(p, piece.ID)
})

// lengthening is a piece being made longer.
type lengthening struct {
	project  *Project
	piece    *Piece
	from, to outlinePlace
	// at is a point of the line, up the unit direction in which all beyond it moves, by the
	// way in mm.
	at, normal, up geom.Point
	by             float64
	// deep is how far the second line lies beyond the first, in mm; where there is none, how
	// much is taken out.
	deep float64
	two  bool
}

func newLengthening(p *Project, piece *Piece, from, to outlinePlace, by float64) (*lengthening, error) {
	a, b := piece.pointAt(from), piece.pointAt(to)
	if a.Dist(b) < placeReach {
		return nil, errors.New("the two places are one; the line across needs two")
	}
	l := &lengthening{project: p, piece: piece, from: from, to: to, at: a, by: by}
	l.normal = b.Sub(a).Unit().Left()
	l.up = l.normal
	if fold := piece.FoldEdge(); fold >= 0 {
		line := piece.EdgePath(fold)
		way := line.End().Sub(line.Start()).Unit()
		for _, q := range [2]geom.Point{a, b} {
			if _, off := line.Nearest(q); off <= placeReach {
				if along := way.Dot(l.normal); math.Abs(along) < minAlongFold {
					return nil, errors.New("the line runs along the fold; draw it across")
				} else if along < 0 {
					way = way.Mul(-1)
				}
				l.up = way
			}
		}
	}
	if by < 0 {
		l.deep = -by
	}
	return l, nil
}

// minAlongFold is the least cosine between the fold and the way square to the line across:
// a line that leans more does not go across.
const minAlongFold = 0.5

// until sets the second line, which crosses edge i at a place.
func (l *lengthening) until(i int, at EdgePlace) error {
	along, err := at.along(l.piece, i, l.project.Unit)
	if err != nil {
		return err
	}
	l.two = true
	l.deep = l.height(l.piece.pointAt(outlinePlace{i, along}))
	if l.deep < placeReach {
		return errors.New("the second line must lie beyond the first, to the left of the way along it")
	}
	if l.by <= -l.deep+placeReach {
		return fmt.Errorf("the two lines are only %s apart, and nothing would be left between them", l.project.Unit.Format(l.deep))
	}
	return nil
}

// height returns how far beyond the line a point lies, in mm in the direction up; it is
// below 0 on the side that stays.
func (l *lengthening) height(q geom.Point) float64 {
	return q.Sub(l.at).Dot(l.normal) / l.up.Dot(l.normal)
}

// moved returns where a point goes. What is taken out closes up on the line.
func (l *lengthening) moved(q geom.Point) geom.Point {
	h := l.height(q)
	switch {
	case h <= heightSlack:
		return q
	case l.two && h < l.deep:
		return q.Add(l.up.Mul(h / l.deep * l.by))
	case !l.two && l.by < 0 && h < l.deep-heightSlack:
		return q.Add(l.up.Mul(-h))
	}
	return q.Add(l.up.Mul(l.by))
}

// heightSlack is how far, in mm, a point may lie beyond the line and still be on it: as far
// as rounding takes it.
const heightSlack = 2 * Grid

// stretch moves the points beyond the line; the stretches that it crosses are drawn anew
// between them.
func (l *lengthening) stretch(out *Outcome) error {
	q := l.piece.clone()
	if err := l.nodes(q); err != nil {
		return err
	}
	for i := range q.Lines {
		line := &q.Lines[i]
		for k := range line.Nodes {
			line.Nodes[k].At = l.moved(line.Nodes[k].At)
		}
	}
	for i := range q.Darts {
		q.Darts[i].Apex = l.moved(q.Darts[i].Apex)
	}
	if q.Grain != nil {
		// The grain keeps its direction.
		from := l.moved(q.Grain.From)
		q.Grain.From, q.Grain.To = from, from.Add(q.Grain.To.Sub(q.Grain.From))
	}
	if q.LabelAt != nil {
		*q.LabelAt = l.moved(*q.LabelAt)
	}
	l.marksAlong(q)
	if err := q.DrawnPath().Simple(); err != nil {
		return errors.New("its outline would cross itself; change it by less, or at another line")
	}
	if path := q.DrawnPath(); path.Area() <= areaSlack*max(path.Bounds().W(), path.Bounds().H()) {
		return errors.New("nothing of it would be left")
	}
	out.Project = l.project.withPiece(q)
	return nil
}

// nodes moves the points of the outline and stretches the handles of what changes its
// height, each in its direction.
func (l *lengthening) nodes(q *Piece) error {
	old := l.piece
	for i := range old.Edges {
		was := old.EdgeNodes(i)
		for k := 1; k < len(was); k++ {
			a, b := was[k-1], was[k]
			rise := l.height(b.At) - l.height(a.At)
			now := l.height(l.moved(b.At)) - l.height(l.moved(a.At))
			if math.Abs(now-rise) <= heightSlack {
				continue
			}
			if old.dartAt(a.ID, b.ID) != nil {
				return fmt.Errorf("the line goes through the mouth of %s; draw it beside the dart", old.dartAt(a.ID, b.ID).called())
			}
			// Twice as high, and its handles are twice as long: so that lengthening and
			// shortening again leads back.
			factor := 1.0
			if math.Abs(rise) > minRise && now/rise > 0 {
				factor = now / rise
			}
			from, to := q.nodeAt(i, k-1), q.nodeAt(i, k)
			from.Out, to.In = a.Out.Mul(factor), b.In.Mul(factor)
		}
	}
	moved := make(map[ID]bool)
	for i := range q.Edges {
		for k := range q.Edges[i].Nodes {
			n := &q.Edges[i].Nodes[k]
			if at := l.moved(n.At); at != n.At {
				n.At, moved[n.ID] = at, true
			}
		}
	}
	q.alignBeside(moved)
	if !l.two && l.by < 0 {
		return l.closeUp(q)
	}
	return nil
}

// minRise is the least height in mm of a stretch that is stretched by its height: one that
// is flatter runs along the line.
const minRise = 0.1

// closeUp takes out the points inside the strip that is taken out.
func (l *lengthening) closeUp(q *Piece) error {
	for i := range q.Edges {
		old := l.piece.Edges[i].Nodes
		for k := len(old) - 1; k > 0; k-- {
			if h := l.height(old[k].At); h <= heightSlack || h >= l.deep-heightSlack {
				continue
			}
			if q.isFree(old[k].ID) != nil {
				return errors.New("a point on which a dart or a length hangs would be taken out; shorten by less, or at another line")
			}
			e := &q.Edges[i]
			e.Nodes = append(append([]Node(nil), e.Nodes[:k]...), e.Nodes[k+1:]...)
		}
	}
	for i := range q.Edges {
		if q.EdgeLength(i) < placeReach {
			return fmt.Errorf("the whole of edge %s would be taken out; shorten by less, or delete its corner first", q.Edges[i].label())
		}
	}
	return nil
}

// marksAlong keeps notches and gathered stretches on the part of their edge on which they
// lay: level with where it lies now, and elsewhere at the same share of the same
// stretch between two points.
func (l *lengthening) marksAlong(q *Piece) {
	for k := range q.Notches {
		n := &q.Notches[k]
		_, i := q.Edge(n.Edge)
		if i < 0 || !l.changes(q, i) {
			continue
		}
		at, length := l.alongNow(q, i, n.Along(l.piece.EdgeLength(i))), q.EdgeLength(i)
		if n.FromEnd {
			at = length - at
		}
		if at = min(max(at, 0), length); n.Share {
			at /= length
		} else {
			at = toGrid(at)
		}
		n.At = at
	}
	for k := range q.Stretches {
		s := &q.Stretches[k]
		_, i := q.Edge(s.Edge)
		if i < 0 || !l.changes(q, i) {
			continue
		}
		was, is := l.piece.EdgeLength(i), q.EdgeLength(i)
		from, to := l.alongNow(q, i, s.From*was)/is, l.alongNow(q, i, s.To*was)/is
		if from, to = clampShare(from), clampShare(to); from < to {
			s.From, s.To = from, to
		}
	}
}

// changes reports whether edge i has another length than before.
func (l *lengthening) changes(q *Piece, i int) bool {
	return math.Abs(q.EdgeLength(i)-l.piece.EdgeLength(i)) > heightSlack
}

// alongNow returns where along edge i of q lies what lay along mm from its start.
func (l *lengthening) alongNow(q *Piece, i int, along float64) float64 {
	old, now := l.piece.EdgeNodes(i), q.EdgeNodes(i)
	if len(old) != len(now) {
		k, t := l.piece.locate(i, along)
		return q.alongEdge(i, l.moved(segment(old[k], old[k+1]).At(t)))
	}
	sum := 0.0
	for k := 1; k < len(old); k++ {
		if l.piece.dartAt(old[k-1].ID, old[k].ID) != nil {
			continue
		}
		before, after := segment(old[k-1], old[k]), segment(now[k-1], now[k])
		was, is := before.Length(), after.Length()
		if along <= was && was > 0 {
			if t, ok := l.atHeight(after, l.moved(before.At(before.AtLength(along)))); ok && math.Abs(was-is) > heightSlack {
				return sum + after.LengthTo(t)
			}
			return sum + is*along/was
		}
		along -= was
		sum += is
	}
	return sum
}

// atHeight returns the parameter at which a stretch is as high above the line as a point,
// near it; false where it never is.
func (l *lengthening) atHeight(s geom.Segment, q geom.Point) (t float64, ok bool) {
	box := s.HandleBounds()
	aside := l.normal.Left().Mul(box.W() + box.H() + 1)
	least := math.Inf(1)
	for _, m := range s.Intersections(geom.Line(q.Sub(aside), q.Add(aside))) {
		if off := m.P.Dist(q); off < least {
			t, least, ok = m.T, off, true
		}
	}
	return t, ok
}

// alongEdge returns the place on edge i that is nearest to a point, in mm from its start.
func (p *Piece) alongEdge(i int, at geom.Point) float64 {
	one := p.clone()
	one.Edges = append(append([]Edge(nil), p.Edges[i:]...), p.Edges[:i]...)
	best, least := 0.0, math.Inf(1)
	nodes := one.EdgeNodes(0)
	sum := 0.0
	for k := 1; k < len(nodes); k++ {
		if p.dartAt(nodes[k-1].ID, nodes[k].ID) != nil {
			continue
		}
		s := segment(nodes[k-1], nodes[k])
		if t, off := s.Nearest(at); off < least {
			best, least = sum+s.LengthTo(t), off
		}
		sum += s.Length()
	}
	return best
}

// cutAndSpread cuts the piece at the line and moves what lies beyond; to shorten it, the
// strip is cut out.
func (l *lengthening) cutAndSpread(out *Outcome) error {
	ids := l.project.newIDs()
	line := geom.Path{geom.Line(l.piece.pointAt(l.from), l.piece.pointAt(l.to))}
	beyond, stays, err := l.piece.sever(l.from, l.to, line, "cut", ids)
	if err != nil {
		return err
	}
	if l.by < 0 {
		return errors.New("only a piece that becomes longer is left as the cut leaves it; have the sides trued to shorten it")
	}
	q, lin, err := rejoin(stays, beyond, geom.Translation(l.up.Mul(l.by)), ids)
	if err != nil {
		return err
	}
	if err := q.DrawnPath().Simple(); err != nil {
		return errors.New("its outline would cross itself; change it by less, or at another line")
	}
	out.Project, out.Lineage = l.project.withPiece(q), lin
	out.Project.NextID = ids.next
	return nil
}

// tellSeams names the seams of a piece that held before and whose two sides no longer fit.
func (o *Outcome) tellSeams(before *Project, piece ID) error {
	after, err := followLineage(before, o.Project, o.Lineage)
	if err != nil {
		return err
	}
	slots := NewSlots()
	for _, s := range after.Seams {
		old := before.Seam(s.ID)
		if old == nil || !s.sews(map[ID]bool{piece: true}) {
			continue
		}
		was, errWas := slots.SeamState(before, old)
		now, errNow := NewSlots().SeamState(after, s)
		if errWas != nil || errNow != nil || !was.Holds || now.Holds {
			continue
		}
		o.say("Seam %s no longer fits: its two sides are %s and %s long now.", s.label(), o.unit.Format(now.A), o.unit.Format(now.B))
	}
	return nil
}
