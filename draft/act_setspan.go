package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// SetSpanArgs are the arguments of SetSpan. What is nil stays as it is.
type SetSpanArgs struct {
	Span    MarkRef     `arg:"span" says:"the span"`
	Measure *MeasureRef `arg:"measure" says:"the measure that it stands for, such as bust_girth"`
	Share   *float64    `arg:"share" says:"which part of the measure it stands for: a quarter of a girth is 25%"`
	Ease    *Length     `arg:"ease" says:"what is meant to be added to that part; without it, where the measure or the share changes, what the stretch has more on the body for which it was made, and of a fitted one that is turned from the hips to a wider belly what follow-belly gives it"`
	Way     *SpanWay    `arg:"way" says:"between points, how it is measured"`
	Name    *string     `arg:"name" says:"what it is called"`
}

// SetSpan changes what a stretch of a piece stands for.
var SetSpan = register(Info{
	Name: "set-span", Title: "Change what a stretch stands for", Group: groupMarks,
	Says: "Changes which measure a stretch stands for, which part of it, with how much ease, how it is measured or what it is called.",
}, setSpan)

func setSpan(p *Project, a SetSpanArgs) (Outcome, error) {
	piece := p.Piece(a.Span.Piece)
	if piece == nil {
		return Outcome{}, fmt.Errorf("piece %s %w", a.Span.Piece, errGone)
	}
	k := slices.IndexFunc(piece.Spans, func(s Span) bool { return s.ID == a.Span.Mark })
	if k < 0 {
		return Outcome{}, fmt.Errorf("%s has no stretch %s", piece.label(), a.Span.Mark)
	}
	was := piece.Spans[k]
	s := was
	if err := s.change(p, a); err != nil {
		return Outcome{}, err
	}
	fitted := p.FitOf(piece) != nil
	said := a.Ease != nil
	// A fitted stretch is as long as the fit made it: what it has more on the body for which
	// it was made, the pattern as it came says.
	if a.Ease == nil && !fitted && (s.Measure != was.Measure || s.Share != was.Share || s.Way != was.Way) {
		slots := NewSlots()
		f := &spanFinder{slots: slots, p: p, bodies: make(map[ID]measureOf)}
		if known, ok := f.old(piece, s.Measure); ok {
			s.Ease = toGrid(slots.SpanLength(piece, s) - s.Share*known.Value)
		}
	}
	if a.Ease == nil && fitted && s.Measure != was.Measure && s.Share == was.Share && s.Way == was.Way {
		if b := NewSlots().turnToBelly(p, SpanRef{piece.ID, s.ID}); b != nil && b.measure == s.Measure {
			s.Ease, said = b.ease, true
		}
	}
	if equalSpans(s, was) {
		return Outcome{}, errors.New("it stands for just that already")
	}
	next, err := onePiece(p, piece.ID, func(q *Piece) error {
		q.Spans[k] = s
		return nil
	})
	out := Outcome{Project: next, Made: s.ID, subject: piece.label()}
	if fitted && said {
		out.easesSaid = []fitPart{{piece.ID, s.ID}}
	}
	return out, err
}

// change takes over what the arguments say.
func (s *Span) change(p *Project, a SetSpanArgs) error {
	if a.Measure != nil {
		name, err := p.measureName(string(*a.Measure))
		if err != nil {
			return fmt.Errorf("the measure: %w", err)
		}
		if s.Measure == "" {
			s.Share = 1
		}
		s.Measure = name
	}
	if s.Measure == "" && (a.Share != nil || a.Ease != nil) {
		return errors.New("it is a dimension line, which stands for no measure; name the measure as well")
	}
	if a.Share != nil {
		if !(*a.Share > 0 && *a.Share <= maxShare) {
			return fmt.Errorf("a stretch cannot stand for %g times a measure", *a.Share)
		}
		s.Share = *a.Share
	}
	if a.Ease != nil {
		if !(math.Abs(float64(*a.Ease)) <= MaxCoordinate) {
			return errors.New("the ease is too much")
		}
		s.Ease = toGrid(float64(*a.Ease))
	}
	if a.Way != nil {
		if *a.Way != Straight && (len(s.Edges) > 0 || len(s.Lines) > 0) {
			return errors.New("what runs along edges or lines is measured along them, and not across or along the grain")
		}
		s.Way = *a.Way
	}
	if a.Name != nil {
		name, err := cleanName(*a.Name)
		if err != nil {
			return err
		}
		s.Name = name
	}
	return nil
}
