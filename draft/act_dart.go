package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// AddDartArgs are the arguments of AddDart.
type AddDartArgs struct {
	Edge   EdgeRef   `arg:"edge" says:"the edge at which the dart opens"`
	At     EdgePlace `arg:"at" says:"where along it the middle of the mouth lies" default:"50%"`
	Intake Length    `arg:"intake" says:"how much it takes in: the width of its mouth along the edge"`
	Length *Length   `arg:"length" says:"how long it is, square to the mouth; without it, three times the intake"`
	Apex   *Vector   `arg:"apex" says:"where its point lies on the bench, instead of a length"`
	Name   string    `arg:"name,optional" says:"its name"`
	Press  Press     `arg:"press" says:"to which side it is pressed" default:"to start"`
}

// AddDart takes in a wedge at an edge, which gets shorter by its mouth. Where the point
// is not square to the mouth, the legs are made equally long.
var AddDart = register(Info{
	Name: "add-dart", Title: "Add a dart", Group: groupCutting,
	Says: "Takes in a wedge at an edge, which gets shorter by as much as the dart takes in.",
}, addDart)

// dartProportion is how many times longer than its mouth a dart is that is given no
// length: about what lies flat in cloth. (Common practice, no source.)
const dartProportion = 3

func addDart(p *Project, a AddDartArgs) (Outcome, error) {
	out := Outcome{unit: p.Unit, subject: p.subject([]ID{a.Edge.Piece})}
	ids := p.newIDs()
	d := Dart{ID: ids.make(kindDart), Edge: a.Edge.Edge, Press: a.Press}
	d.From, d.To = ids.make(kindNode), ids.make(kindNode)
	next, err := onePiece(p, a.Edge.Piece, func(q *Piece) error {
		_, i := q.Edge(a.Edge.Edge)
		if i < 0 {
			return fmt.Errorf("edge %s %w", a.Edge.Edge, errGone)
		}
		if q.Edges[i].Kind == FoldEdge {
			return fmt.Errorf("edge %s is a fold, and no dart opens there", q.Edges[i].label())
		}
		middle, err := a.At.along(q, i, p.Unit)
		if err != nil {
			return err
		}
		if d.Name, err = q.dartName(a.Name, d.ID); err != nil {
			return err
		}
		old, length := q.clone(), q.EdgeLength(i)
		from, to := middle-float64(a.Intake)/2, middle+float64(a.Intake)/2
		if d.From, d.To, err = q.openMouth(i, from, to, d.From, d.To); err != nil {
			return err
		}
		q.Darts = append(q.Darts, d)
		if err := q.point(&q.Darts[len(q.Darts)-1], a.Length, a.Apex, &out); err != nil {
			return err
		}
		m, _ := q.mouthAt(&q.Darts[len(q.Darts)-1])
		out.Lineage = narrowed(a.Edge.Edge, from/length, to/length, m.along/q.EdgeLength(i))
		return q.soundAfter(old)
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	out.Project, out.Made = next.meanTaken(p, a.Edge, &out), d.ID
	return out, nil
}

// point puts the tip of a dart where it is asked for, and trues its legs.
func (p *Piece) point(d *Dart, length *Length, apex *Vector, out *Outcome) error {
	m, ok := p.mouthAt(d)
	if !ok {
		return fmt.Errorf("the mouth of %s is not on the outline", d.called())
	}
	switch {
	case apex != nil && length != nil:
		return errors.New("give its length or the place of its point, not both")
	case apex != nil:
		back, _ := p.Place.Affine().Invert()
		d.Apex = back.Apply(geom.Point(*apex))
	default:
		long := dartProportion * m.width()
		if length != nil {
			long = float64(*length)
		}
		if !(long >= shortestStretch) {
			return errors.New("a dart without length takes nothing in")
		}
		d.Apex = m.middle().Add(m.square().Mul(long))
	}
	return p.truedDart(d, out)
}

// truedDart trues the legs of a dart whose tip was moved, and reports a tip that cannot
// be.
func (p *Piece) truedDart(d *Dart, out *Outcome) error {
	if by := p.equalLegs(d); by > out.unit.Step() {
		out.say("The legs of %s were made equally long; its mouth points moved by %s along them.", d.called(), out.unit.FormatSmall(by))
	}
	m, _ := p.mouthAt(d)
	if !p.DrawnPath().Contains(d.Apex) {
		return fmt.Errorf("the point of %s would lie outside the piece", d.called())
	}
	for _, at := range [2]geom.Point{m.from, m.to} {
		if err := p.seesInside(at, d.Apex, d.ID); err != nil {
			return fmt.Errorf("%s would not lie inside the piece: from its mouth to its point %w", d.called(), err)
		}
	}
	return nil
}

// dartName returns the name that is given, or one that no other dart of the piece
// bears.
func (p *Piece) dartName(given string, id ID) (string, error) {
	name, err := cleanName(given)
	if err != nil {
		return "", err
	}
	taken := func(n string) bool {
		for i := range p.Darts {
			if p.Darts[i].ID != id && p.Darts[i].Name == n {
				return true
			}
		}
		return false
	}
	if name != "" && taken(name) {
		return "", fmt.Errorf("another dart is called %s already", name)
	}
	if name == "" {
		name = unusedName("dart", taken)
	}
	return name, nil
}

// DeleteDartArgs are the arguments of DeleteDart.
type DeleteDartArgs struct {
	Darts []DartRef `arg:"darts" says:"the darts, pleats or tucks"`
}

// DeleteDart takes darts away; their edges go on across the mouths and get longer by
// them.
var DeleteDart = register(Info{
	Name: "delete-dart", Title: "Take a dart out", Group: groupCutting,
	Says: "Takes darts away; what they took in stays in the edge, which gets longer by it.",
}, func(p *Project, a DeleteDartArgs) (Outcome, error) {
	return dartByDart(p, a.Darts, func(q *Piece, d *Dart, ids *idSource, out *Outcome) error {
		_, lin, err := q.releaseDart(d)
		out.Lineage = lin
		return err
	})
})

// releaseDart takes a dart away and leaves what it took in to the edge. It returns where
// on the edge that lies now, as shares, and what became of the edge.
func (p *Piece) releaseDart(d *Dart) (lies [2]float64, lin Lineage, err error) {
	old := p.clone()
	m, ok := p.mouthAt(d)
	if !ok {
		return lies, nil, fmt.Errorf("the mouth of %s is not on the outline", d.called())
	}
	was, edge := p.EdgeLength(m.edge), p.Edges[m.edge].ID
	after := was - m.along
	if err := p.closeMouth(d); err != nil {
		return lies, nil, err
	}
	now := p.EdgeLength(m.edge)
	if !(now > 0 && was > 0) {
		return lies, nil, fmt.Errorf("edge %s has no length", p.Edges[m.edge].label())
	}
	lies = [2]float64{m.along / now, 1 - after/now}
	return lies, widened(edge, m.along/was, lies[0], lies[1]), p.soundAfter(old)
}

// errNoDart says that an act on darts was given none.
var errNoDart = errors.New("no dart is named")

// dartByDart changes one dart after the other, each as a finished edit.
func dartByDart(p *Project, refs []DartRef, f func(q *Piece, d *Dart, ids *idSource, out *Outcome) error) (Outcome, error) {
	if len(refs) == 0 {
		return Outcome{}, errNoDart
	}
	out := Outcome{unit: p.Unit}
	lineage := Lineage{}
	var order []ID
	done := make(map[DartRef]bool)
	now := p
	for _, r := range refs {
		if done[r] {
			continue
		}
		done[r] = true
		out.Lineage = nil
		ids := now.newIDs()
		next, err := onePiece(now, r.Piece, func(q *Piece) error {
			d, _ := q.Dart(r.Dart)
			if d == nil {
				return fmt.Errorf("dart %s %w", r.Dart, errGone)
			}
			return f(q, d, ids, &out)
		})
		if err != nil {
			return Outcome{}, err
		}
		next.NextID = ids.next
		if len(out.Lineage) > 0 {
			if next, err = followLineage(now, next, out.Lineage); err != nil {
				return Outcome{}, err
			}
			lineage = lineage.then(out.Lineage)
		}
		order, now = append(order, r.Piece), next
	}
	out.Project, out.Lineage, out.followed = now, nil, lineage
	out.subject = p.subject(distinct(order))
	return out, nil
}

// SetDartArgs are the arguments of SetDart. What is nil stays as it is.
type SetDartArgs struct {
	Darts []DartRef `arg:"darts" says:"the darts, pleats or tucks"`
	Name  *string   `arg:"name" says:"the name, of one dart alone"`
	Press *Press    `arg:"press" says:"to which side it is pressed"`
	Fold  *Fold     `arg:"fold" says:"how the cloth of its mouth is taken up"`
}

// SetDart names darts, and says how they are folded and pressed; the cut line across
// the mouth follows.
var SetDart = register(Info{
	Name: "set-dart", Title: "Set a dart", Group: groupCutting,
	Says: "Names a dart, or says how it is folded and to which side it is pressed; the cut line across its mouth follows.",
}, func(p *Project, a SetDartArgs) (Outcome, error) {
	if a.Name != nil && len(a.Darts) > 1 {
		return Outcome{}, errors.New("one name cannot be that of several darts")
	}
	out, err := dartByDart(p, a.Darts, func(q *Piece, d *Dart, _ *idSource, _ *Outcome) error {
		put(&d.Press, a.Press)
		put(&d.Fold, a.Fold)
		if a.Name == nil {
			return nil
		}
		name, err := q.dartName(*a.Name, d.ID)
		d.Name = name
		return err
	})
	return out, err
})
