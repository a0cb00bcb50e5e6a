package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// Bounds of a factor by which things are scaled: from a doll's house to a stage.
const (
	minFactor = 1e-3
	maxFactor = 1e3
)

// ScalePieceArgs are the arguments of ScalePiece.
type ScalePieceArgs struct {
	Pieces   []PieceRef `arg:"pieces" says:"the pieces"`
	Factor   *float64   `arg:"factor" says:"how many times as large, each about its own middle"`
	From     *Vector    `arg:"from" says:"a place on the bench, which stays where it is"`
	To       *Vector    `arg:"to" says:"a second place on the bench"`
	Distance *Length    `arg:"distance" says:"how far apart the two places truly are"`
}

// ScalePiece makes pieces larger or smaller: by a factor, or so that two places come
// to lie as far apart as they truly are. Allowances and what is set along a line keep
// their sizes. A piece that followed something is freed from it.
var ScalePiece = register(Info{
	Name: "scale-piece", Title: "Scale pieces", Group: groupPieces,
	Says: "Makes pieces larger or smaller, by a factor or by two places and their true distance.",
}, func(p *Project, a ScalePieceArgs) (Outcome, error) {
	factor, about, err := scaleOf(p, a.Factor, a.From, a.To, a.Distance)
	if err != nil {
		return Outcome{}, err
	}
	var freed []ID
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		middle := q.DrawnPath().Bounds().Center()
		if about != nil {
			back, ok := q.Place.Affine().Invert()
			if !ok {
				return errors.New("it does not lie on the bench")
			}
			middle = back.Apply(*about)
		}
		q.scale(factor, middle)
		if q.Derived != nil {
			q.Derived = nil
			freed = append(freed, q.ID)
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.freed = freed
	return out, nil
})

// scaleOf returns the factor that is meant, and the place that stays where it is, nil
// for the middle of the thing itself.
func scaleOf(p *Project, factor *float64, from, to *Vector, distance *Length) (float64, *geom.Point, error) {
	places := from != nil && to != nil && distance != nil
	if none := from == nil && to == nil && distance == nil; none == (factor == nil) || !none && !places {
		return 0, nil, errors.New("needs a factor, or two places and their true distance")
	}
	if !places {
		if !(*factor >= minFactor && *factor <= maxFactor) {
			return 0, nil, fmt.Errorf("a factor lies between %g and %g, and %g does not", minFactor, maxFactor, *factor)
		}
		return *factor, nil, nil
	}
	at := geom.Point(*from)
	apart := geom.Point(*to).Dist(at)
	k := float64(*distance) / apart
	if !(apart >= shortestStretch && k >= minFactor && k <= maxFactor) {
		return 0, nil, fmt.Errorf("two places that lie %s apart cannot come to lie %s apart", p.Unit.Format(apart), p.Unit.Format(float64(*distance)))
	}
	return k, &at, nil
}

// scale makes the piece k times as large about a place in its own millimetres.
func (p *Piece) scale(k float64, about geom.Point) {
	at := func(v geom.Point) geom.Point { return about.Add(v.Sub(about).Mul(k)) }
	// A place beyond the end of its edge is taken for that end, however far beyond.
	along := func(v float64) float64 { return min(v*k, MaxCoordinate) }
	nodes := func(list []Node) {
		for i := range list {
			n := &list[i]
			n.At, n.In, n.Out = at(n.At), n.In.Mul(k), n.Out.Mul(k)
		}
	}
	for i := range p.Edges {
		nodes(p.Edges[i].Nodes)
	}
	for i := range p.Lines {
		nodes(p.Lines[i].Nodes)
		if row := p.Lines[i].Row; row != nil {
			row.First, row.Last = along(row.First), along(row.Last)
		}
	}
	for i := range p.Darts {
		p.Darts[i].Apex = at(p.Darts[i].Apex)
	}
	for i := range p.Notches {
		if n := &p.Notches[i]; !n.Share {
			n.At = along(n.At)
		}
	}
	if p.Grain != nil {
		p.Grain.From, p.Grain.To = at(p.Grain.From), at(p.Grain.To)
	}
	if p.LabelAt != nil {
		*p.LabelAt = at(*p.LabelAt)
	}
}

// dropIdle takes out derivations that made pieces before, and of whose pieces none is
// left, unless another reads them.
func (p *Project) dropIdle(before *Project) {
	var kept []*Derivation
	for _, d := range p.Derivations {
		if len(before.PiecesOf(d)) > 0 && len(p.PiecesOf(d)) == 0 && !p.isRead(d.ID) {
			continue
		}
		kept = append(kept, d)
	}
	if len(kept) < len(p.Derivations) {
		p.Derivations = kept
	}
}
