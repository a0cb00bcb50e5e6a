package export

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"

	"hemlet/draft"
	"hemlet/geom"
)

// Sheet is a plane with pieces on it, and the scale square beside them.
type Sheet struct {
	Pieces []*Laid
	// Scale is the corner of the square of ScaleMM on a side that has the least
	// coordinates.
	Scale geom.Point
	// Box holds everything with a margin round it; its lower left is the origin.
	Box geom.Rect
}

const (
	// ScaleMM is the side of the square by which a print or a cut file is checked.
	ScaleMM = 50
	// sheetMargin is left free round a sheet, sheetGap between its pieces, in mm.
	sheetMargin = 10
	sheetGap    = 10
	// scaleWordsHeight is the room in mm for the words under the scale square.
	scaleWordsHeight = 6
)

// scaleBox returns the box of the scale square with its words.
func scaleBox(corner geom.Point) geom.Rect {
	return geom.Rect{Min: corner.Sub(geom.Pt(0, scaleWordsHeight)), Max: corner.Add(geom.Pt(ScaleMM, ScaleMM))}
}

// squareAt returns the square of a side in mm whose least corner is given.
func squareAt(corner geom.Point, side float64) geom.Path {
	x, y := geom.Pt(side, 0), geom.Pt(0, side)
	return geom.Polygon(corner, corner.Add(x), corner.Add(x).Add(y), corner.Add(y))
}

// chosen returns the pieces of the pattern that the options ask for, in the order of the project.
func chosen(p *draft.Project, o Options) ([]*draft.Piece, error) {
	p = p.Pattern()
	if len(p.Pieces) == 0 {
		return nil, errors.New("the project has no pieces to write")
	}
	if len(o.Pieces) == 0 {
		return p.Pieces, nil
	}
	want := make(map[draft.ID]bool, len(o.Pieces))
	for _, id := range o.Pieces {
		if p.Piece(id) == nil {
			return nil, fmt.Errorf("piece %s is not in the project", id)
		}
		want[id] = true
	}
	var out []*draft.Piece
	for _, piece := range p.Pieces {
		if want[piece.ID] {
			out = append(out, piece)
		}
	}
	return out, nil
}

// flattened returns the pieces that the options ask for as they lie when cut.
func flattened(ctx context.Context, p *draft.Project, o Options) ([]*draft.Flat, error) {
	pieces, err := chosen(p, o)
	if err != nil {
		return nil, err
	}
	out := make([]*draft.Flat, len(pieces))
	for i, piece := range pieces {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		o.step(i, len(pieces))
		if out[i], err = draft.LayFlat(piece); err != nil {
			return nil, err
		}
	}
	o.step(len(pieces), len(pieces))
	return out, nil
}

// layAll returns the copies that the options ask for, each turned as on the bench,
// where its own piece was drawn.
func layAll(ctx context.Context, p *draft.Project, o Options) ([]*Laid, error) {
	flats, err := flattened(ctx, p, o)
	if err != nil {
		return nil, err
	}
	r := newRuler(p, o)
	var out []*Laid
	for _, flat := range flats {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		copies := flat.Piece.Copies()
		if !o.Purpose.Cuts() {
			copies = copies[:1]
		}
		for _, c := range copies {
			l := r.lay(flat, c, flat.Piece.Place.Turn)
			if err := l.finite(); err != nil {
				return nil, err
			}
			out = append(out, l)
		}
	}
	return out, nil
}

// laySheet returns one sheet with every copy and the scale square.
func laySheet(ctx context.Context, p *draft.Project, o Options) (*Sheet, error) {
	pieces, err := layAll(ctx, p, o)
	if err != nil {
		return nil, err
	}
	if o.Arrangement == AsOnBench && !o.Purpose.Cuts() {
		return benchSheet(pieces), nil
	}
	return shelfSheet(pieces), nil
}

// benchSheet keeps the pieces where they lie on the bench, with the scale square
// under them.
func benchSheet(pieces []*Laid) *Sheet {
	s := &Sheet{}
	box := geom.EmptyRect()
	for _, l := range pieces {
		at := l.Piece.Place.At
		moved := l.Transform(geom.Translation(geom.Pt(onGrid(at.X), onGrid(at.Y))))
		s.Pieces = append(s.Pieces, moved)
		box = box.Union(moved.Bounds())
	}
	s.Scale = geom.Pt(box.Min.X, box.Min.Y-sheetGap-ScaleMM)
	s.frame()
	return s
}

// shelfSheet sets boxes side by side in rows from the top, the tallest first.
func shelfSheet(pieces []*Laid) *Sheet {
	boxes := make([]geom.Rect, len(pieces)+1)
	order := make([]int, len(boxes))
	area, widest := 0.0, 0.0
	for i := range boxes {
		order[i] = i
		boxes[i] = scaleBox(geom.Point{})
		if i < len(pieces) {
			boxes[i] = pieces[i].Bounds()
		}
		area += (boxes[i].W() + sheetGap) * (boxes[i].H() + sheetGap)
		widest = math.Max(widest, boxes[i].W())
	}
	sort.SliceStable(order, func(a, b int) bool { return boxes[order[a]].H() > boxes[order[b]].H() })
	width := math.Max(widest, 1.3*math.Sqrt(area))
	s := &Sheet{Pieces: make([]*Laid, len(pieces))}
	x, y, row := 0.0, 0.0, 0.0
	for _, i := range order {
		b := boxes[i]
		if x > 0 && x+b.W() > width {
			x, y, row = 0, y-row-sheetGap, 0
		}
		// Whole steps of the grid: a piece that is read back is the same piece.
		move := geom.Pt(onGrid(x-b.Min.X), onGrid(y-b.Max.Y))
		if i < len(pieces) {
			s.Pieces[i] = pieces[i].Transform(geom.Translation(move))
		} else {
			s.Scale = move
		}
		x, row = x+b.W()+sheetGap, math.Max(row, b.H())
	}
	s.frame()
	return s
}

// frame moves everything so that the sheet begins at the origin.
func (s *Sheet) frame() {
	box := scaleBox(s.Scale)
	for _, l := range s.Pieces {
		box = box.Union(l.Bounds())
	}
	box = box.Grow(sheetMargin)
	// Whole hundredths, so that the size of the sheet is a round figure.
	const perMM = 100
	w, h := math.Ceil(box.W()*perMM)/perMM, math.Ceil(box.H()*perMM)/perMM
	move := geom.Pt(onGrid(-box.Min.X), onGrid(h-box.Max.Y))
	for i, l := range s.Pieces {
		s.Pieces[i] = l.Transform(geom.Translation(move))
	}
	s.Scale = s.Scale.Add(move)
	s.Box = geom.Rect{Max: geom.Pt(w, h)}
}
