package draft

import "hemlet/geom"

// Press says to which side a sewn dart is pressed; it shapes the cap, the bit of
// cut line across the mouth.
type Press int

const (
	PressToStart Press = iota // towards the part of the edge before the dart
	PressToEnd                // towards the part after it
	PressOpen                 // slashed and pressed open
)

var pressNames = names[Press]{"to start", "to end", "open"}

func (p Press) String() string               { return pressNames.text(p) }
func (p Press) MarshalText() ([]byte, error) { return pressNames.marshal(p) }

// UnmarshalText reads one of to start, to end, open.
func (p *Press) UnmarshalText(b []byte) error { return pressNames.unmarshal(p, b, "way to press") }

// Presses lists every way to press in the order in which a person is offered them.
func Presses() []Press { return pressNames.all() }

// Fold says how the cloth of a dart's mouth is taken up.
type Fold int

const (
	// Wedge is a dart: its legs run from the mouth to the apex.
	Wedge Fold = iota
	// Pleat is folded along two parallel lines and held at the edge only; they are as
	// long as the apex is away from the middle of the mouth, and run that way.
	Pleat
	// Tuck is a pleat that is sewn along its whole length.
	Tuck
)

var foldNames = names[Fold]{"dart", "pleat", "tuck"}

func (f Fold) String() string               { return foldNames.text(f) }
func (f Fold) MarshalText() ([]byte, error) { return foldNames.marshal(f) }

// UnmarshalText reads one of dart, pleat, tuck.
func (f *Fold) UnmarshalText(b []byte) error { return foldNames.unmarshal(f, b, "fold") }

// Folds lists every fold in the order in which a person is offered them.
func Folds() []Fold { return foldNames.all() }

// Dart is a wedge that is sewn shut. It lies on the outline: its two mouth nodes
// are neighbours inside one edge, and the stretch between them is a gap that
// counts for no length.
type Dart struct {
	ID   ID
	Name string
	Edge ID
	// From and To are the mouth nodes in the direction of the edge.
	From, To ID
	Apex     geom.Point
	Press    Press
	// Fold says whether the mouth closes to a point or to parallel folds.
	Fold Fold
}

// FoldLines returns the lines along which the dart is made up, each from the edge
// inwards: the two that meet, which are sewn onto each other unless it is a pleat, and
// those along which the cloth turns back. A dart is not told where it turns. Nil where
// its mouth is not on the outline of the piece.
func (p *Piece) FoldLines(d Dart) (meet, turn []geom.Segment) {
	m, ok := p.mouthAt(&d)
	if !ok {
		return nil, nil
	}
	if d.Fold == Wedge {
		return []geom.Segment{geom.Line(m.from, d.Apex), geom.Line(m.to, d.Apex)}, nil
	}
	in := d.Apex.Sub(m.middle())
	at := func(share float64) geom.Segment {
		q := m.from.Lerp(m.to, share)
		return geom.Line(q, q.Add(in))
	}
	meet = []geom.Segment{at(0), at(1)}
	if d.Press == PressOpen {
		return meet, []geom.Segment{at(0.25), at(0.75)}
	}
	return meet, []geom.Segment{at(0.5)}
}

// arrowIn is where along a pleat or tuck its arrows stand, as a share from the edge.
const arrowIn = 0.45

// FoldArrows returns the arrows of a pleat or tuck, each from the line that is folded to
// the one on which it is laid. Pressed towards the end of its edge, the cloth of the
// mouth lies under what follows: that is folded at the second line and laid on the first.
// Pressed open, both are laid on the middle. A dart has none.
func (p *Piece) FoldArrows(d Dart) []geom.Segment {
	meet, _ := p.FoldLines(d)
	if len(meet) == 0 || d.Fold == Wedge {
		return nil
	}
	a, b := meet[0].At(arrowIn), meet[1].At(arrowIn)
	switch d.Press {
	case PressToStart:
		return []geom.Segment{geom.Line(a, b)}
	case PressToEnd:
		return []geom.Segment{geom.Line(b, a)}
	}
	middle := a.Lerp(b, 0.5)
	return []geom.Segment{geom.Line(a, middle), geom.Line(b, middle)}
}

// TakeUp returns how much of the edge the dart takes in, in mm: the width of its mouth.
func (p *Piece) TakeUp(d Dart) float64 {
	m, ok := p.mouthAt(&d)
	if !ok {
		return 0
	}
	return m.width()
}
