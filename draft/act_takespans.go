package draft

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// TakeSpansArgs are the arguments of TakeSpans.
type TakeSpansArgs struct {
	Pieces  []PieceRef `arg:"pieces,optional" says:"the pieces; all of the pattern without it"`
	Only    []string   `arg:"only,optional" says:"the names of the stretches that are wanted, such as bust or Front.bust; all without it"`
	Without []string   `arg:"without,optional" says:"the names of those that are not"`
}

// TakeSpans records the spans that the pieces ask for, all of them or some, and draws the
// lines across the pieces that these need. The edges along which they lie get the names of
// what they are, where they have none.
var TakeSpans = register(Info{
	Name: "take-spans", Title: "Take the suggested stretches", Group: groupMarks,
	Says: "Says which stretches of the pieces stand for which measures, as their shapes, names and seams tell it.",
}, takeSpans)

func takeSpans(p *Project, a TakeSpansArgs) (Outcome, error) {
	var pieces []ID
	for _, r := range a.Pieces {
		if p.Piece(ID(r)) == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", r, errGone)
		}
		pieces = append(pieces, ID(r))
	}
	slots := NewSlots()
	all := slots.SuggestSpans(p, pieces)
	if len(all) == 0 {
		return Outcome{}, errors.New("nothing tells of a stretch that stands for a measure and is not told of yet; name the edges, or say of single stretches what they stand for")
	}
	if err := knownNames(all, slices.Concat(a.Only, a.Without)); err != nil {
		return Outcome{}, err
	}
	var taken []SpanSuggestion
	for _, g := range all {
		if (len(a.Only) == 0 || g.calledAny(a.Only)) && !g.calledAny(a.Without) {
			taken = append(taken, g)
		}
	}
	if len(taken) == 0 {
		return Outcome{}, errors.New("no stretch is left")
	}
	next, ids, err := byPiece(p, taken, func(g SpanSuggestion) ID { return g.Piece.ID }, "span", func(q *Piece, list []SpanSuggestion) error {
		for _, g := range list {
			for _, l := range g.Lines {
				if q.Line(l.ID) == nil {
					l.Nodes = slices.Clone(l.Nodes)
					q.Lines = append(q.Lines, l)
				}
			}
			s := g.Span
			s.Edges, s.Lines = slices.Clone(s.Edges), slices.Clone(s.Lines)
			q.Spans = append(q.Spans, s)
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	// A span along an edge that nobody has named is read by the name of the edge.
	lain := slots.EdgeNames(p, pieces)
	lain = slices.DeleteFunc(lain, func(n EdgeName) bool {
		return !slices.ContainsFunc(taken, func(g SpanSuggestion) bool { return g.Piece.ID == n.Piece && slices.Contains(g.Span.Edges, n.Edge) })
	})
	next, _, _, err = next.namedEdges(lain)
	if err != nil {
		return Outcome{}, err
	}
	next.NextID = max(next.NextID, slots.suggestedSpans(p.Pattern()).next)
	out := Outcome{Project: next, subject: p.subject(ids)}
	out.say("Taken: %s.", counted(len(taken), "span"))
	out.tellUnknown(p, taken)
	return out, nil
}

// tellUnknown says which pieces do not say for whom they were made.
func (o *Outcome) tellUnknown(p *Project, taken []SpanSuggestion) {
	var unknown []ID
	for _, g := range taken {
		if !g.Known && !slices.Contains(unknown, g.Piece.ID) {
			unknown = append(unknown, g.Piece.ID)
		}
	}
	if len(unknown) > 0 {
		o.say("%s: nothing is known of the body that it was made for, so that its ease is not known either.", p.subject(unknown))
	}
}

// calledAny reports whether one of the names stands for the suggestion.
func (g SpanSuggestion) calledAny(names []string) bool {
	return slices.ContainsFunc(names, g.called)
}

// called reports whether a name stands for the suggestion: that of its span, with the piece
// and a dot before it or not, or its key.
func (g SpanSuggestion) called(name string) bool {
	name = unquote(name)
	return name == g.Key() || strings.EqualFold(name, g.Span.Name) ||
		strings.EqualFold(name, g.Piece.label()+"."+g.Span.Name) || name == string(g.Piece.ID)+"."+g.Span.Name
}

// knownNames returns an error for a name that stands for none of the suggestions.
func knownNames(all []SpanSuggestion, names []string) error {
	for _, name := range names {
		if !slices.ContainsFunc(all, func(g SpanSuggestion) bool { return g.called(name) }) {
			var known []string
			for _, g := range all {
				if !slices.Contains(known, g.Span.Name) {
					known = append(known, g.Span.Name)
				}
			}
			return fmt.Errorf("no stretch called %q is suggested; there are: %s", name, strings.Join(known, ", "))
		}
	}
	return nil
}
