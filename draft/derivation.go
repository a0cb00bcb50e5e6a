package draft

import "hemlet/geom"

// Setting is one named choice of a derivation, as text in the form in which a
// person enters it.
type Setting struct{ Name, Value string }

// Derivation is how a set of pieces came to be, so that it can come to be again
// when what it was made from changes.
type Derivation struct {
	ID ID
	// Kind is "block", "piece" or "fit".
	Kind string
	// Inputs are the wearers, origins, pieces and derivations that it reads.
	Inputs   []ID
	Settings []Setting
	// Text is the block's own text as it was when the pieces were made, so that a
	// project does not depend on blocks that its owner no longer has.
	Text string
	// Roles names every piece that it has made, those included that the maker has
	// deleted or freed since: these are not made again.
	Roles []string
	// Seams are the seams as last generated; where one equals the project's seam of
	// the same id, the maker has not changed it.
	Seams []Seam
	// Steps are the acts that have made other pieces of what was generated, in the order in
	// which they were done, and Stems the ids of the drafted pieces that they began with.
	Steps []Recorded
	Stems []Stem
	// Source is the pattern that a fit re-shapes, as it was before; nil for other kinds.
	Source *Source
}

// Derived ties a piece to the derivation that made it.
type Derived struct {
	Derivation ID
	// Role is the name that the derivation gives this piece.
	Role string
	// Base is the outline as last generated; where it equals the piece's edges
	// the piece has not been edited by hand.
	Base []Edge
	// Rest is what else was generated with it, nil where that was not kept. It is
	// kept because it cannot always be worked out again: a measure may have been
	// cleared since.
	Rest *Rest
}

// Rest is what a derivation makes of a piece besides its outline.
type Rest struct {
	Name, Garment, Note string
	Layer               Layer
	Cut                 CutRule
	Grain               *Grain
	LabelAt             *geom.Point
	Darts               []Dart
	Notches             []Notch
	Lines               []Line
	Spans               []Span
	Stretches           []Stretch
}

// Setting returns the value of the named choice, or false where nobody set it.
func (d *Derivation) Setting(name string) (string, bool) {
	for _, s := range d.Settings {
		if s.Name == name {
			return s.Value, true
		}
	}
	return "", false
}

// seam returns the seam with the id as it was last generated, or nil.
func (d *Derivation) seam(id ID) *Seam { return seamNamed(d.Seams, id) }

// Derivation returns the derivation with the id, or nil.
func (p *Project) Derivation(id ID) *Derivation {
	for _, d := range p.Derivations {
		if d.ID == id {
			return d
		}
	}
	return nil
}

// WearerOf returns the wearer that a derivation reads, or nil.
func (p *Project) WearerOf(d *Derivation) *Wearer {
	for _, in := range d.Inputs {
		if w := p.Wearer(in); w != nil {
			return w
		}
	}
	return nil
}

// PiecesOf returns the pieces that follow a derivation, in the order of the
// project.
func (p *Project) PiecesOf(d *Derivation) []*Piece {
	var list []*Piece
	for _, piece := range p.Pieces {
		if piece.Derived != nil && piece.Derived.Derivation == d.ID {
			list = append(list, piece)
		}
	}
	return list
}
