package draft

import (
	"math"

	"hemlet/geom"
)

// MirrorWay is the way in which a piece is turned over.
type MirrorWay int

const (
	LeftToRight MirrorWay = iota // about an upright line through its middle
	TopToBottom                  // about a level line through its middle
)

var mirrorWayNames = names[MirrorWay]{"left to right", "top to bottom"}

func (w MirrorWay) String() string               { return mirrorWayNames.text(w) }
func (w MirrorWay) MarshalText() ([]byte, error) { return mirrorWayNames.marshal(w) }

// UnmarshalText reads left to right or top to bottom.
func (w *MirrorWay) UnmarshalText(b []byte) error {
	return mirrorWayNames.unmarshal(w, b, "way to turn over")
}

// MirrorPieceArgs are the arguments of MirrorPiece.
type MirrorPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Way    MirrorWay  `arg:"way" says:"which side goes where, as the piece lies on the bench" default:"left to right"`
}

// MirrorPiece turns pieces over where they lie. The same cloth is sewn to the same cloth as
// before: what is drawn of a pair is its left copy then, and of a folded piece its far half.
// Done twice it changes nothing.
var MirrorPiece = register(Info{
	Name: "mirror-piece", Title: "Mirror", Group: groupCutting,
	Says: "Turns pieces over where they lie, as their mirror images; what is sewn stays sewn.",
}, func(p *Project, a MirrorPieceArgs) (Outcome, error) {
	lin := Lineage{}
	turned := make(map[ID]CutWay)
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		for id, heirs := range q.turnOver(q.mirrorOnBench(a.Way)) {
			lin[id] = heirs
		}
		turned[q.ID] = q.Cut.Way
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	var pieces []*Piece
	for _, q := range out.Project.Pieces {
		if _, ok := turned[q.ID]; ok {
			pieces = append(pieces, q)
		}
	}
	out.unit = p.Unit
	out.free(pieces...)
	out.uses, out.followed = turnedUse(turned), lin
	return out, nil
})

// mirrorOnBench returns the reflection in the piece's own millimetres that turns it over
// where it lies, and gives it the turn that goes with it: so that done twice it is exactly
// as it was.
func (p *Piece) mirrorOnBench(way MirrorWay) geom.Affine {
	box := p.DrawnPath().Bounds()
	// On the grid, so that turning it over again leads back to the very same figures.
	sum := geom.Pt(toGrid(box.Min.X+box.Max.X), toGrid(box.Min.Y+box.Max.Y))
	middle := sum.Mul(0.5)
	m := geom.Affine{A: -1, D: 1, E: sum.X}
	if way == TopToBottom {
		m = geom.Affine{A: 1, D: -1, F: sum.Y}
	}
	before := p.Place.Affine().ApplyVector(middle)
	p.Place.Turn = math.Remainder(-p.Place.Turn, 2*math.Pi)
	by := before.Sub(p.Place.Affine().ApplyVector(middle))
	p.Place.At = p.Place.At.Add(geom.Pt(toGrid(by.X), toGrid(by.Y)))
	return m
}

// turnedUse says what a use of an edge is after pieces were turned over: every edge of them
// runs the other way, and what was drawn is on the other side of the body.
func turnedUse(turned map[ID]CutWay) func(EdgeUse) EdgeUse {
	return func(u EdgeUse) EdgeUse {
		way, yes := turned[u.Piece]
		if !yes {
			return u
		}
		u.Reversed = !u.Reversed
		return u.otherSide(way)
	}
}
