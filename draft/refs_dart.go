package draft

import "fmt"

// DartRef names a dart, pleat or tuck of a piece. As text it is the piece, a dot, and
// its name or id: "Front.bust dart", "Front.d4". "Front.*" is every dart of Front.
type DartRef struct{ Piece, Dart ID }

func (p *Piece) dartCandidates() []candidate {
	list := make([]candidate, len(p.Darts))
	for i, d := range p.Darts {
		list[i] = candidate{d.ID, d.Name, shownAs(d.Name, d.ID), i}
	}
	return list
}

// FindDart returns the dart that text names.
func (p *Project) FindDart(text string) (DartRef, error) {
	piece, rest, err := p.splitPiece(text)
	if err != nil {
		return DartRef{}, err
	}
	c, err := pick("dart", rest, piece.dartCandidates())
	if err != nil {
		return DartRef{}, fmt.Errorf("%s: %w", piece.label(), err)
	}
	return DartRef{piece.ID, c.id}, nil
}

func (r *DartRef) readArg(p *Project, text string) (err error) {
	*r, err = p.FindDart(text)
	return err
}

func (*DartRef) argKind() string { return "dart" }

func (r *DartRef) readList(p *Project, text string) (any, error) {
	pieces, all, err := p.pointsOf(text)
	if err != nil {
		return nil, err
	}
	if !all {
		err := r.readArg(p, text)
		return []DartRef{*r}, err
	}
	var list []DartRef
	for _, piece := range pieces {
		for _, d := range piece.Darts {
			list = append(list, DartRef{piece.ID, d.ID})
		}
	}
	return list, nil
}

// Dart returns the dart with the id and its index, or nil and -1.
func (p *Piece) Dart(id ID) (*Dart, int) {
	for i := range p.Darts {
		if p.Darts[i].ID == id {
			return &p.Darts[i], i
		}
	}
	return nil, -1
}

// DartText writes the name of a dart so that it is read back the same.
func (p *Project) DartText(r DartRef) string {
	if piece, d, err := p.dartOf(r); err == nil {
		named := quoted(piece.label()) + "." + quoted(d.label())
		if found, err := p.FindDart(named); err == nil && found == r {
			return named
		}
	}
	return quoted(string(r.Piece)) + "." + quoted(string(r.Dart))
}

// dartOf returns the dart that the reference names, for reading, with its piece.
func (p *Project) dartOf(r DartRef) (*Piece, *Dart, error) {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return nil, nil, fmt.Errorf("piece %s %w", r.Piece, errGone)
	}
	d, _ := piece.Dart(r.Dart)
	if d == nil {
		return nil, nil, fmt.Errorf("dart %s of %s %w", r.Dart, piece.label(), errGone)
	}
	return piece, d, nil
}

func (d *Dart) label() string { return labelOf(d.Name, d.ID) }

// called is the label in a sentence, with what it is before it where the name does not say
// so: "waist dart", "dart 2", "pleat left".
func (d *Dart) called() string {
	kind := d.Fold.String()
	if saysAny(d.Name, []string{kind}) {
		return d.Name
	}
	return kind + " " + d.label()
}
