package station

import (
	"hemlet/draft"
	"hemlet/draft/body"
)

// bodyOf keeps what is known of the bodies that patterns were made for.
type bodyOf map[*draft.Origin]*body.Body

// of returns what is known of the body of an origin, with the estimates of the catalogue or
// of the block by which it was drafted; nil where nothing is.
func (b bodyOf) of(o *draft.Origin) *body.Body {
	if o == nil {
		return nil
	}
	if have, ok := b[o]; ok {
		return have
	}
	b[o] = o.Body()
	return b[o]
}

// origin returns what the pattern in hand was made for, nil where that was not said, and
// whether its pieces come from several.
func (f *Fitting) origin() (o *draft.Origin, several bool) {
	p := f.desk.Project()
	for _, piece := range f.scope.pieces() {
		x := p.Origin(piece.Origin)
		switch {
		case x == nil:
		case o == nil:
			o = x
		case o != x:
			several = true
		}
	}
	return o, several
}

// madeForBody returns what is known of the body that a piece was made for: that of its
// origin, or the wearer that its block was drafted for.
func (f *Fitting) madeForBody(piece *draft.Piece) *body.Body {
	p := f.desk.Project()
	if o := p.Origin(piece.Origin); o != nil && len(o.Measures) > 0 {
		return f.bodies.of(o)
	}
	if w := f.draftedFor(piece); w != nil {
		return f.desk.Slots().Body(w)
	}
	return f.bodies.of(p.Origin(piece.Origin))
}

// wearerAs returns what is known of whom the pattern is to fit, nil for nobody: as the fit
// will read it, by the estimates of the block by which a piece was drafted.
func (f *Fitting) wearerAs(piece *draft.Piece) *body.Body {
	w := f.wearer()
	if w == nil {
		return nil
	}
	if o := f.desk.Project().Origin(piece.Origin); o != nil && len(o.Estimates) > 0 {
		return o.Read(w.Given())
	}
	return f.desk.Slots().Body(w)
}

// draftedFor returns the wearer that the block of a piece was drafted for, or nil.
func (f *Fitting) draftedFor(piece *draft.Piece) *draft.Wearer {
	p := f.desk.Project()
	if piece.Derived == nil {
		return nil
	}
	if d := p.Derivation(piece.Derived.Derivation); d != nil && d.Kind == "block" {
		return p.WearerOf(d)
	}
	return nil
}

// wearer returns whom the pattern is to fit, or nil.
func (f *Fitting) wearer() *draft.Wearer { return f.desk.Project().Wearer(f.whom.chosen()) }
