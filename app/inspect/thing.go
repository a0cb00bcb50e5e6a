package inspect

import (
	"hemlet/app/desk"
	"hemlet/draft"
)

// things returns the picked things of a kind that lie on pieces, as far as they are
// there; of finds one on its piece.
func things[T any](i *Inspector, kind desk.Kind, of func(*draft.Piece, draft.ID) *T) []onPiece[T] {
	var out []onPiece[T]
	for _, r := range i.desk.Picked().Of(kind) {
		piece := i.desk.Project().Piece(r.Piece)
		if piece == nil {
			continue
		}
		if t := of(piece, r.Thing); t != nil {
			out = append(out, onPiece[T]{piece, t})
		}
	}
	return out
}

// onPiece is a thing with the piece on which it lies.
type onPiece[T any] struct {
	piece *draft.Piece
	thing *T
}

func last[T any](list []T) T { return list[len(list)-1] }

// refused shows the error and the figures as they still are.
func (i *Inspector) refused(err error, g group) {
	if err != nil {
		i.report(err)
		g.update()
	}
}
