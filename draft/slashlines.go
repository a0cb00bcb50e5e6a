package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// ordered returns places on an edge in their order, each once.
func ordered(places []float64) ([]float64, error) {
	slices.Sort(places)
	for i, s := range places {
		if s <= 0 || s >= 1 {
			return nil, errors.New("a slash begins inside the edge, not at its end")
		}
		if i > 0 && s-places[i-1] < shareSlack {
			return nil, errors.New("two slashes begin at one place")
		}
	}
	return places, nil
}

// slashBlocked says the way out where a slash cannot be cut from edge to edge.
func slashBlocked(err error) error {
	var way inTheWay
	switch errors.As(err, &way); {
	case way.dart != nil:
		return fmt.Errorf("%s lies in the way of a slash there; take it out or pivot it elsewhere, or choose From and To beside it", way.dart.called())
	case way.edge != nil:
		return fmt.Errorf("edge %s lies in the way of a slash there; choose From and To beside it, or name another edge across", way.edge.label())
	}
	return fmt.Errorf("a slash cannot be cut there: %w", err)
}

// lineReach is how far, in mm, a line may end short of the edge to which it is slashed.
const lineReach = 2.5

// slashLines has the slashes run along lines inside the piece from the near edge to the
// far one, and returns where they begin.
func (w *spread) slashLines(refs []LineRef) ([]float64, error) {
	var pairs [][2]float64
	for _, r := range refs {
		l := w.piece.Line(r.Line)
		if l == nil || r.Piece != w.piece.ID {
			return nil, fmt.Errorf("line %s is not a line of this piece", r.Line)
		}
		path := l.Path()
		if l.Closed || len(path) == 0 {
			return nil, fmt.Errorf("line %s does not run from edge to edge", labelOf(l.Name, l.ID))
		}
		if bend(path) > lineReach {
			return nil, fmt.Errorf("line %s bends; a slash that is spread is straight", labelOf(l.Name, l.ID))
		}
		ends := [2]geom.Point{path.Start(), path.End()}
		if _, d0 := w.near.nearest(ends[0]); d0 > lineReach {
			ends[0], ends[1] = ends[1], ends[0]
		}
		s, off := w.near.nearest(ends[0])
		if off > lineReach {
			return nil, fmt.Errorf("line %s ends %.1f mm away from the edge", labelOf(l.Name, l.ID), off)
		}
		u := 0.0
		if w.far.edge >= 0 {
			if u, off = w.far.nearest(ends[1]); off > lineReach {
				return nil, fmt.Errorf("line %s ends %.1f mm away from the edge across", labelOf(l.Name, l.ID), off)
			}
		}
		pairs = append(pairs, [2]float64{s, u})
	}
	slices.SortFunc(pairs, func(a, b [2]float64) int {
		switch {
		case a[0] < b[0]:
			return -1
		case a[0] > b[0]:
			return 1
		}
		return 0
	})
	var places []float64
	for _, pair := range pairs {
		places = append(places, pair[0])
	}
	if w.far.edge >= 0 {
		last := 1.0
		for _, pair := range pairs {
			if pair[1] >= last || pair[1] <= 0 {
				return nil, errors.New("the lines cross one another, or end at a corner across")
			}
			last = pair[1]
		}
		w.across = append([][2]float64{{0, 1}}, append(pairs, [2]float64{1, 0})...)
	}
	return ordered(places)
}

// nearest returns the share of the bank that lies nearest to a point, and how far in mm.
func (b bank) nearest(q geom.Point) (share, off float64) {
	off = math.Inf(1)
	for i := range b.run.Paths() {
		path := b.run.Path(i)
		if len(path) == 0 {
			continue
		}
		if at, d := path.Nearest(q); d < off {
			share, off = b.run.To(geom.RunPlace{Path: i, Place: at})/b.length, d
		}
	}
	return share, off
}
