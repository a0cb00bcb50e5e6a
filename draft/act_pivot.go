package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// PivotDartArgs are the arguments of PivotDart.
type PivotDartArgs struct {
	Dart  DartRef  `arg:"dart" says:"the dart"`
	To    PlaceRef `arg:"to" says:"where on the outline it opens instead"`
	Share float64  `arg:"share" says:"how much of it goes there: 1 all of it, 0.5 half" default:"1"`
	Name  string   `arg:"name,optional" says:"the name of the new dart where only a part goes there"`
}

// PivotDart slashes a piece from a place of its outline to the point of a dart and turns
// the one part about that point until the dart is closed, or as much narrower as is
// asked for: the dart opens at the other place. No edge gets longer or shorter, and the
// garment has the area that it had.
var PivotDart = register(Info{
	Name: "pivot-dart", Title: "Pivot a dart", Group: groupCutting,
	Says: "Closes a dart, or a share of it, and lets it open at another place of the outline, about the same point.",
}, pivotDart)

func pivotDart(p *Project, a PivotDartArgs) (Outcome, error) {
	share := a.Share
	if share == 0 {
		share = 1 // not given by a program
	}
	if !(share > 0 && share <= 1) {
		return Outcome{}, fmt.Errorf("a share lies above 0 and up to 1, not at %g", share)
	}
	if a.To.Piece != a.Dart.Piece {
		return Outcome{}, errors.New("the place lies on another piece than the dart")
	}
	_, place, err := p.placeOn(a.To)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{unit: p.Unit, subject: p.subject([]ID{a.Dart.Piece})}
	ids := p.newIDs()
	next, err := onePiece(p, a.Dart.Piece, func(q *Piece) error {
		v := pivot{piece: q, share: share, out: &out}
		return v.do(a, place, ids)
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	out.Project = next
	return out, nil
}

// pivot is one pivoted dart under way.
type pivot struct {
	piece *Piece
	share float64
	out   *Outcome
	dart  Dart
	mouth mouth
	// first and second are the nodes at which the new mouth opens.
	first, second ID
	// angle is by how much the part that turns does, in radians.
	angle float64
}

func (v *pivot) do(a PivotDartArgs, place outlinePlace, ids *idSource) error {
	q := v.piece
	old := q.clone()
	if err := v.begin(a, place); err != nil {
		return err
	}
	if err := v.slash(place, ids); err != nil {
		return err
	}
	v.turnPart()
	if v.share < 1 {
		name, err := q.dartName(a.Name, "")
		if a.Name == "" {
			name = unusedName(v.dart.label(), q.hasDartName)
		}
		if err != nil {
			return err
		}
		_, edge, _ := q.Node(v.first)
		made := Dart{ID: ids.make(kindDart), Name: name, Edge: q.Edges[edge].ID, From: v.first, To: v.second, Apex: v.dart.Apex, Press: v.dart.Press}
		q.Darts = append(q.Darts, made)
		v.out.Made = made.ID
	} else if err := v.shut(); err != nil {
		return err
	}
	q.followDarts()
	if err := q.soundAfter(old); err != nil {
		return fmt.Errorf("%w; pivot a smaller share, or to another place", err)
	}
	return nil
}

func (p *Piece) hasDartName(name string) bool {
	for i := range p.Darts {
		if p.Darts[i].Name == name {
			return true
		}
	}
	return false
}

// begin finds the dart and what speaks against turning it.
func (v *pivot) begin(a PivotDartArgs, place outlinePlace) error {
	q := v.piece
	d, _ := q.Dart(a.Dart.Dart)
	if d == nil {
		return fmt.Errorf("dart %s %w", a.Dart.Dart, errGone)
	}
	if d.Fold != Wedge {
		return fmt.Errorf("%s is a %s; only a dart, which runs to a point, turns about it", d.label(), d.Fold)
	}
	m, ok := q.mouthAt(d)
	if !ok {
		return fmt.Errorf("the mouth of %s is not on the outline", d.called())
	}
	if q.Edges[place.edge].Kind == FoldEdge {
		return fmt.Errorf("edge %s is a fold, and no dart opens there", q.Edges[place.edge].label())
	}
	from, to := m.from.Sub(d.Apex), m.to.Sub(d.Apex)
	angle := math.Atan2(from.Cross(to), from.Dot(to))
	if !(angle > 0) {
		return fmt.Errorf("%s takes nothing in", d.called())
	}
	if diff := math.Abs(from.Len() - to.Len()); diff > legLimit {
		return fmt.Errorf("the legs of %s differ by %s; make them equal first, by moving its point or a mouth point", d.called(), v.out.unit.FormatSmall(diff))
	}
	v.dart, v.mouth, v.angle = *d, m, angle*v.share
	v.out.Made = d.ID
	return nil
}

// slash opens the outline at the place: two nodes lie there now, one of each part.
func (v *pivot) slash(place outlinePlace, ids *idSource) error {
	q := v.piece
	first, err := q.inner(place.edge, place.along, ids.make(kindNode))
	if err != nil {
		return err
	}
	n, i, k := q.Node(first)
	if err := q.seesInside(n.At, v.dart.Apex, v.dart.ID); err != nil {
		return fmt.Errorf("from there to the point of %s: %w", v.dart.called(), err)
	}
	second := Node{ID: ids.make(kindNode), At: n.At, Out: n.Out}
	n.Out, n.Smooth = geom.Point{}, false
	e := &q.Edges[i]
	nodes := make([]Node, 0, len(e.Nodes)+1)
	e.Nodes = append(append(append(nodes, e.Nodes[:k+1]...), second), e.Nodes[k+1:]...)
	v.first, v.second = first, second.ID
	return nil
}

// turnPart turns one of the two parts about the point of the dart: from the new mouth on
// to the old one, or from the old one on to the new. The part with the fold stays, or
// the one that has more cloth.
func (v *pivot) turnPart() {
	q := v.piece
	on, back := q.chain(v.second, v.dart.From), q.chain(v.dart.To, v.first)
	turned, angle := on, v.angle
	if v.stays(on, back) {
		turned, angle = back, -v.angle
	}
	part := turned.path(q, v.dart.Apex)
	move := geom.Rotation(angle, v.dart.Apex)
	q.moveMarks(turned.mover(q, part, move), v.out)
	for _, at := range turned {
		n := q.nodeAt(at[0], at[1])
		n.At, n.In, n.Out = move.Apply(n.At), move.ApplyVector(n.In), move.ApplyVector(n.Out)
	}
}

// stays reports whether the first part is to stay where it is, and not the second.
func (v *pivot) stays(a, b chain) bool {
	q := v.piece
	if fold := q.FoldEdge(); fold >= 0 {
		return slices.Contains(a.of(q), q.Edges[fold].Nodes[0].ID)
	}
	return math.Abs(a.path(q, v.dart.Apex).Area()) >= math.Abs(b.path(q, v.dart.Apex).Area())
}

// shut makes one point of the two mouth points of the dart, which meet now, and has the
// dart open at the new place.
func (v *pivot) shut() error {
	q := v.piece
	m, _ := q.mouthAt(&v.dart)
	from, to := q.nodeAt(m.edge, m.node), q.nodeAt(m.edge, m.node+1)
	kept, gone := from, to
	if m.node+1 == len(q.Edges[m.edge].Nodes) {
		if m.node == 0 {
			return fmt.Errorf("the mouth of %s is the whole edge %s, which would be gone", v.dart.called(), q.Edges[m.edge].label())
		}
		kept, gone = to, from
	}
	kept.At, kept.In, kept.Out = from.At.Lerp(to.At, 0.5), from.In, to.Out
	id, old := kept.ID, gone.ID
	e, k := m.edge, m.node+1
	if gone == from {
		k = m.node
	}
	q.Edges[e].Nodes = append(q.Edges[e].Nodes[:k:k], q.Edges[e].Nodes[k+1:]...)
	for i := range q.Spans {
		s := &q.Spans[i]
		if s.From == old {
			s.From = id
		}
		if s.To == old {
			s.To = id
		}
	}
	for i := range q.Darts { // one that opened right beside it
		if q.Darts[i].From == old {
			q.Darts[i].From = id
		}
		if q.Darts[i].To == old {
			q.Darts[i].To = id
		}
	}
	d, _ := q.Dart(v.dart.ID)
	d.From, d.To = v.first, v.second
	if n, i, k := q.Node(id); k > 0 {
		u, w := segment(q.Edges[i].Nodes[k-1], *n).Tangent(1), segment(*n, *q.nodeAt(i, k+1)).Tangent(0)
		n.Smooth = u.Dot(w) > 0 && math.Abs(u.Cross(w)) < straightSlack
	}
	return nil
}
