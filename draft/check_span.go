package draft

import (
	"fmt"

	"hemlet/draft/body"
)

// spanLimit is how far, in mm, a span may be from its measure before it is told:
// the width of a pencil line on both ends.
const spanLimit = 0.5

// checkSpans finds stretches that are too short for the body, and those that have
// less ease than they were meant to have. What a note of the toile asked for and was done is
// meant: a hem that was put up is not too short by that.
func (s *Slots) checkSpans(p *Project, states []SpanState) []Finding {
	var out []Finding
	for _, st := range states {
		diff := st.Length - st.Wants
		if !st.Known || diff >= -spanLimit {
			continue
		}
		noted := s.takenByNotes(p, st)
		if diff += noted; diff >= -spanLimit {
			continue
		}
		f := Finding{
			Key: "piece/" + string(st.Piece.ID) + "/span/" + string(st.Span.ID), Level: LookAgain,
			About: st.Piece.label() + ", " + labelOf(st.Span.Name, st.Span.ID), Piece: st.Piece.ID,
			Value: -diff, Limit: spanLimit, Measures: []string{st.Span.Measure},
		}
		what := body.Words(st.Span.Measure)
		if st.Estimated {
			what += ", as it is estimated"
		}
		if bare := st.Length + noted - (st.Wants - st.Span.Ease); bare < -spanLimit {
			f.Says = fmt.Sprintf("It measures %s, %s less than its share of the measure %s. Worn, it would be too %s there.",
				p.Unit.Format(st.Length), p.Unit.FormatSmall(-bare), what, lacking(st.Span.Measure))
			f.Value = -bare
		} else {
			f.Level = Remark
			f.Says = fmt.Sprintf("It measures %s, and has %s less ease over its share of the measure %s than was meant.",
				p.Unit.Format(st.Length), p.Unit.FormatSmall(-diff), what)
		}
		out = append(out, f)
	}
	return out
}

// lacking says in a word what a garment is that has less than a measure.
func lacking(measure string) string {
	if m, ok := body.Find(measure); ok && (m.Kind == body.Length || m.Kind == body.Height) {
		return "short"
	}
	return "tight"
}
