package draft

import "fmt"

// FollowBellyArgs are the arguments of FollowBelly.
type FollowBellyArgs struct {
	Spans []SpanRef `arg:"spans" says:"stretches of fitted pieces that go by the hips"`
}

// FollowBelly lets stretches of fitted pieces that go by the hips go by the belly.
var FollowBelly = register(Info{
	Name: "follow-belly", Title: "Let stretches go by the belly", Group: groupFit,
	Says: "Lets stretches of a fitted pattern that go by the hips go by the belly of a wearer who is widest there. Where the garment has room for the belly, they stay as wide as they are; else they get the ease that the pattern had round what was widest.",
}, followBelly)

func followBelly(p *Project, a FollowBellyArgs) (Outcome, error) {
	turns := make(map[SpanRef]*bellyTurn, len(a.Spans))
	var said []fitPart
	slots := NewSlots()
	for _, r := range a.Spans {
		x := slots.turnToBelly(p, r)
		if x == nil {
			return Outcome{}, fmt.Errorf("%s does not go by the hips of a fitted pattern whose wearer is widest round the belly", p.spanLabel(r))
		}
		turns[r] = x
		said = append(said, fitPart{r.Piece, r.Span})
	}
	next, ids, err := byPiece(p, a.Spans, func(r SpanRef) ID { return r.Piece }, "stretch", func(q *Piece, refs []SpanRef) error {
		for _, r := range refs {
			s := q.Span(r.Span)
			if s == nil {
				return fmt.Errorf("the stretch %s %w", r.Span, errGone)
			}
			s.Measure, s.Ease = turns[r].measure, turns[r].ease
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	return Outcome{Project: next, easesSaid: said, subject: p.subject(ids)}, nil
}

// spanLabel names a stretch and its piece.
func (p *Project) spanLabel(r SpanRef) string {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return "the stretch"
	}
	if s := piece.Span(r.Span); s != nil {
		return labelOf(s.Name, s.ID) + " of " + piece.label()
	}
	return piece.label()
}
