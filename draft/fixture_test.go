package draft

import (
	"fmt"

	"hemlet/geom"
)

// polygonPiece returns a piece with one straight edge from each point to the
// next, named e0, e1, ... (ids too), with an even allowance.
func polygonPiece(name string, allowance float64, pts ...geom.Point) *Piece {
	p := &Piece{ID: ID(name), Name: name, Cut: CutRule{Way: CutSingle, Count: 1}}
	for i, at := range pts {
		id := fmt.Sprintf("%s.e%d", name, i)
		p.Edges = append(p.Edges, Edge{
			ID: ID(id), Name: fmt.Sprintf("e%d", i), Allowance: Even(allowance),
			Nodes: []Node{{ID: ID(fmt.Sprintf("%s.n%d", name, i)), At: at}},
		})
	}
	return p
}

func projectOf(pieces ...*Piece) *Project {
	p := New("test")
	p.NextID = 1000
	p.Pieces = pieces
	return p
}

// fataler is a test, or one drawn example of a property.
type fataler interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}
