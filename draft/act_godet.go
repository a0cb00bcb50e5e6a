package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// GodetShape says how a godet ends at the hem.
type GodetShape int

const (
	GodetWedge GodetShape = iota // straight from side to side
	GodetRound                   // a part of a circle about its point
)

var godetShapeNames = names[GodetShape]{"wedge", "part circle"}

func (s GodetShape) String() string               { return godetShapeNames.text(s) }
func (s GodetShape) MarshalText() ([]byte, error) { return godetShapeNames.marshal(s) }

// UnmarshalText reads wedge or part circle.
func (s *GodetShape) UnmarshalText(b []byte) error {
	return godetShapeNames.unmarshal(s, b, "shape of a godet")
}

// InsertGodetArgs are the arguments of InsertGodet.
type InsertGodetArgs struct {
	At        PlaceRef   `arg:"at" says:"the place on the edge, mostly a hem, from which it is slit; on a sewn edge, or beside one at the hem, it is set into the seam, up to the place"`
	Depth     *Length    `arg:"depth" says:"how deep the slit is, square to the edge; without it, half of the piece there"`
	To        *Vector    `arg:"to" says:"in place of a depth, the point of the slit, in mm on the bench"`
	Shape     GodetShape `arg:"shape" says:"whether it ends straight or in a part of a circle" default:"part circle"`
	Width     *Length    `arg:"width" says:"how wide it is at the edge; without it, two thirds of its depth"`
	Angle     *Angle     `arg:"angle" says:"in place of a width, how far a part circle opens: 90 is a quarter"`
	Allowance *Length    `arg:"allowance" says:"the allowance along the slit, which tapers to 1 mm at its point; without it, that of the piece's seams"`
	Seam      *SeamRef   `arg:"seam" says:"where the edge is sewn in several seams, the only one that gets a godet; without it, each does"`
	Name      string     `arg:"name,optional" says:"what the godet is called"`
}

// InsertGodet slits a piece from an edge and lets a godet into the slit, or sets it into a
// seam that ends at such an edge. The seams between them are recorded and hold.
var InsertGodet = register(Info{
	Name: "insert-godet", Title: "Let in a godet", Group: groupCutting,
	Says: "Lets a wedge or a part of a circle that widens a hem into a slit, or into a seam that ends there; the new piece and its seams are made.",
}, insertGodet)

// widestGodet is how far a part of a circle may open, in radians: a little less than all
// the way round.
const widestGodet = 11. / 6 * math.Pi

func insertGodet(p *Project, a InsertGodetArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	panel, at, err := p.placeOn(a.At)
	if err != nil {
		return Outcome{}, err
	}
	edge := EdgeRef{a.At.Piece, a.At.Edge}
	if p.sewnIn(edge.Piece, edge.Edge) != nil {
		return p.setInSeam(a, name, edge, at)
	}
	if beside := p.seamBeside(panel, at, a.Allowance); beside != nil {
		return p.setInSeam(a, name, *beside, panel.endBeside(beside.Edge, at.edge))
	}
	if a.Seam != nil {
		return Outcome{}, errors.New("this edge is sewn in no seam")
	}
	ids := p.newIDs()
	q := panel.clone()
	plan := slitPlan{at: at}
	if plan.width, err = q.slitWidth(a.Allowance); err != nil {
		return Outcome{}, err
	}
	if plan.depth, plan.to, err = q.slitTo(at, a.Depth, a.To); err != nil {
		return Outcome{}, err
	}
	hem := q.Edges[at.edge]
	s, err := q.slitOpen(plan, p.Unit, ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", panel.label(), err)
	}
	up, down := q.slitSides(s)
	shape, err := godetShape(up, down, a, p.Unit)
	if err != nil {
		return Outcome{}, err
	}
	if name == "" {
		name = "Godet"
	}
	godet := q.newPiece(p.unusedPieceName(name), ids)
	left, right := godet.godetOutline(shape, a.Shape, hem, s.share, plan.width, ids)

	out := Outcome{Project: p.withPiece(q), Lineage: s.lin, Made: godet.ID, subject: p.subject([]ID{panel.ID})}
	out.Project.takeIn(godet)
	out.sewIn(ids, q, s, godet, left, right)
	out.sayLetIn(q, godet, shape, plan.width, p.Unit)
	out.settle(q)
	out.freeSpans(q, s)
	out.Project.dropIdle(p)
	out.Project.NextID = ids.next
	return out, nil
}

// slitTo returns how deep a slit goes, or to which point.
func (p *Piece) slitTo(at outlinePlace, depth *Length, to *Vector) (float64, *geom.Point, error) {
	switch {
	case depth != nil && to != nil:
		return 0, nil, errors.New("a slit goes to a depth or to a point; give one of the two")
	case depth != nil:
		return float64(*depth), nil, nil
	case to == nil:
		return p.deepAt(at) / 2, nil, nil
	}
	tip, err := p.innerPoint(to)
	if err != nil {
		return 0, nil, err
	}
	return tip.Dist(p.slitPlace(at).at), tip, nil
}

// deepAt returns how far the piece reaches in from a place on its outline, square to it,
// in mm; 0 where it does not.
func (p *Piece) deepAt(at outlinePlace) float64 {
	foot := p.slitPlace(at)
	outline := p.DrawnPath()
	box := outline.Bounds()
	across := geom.Path{geom.Line(foot.at, foot.at.Sub(foot.out.Mul(2*(box.W()+box.H()))))}
	tape, least := across.Tape(), 0.0
	for _, m := range across.Intersections(outline) {
		if d := tape.To(m.A); d > placeReach && (least == 0 || d < least) {
			least = d
		}
	}
	return least
}

// slitSides returns the lengths of the two sides of a slit in mm.
func (p *Piece) slitSides(s slit) (up, down float64) {
	return p.EdgeLength(p.indexOf(s.up)), p.EdgeLength(p.indexOf(s.down))
}

// godetShape returns the godet that fits between sides of two lengths.
func godetShape(up, down float64, a InsertGodetArgs, unit Unit) (letIn, error) {
	side := (up + down) / 2
	width := 2. / 3 * side
	if a.Width != nil {
		width = float64(*a.Width)
	}
	if a.Angle != nil && (a.Shape == GodetWedge || a.Width != nil) {
		return letIn{}, errors.New("an angle is that of a part circle without a width")
	}
	if !(width > 0) {
		return letIn{}, errors.New("a godet is wider than nothing")
	}
	if a.Shape == GodetWedge {
		shape, ok := opened(up, down, width)
		if !ok {
			return letIn{}, fmt.Errorf("a wedge with sides of %s cannot be %s wide; a part circle can", unit.Format(side), unit.Format(width))
		}
		return shape, nil
	}
	angle := width / side
	if a.Angle != nil {
		angle = float64(*a.Angle)
	}
	if !(angle > 0 && angle <= widestGodet) {
		return letIn{}, fmt.Errorf("a godet with sides of %s opens to less than a whole circle, which is %s wide", unit.Format(side), unit.Format(2*math.Pi*side))
	}
	return letIn{up, down, angle}, nil
}

// godetOutline draws the godet and returns its two sides. The left one lies beside the
// side of the slit that leads to its point.
func (p *Piece) godetOutline(shape letIn, how GodetShape, hem Edge, share, width float64, ids *idSource) (left, right ID) {
	e := Edge{Name: hem.Name, Kind: hem.Kind, Allowance: Even(hem.widthAt(share))}
	e.Allowance.TrimTo = hem.Allowance.TrimTo
	corner := Mitre
	if e.turned() {
		corner = TurnedBack
	}
	e.Corner = corner
	if e.Name == "left" || e.Name == "right" || e.Name == "" {
		e.Name = "hem"
	}
	line := geom.Path{geom.Line(shape.foot(-1), shape.foot(1))}
	if how == GodetRound {
		line = shape.arc()
	}
	p.addEdge(e, line, ids)
	right = p.addEdge(Edge{Name: "right", Allowance: Even(width), Corner: corner}, geom.Path{geom.Line(shape.foot(1), geom.Point{})}, ids)
	left = p.addEdge(Edge{Name: "left", Allowance: Even(width)}, geom.Path{geom.Line(geom.Point{}, shape.foot(-1))}, ids)
	p.closeOutline()
	long := math.Min(shape.left, shape.right)
	p.Grain = &Grain{From: geom.Pt(0, -0.75*long), To: geom.Pt(0, -0.25*long)}
	return left, right
}

// sewIn records the two seams between a slit and what is let into it.
func (o *Outcome) sewIn(ids *idSource, panel *Piece, s slit, in *Piece, left, right ID) {
	for _, of := range [...]struct {
		slit, in ID
		name     string
	}{{s.up, left, "left"}, {s.down, right, "right"}} {
		b := drawnRun(in.ID, of.in)
		b[0].Reversed = true
		o.Project.sew(ids, drawnRun(panel.ID, of.slit), b, in.Name+", "+of.name, 1, Plain)
	}
}

// leastGusset is the side in mm below which a gusset can hardly be turned through its
// corners (common practice, no source).
const leastGusset = 10

// sayLetIn tells what was made and what to heed.
func (o *Outcome) sayLetIn(panel, in *Piece, shape letIn, width float64, unit Unit) {
	side := math.Min(shape.left, shape.right)
	o.say("%s is made, with sides of %s; its seams with %s are recorded.", in.label(), unit.Format(side), panel.label())
	switch {
	case side < leastGusset:
		o.say("Sides of %s are hard to sew in; below %s sew by hand, or widen the piece itself.", unit.Format(side), unit.Format(leastGusset))
	case width < sealBelow:
		o.say("The allowance along the slit is %s: seal its edges before slitting.", unit.Format(width))
	}
	o.say("Stitch round the end of the slit before slitting, and slit to 1 mm before it.")
}
