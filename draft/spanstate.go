package draft

import "hemlet/draft/body"

// SpanState is what a span measures against the wearer's measure.
type SpanState struct {
	Piece  *Piece
	Span   Span
	Length float64
	// Wants is the share of the wearer's measure with the span's ease, in mm; Known is
	// false where nothing is known of the measure, and Estimated says that it was
	// worked out from others.
	Wants            float64
	Known, Estimated bool
	// Wearer is whose measure it is, empty where the project has no wearer.
	Wearer ID
}

// SpanStates returns the state of every span that stands for a measure, in order. A piece of a
// block is measured against the wearer that the block was drafted for, any other
// against the project's first.
func (s *Slots) SpanStates(p *Project) []SpanState {
	var out []SpanState
	for _, piece := range p.Pieces {
		if len(piece.Spans) == 0 {
			continue
		}
		wearer, measure := s.measuresFor(p, piece)
		for _, span := range piece.Spans {
			if span.Measure == "" {
				continue // a dimension line, which stands for nothing
			}
			state := SpanState{Piece: piece, Span: span, Length: s.SpanLength(piece, span), Wearer: wearer}
			if m, ok := measure(span.Measure); ok {
				state.Wants, state.Known, state.Estimated = m.Value*span.Share+span.Ease, true, m.Estimated
			}
			out = append(out, state)
		}
	}
	return out
}

// measuresFor returns the wearer for whom a piece is made, and what finds a measure
// of it, estimated where it was not taken.
func (s *Slots) measuresFor(p *Project, piece *Piece) (ID, func(string) (body.Known, bool)) {
	var w *Wearer
	var used *drafted
	if piece.Derived != nil {
		if d := p.Derivation(piece.Derived.Derivation); d != nil {
			if w = p.WearerOf(d); d.Kind == blockKind {
				used = s.drafted(p, d)
			}
		}
	}
	if w == nil && len(p.Wearers) > 0 {
		w = p.Wearers[0]
	}
	if w == nil {
		return "", func(string) (body.Known, bool) { return body.Known{}, false }
	}
	return w.ID, func(name string) (body.Known, bool) {
		if used != nil && used.sheet != nil {
			for _, m := range used.sheet.Measures {
				if m.Name == name {
					return body.Known{Value: m.Value, Estimated: m.Estimated, By: m.By}, true
				}
			}
		}
		return s.Body(w).Get(name)
	}
}

// Body returns what is known of a wearer, with the estimates of the catalogue.
func (s *Slots) Body(w *Wearer) *body.Body {
	return slotOf(s, "body", w.ID, slotInputs{w}, func() *body.Body { return body.Resolve(w.Given()) })
}

// SpanLength returns the length in mm of what the span measures, as far as it is there.
func (s *Slots) SpanLength(piece *Piece, span Span) float64 {
	if len(span.Edges) == 0 && len(span.Lines) == 0 {
		from := piece.AnyNode(span.From)
		to := piece.AnyNode(span.To)
		if from == nil || to == nil {
			return 0
		}
		return span.Way.between(piece, from.At, to.At)
	}
	sum := 0.0
	for _, id := range span.Edges {
		if _, i := piece.Edge(id); i >= 0 {
			sum += s.EdgeLengths(piece)[i]
		}
	}
	for _, id := range span.Lines {
		if line := piece.Line(id); line != nil {
			sum += line.Path().Length()
		}
	}
	return sum
}
