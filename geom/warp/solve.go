package warp

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/adjust"
	"hemlet/geom/sqp"
)

const (
	// met is the distance in mm within which a span counts as met.
	met = 0.01
	// fine is the share of the size of the largest shape that the last step moves at most:
	// a hundredth of a thousandth of a millimetre on a metre.
	fine = 1e-8
)

// Solve re-shapes the shapes so that seams hold and spans are met with the least change,
// as the package's comment defines it. progress, if it is not nil, is called with the share
// that is done, from 0 to 1; it may be called from another goroutine, but never twice at
// once.
//
// It returns an error for a problem that makes no sense (an index without a node, a
// coordinate that is not a length), if numbers fail, and the context's error if that is
// done before the solution.
func Solve(ctx context.Context, p Problem, progress func(share float64)) (*Result, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("warp: %w", err)
	}
	r := &Result{}
	m, z, err := solve(ctx, &p, r, progress)
	if err != nil {
		return nil, err
	}
	if m.cramped(z) {
		if m, z, err = m.freed(ctx, z, r, progress); err != nil {
			return nil, err
		}
	}
	if !m.sound(z) {
		r.Held = true
		if z, err = m.holdBack(ctx, r); err != nil {
			return nil, err
		}
	}
	if !r.Held {
		if z, err = m.trued(ctx, z, r); err != nil {
			return nil, err
		}
	}
	m.tell(z, r)
	if progress != nil {
		progress(1)
	}
	return r, nil
}

// solve makes the model of a problem and follows what is wanted.
func solve(ctx context.Context, p *Problem, r *Result, progress func(share float64)) (*model, [][]float64, error) {
	m, err := newModel(p)
	if err != nil {
		return nil, nil, err
	}
	r.Scale = m.scale
	m.prog.Stepped = func(steps int) {
		if progress != nil {
			progress(1 - math.Exp(-float64(r.Steps+steps)/usualSteps))
		}
	}
	z, err := m.follow(ctx, r)
	return m, z, err
}

// usualSteps is the number of steps after which two thirds are said to be done.
const usualSteps = 15

func (m *model) follow(ctx context.Context, r *Result) ([][]float64, error) {
	form := slices.Clone(m.form)
	for _, g := range m.seams {
		form = append(form, g)
	}
	z, steps, err := m.prog.Follow(ctx, form, sqp.Bounds{Met: met, Form: straightness, Fine: fine})
	r.Steps += steps
	if err != nil {
		return nil, fmt.Errorf("warp: %w", err)
	}
	return z, nil
}

// sound reports whether no outline crosses itself at z that did not at first.
func (m *model) sound(z [][]float64) bool {
	x := m.prog.At(z)
	for k, b := range m.bodies {
		s := Shape{Nodes: b.nodes(x[k])}
		if s.Outline().Simple() != nil && b.shape.Outline().Simple() == nil {
			return false
		}
	}
	return true
}

// holdBack follows what is wanted only as far as every outline stays sound: each goal is
// brought nearer by the same share.
func (m *model) holdBack(ctx context.Context, r *Result) ([][]float64, error) {
	goals := slices.DeleteFunc(slices.Concat(m.spans, m.seams, m.darts, m.shifts), func(g *goal) bool { return g == nil })
	return m.prog.HoldBack(func(share float64) ([][]float64, error) {
		for _, g := range goals {
			g.share = share
		}
		return m.follow(ctx, r)
	}, func(z [][]float64) bool { return m.sound(z) && m.open(z) })
}

// nodes returns the outline's nodes at the coordinates x.
func (b *body) nodes(x []float64) []adjust.Node {
	at := func(i int) geom.Point { return geom.Pt(x[2*i], x[2*i+1]) }
	out := slices.Clone(b.shape.Nodes)
	for i := range out {
		c := b.control(0, i)
		out[i].At = at(c[0])
		if c[1] >= 0 {
			next := b.shape.next(i)
			if out[i].Out != (geom.Point{}) {
				out[i].Out = at(c[1]).Sub(at(c[0]))
			}
			if out[next].In != (geom.Point{}) {
				out[next].In = at(c[2]).Sub(at(c[3]))
			}
		}
	}
	return out
}

// tell fills the result.
func (m *model) tell(z [][]float64, r *Result) {
	x := m.prog.At(z)
	for k, b := range m.bodies {
		b.take(z[k])
		r.fields = append(r.fields, *b.f)
	}
	for _, p := range m.pinned {
		f := &r.fields[p.shape]
		base := geom.Point{}
		for _, s := range p.v {
			base = base.Add(f.scaled(m.bodies[p.shape].points[s.point].at).Mul(s.by))
		}
		f.shift = p.normal.Mul(base.Sub(p.v.At(x[p.shape])).Dot(p.normal))
		for i := range m.bodies[p.shape].points {
			x[p.shape][2*i] += f.shift.X
			x[p.shape][2*i+1] += f.shift.Y
		}
	}
	for k, b := range m.bodies {
		s := Shape{Nodes: b.nodes(x[k]), Grain: b.shape.Grain}
		for _, path := range b.shape.Inner {
			s.Inner = append(s.Inner, r.fields[k].path(path))
		}
		r.Shapes = append(r.Shapes, s)
	}
	off := func(list []*goal) []float64 {
		out := make([]float64, len(list))
		for i, g := range list {
			if g != nil {
				out[i] = g.measure.Value(x) - g.want
			}
		}
		return out
	}
	r.SpanOff, r.SeamOff, r.DartOff = off(m.spans), off(m.seams), off(m.darts)
	r.ShiftOff = make([]float64, len(m.shift))
	for i, s := range m.shift {
		r.ShiftOff[i] = s.Value(x) - m.p.Shifts[i].By
	}
}

// path returns a path where the field carries it.
func (f *field) path(p geom.Path) geom.Path {
	out := make(geom.Path, len(p))
	for i, s := range p {
		q := geom.Segment{P0: f.to(s.P0), P3: f.to(s.P3)}
		if s.Straight {
			out[i] = geom.Line(q.P0, q.P3)
			continue
		}
		out[i] = geom.Cubic(q.P0, q.P0.Add(f.turned(s.P0, s.P1.Sub(s.P0))), q.P3.Add(f.turned(s.P3, s.P2.Sub(s.P3))), q.P3)
	}
	return out
}
