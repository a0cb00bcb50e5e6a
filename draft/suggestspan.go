package draft

import "slices"

// SpanSuggestion is a span that nobody has recorded and that a piece seems to ask for.
type SpanSuggestion struct {
	Piece *Piece
	// Span is as it would be recorded, with the id that it would get in this project. Its
	// ease is what the stretch measures more than its share of the measure of the body for
	// which the pattern was made, 0 where nothing is known of that body.
	Span Span
	// Line is the line across the piece that has to be drawn first, since nothing lies at
	// that level; nil where the span needs none. Several suggestions may share one.
	Line *Line
	// Length is what the stretch measures in mm.
	Length float64
	// Old is the measure in mm of the body for which the pattern was made; Known is false
	// where nothing is known of it, and Estimated says that it was worked out from others.
	Old              float64
	Known, Estimated bool
	// Why says in a few words what speaks for it, Sure from above 0 to 1 how much does.
	Why  string
	Sure float64
}

// Key names the suggestion among all of its project: by its piece and the name of the span.
func (g SpanSuggestion) Key() string { return string(g.Piece.ID) + "/" + g.Span.Name }

// SuggestSpans returns the spans that the named pieces ask for, those of every piece of
// the pattern where none is named: which stretches stand for which measures of the body,
// and for which share. What a piece has a span for already is left out. They are in the
// order of the pieces; all of one piece go from the neck down.
func (s *Slots) SuggestSpans(p *Project, pieces []ID) []SpanSuggestion {
	p = s.patternOf(p)
	all := slotOf(s, "suggested spans", "", slotInputs{p}, func() []SpanSuggestion { return s.findSpans(p) })
	if len(pieces) == 0 {
		return all
	}
	var out []SpanSuggestion
	for _, g := range all {
		if slices.Contains(pieces, g.Piece.ID) {
			out = append(out, g)
		}
	}
	return out
}

func (s *Slots) findSpans(p *Project) []SpanSuggestion { return nil }
