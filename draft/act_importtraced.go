package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// TracedOutline is an outline that was followed in a picture, in mm on the bench, with
// what is drawn inside it.
type TracedOutline struct {
	Outline
	Lines []TracedLine
	// Notches are places on the outline at which a notch is drawn. Each becomes a notch at
	// the nearest place of the stitching line: of a cut line, square inside it.
	Notches []geom.Point
	// Grain, where not nil, is the grain line that is drawn inside; else the piece has the
	// usual one.
	Grain *Grain
}

// TracedLine is a line inside a traced outline.
type TracedLine struct {
	Path geom.Path
	Kind LineKind
	Name string
}

// ImportTracedArgs are the arguments of ImportTraced.
type ImportTracedArgs struct {
	Outlines []TracedOutline
	// Line is what the outlines are. Of cut lines Allowance is what lies inside them, of
	// stitching lines what is added outside; it is in mm, 0 or more.
	Line      DrawnLine
	Allowance float64
	// Name, Size and Measures say where the pattern came from and for whom it was made.
	Name, Size string
	Measures   []OriginMeasure
}

// ImportTraced makes a piece of each outline, in order, where it lies: over the ink that
// was followed. They note where they came from. It is not listed: outlines come from a
// picture, not from text.
var ImportTraced = newAct(Info{
	Name: "import-traced", Title: "Trace a picture", Group: groupPieces,
	Says: "Makes pieces of the outlines that were followed in a picture.",
}, importTraced)

func importTraced(p *Project, a ImportTracedArgs) (Outcome, error) {
	if len(a.Outlines) == 0 {
		return Outcome{}, errors.New("nothing was traced")
	}
	if !(a.Allowance >= 0 && a.Allowance <= MaxAllowance) {
		return Outcome{}, outOfAllowances(a.Allowance, p.Unit)
	}
	nodes := p.nodeCount()
	for _, o := range a.Outlines {
		nodes += len(o.Path) + len(o.Notches)
		for _, l := range o.Lines {
			nodes += len(l.Path) + 1
		}
	}
	if nodes > MaxNodes {
		return Outcome{}, fmt.Errorf("the project would have %d points; at most %d fit", nodes, MaxNodes)
	}
	origin, err := a.origin()
	if err != nil {
		return Outcome{}, err
	}
	imp := newImporter(p, ImportOutlinesArgs{Line: a.Line, Allowance: a.Allowance})
	imp.stays = true
	askew, known := a.lean()
	origin.ID = imp.ids.make(kindOrigin)
	for i, o := range a.Outlines {
		if err := imp.add(i, o.Outline); err != nil {
			return Outcome{}, err
		}
		made := imp.out.Project.Pieces[len(imp.out.Project.Pieces)-1]
		made.Origin = origin.ID
		if known && made.Grain != nil {
			made.Grain = grainAlong(made.DrawnPath(), upright+askew)
		}
		if err := made.addAllTraced(o, imp.ids); err != nil {
			return Outcome{}, fmt.Errorf("piece %s: %w", made.Name, err)
		}
	}
	imp.out.Project.Origins = append(append([]*Origin(nil), p.Origins...), origin)
	imp.out.Project.NextID = imp.ids.next
	imp.out.subject = imp.out.Project.subject(imp.made)
	imp.out.Made = imp.made[0]
	if known && math.Abs(askew) >= leastLean {
		imp.out.say("The grain lines lean by %.1f°, as the sheet lay: “Turn by the grain” sets the pieces straight for printing.", math.Abs(askew)*180/math.Pi)
	}
	return imp.out, nil
}

// origin returns where the pieces came from, without an id.
func (a ImportTracedArgs) origin() (*Origin, error) {
	from := SetOriginArgs{Name: a.Name, Size: a.Size, Line: a.Line, Measures: a.Measures}
	if a.Line == CutDrawn { // else it is added, and none was there
		from.Allowance = Length(a.Allowance)
	}
	return newOrigin(from)
}

// lean returns by how much the sheet lay askew, as the grain lines on it tell. Pieces that have
// none get theirs along it.
func (a ImportTracedArgs) lean() (radians float64, known bool) {
	var along []geom.Point
	for _, o := range a.Outlines {
		if o.Grain != nil {
			along = append(along, o.Grain.To.Sub(o.Grain.From))
		}
	}
	return sheetLean(along)
}

// addAllTraced adds what was traced inside an outline to the piece that was made of it.
func (p *Piece) addAllTraced(o TracedOutline, ids *idSource) error {
	if o.Grain != nil {
		p.Grain = o.Grain
	}
	for _, at := range o.Notches {
		p.addTracedNotch(at, ids)
	}
	for _, l := range o.Lines {
		if err := p.addTraced(l, ids); err != nil {
			return err
		}
	}
	return nil
}

// addTraced adds a line inside the piece.
func (p *Piece) addTraced(t TracedLine, ids *idSource) error {
	name, err := cleanName(t.Name)
	if err != nil {
		return err
	}
	if name == "" {
		name = lineNames[t.Kind]
	}
	l := Line{ID: ids.make(kindLine), Name: unusedName(name, p.hasLineName)}
	l.runAlong(t.Path, ids)
	if err := l.become(t.Kind); err != nil {
		return fmt.Errorf("line %s: %w", l.Name, err)
	}
	p.Lines = append(p.Lines, l)
	return nil
}

// addTracedNotch adds a notch at the place of the stitching line that is nearest to one.
func (p *Piece) addTracedNotch(at geom.Point, ids *idSource) {
	best, edge, near := math.Inf(1), 0, geom.Place{}
	for i := range p.Edges {
		if place, d := p.EdgePath(i).Nearest(at); d < best {
			best, edge, near = d, i, place
		}
	}
	along := p.EdgePath(edge).Part(geom.Place{}, near).Length()
	p.Notches = append(p.Notches, Notch{ID: ids.make(kindNotch), Edge: p.Edges[edge].ID, At: toGrid(min(along, p.EdgeLength(edge)))})
}
