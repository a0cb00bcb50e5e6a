package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// PointKind says what a marked point is for.
type PointKind int

const (
	PointDrill     PointKind = iota // pierced or marked through every layer
	PointReinforce                  // sewn over twice
)

var pointKindNames = names[PointKind]{"drill", "reinforce"}

func (k PointKind) String() string               { return pointKindNames.text(k) }
func (k PointKind) MarshalText() ([]byte, error) { return pointKindNames.marshal(k) }

// UnmarshalText reads drill or reinforce.
func (k *PointKind) UnmarshalText(b []byte) error {
	return pointKindNames.unmarshal(k, b, "kind of point")
}

// line returns the kind of line that the point is kept as.
func (k PointKind) line() LineKind {
	if k == PointReinforce {
		return ReinforcePoint
	}
	return DrillPoint
}

// AddMarkArgs are the arguments of AddMark.
type AddMarkArgs struct {
	Piece PieceRef  `arg:"piece" says:"the piece"`
	At    Vector    `arg:"at" says:"where, in mm on the bench"`
	Kind  PointKind `arg:"kind" says:"what the point is for" default:"drill"`
	Name  string    `arg:"name,optional" says:"what it is called"`
}

// AddMark marks a single point inside a piece.
var AddMark = register(Info{
	Name: "add-mark", Title: "Mark a point", Group: groupMarks,
	Says: "Marks a point inside a piece: to drill through, or to sew over twice, as at the end of a slit.",
}, func(p *Project, a AddMarkArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	l := Line{ID: ids.make(kindLine), Name: name, Kind: a.Kind.line(), Nodes: []Node{{ID: ids.make(kindNode)}}}
	out, err := eachPiece(p, []PieceRef{a.Piece}, func(q *Piece) error {
		at, err := q.placeInside(geom.Point(a.At))
		l.Nodes[0].At = at
		q.Lines = append(q.Lines, l)
		return err
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made = l.ID
	out.Project.NextID = ids.next
	return out, nil
})

// placeInside returns a place on the bench in the piece's own millimetres, or an error
// where it lies beside the piece.
func (p *Piece) placeInside(at geom.Point) (geom.Point, error) {
	back, ok := p.Place.Affine().Invert()
	if !ok {
		return at, errors.New("it lies nowhere on the bench")
	}
	q := back.Apply(at)
	if p.DrawnPath().Side(q, Grid) == geom.Outside {
		return q, errors.New("the place lies beside the piece, and not on it")
	}
	return q, nil
}

// AddPlacementArgs are the arguments of AddPlacement.
type AddPlacementArgs struct {
	Edge     EdgeRef       `arg:"edge" says:"the edge that the line keeps its distance from"`
	Distance Length        `arg:"distance" says:"how far inside the edge"`
	From     EdgePlace     `arg:"from" says:"where along the edge it begins" default:"0%"`
	To       EdgePlace     `arg:"to" says:"where it ends" default:"100%"`
	Kind     PlacementKind `arg:"kind" says:"what lies along it" default:"placement"`
	Name     string        `arg:"name,optional" says:"what the line is called"`
}

// PlacementKind says what lies along a line beside an edge.
type PlacementKind int

const (
	AlongPlacement PlacementKind = iota // something is laid, sewn on or folded there
	AlongGathering                      // a row of gathering stitches
	AlongStyle                          // a line to shape by
)

var placementKindNames = names[PlacementKind]{"placement", "gathering", "style"}

func (k PlacementKind) String() string               { return placementKindNames.text(k) }
func (k PlacementKind) MarshalText() ([]byte, error) { return placementKindNames.marshal(k) }

// UnmarshalText reads one of placement, gathering, style.
func (k *PlacementKind) UnmarshalText(b []byte) error {
	return placementKindNames.unmarshal(k, b, "kind of line")
}

func (k PlacementKind) line() LineKind {
	return [...]LineKind{PlacementLine, GatheringLine, StyleLine}[k]
}

// AddPlacement draws a line inside a piece that keeps one distance from an edge.
var AddPlacement = register(Info{
	Name: "add-placement", Title: "Draw a line along an edge", Group: groupMarks,
	Says: "Draws a line inside a piece at one distance from an edge: where a trimming lies, a row of stitches, a tuck.",
}, func(p *Project, a AddPlacementArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	l := Line{ID: ids.make(kindLine), Name: name, Kind: a.Kind.line()}
	out, err := byEdge(p, []EdgeRef{a.Edge}, func(q *Piece, i int) error {
		path, err := q.lineBeside(i, a.From, a.To, float64(a.Distance), p.Unit)
		if err != nil {
			return err
		}
		l.runAlong(path, ids)
		q.Lines = append(q.Lines, l)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made = l.ID
	out.Project.NextID = ids.next
	return out, nil
})

// DeleteMarkArgs are the arguments of DeleteMark.
type DeleteMarkArgs struct {
	Marks []MarkRef `arg:"marks" says:"the marks"`
}

// DeleteMark takes marks away: notches, stretches, lines, points, rows and lengths.
var DeleteMark = register(Info{
	Name: "delete-mark", Title: "Delete marks", Group: groupMarks,
	Says: "Takes marks away: notches, stretches, lines and points inside a piece, rows of fastenings, lengths.",
}, func(p *Project, a DeleteMarkArgs) (Outcome, error) {
	var said Outcome
	next, ids, err := byPiece(p, a.Marks, func(r MarkRef) ID { return r.Piece }, "mark", func(q *Piece, refs []MarkRef) error {
		done := make(map[ID]bool)
		// Lengths first: a line stays as long as one is measured along it.
		for _, lengths := range [...]bool{true, false} {
			for _, r := range refs {
				isLength := slices.ContainsFunc(q.Spans, func(s Span) bool { return s.ID == r.Mark })
				if done[r.Mark] || isLength != lengths {
					continue
				}
				done[r.Mark] = true
				if err := q.deleteMark(r.Mark, &said); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	notches := make([]NotchRef, len(a.Marks))
	for i, r := range a.Marks {
		notches[i] = NotchRef{r.Piece, r.Mark}
	}
	return Outcome{Project: next.dropMarksOf(p, notches), subject: p.subject(ids), Says: said.Says}, nil
})

func (p *Piece) deleteMark(id ID, out *Outcome) error {
	if k := p.notchIndex(id); k >= 0 {
		p.Notches = slices.Delete(p.Notches, k, k+1)
		return nil
	}
	if k := p.stretchIndex(id); k >= 0 {
		p.Stretches = slices.Delete(p.Stretches, k, k+1)
		return nil
	}
	for k, s := range p.Spans {
		if s.ID != id {
			continue
		}
		if s.Measure != "" {
			out.say("%s is no longer held against the wearer's measure where %s was.", p.label(), labelOf(s.Name, s.ID))
		}
		p.Spans = slices.Delete(p.Spans, k, k+1)
		return nil
	}
	if p.Line(id) != nil {
		return p.deleteLine(id)
	}
	return fmt.Errorf("the mark %s %w", id, errGone)
}
