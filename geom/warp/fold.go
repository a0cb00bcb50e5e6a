package warp

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

const (
	// folded is the share of its area, beside the whole's scale, below which a place of a
	// shape counts as folded or pressed flat: cloth is not cut so.
	folded = 0.1
	// farOff is the share of its length by which a span is missed for which it is tried
	// whether curves that may turn let it be met, if it does not count as met: a millimetre
	// of a hip.
	farOff = 1e-3
	// foldGrid is into how many parts the box of a shape is divided each way to look for
	// such places.
	foldGrid = 10
)

// flattest returns how much of its area the place of a shape keeps that keeps least, beside
// the scale of the whole; below zero where it is folded over.
func (m *model) flattest(z [][]float64) float64 {
	least := math.Inf(1)
	for k := range m.bodies {
		least = min(least, m.flattestOf(k, z[k]))
	}
	return least
}

// flattestOf is flattest of one shape.
func (m *model) flattestOf(k int, z []float64) float64 {
	b, least := m.bodies[k], math.Inf(1)
	b.take(z)
	look := func(p geom.Point) {
		x, y := b.f.derivative(p)
		least = min(least, x.Cross(y)/(m.scale*m.scale))
	}
	outline := b.shape.Outline()
	for _, s := range outline {
		look(s.P0)
		look(s.At(0.5))
	}
	inside, box := b.inside(outline), outline.Bounds()
	for i := range foldGrid {
		for j := range foldGrid {
			p := geom.Pt(box.Min.X+box.W()*(float64(i)+0.5)/foldGrid, box.Min.Y+box.H()*(float64(j)+0.5)/foldGrid)
			if inside(p) {
				look(p)
			}
		}
	}
	return least
}

// worstMiss returns by what share of its length the span is missed that is missed most.
func (m *model) worstMiss(z [][]float64) float64 {
	x, worst := m.prog.At(z), 0.0
	for _, g := range m.spans {
		worst = max(worst, g.missed(x))
	}
	return worst
}

// missed returns by what share of its length a span is missed, 0 where it counts as met.
func (g *goal) missed(x [][]float64) float64 {
	off := math.Abs(g.measure.Value(x) - g.want)
	if off <= met {
		return 0
	}
	return off / math.Max(math.Abs(g.want), leastLength)
}

// cramped reports whether z presses a place flat or in a fit misses a span, for which curves
// that may not turn to the other side can be the cause. Where places want to stay, a span
// that is missed is no reason: what was asked for is one change of a pattern that is to be
// as it was, straight edges along the grain above all.
func (m *model) cramped(z [][]float64) bool {
	return m.flattest(z) < folded || m.fits() && m.worstMiss(z) > farOff
}

// fits reports whether nothing is asked to stay.
func (m *model) fits() bool { return m.p.Stay == 0 }

// freed solves once more with loose curves, and where in a fit these turn to and fro anew, a
// third time with curves held to the sides to which they came to turn. It returns the best model
// with its solution; z is that of m.
func (m *model) freed(ctx context.Context, z [][]float64, r *Result, progress func(share float64)) (*model, [][]float64, error) {
	loose, freely, err := solve(ctx, m.loosened(z), r, progress)
	if ended := ctx.Err(); ended != nil {
		return nil, nil, fmt.Errorf("warp: %w", ended)
	}
	if err != nil || !loose.better(freely, m, z) {
		return m, z, nil
	}
	if !m.fits() {
		return loose, freely, nil
	}
	q := loose.calmed(freely)
	if q == nil {
		return loose, freely, nil
	}
	calm, held, err := solve(ctx, q, r, progress)
	if ended := ctx.Err(); ended != nil {
		return nil, nil, fmt.Errorf("warp: %w", ended)
	}
	if err != nil || !calm.calmer(held, loose, freely) {
		return loose, freely, nil
	}
	return calm, held, nil
}

// better reports whether the solution z crosses itself nowhere as that of another model does,
// or presses no place as flat, or comes much nearer to the spans of a fit and presses none
// flat where the other pressed none.
func (m *model) better(z [][]float64, other *model, was [][]float64) bool {
	if !m.sound(z) {
		return false
	}
	if !other.sound(was) {
		return true
	}
	flat, before := m.flattest(z), other.flattest(was)
	nearer := m.fits() && m.worstMiss(z) < other.worstMiss(was)/2
	if before < folded {
		return flat > before || nearer
	}
	return flat >= folded && nearer
}

// loosened returns the problem with the shapes freed that z folds, or of which it misses a
// span in a fit: every curve may turn to the other side, and in a fit straight edges leave
// the grain, but for those in the middle of the body. A curve that hardly turns, and may not
// turn back, can leave no other way to what is wanted than to fold a corner over, or none;
// and a side seam lies along the grain only as long as the body is as wide at both its ends.
func (m *model) loosened(z [][]float64) *Problem {
	q, x := *m.p, m.prog.At(z)
	free := make([]bool, len(q.Shapes))
	for k := range free {
		free[k] = m.flattestOf(k, z[k]) < folded
	}
	for i, g := range m.spans {
		if !m.fits() || g.missed(x) <= farOff {
			continue
		}
		for _, t := range q.Spans[i].Terms {
			free[t.Shape] = true
		}
		for _, c := range q.Spans[i].Chords {
			free[c.A.shape()] = true
		}
	}
	q.Shapes = slices.Clone(q.Shapes)
	for k := range q.Shapes {
		if !free[k] {
			continue
		}
		s := &q.Shapes[k]
		s.Loose = make([]int, len(s.Nodes))
		for i := range s.Loose {
			s.Loose[i] = i
		}
	}
	q.Rails = slices.DeleteFunc(slices.Clone(q.Rails), func(r Rail) bool {
		return m.fits() && free[r.Shape] && !r.Square && !m.p.leads(&r)
	})
	return &q
}

// leads reports whether a rail is the longest of a shape that has none that is square.
func (p *Problem) leads(r *Rail) bool {
	long := func(r *Rail) float64 {
		n := p.Shapes[r.Shape].Nodes
		return n[r.Nodes[0]].At.Dist(n[r.Nodes[len(r.Nodes)-1]].At)
	}
	return !slices.ContainsFunc(p.Rails, func(o Rail) bool {
		return o.Shape == r.Shape && (o.Square || long(&o) > long(r))
	})
}
