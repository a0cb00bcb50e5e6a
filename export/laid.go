package export

import (
	"fmt"

	"hemlet/draft"
	"hemlet/geom"
)

// Laid is one copy of a piece with everything that is drawn on it, where it lies
// on its sheet.
type Laid struct {
	Piece    *draft.Piece
	Copy     draft.Copy
	Revision string
	// Wearer is the name of the wearer for whom the piece was drafted, empty where
	// there is none.
	Wearer string
	// Cut and Stitch are closed and counter-clockwise.
	Cut, Stitch geom.Path
	// Turns[i] says that segment i of Cut starts at a corner.
	Turns []bool
	Marks []Mark
	// Notes say what to do at a line inside the piece.
	Notes []Text
	Label Label
	// turn is how it was turned, in radians, and origin where that took the origin of the
	// piece's own millimetres.
	turn   float64
	origin geom.Point
}

// Words returns every line of text on the copy.
func (l *Laid) Words() []Text { return append(append([]Text(nil), l.Notes...), l.Label.words()...) }

// Transform returns the copy moved by a map that neither scales nor mirrors.
func (l *Laid) Transform(by geom.Affine) *Laid {
	moved := *l
	moved.Cut, moved.Stitch = l.Cut.Transform(by), l.Stitch.Transform(by)
	moved.Marks = make([]Mark, len(l.Marks))
	for i, m := range l.Marks {
		moved.Marks[i] = m.Transform(by)
	}
	moved.Notes = transformed(l.Notes, by)
	moved.Label = l.Label.transform(by)
	moved.origin = by.Apply(l.origin)
	return &moved
}

// Bounds returns the box around the cut line and whatever reaches beyond it.
func (l *Laid) Bounds() geom.Rect {
	box := l.Cut.Bounds().Union(l.Stitch.Bounds())
	for _, m := range l.Marks {
		box = box.Union(m.Bounds())
	}
	for _, t := range l.Notes {
		box = box.Union(t.Bounds())
	}
	return box.Union(l.Label.bounds())
}

// Strokes returns every line of the copy in the order in which it is drawn.
func (l *Laid) Strokes() []Mark {
	out := []Mark{mark(CutLine, l.Cut)}
	if len(l.Stitch) > 0 {
		out = append(out, mark(StitchLine, l.Stitch))
	}
	out = append(out, l.Marks...)
	if l.Label.Leader != nil {
		out = append(out, mark(Leader, l.Label.Leader))
	}
	return out
}

// finite returns an error that names the piece if a number in it is none.
func (l *Laid) finite() error {
	for _, m := range l.Strokes() {
		if err := m.finite(); err != nil {
			return fmt.Errorf("piece %s: %w", l.Piece.Name, err)
		}
	}
	return nil
}

// ruler turns pieces of a project into laid copies.
type ruler struct {
	project *draft.Project
	options Options
	slots   *draft.Slots
}

func newRuler(p *draft.Project, o Options) ruler { return ruler{p, o, draft.NewSlots()} }

// lay returns one copy of the flat piece, turned by turn radians about its origin.
func (r ruler) lay(flat *draft.Flat, c draft.Copy, turn float64) *Laid {
	by := c.Affine().Then(geom.Rotation(turn, geom.Point{}))
	l := &Laid{Piece: flat.Piece, Copy: c, Revision: draft.Revision(flat.Piece), Wearer: wearerOf(r.project, flat.Piece), turn: turn, origin: by.Apply(geom.Point{})}
	l.Cut, l.Turns = placed(flat.Cut, turns(flat.Cut, flat.CutEdge), by)
	marks := r.marksOf(flat)
	for i := range marks {
		marks[i] = marks[i].Transform(by)
	}
	l.Marks = marks
	if r.options.Purpose.Cuts() {
		return l
	}
	l.Stitch, _ = placed(flat.Stitch, nil, by)
	l.addNotes(signSize(flat))
	r.write(flat, l, by)
	return l
}

// write sets the label and the letters of the seams. The label has the middle of the
// piece, and the letters stand beside it along their edges; only where one of them
// then finds no room does the label give way. What the letters say to do, and the words on
// other lines, take what room is left.
func (r ruler) write(flat *draft.Flat, l *Laid, by geom.Affine) {
	notes := l.Notes
	l.Label = r.label(l, by)
	letters, missing := r.letters(flat, l, by)
	if missing > 0 {
		bare := *l
		bare.Label = Label{}
		if first, still := r.letters(flat, &bare, by); still < missing {
			bare.Notes = notes[:len(notes):len(notes)]
			for _, s := range first {
				bare.Notes = append(bare.Notes, s.text)
			}
			l.Label, letters = r.label(&bare, by), first
		}
	}
	l.Notes = append(notes[:len(notes):len(notes)], r.edgeNotes(flat, l, by, letters)...)
}

// marksOf returns what is marked on the piece, in its own millimetres.
func (r ruler) marksOf(flat *draft.Flat) []Mark {
	cuts := r.options.Purpose.Cuts()
	var marks []Mark
	if !cuts {
		marks = append(marks, foldMarks(flat)...)
		marks = append(marks, grainMarks(flat)...)
	}
	if !cuts || r.options.CutNotches {
		for _, m := range notchMarks(flat) {
			if cuts && m.DrawOnly {
				continue
			}
			if cuts {
				m.Role = Slit
			}
			marks = append(marks, m)
		}
	}
	if !cuts {
		marks = append(marks, stretchMarks(flat)...)
		marks = append(marks, r.dimensionMarks(flat)...)
	}
	return append(marks, innerMarks(flat, cuts, r.options.CutButtonholes)...)
}

// placed returns the closed path under the map, still counter-clockwise, with the
// corner flags of its segments.
func placed(p geom.Path, corner []bool, by geom.Affine) (geom.Path, []bool) {
	out := p.Transform(by)
	if by.Det() >= 0 {
		return out, corner
	}
	if corner == nil {
		return out.Reverse(), nil
	}
	// Reversed, segment i starts where segment n-i started before: n-1-i ended.
	n := len(corner)
	back := make([]bool, n)
	for i := range back {
		back[i] = corner[(n-i)%n]
	}
	return out.Reverse(), back
}

// smoothTurn is the change of direction, as the sine of an angle, below which two
// segments meet smoothly: one degree, less than a hand can cut.
const smoothTurn = 0.0175

// turns tells which segments of a closed path start at a corner: where the path
// bends, and where another edge begins.
func turns(p geom.Path, edge []int) []bool {
	out := make([]bool, len(p))
	for i := range p {
		before := (i + len(p) - 1) % len(p)
		a, b := p[before].Tangent(1), p[i].Tangent(0)
		bent := a.Cross(b) > smoothTurn || a.Cross(b) < -smoothTurn || a.Dot(b) < 0
		out[i] = bent || len(edge) == len(p) && edge[before] != edge[i] && edge[before] >= 0 && edge[i] >= 0
	}
	return out
}
