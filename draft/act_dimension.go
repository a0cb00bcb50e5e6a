package draft

import (
	"errors"
	"fmt"
)

// AddDimensionArgs are the arguments of AddDimension.
type AddDimensionArgs struct {
	From  *NodeRef  `arg:"from" says:"the point from which it runs straight"`
	To    *NodeRef  `arg:"to" says:"the point to which it runs"`
	Edges []EdgeRef `arg:"edges,optional" says:"in place of points, the edges of one piece whose length it shows"`
	Lines []LineRef `arg:"lines,optional" says:"or the lines inside a piece"`
	Name  string    `arg:"name,optional" says:"what the length is called"`
	Way   SpanWay   `arg:"way" says:"between points, how it is measured: straight, or only its part along or across the grain" default:"straight"`
}

// AddDimension draws a dimension line: it shows a length of a piece as it is.
var AddDimension = register(Info{
	Name: "add-dimension", Title: "Add a dimension line", Group: groupMarks,
	Says: "Shows how long something is, between two points or along edges, and goes on showing it as the shape changes.",
}, func(p *Project, a AddDimensionArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	return p.addSpan(Span{Name: name}, a, errors.New("there is a dimension line of this already"))
})

// addSpan adds the span over the stretch that is meant; twice is the error where that
// stretch has one for the same measure already.
func (p *Project) addSpan(s Span, over AddDimensionArgs, twice error) (Outcome, error) {
	piece, err := s.measuring(over)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	s.ID = ids.make(kindSpan)
	out := Outcome{Made: s.ID, subject: p.subject([]ID{piece})}
	out.Project, err = onePiece(p, piece, func(q *Piece) error {
		if err := q.measurable(s); err != nil {
			return fmt.Errorf("it %w", err)
		}
		for _, o := range q.Spans {
			alike := Span{Name: o.Name, Measure: s.Measure, Share: o.Share, Ease: o.Ease, Edges: s.Edges, Lines: s.Lines, From: s.From, To: s.To, Way: s.Way}
			if equalSpans(alike, o) {
				return twice
			}
		}
		q.Spans = append(q.Spans, s)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Project.NextID = ids.next
	return out, nil
}

// measuring sets what the span measures and returns the piece that it lies on.
func (s *Span) measuring(a AddDimensionArgs) (ID, error) {
	points := a.From != nil || a.To != nil
	ways := 0
	for _, is := range [...]bool{points, len(a.Edges) > 0, len(a.Lines) > 0} {
		if is {
			ways++
		}
	}
	if !points && a.Way != Straight {
		return "", errors.New("only a stretch between two points is measured along or across the grain")
	}
	if ways != 1 {
		return "", errors.New("it runs between two points, along edges or along lines; give one of the three")
	}
	var pieces []ID
	switch {
	case points:
		if a.From == nil || a.To == nil {
			return "", errors.New("it needs two points")
		}
		if *a.From == *a.To {
			return "", errors.New("it needs two different points")
		}
		s.From, s.To, s.Way = a.From.Node, a.To.Node, a.Way
		pieces = []ID{a.From.Piece, a.To.Piece}
	case len(a.Edges) > 0:
		for _, e := range a.Edges {
			s.Edges, pieces = append(s.Edges, e.Edge), append(pieces, e.Piece)
		}
		s.Edges = distinct(s.Edges)
	default:
		for _, l := range a.Lines {
			s.Lines, pieces = append(s.Lines, l.Line), append(pieces, l.Piece)
		}
		s.Lines = distinct(s.Lines)
	}
	for _, id := range pieces {
		if id != pieces[0] {
			return "", errors.New("what it measures lies on one piece")
		}
	}
	return pieces[0], nil
}
