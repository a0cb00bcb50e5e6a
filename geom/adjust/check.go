package adjust

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// MostCoordinate is the largest coordinate in mm of a document: 100 m.
const MostCoordinate = 1e5

// mostWanted is the largest length in mm that may be wanted: a sum over many copies of what
// is as long as a document.
const mostWanted = 1e3 * MostCoordinate

// check returns an error for a problem that makes no sense, with what and where.
func (p Problem) check() error {
	for i, s := range p.Shapes {
		if err := CheckNodes(s.Nodes); err != nil {
			return fmt.Errorf("adjust: shape %d: %w", i, err)
		}
	}
	for i, r := range p.Rows {
		if err := p.onShape(r.Shape, r.Nodes...); err != nil {
			return fmt.Errorf("adjust: row %d: %w", i, err)
		}
	}
	for i, r := range p.Rails {
		if err := p.onShape(r.Shape, r.Node); err != nil {
			return fmt.Errorf("adjust: rail %d: %w", i, err)
		}
		if !r.Along.Finite() || r.Along.Unit() == (geom.Point{}) {
			return fmt.Errorf("adjust: rail %d has no direction", i)
		}
	}
	for i, t := range p.Ties {
		if err := p.onShape(t.Shape, t.Nodes...); err != nil {
			return fmt.Errorf("adjust: tie %d: %w", i, err)
		}
	}
	for i, w := range p.Wishes {
		if err := p.checkWish(w); err != nil {
			return fmt.Errorf("adjust: wish %d: %w", i, err)
		}
	}
	return nil
}

func (p Problem) checkWish(w Wish) error {
	if err := CheckWanted(w.Want, w.Weight); err != nil {
		return err
	}
	for _, t := range w.Terms {
		if err := p.onShape(t.Shape, t.Stretch); err != nil {
			return err
		}
		if math.IsNaN(t.Factor) || math.IsInf(t.Factor, 0) {
			return fmt.Errorf("the factor %g is not a number", t.Factor)
		}
	}
	return nil
}

func (p Problem) onShape(shape int, nodes ...int) error {
	return HasNodes(p.Shapes, func(s *Shape) []Node { return s.Nodes }, shape, nodes...)
}

// CheckNodes returns an error for nodes that make no outline: fewer than two, or one with a
// coordinate that is not a length.
func CheckNodes(nodes []Node) error {
	if len(nodes) < 2 {
		return errors.New("an outline needs at least two nodes")
	}
	for i, n := range nodes {
		if !IsPlace(n.At, n.In, n.Out) {
			return fmt.Errorf("node %d has a coordinate that is not a length", i)
		}
	}
	return nil
}

// IsPlace reports whether all points are numbers and within MostCoordinate of zero.
func IsPlace(points ...geom.Point) bool {
	for _, v := range points {
		if !v.Finite() || math.Abs(v.X) > MostCoordinate || math.Abs(v.Y) > MostCoordinate {
			return false
		}
	}
	return true
}

// HasNodes returns an error unless there is a shape of that index and it has the nodes.
func HasNodes[S any](shapes []S, nodesOf func(*S) []Node, shape int, nodes ...int) error {
	if shape < 0 || shape >= len(shapes) {
		return fmt.Errorf("there is no shape %d", shape)
	}
	for _, n := range nodes {
		if n < 0 || n >= len(nodesOf(&shapes[shape])) {
			return fmt.Errorf("shape %d has no node %d", shape, n)
		}
	}
	return nil
}

// CheckWanted returns an error for a length that cannot be wanted, and for a weight that is
// not 0 or more.
func CheckWanted(want, weight float64) error {
	if math.IsNaN(want) || math.Abs(want) > mostWanted {
		return errors.New("what is wanted is not a length")
	}
	if !(weight >= 0) || math.IsInf(weight, 0) {
		return fmt.Errorf("the weight %g is not 0 or more", weight)
	}
	return nil
}
