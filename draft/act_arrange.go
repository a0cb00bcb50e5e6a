package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// Alignment says which sides or middles of pieces come to lie on one line.
type Alignment int

const (
	AlignLeft Alignment = iota
	AlignUpright
	AlignRight
	AlignTop
	AlignLevel
	AlignBottom
)

var alignmentNames = names[Alignment]{"left", "upright middle", "right", "top", "level middle", "bottom"}

func (a Alignment) String() string               { return alignmentNames.text(a) }
func (a Alignment) MarshalText() ([]byte, error) { return alignmentNames.marshal(a) }

// UnmarshalText reads one of left, upright middle, right, top, level middle, bottom.
func (a *Alignment) UnmarshalText(b []byte) error {
	return alignmentNames.unmarshal(a, b, "line to align by")
}

// Alignments lists every kind in the order in which a person is offered them.
func Alignments() []Alignment { return alignmentNames.all() }

// move returns how far a piece in the box has to move so that it is aligned with to.
func (a Alignment) move(box, to geom.Rect) geom.Point {
	switch a {
	case AlignLeft:
		return geom.Pt(to.Min.X-box.Min.X, 0)
	case AlignUpright:
		return geom.Pt(to.Center().X-box.Center().X, 0)
	case AlignRight:
		return geom.Pt(to.Max.X-box.Max.X, 0)
	case AlignTop:
		return geom.Pt(0, to.Max.Y-box.Max.Y)
	case AlignLevel:
		return geom.Pt(0, to.Center().Y-box.Center().Y)
	default:
		return geom.Pt(0, to.Min.Y-box.Min.Y)
	}
}

// AlignPiecesArgs are the arguments of AlignPieces.
type AlignPiecesArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces, two or more"`
	By     Alignment  `arg:"by" says:"which sides or middles come to lie on one line"`
	With   PieceRef   `arg:"with,optional" says:"the piece that stays where it is; without it they are aligned with the box round all of them"`
}

// AlignPieces moves pieces on the bench so that their cut lines end at one line, or
// have their middles on it.
var AlignPieces = register(Info{
	Name: "align-pieces", Title: "Align pieces", Group: groupLayout,
	Says: "Moves pieces on the bench so that their sides or middles lie on one line.",
}, func(p *Project, a AlignPiecesArgs) (Outcome, error) {
	boxes, err := p.boxesOf(a.Pieces)
	if err != nil {
		return Outcome{}, err
	}
	if len(boxes) < 2 && a.With == "" {
		return Outcome{}, errors.New("needs two pieces or more")
	}
	to := geom.EmptyRect()
	if a.With != "" {
		with := p.Piece(ID(a.With))
		if with == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", a.With, errGone)
		}
		to = with.lineOnBench().box
		boxes = slices.DeleteFunc(boxes, func(b boxed) bool { return b.piece == with.ID })
	} else {
		for _, b := range boxes {
			to = to.Union(b.box)
		}
	}
	moves := make(map[ID]geom.Point, len(boxes))
	for _, b := range boxes {
		moves[b.piece] = a.By.move(b.box, to)
	}
	return p.moveEach(a.Pieces, moves)
})

// Direction is one of the two directions of the bench.
type Direction int

const (
	Across Direction = iota
	Upward
)

var directionNames = names[Direction]{"across", "up"}

func (d Direction) String() string               { return directionNames.text(d) }
func (d Direction) MarshalText() ([]byte, error) { return directionNames.marshal(d) }

// UnmarshalText reads across or up.
func (d *Direction) UnmarshalText(b []byte) error {
	return directionNames.unmarshal(d, b, "direction")
}

// DistributePiecesArgs are the arguments of DistributePieces.
type DistributePiecesArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces, three or more, or two with a gap"`
	Along  Direction  `arg:"along" says:"in which direction" default:"across"`
	Gap    *Length    `arg:"gap" says:"the room between them; without it the first and the last stay and the room between is made even"`
}

// DistributePieces moves pieces on the bench so that there is the same room between
// one cut line and the next.
var DistributePieces = register(Info{
	Name: "distribute-pieces", Title: "Spread pieces evenly", Group: groupLayout,
	Says: "Moves pieces on the bench so that there is the same room between them.",
}, func(p *Project, a DistributePiecesArgs) (Outcome, error) {
	boxes, err := p.boxesOf(a.Pieces)
	if err != nil {
		return Outcome{}, err
	}
	least := 3
	if a.Gap != nil {
		least = 2
		if !(*a.Gap >= 0 && *a.Gap <= MaxCoordinate) {
			return Outcome{}, fmt.Errorf("there can be no room of %s between pieces", p.Unit.Format(float64(*a.Gap)))
		}
	}
	if len(boxes) < least {
		return Outcome{}, fmt.Errorf("needs %d pieces or more", least)
	}
	// Pieces are read from left to right, and from the top down.
	start := func(b geom.Rect) float64 { return b.Min.X }
	size, way := geom.Rect.W, geom.Pt(1, 0)
	if a.Along == Upward {
		start = func(b geom.Rect) float64 { return -b.Max.Y }
		size, way = geom.Rect.H, geom.Pt(0, -1)
	}
	slices.SortStableFunc(boxes, func(x, y boxed) int {
		return compareFloats(start(x.box)+size(x.box)/2, start(y.box)+size(y.box)/2)
	})
	gap, sum := 0.0, 0.0
	for _, b := range boxes {
		sum += size(b.box)
	}
	first, last := boxes[0].box, boxes[len(boxes)-1].box
	if a.Gap != nil {
		gap = float64(*a.Gap)
	} else {
		gap = (start(last) + size(last) - start(first) - sum) / float64(len(boxes)-1)
	}
	moves := make(map[ID]geom.Point, len(boxes))
	at := start(first)
	for _, b := range boxes {
		moves[b.piece] = way.Mul(at - start(b.box))
		at += size(b.box) + gap
	}
	return p.moveEach(a.Pieces, moves)
})

func compareFloats(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// boxed is a piece with the box round its cut line where it lies.
type boxed struct {
	piece ID
	box   geom.Rect
}

// boxesOf returns the pieces that are named, each once.
func (p *Project) boxesOf(refs []PieceRef) ([]boxed, error) {
	var list []boxed
	seen := make(map[PieceRef]bool, len(refs))
	for _, ref := range refs {
		if seen[ref] {
			continue
		}
		seen[ref] = true
		piece := p.Piece(ID(ref))
		if piece == nil {
			return nil, fmt.Errorf("piece %s %w", ref, errGone)
		}
		list = append(list, boxed{piece.ID, piece.lineOnBench().box})
	}
	return list, nil
}

// moveEach moves each piece by its own way on the bench; those that do not move stay
// the same.
func (p *Project) moveEach(refs []PieceRef, moves map[ID]geom.Point) (Outcome, error) {
	var ids []ID
	next := p
	for _, ref := range refs {
		ids = append(ids, ID(ref))
		by := moves[ID(ref)]
		if moves[ID(ref)] = (geom.Point{}); by.Len() < Grid {
			continue
		}
		q := next.Piece(ID(ref)).clone()
		q.Place.At = q.Place.At.Add(by)
		next = next.withPiece(q)
	}
	return Outcome{Project: next, subject: p.subject(distinct(ids))}, nil
}
