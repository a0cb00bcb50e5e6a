package warp

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
	"hemlet/geom/adjust"
)

var errDirection = errors.New("there is no direction")

// check returns an error for a problem that makes no sense, with what and where.
func (p *Problem) check() error {
	for i := range p.Shapes {
		err := p.Shapes[i].check()
		if err == nil {
			err = p.onShape(i, p.Shapes[i].Loose...)
		}
		if err != nil {
			return fmt.Errorf("warp: shape %d: %w", i, err)
		}
	}
	for _, v := range [...]float64{p.Along, p.Across, p.Stay} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("warp: the stiffness %g is not 0 or more", v)
		}
	}
	if err := p.checkForm(); err != nil {
		return err
	}
	return p.checkWishes()
}

func (s *Shape) check() error {
	if err := adjust.CheckNodes(s.Nodes); err != nil {
		return err
	}
	for i, path := range s.Inner {
		for _, seg := range path {
			if !adjust.IsPlace(seg.P0, seg.P1, seg.P2, seg.P3) {
				return fmt.Errorf("inner path %d has a coordinate that is not a length", i)
			}
		}
	}
	if !adjust.IsPlace(s.Grain) {
		return fmt.Errorf("the grain: %w", errDirection)
	}
	return nil
}

func (p *Problem) checkForm() error {
	for i, r := range p.Rows {
		if err := p.onShape(r.Shape, r.Nodes...); err != nil {
			return fmt.Errorf("warp: row %d: %w", i, err)
		}
	}
	for i, j := range p.Joints {
		for _, c := range j {
			if err := p.onShape(c.Shape, c.Node); err != nil {
				return fmt.Errorf("warp: joint %d: %w", i, err)
			}
			if c.Comes && c.Leaves {
				return fmt.Errorf("warp: joint %d: a line comes to node %d and leaves it", i, c.Node)
			}
		}
	}
	for i, r := range p.Rails {
		err := p.onShape(r.Shape, r.Nodes...)
		if err == nil && !isDirection(r.Along) {
			err = errDirection
		}
		if err != nil {
			return fmt.Errorf("warp: rail %d: %w", i, err)
		}
	}
	for i, m := range p.Mirrors {
		err := p.onShape(m.Shape)
		for _, pair := range m.Pairs {
			if err == nil {
				err = p.onShape(m.Shape, pair[0], pair[1])
			}
		}
		if err == nil && !(adjust.IsPlace(m.Axis[0], m.Axis[1]) && isDirection(m.Axis[1].Sub(m.Axis[0]))) {
			err = errDirection
		}
		if err != nil {
			return fmt.Errorf("warp: mirror %d: %w", i, err)
		}
	}
	for i, d := range p.Darts {
		err := p.onShape(d.Shape, d.Stretch)
		if err == nil && (!adjust.IsPlace(d.Apex) || math.IsNaN(d.Want) || d.Want > adjust.MostCoordinate) {
			err = errors.New("its apex or what is wanted is not a length")
		}
		if err != nil {
			return fmt.Errorf("warp: dart %d: %w", i, err)
		}
	}
	return nil
}

func isDirection(v geom.Point) bool { return v.Finite() && v.Unit() != (geom.Point{}) }

func (p *Problem) checkWishes() error {
	for i, s := range p.Seams {
		if err := p.checkSum(s.Terms, nil, s.Want, 1); err != nil {
			return fmt.Errorf("warp: seam %d: %w", i, err)
		}
	}
	for i, s := range p.Spans {
		if err := p.checkSum(s.Terms, s.Chords, s.Want, s.Weight); err != nil {
			return fmt.Errorf("warp: span %d: %w", i, err)
		}
	}
	for i, s := range p.Shifts {
		err := p.checkSum(nil, nil, s.By, s.Weight)
		if err == nil {
			err = p.checkSpot(s.At)
		}
		if err == nil && !isDirection(s.Along) {
			err = errDirection
		}
		if err != nil {
			return fmt.Errorf("warp: shift %d: %w", i, err)
		}
	}
	return nil
}

func (p *Problem) checkSum(terms []Term, chords []Chord, want, weight float64) error {
	if err := adjust.CheckWanted(want, weight); err != nil {
		return err
	}
	for _, t := range terms {
		if err := p.onPath(t.Shape, t.Path, t.Stretch, t.From, t.To); err != nil {
			return err
		}
		if math.IsNaN(t.Factor) || math.IsInf(t.Factor, 0) {
			return fmt.Errorf("the factor %g is not a number", t.Factor)
		}
	}
	for _, c := range chords {
		if err := errors.Join(p.checkSpot(c.A), p.checkSpot(c.B)); err != nil {
			return err
		}
		if c.A.shape() != c.B.shape() {
			return errors.New("a chord runs from one shape to another")
		}
		if !c.Along.Finite() || math.IsNaN(c.Factor) || math.IsInf(c.Factor, 0) {
			return errors.New("a chord has a direction or factor that is not a number")
		}
	}
	return nil
}

// shape returns the shape that the spot is of.
func (s Spot) shape() int {
	if s.On != nil {
		return s.On.Shape
	}
	return s.Shape
}

func (p *Problem) checkSpot(s Spot) error {
	if s.On != nil {
		return p.onPath(s.On.Shape, s.On.Path, s.On.Stretch, s.On.T, s.On.T)
	}
	if !adjust.IsPlace(s.At) {
		return errors.New("a spot is no place")
	}
	return p.onShape(s.Shape)
}

func (p *Problem) onPath(shape, path, stretch int, from, to float64) error {
	if path == 0 {
		if err := p.onShape(shape, stretch); err != nil {
			return err
		}
	} else {
		if err := p.onShape(shape); err != nil {
			return err
		}
		inner := p.Shapes[shape].Inner
		if path < 0 || path > len(inner) || stretch < 0 || stretch >= len(inner[path-1]) {
			return fmt.Errorf("shape %d has no stretch %d of path %d", shape, stretch, path)
		}
	}
	if !(from >= 0 && from <= to && to <= 1) {
		return fmt.Errorf("a stretch has no part from %g to %g", from, to)
	}
	return nil
}

func (p *Problem) onShape(shape int, nodes ...int) error {
	return adjust.HasNodes(p.Shapes, func(s *Shape) []adjust.Node { return s.Nodes }, shape, nodes...)
}

// next and prev return the node after and before node i.
func (s *Shape) next(i int) int { return (i + 1) % len(s.Nodes) }
func (s *Shape) prev(i int) int { return (i + len(s.Nodes) - 1) % len(s.Nodes) }

// Outline returns the outline as a closed path.
func (s *Shape) Outline() geom.Path { return adjust.Shape{Nodes: s.Nodes}.Path() }

// stretch returns a stretch of a path of the shape.
func (s *Shape) stretch(path, i int) geom.Segment {
	if path > 0 {
		return s.Inner[path-1][i]
	}
	a, b := &s.Nodes[i], &s.Nodes[s.next(i)]
	if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
		return geom.Line(a.At, b.At)
	}
	return geom.Cubic(a.At, a.At.Add(a.Out), b.At.Add(b.In), b.At)
}
