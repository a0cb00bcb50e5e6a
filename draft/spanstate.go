package draft

// SpanState is what a span measures against the wearer's measure.
type SpanState struct {
	Piece  *Piece
	Span   Span
	Length float64
	// Wants is the share of the wearer's measure in mm; Known is false where the
	// project has no wearer with that measure.
	Wants float64
	Known bool
}

// SpanStates returns the state of every span of every piece, in order. The
// project's first wearer is the one it is made for.
func (s *Slots) SpanStates(p *Project) []SpanState {
	var out []SpanState
	for _, piece := range p.Pieces {
		for _, span := range piece.Spans {
			state := SpanState{Piece: piece, Span: span, Length: s.spanLength(piece, span)}
			if len(p.Wearers) > 0 {
				if m, ok := p.Wearers[0].Measure(span.Measure); ok {
					state.Wants, state.Known = m.Value*span.Share, true
				}
			}
			out = append(out, state)
		}
	}
	return out
}

func (s *Slots) spanLength(piece *Piece, span Span) float64 {
	if len(span.Edges) == 0 && len(span.Lines) == 0 {
		from, _, _ := piece.Node(span.From)
		to, _, _ := piece.Node(span.To)
		if from == nil || to == nil {
			return 0
		}
		return from.At.Dist(to.At)
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
