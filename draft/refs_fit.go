package draft

import "fmt"

// FitRef names a fitted pattern by what it is called, such as "Fit for Quill", by its
// wearer, or by its id.
type FitRef ID

func (r *FitRef) readArg(p *Project, text string) error {
	var list []candidate
	for i, d := range p.Derivations {
		if d.Kind != fitKind {
			continue
		}
		label := p.derivationLabel(d)
		c := candidate{d.ID, label, shownAs(label, d.ID), i}
		if w := p.WearerOf(d); w != nil && w.Name == unquote(text) {
			c.name = w.Name
		}
		list = append(list, c)
	}
	c, err := pick("fitted pattern", text, list)
	*r = FitRef(c.id)
	return err
}

func (*FitRef) argKind() string { return "fitted pattern" }

// SpanRef names a measured stretch of a piece by its name or id: "Front.bust quarter".
type SpanRef struct{ Piece, Span ID }

func (r *SpanRef) readArg(p *Project, text string) error {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return err
	}
	var list []candidate
	for i, s := range piece.Spans {
		list = append(list, candidate{s.ID, s.Name, shownAs(s.Name, s.ID), i})
	}
	c, err := pick("measured stretch", rest, list)
	if err != nil {
		return fmt.Errorf("%s: %w", piece.Name, err)
	}
	*r = SpanRef{piece.ID, c.id}
	return nil
}

func (*SpanRef) argKind() string { return "measured stretch" }

// SpanText writes a measured stretch so that it is read back the same.
func SpanText(r SpanRef) string { return partText(r.Piece, r.Span) }

// Span returns the span with the id, or nil.
func (p *Piece) Span(id ID) *Span {
	for i := range p.Spans {
		if p.Spans[i].ID == id {
			return &p.Spans[i]
		}
	}
	return nil
}

// FitOf returns the fit that a piece follows, or nil.
func (p *Project) FitOf(piece *Piece) *Derivation {
	if piece == nil || piece.Derived == nil {
		return nil
	}
	if d := p.Derivation(piece.Derived.Derivation); d != nil && d.Kind == fitKind {
		return d
	}
	return nil
}
