package draft

import (
	"errors"
	"math"

	"hemlet/geom"
)

// MovePieceArgs are the arguments of MovePiece.
type MovePieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	By     Vector     `arg:"by" says:"how far across and up"`
}

// MovePiece moves pieces on the bench; they themselves stay as they are.
var MovePiece = register(Info{
	Name: "move-piece", Title: "Move pieces", Group: groupPieces,
	Says: "Moves pieces on the bench.",
}, func(p *Project, a MovePieceArgs) (Outcome, error) {
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Place.At = q.Place.At.Add(geom.Point(a.By))
		return nil
	})
})

// TurnPieceArgs are the arguments of TurnPiece.
type TurnPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	By     *Angle     `arg:"by" says:"how far, counter-clockwise; without it, the little that it takes for the grain to run straight up or across"`
}

// TurnPiece turns pieces on the bench, each about its own middle; they themselves
// stay as they are. Without an angle those are turned whose grain leans a little, as that of
// a sheet that lay askew on the scanner does; a piece without a grain line turns as the others
// do.
var TurnPiece = register(Info{
	Name: "turn-piece", Title: "Turn pieces", Group: groupPieces,
	Says: "Turns pieces on the bench, each about its own middle.",
}, func(p *Project, a TurnPieceArgs) (Outcome, error) {
	turns := make(map[ID]float64)
	for _, r := range a.Pieces {
		if a.By != nil {
			turns[ID(r)] = float64(*a.By)
		}
	}
	if a.By == nil {
		var err error
		if turns, err = p.turnsToGrain(a.Pieces); err != nil {
			return Outcome{}, err
		}
	}
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		by := turns[q.ID]
		if by == 0 {
			return nil
		}
		middle := q.DrawnPath().Bounds().Center()
		before := q.Place.Affine().Apply(middle)
		q.Place.Turn = math.Remainder(q.Place.Turn+by, 2*math.Pi)
		q.Place.At = q.Place.At.Add(before.Sub(q.Place.Affine().Apply(middle)))
		return nil
	})
})

// SetGrainArgs are the arguments of SetGrain.
type SetGrainArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Angle  *Angle     `arg:"angle" says:"the direction on the piece as drawn, 90 straight up; the line finds its own place"`
	From   *Vector    `arg:"from" says:"one end of the line, in the piece's own measures"`
	To     *Vector    `arg:"to" says:"the other end"`
	Remove bool       `arg:"remove" says:"take the grain line away" default:"no"`
}

// SetGrain sets the line that is laid along the lengthwise threads of the cloth.
var SetGrain = register(Info{
	Name: "set-grain", Title: "Set grain", Group: groupPieces,
	Says: "Sets the line that is laid along the lengthwise threads of the cloth.",
}, func(p *Project, a SetGrainArgs) (Outcome, error) {
	ends := a.From != nil && a.To != nil
	given := 0
	for _, way := range []bool{a.Remove, a.Angle != nil, a.From != nil || a.To != nil} {
		if way {
			given++
		}
	}
	if given != 1 || (a.From != nil) != (a.To != nil) {
		return Outcome{}, errors.New("needs an angle, or both ends of the line, or remove")
	}
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		switch {
		case ends:
			q.Grain = &Grain{geom.Point(*a.From), geom.Point(*a.To)}
		case a.Angle != nil:
			q.Grain = grainAlong(q.DrawnPath(), float64(*a.Angle))
		default:
			q.Grain = nil
			return nil
		}
		if q.Grain == nil || q.Grain.From.Near(q.Grain.To, shortestStretch) {
			return errors.New("the grain line has no length and so no direction")
		}
		return nil
	})
})

// PlaceLabelArgs are the arguments of PlaceLabel.
type PlaceLabelArgs struct {
	Piece PieceRef `arg:"piece" says:"the piece"`
	At    *Vector  `arg:"at" says:"the middle of the label, in the piece's own measures; without it the label finds its own place"`
}

// PlaceLabel says where the label of a piece is printed.
var PlaceLabel = register(Info{
	Name: "place-label", Title: "Place label", Group: groupPieces,
	Says: "Says where the label of a piece is printed.",
}, func(p *Project, a PlaceLabelArgs) (Outcome, error) {
	return eachPiece(p, []PieceRef{a.Piece}, func(q *Piece) error {
		q.LabelAt = nil
		if a.At != nil {
			at := geom.Point(*a.At)
			q.LabelAt = &at
		}
		return nil
	})
})
