package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// SetLineArgs are the arguments of SetLine. What is nil stays as it is.
type SetLineArgs struct {
	Line   LineRef   `arg:"line" says:"the line"`
	Kind   *LineKind `arg:"kind" says:"what the line is for"`
	Name   *string   `arg:"name" says:"what the line is called"`
	Closed *bool     `arg:"closed" says:"whether its end leads back to its start"`
}

// SetLine says what a line inside a piece is for, what it is called, and whether it is
// closed.
var SetLine = register(Info{
	Name: "set-line", Title: "Set a line", Group: groupDrawing,
	Says: "Says what a line inside a piece is for, what it is called, and whether it is closed.",
}, func(p *Project, a SetLineArgs) (Outcome, error) {
	next, _, err := byPiece(p, []LineRef{a.Line}, pieceOfLine, "line", func(q *Piece, _ []LineRef) error {
		j := q.lineIndex(a.Line.Line)
		if j < 0 {
			return fmt.Errorf("line %s %w", a.Line.Line, errGone)
		}
		return q.setLine(j, a)
	})
	return Outcome{Project: next, subject: p.subject([]ID{a.Line.Piece})}, err
})

func (p *Piece) setLine(j int, a SetLineArgs) error {
	l := &p.Lines[j]
	if a.Name != nil {
		name, err := neededName(*a.Name)
		if err != nil {
			return err
		}
		if name != l.Name && p.hasLineName(name) {
			return fmt.Errorf("another line is called %s already", name)
		}
		l.Name = name
	}
	if a.Closed != nil && *a.Closed != l.Closed {
		if err := l.setClosed(*a.Closed); err != nil {
			return err
		}
	}
	kind := l.Kind
	if a.Kind != nil {
		kind = *a.Kind
	}
	return l.become(kind)
}

// setClosed leads the end of the line straight back to its start, or takes the stretch
// that does so away.
func (l *Line) setClosed(closed bool) error {
	n := len(l.Nodes)
	first, last := &l.Nodes[0], &l.Nodes[n-1]
	if n < 2 {
		return errors.New("a single place cannot be closed, nor opened")
	}
	l.Closed = closed
	if !closed {
		first.In, last.Out = geom.Point{}, geom.Point{}
		first.Smooth, last.Smooth = false, false
		return nil
	}
	if n == 2 && segment(*first, *last).Straight {
		return errors.New("a straight line of two points would lie on itself")
	}
	return nil
}

// deleteLine takes a line away that nothing is measured along.
func (p *Piece) deleteLine(id ID) error {
	j := p.lineIndex(id)
	if j < 0 {
		return fmt.Errorf("line %s %w", id, errGone)
	}
	l := &p.Lines[j]
	for _, s := range p.Spans {
		if slices.Contains(s.Lines, id) {
			return fmt.Errorf("the length %s is measured along line %s, which stays as long as that does", labelOf(s.Name, s.ID), l.label())
		}
	}
	for k := range l.Nodes {
		if err := p.isFree(l.Nodes[k].ID); err != nil {
			return err
		}
	}
	p.Lines = slices.Delete(p.Lines, j, j+1)
	return nil
}
