package tracer

import (
	"errors"
	"slices"

	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
)

// laidPiece is a piece that was put on the bench, with the ink that it came from, so that
// it can be held against that after it was corrected.
type laidPiece struct {
	id   draft.ID
	ink  [][]geom.Point
	line draft.DrawnLine
	// place is where the piece lay when the ink lay under it.
	place draft.Placement
	// held is the piece as it was when it was held against the ink last.
	held heldPiece
}

// putOnBench makes pieces of the lines that are taken, as one step to undo, and returns
// their ids.
func (f *finds) putOnBench() ([]draft.ID, error) {
	lines := f.taken()
	if len(lines) == 0 {
		return nil, errors.New("no outline is ticked: tick in “Follow” those that are to become pieces")
	}
	if lacks := f.made.lacks(); lacks != "" {
		return nil, errors.New(lacks)
	}
	t := &tracing.Traced{Settings: f.settings}
	var takes []tracing.Take
	for i, l := range lines {
		t.Outlines = append(t.Outlines, l.Outline)
		takes = append(takes, tracing.Take{Outline: i, Name: l.name, Uses: l.uses})
	}
	before := f.desk.Project()
	out, err := draft.ImportTraced.Do(before, t.Args(f.made.toTrace(), takes))
	if err != nil {
		return nil, err
	}
	f.desk.Take(out, "")
	var made []draft.ID
	for _, p := range out.Project.Pieces {
		if before.Piece(p.ID) == nil {
			made = append(made, p.ID)
		}
	}
	for i, id := range made[:min(len(made), len(lines))] {
		l := lines[i]
		l.taken, l.piece, l.lay = false, id, true
		f.laid = append(f.laid, &laidPiece{id: id, ink: l.Ink, line: f.made.line, place: out.Project.Piece(id).Place})
	}
	f.changed()
	return made, nil
}

// onBench returns the pieces that still lie on the bench.
func (f *finds) onBench() []*laidPiece {
	return slices.DeleteFunc(slices.Clone(f.laid), func(l *laidPiece) bool { return f.desk.Project().Piece(l.id) == nil })
}

// lies reports whether a line has become a piece that still lies on the bench.
func (f *finds) lies(l *line) bool { return l.piece != "" && f.desk.Project().Piece(l.piece) != nil }

// path returns the line of the piece that stands for the ink, as it now lies on the
// bench, and the ink, which was moved along with the piece.
func (f *finds) path(l *laidPiece) (geom.Path, [][]geom.Point, error) {
	p := f.desk.Project().Piece(l.id)
	if p == nil {
		return nil, nil, errors.New("the piece is no longer there")
	}
	now := p.Place.Affine()
	line, err := f.inkLine(p, l.line)
	if err != nil {
		return nil, nil, err
	}
	back, ok := l.place.Affine().Invert()
	if !ok {
		return nil, nil, errors.New("the piece has no place")
	}
	move := back.Then(now)
	ink := make([][]geom.Point, len(l.ink))
	for i, pts := range l.ink {
		for _, q := range pts {
			ink[i] = append(ink[i], move.Apply(q))
		}
	}
	return line, ink, nil
}

// inkLine returns the line of a piece, as it lies on the bench, that stands for the ink.
func (f *finds) inkLine(p *draft.Piece, of draft.DrawnLine) (geom.Path, error) {
	line := p.DrawnPath()
	if of == draft.CutDrawn {
		flat, err := f.desk.Slots().Flat(p)
		if err != nil {
			return nil, err
		}
		line = flat.Cut
	}
	return line.Transform(p.Place.Affine()), nil
}

// heldPiece is a piece that was held against its ink.
type heldPiece struct {
	of    *draft.Piece
	path  geom.Path
	ink   [][]geom.Point
	off   trace.Deviation
	fault string
}

// toHold returns what is needed to hold a piece, as it is now, against its ink.
func (f *finds) toHold(l *laidPiece) heldPiece {
	h := heldPiece{of: f.desk.Project().Piece(l.id)}
	var err error
	if h.path, h.ink, err = f.path(l); err != nil {
		h.fault = err.Error()
	}
	return h
}

// review tells how far the piece lies off. It may run on any goroutine.
func (h *heldPiece) review() {
	if h.fault == "" {
		h.off, h.ink = trace.Review(h.path, h.ink), nil
	}
}
