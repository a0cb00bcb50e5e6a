package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// MoveDartArgs are the arguments of MoveDart. What is nil stays as it is.
type MoveDartArgs struct {
	Dart   DartRef    `arg:"dart" says:"the dart, pleat or tuck"`
	Apex   *Vector    `arg:"apex" says:"where its point lies on the bench"`
	At     *EdgePlace `arg:"at" says:"where along its edge, as it is sewn, the mouth closes; the point moves along"`
	Intake *Length    `arg:"intake" says:"how much it takes in: the width of its mouth along the edge"`
	Length *Length    `arg:"length" says:"how long it is, in the way it points"`
}

// MoveDart moves the point of a dart, or its mouth along the edge, or makes it wider,
// narrower, longer, shorter. The line of the edge stays; the legs are made equally long.
var MoveDart = register(Info{
	Name: "move-dart", Title: "Move a dart", Group: groupCutting,
	Says: "Moves the point or the mouth of a dart, or makes it wider, narrower, longer or shorter.",
}, moveDart)

func moveDart(p *Project, a MoveDartArgs) (Outcome, error) {
	if a.Apex != nil && a.Length != nil {
		return Outcome{}, errors.New("give its length or the place of its point, not both")
	}
	out := Outcome{unit: p.Unit, Made: a.Dart.Dart, subject: p.subject([]ID{a.Dart.Piece})}
	ids := p.newIDs()
	var edge ID
	next, err := onePiece(p, a.Dart.Piece, func(q *Piece) error {
		d, _ := q.Dart(a.Dart.Dart)
		if d == nil {
			return fmt.Errorf("dart %s %w", a.Dart.Dart, errGone)
		}
		old := q.clone()
		if a.At != nil || a.Intake != nil {
			edge = d.Edge
			lin, err := q.shiftMouth(d, a.At, a.Intake, p.Unit, ids)
			if err != nil {
				return err
			}
			out.Lineage = lin
		}
		if err := q.aim(d, a, &out); err != nil {
			return err
		}
		return q.soundAfter(old)
	})
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = ids.next
	if a.Intake != nil {
		next = next.meanTaken(p, EdgeRef{a.Dart.Piece, edge}, &out)
	}
	out.Project = next
	return out, nil
}

// aim moves the tip of a dart as it is asked for, and trues the legs of one that has a
// tip.
func (p *Piece) aim(d *Dart, a MoveDartArgs, out *Outcome) error {
	m, ok := p.mouthAt(d)
	if !ok {
		return fmt.Errorf("the mouth of %s is not on the outline", d.called())
	}
	switch {
	case a.Apex != nil:
		back, _ := p.Place.Affine().Invert()
		d.Apex = back.Apply(geom.Point(*a.Apex))
		if d.Fold != Wedge { // folds run square to the mouth
			d.Apex = m.middle().Add(m.square().Mul(d.Apex.Sub(m.middle()).Dot(m.square())))
		}
	case a.Length != nil:
		if !(float64(*a.Length) >= shortestStretch) {
			return errors.New("a dart without length takes nothing in")
		}
		way := d.Apex.Sub(m.middle()).Unit()
		if way == (geom.Point{}) || d.Fold != Wedge {
			way = m.square()
		}
		d.Apex = m.middle().Add(way.Mul(float64(*a.Length)))
	}
	return p.truedDart(d, out)
}

// shiftMouth moves the mouth of a dart along its edge, or changes its width about its
// middle, and returns what becomes of the edge. The tip keeps its place in the frame of
// the mouth.
func (p *Piece) shiftMouth(d *Dart, at *EdgePlace, intake *Length, unit Unit, ids *idSource) (Lineage, error) {
	m, ok := p.mouthAt(d)
	if !ok {
		return nil, fmt.Errorf("the mouth of %s is not on the outline", d.called())
	}
	was, width := p.EdgeLength(m.edge), m.width()
	closes, wide := m.along, width
	if at != nil {
		var err error
		if closes, err = at.along(p, m.edge, unit); err != nil {
			return nil, err
		}
	}
	if intake != nil {
		wide = float64(*intake)
		if at == nil { // about its middle
			closes += (width - wide) / 2
		} else { // the edge is shorter or longer by what is taken in
			closes = min(closes, was+width-wide)
		}
	}
	moved := *d
	if err := p.reopen(d, m, closes, closes+wide, ids); err != nil {
		return nil, err
	}
	d, _ = p.Dart(moved.ID)
	n, _ := p.mouthAt(d)
	if at != nil {
		t, _ := turnFrom(m.to.Sub(m.from), n.to.Sub(n.from))
		d.Apex = n.middle().Add(t.of(moved.Apex.Sub(m.middle())))
	} else {
		d.Apex = moved.Apex
	}
	// From the edge as it was to the edge with the mouth as a part of it, and from there
	// to the edge as it is.
	whole := was + width
	now := p.EdgeLength(m.edge)
	if !(whole > 0 && now > 0 && was > 0) {
		return nil, fmt.Errorf("edge %s has no length", p.Edges[m.edge].label())
	}
	return shifted(p.Edges[m.edge].ID, span2{m.along, m.along + width}, span2{closes, closes + wide}, whole, now), nil
}

// span2 is a stretch of an edge in mm from its start.
type span2 struct{ from, to float64 }

// shifted is the lineage of an edge on which the mouth was one stretch and is another;
// both are measured on the edge with its mouth, which is whole mm long, now without.
func shifted(edge ID, was, is span2, whole, now float64) Lineage {
	old := whole - (was.to - was.from)
	// The ends of what lies between the mouths and inside them, in order.
	cuts := []float64{0, was.from, was.to, is.from, is.to, whole}
	for i := range cuts {
		for k := i; k > 0 && cuts[k] < cuts[k-1]; k-- {
			cuts[k], cuts[k-1] = cuts[k-1], cuts[k]
		}
	}
	before := func(m span2, x, length float64) float64 {
		return min(max((x-max(min(x, m.to)-m.from, 0))/length, 0), 1)
	}
	var heirs []Heir
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < Grid {
			continue
		}
		h := Heir{Edge: edge, Old0: before(was, cuts[i-1], old), New0: before(is, cuts[i-1], now)}
		if n := len(heirs); n > 0 {
			h.Old0, h.New0 = heirs[n-1].Old1, heirs[n-1].New1
		}
		h.Old1, h.New1 = max(h.Old0, before(was, cuts[i], old)), max(h.New0, before(is, cuts[i], now))
		heirs = append(heirs, h)
	}
	if len(heirs) == 0 {
		return nil
	}
	heirs[0].Old0, heirs[0].New0 = 0, 0
	heirs[len(heirs)-1].Old1, heirs[len(heirs)-1].New1 = 1, 1
	return Lineage{edge: heirs}
}

// reopen closes the mouth of a dart with a straight line and opens it from a to b on
// the edge so made, in mm; its nodes keep their ids.
func (p *Piece) reopen(d *Dart, m mouth, a, b float64, ids *idSource) error {
	if m.node == 0 || m.node+1 == len(p.Edges[m.edge].Nodes) {
		return errors.New("its mouth begins at a corner; pivot the dart instead")
	}
	kept := *d
	for _, o := range p.Darts {
		if o.ID != d.ID && (o.From == d.To || o.To == d.From) {
			return fmt.Errorf("%s opens right beside it, and the two share a point", o.label())
		}
	}
	from, to := ids.make(kindNode), ids.make(kindNode)
	others := make([]Dart, 0, len(p.Darts))
	for _, o := range p.Darts {
		if o.ID != d.ID {
			others = append(others, o)
		}
	}
	p.nodeAt(m.edge, m.node).ID, p.nodeAt(m.edge, m.node+1).ID = from, to
	all := p.Darts
	p.Darts = others
	e := &p.Edges[m.edge]
	a1, b1, err := p.openMouth(m.edge, a, b, ids.make(kindNode), ids.make(kindNode))
	if err != nil {
		return err
	}
	for _, id := range [2]ID{a1, b1} { // else it would be another's
		if err := p.isFree(id); err != nil {
			return err
		}
	}
	e.Nodes[e.index(a1)].ID, e.Nodes[e.index(b1)].ID = kept.From, kept.To
	p.Darts = all
	for _, id := range [2]ID{from, to} {
		p.dropFlat(m.edge, p.Edges[m.edge].index(id))
	}
	return nil
}
