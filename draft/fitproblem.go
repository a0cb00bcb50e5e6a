package draft

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/adjust"
	"hemlet/geom/warp"
)

var (
	errNoSource    = errors.New("it does not say what pattern it was made from")
	errNoFitWearer = errors.New("the wearer whom it was fitted to is gone")
	errNoTargets   = errors.New("no stretch of it stands for a measure of the body; say which ones do, or take those that are suggested")
)

// keptStiff is how stiff the pieces are against stretch in the direction that is to give
// least, as warp.Problem counts it: what is wanted there is had all the same, but between
// it the other direction gives.
const keptStiff = 20

// solve finds the fitted pieces.
func (f *fitMade) solve(ctx context.Context, progress func(share float64)) {
	b := basisOf(f.task.source)
	problem := f.problem(b)
	if f.result, f.err = warp.Solve(ctx, problem, progress); f.err != nil {
		f.result, f.err = nil, fmt.Errorf("it cannot be fitted: %w", f.err)
		return
	}
	f.pieces, f.moved = make(map[ID]*Piece, len(b.m.given)), make([]geom.Point, len(b.m.given))
	for _, g := range b.m.given {
		piece, err := f.piece(g)
		if err != nil {
			f.result, f.pieces, f.err = nil, nil, fmt.Errorf("%s: %w", g.piece.label(), err)
			return
		}
		f.pieces[piece.ID] = piece
	}
}

// problem returns what is to be solved.
func (f *fitMade) problem(b *fitBasis) warp.Problem {
	pr := warp.Problem{Scale: true, Seams: b.seams(), Joints: b.joints}
	switch f.task.keep {
	case KeepWidths:
		pr.Across = keptStiff
	case KeepLengths:
		pr.Along = keptStiff
	}
	for _, g := range b.m.given {
		pr.Shapes = append(pr.Shapes, g.warpShape())
		pr.Rows = append(pr.Rows, g.rows()...)
		pr.Rails = append(pr.Rails, g.warpRails(b.source.Seams)...)
		if mirror, ok := g.mirror(); ok {
			pr.Mirrors = append(pr.Mirrors, mirror)
		}
	}
	pr.Seams = slices.DeleteFunc(pr.Seams, func(s warp.Seam) bool { return idleSeam(s, pr.Mirrors, b.m.given) })
	f.addSpans(b, &pr)
	f.addDarts(b, &pr)
	return pr
}

// idleSeam reports whether a seam asks for nothing since its sides are mirror images of each
// other on a symmetric piece, as the two ends of a band are.
func idleSeam(s warp.Seam, mirrors []warp.Mirror, given []*givingPiece) bool {
	sums := make(map[warp.Term]float64)
	for _, t := range s.Terms {
		factor := t.Factor
		t.Factor = 0
		if twin := twinOf(t, mirrors, len(given[t.Shape].nodes)); twin.Stretch < t.Stretch {
			t = twin
		}
		sums[t] += factor
	}
	for _, sum := range sums {
		if math.Abs(sum) > idleFactor {
			return false
		}
	}
	return true
}

// idleFactor is what rounding leaves of factors that cancel.
const idleFactor = 1e-12

// twinOf returns the mirror image of a part of a stretch of n, itself where there is none.
func twinOf(t warp.Term, mirrors []warp.Mirror, n int) warp.Term {
	for _, m := range mirrors {
		if m.Shape != t.Shape || len(m.Pairs) == 0 {
			continue
		}
		sum := m.Pairs[0][0] + m.Pairs[0][1]
		t.Stretch = ((sum-t.Stretch-1)%n + n) % n
		t.From, t.To = 1-t.To, 1-t.From
	}
	return t
}

// warpShape returns a piece as geom/warp has it.
func (g *givingPiece) warpShape() warp.Shape {
	s := warp.Shape{Nodes: make([]adjust.Node, len(g.nodes)), Grain: g.piece.GrainWay()}
	for i, n := range g.nodes {
		s.Nodes[i] = adjust.Node{At: n.At, In: n.In, Out: n.Out, Smooth: n.Smooth}
	}
	for _, l := range g.piece.Lines {
		if path := l.Path(); len(path) > 0 {
			s.Inner = append(s.Inner, path)
		}
	}
	return s
}

// inner returns which path of the shape a line of the piece is, 0 for a single point, which
// is none.
func (g *givingPiece) inner(line ID) int {
	at := 0
	for _, l := range g.piece.Lines {
		if len(l.Path()) > 0 {
			at++
		}
		if l.ID == line {
			if len(l.Path()) == 0 {
				return 0
			}
			return at
		}
	}
	return 0
}

// warpRails lists the edges that keep their direction: folds, and what is straight along
// the grain, or was meant to be. What meets a fold at a right angle goes on doing so, and so does what meets an
// edge that is sewn to its own mirror image: both lie in the middle of the body.
func (g *givingPiece) warpRails(seams []*Seam) []warp.Rail {
	var rails []warp.Rail
	fold := g.piece.FoldEdge()
	for i := range g.piece.Edges {
		u := g.nodes[g.end(i)].At.Sub(g.nodes[g.first[i]].At).Unit()
		folded := g.piece.Edges[i].Kind == FoldEdge
		exact := folded || g.alongGrain(i, u)
		if u == (geom.Point{}) || !exact && !g.nearGrain(i, u) {
			continue
		}
		nodes := []int{g.first[i], g.end(i)} // what is drawn by hand may bend a little between them
		if exact {
			nodes = append(append([]int{g.first[i]}, g.inside(i)...), g.end(i))
		}
		rail := warp.Rail{Shape: g.shape, Nodes: nodes, Along: u, Square: folded || selfSewn(seams, g.piece.ID, g.piece.Edges[i].ID)}
		rail.Along = g.wayOf(u, fold, rails)
		if i == fold {
			rails = append([]warp.Rail{rail}, rails...) // the one that stays on its line
		} else {
			rails = append(rails, rail)
		}
	}
	return rails
}

// scanSkew is the sine of the angle by which an edge that was meant to lie along the grain
// may be off it where it was traced from a scan: one degree and a half, as far as a page
// lies askew on the glass. (Common practice, no source.)
const scanSkew = 0.0262

// wayOf returns the direction u of an edge, or that of the fold or an earlier rail which runs
// the same way: two directions that differ by rounding would hold the point between the halves
// of an opened seam where it is, or have it run off.
func (g *givingPiece) wayOf(u geom.Point, fold int, rails []warp.Rail) geom.Point {
	if fold >= 0 {
		rails = append([]warp.Rail{{Along: g.nodes[g.end(fold)].At.Sub(g.nodes[g.first[fold]].At).Unit()}}, rails...)
	}
	for _, r := range rails {
		if math.Abs(r.Along.Cross(u)) <= sameWay && r.Along.Dot(u) > 0 {
			return r.Along
		}
	}
	return u
}

// sameWay is the sine of the angle up to which two straight edges run the same way: a
// millimetre on ten metres.
const sameWay = 1e-4

// nearGrain reports whether edge i is all but straight and lies along the grain but for the
// skew of a scan: it keeps its angle to the grain.
func (g *givingPiece) nearGrain(i int, u geom.Point) bool {
	return math.Abs(g.piece.GrainWay().Cross(u)) <= scanSkew && bend(g.piece.EdgePath(i)) <= plainlyStraight*g.piece.EdgeLength(i)
}

// selfSewn reports whether an edge is sewn to its own mirror image.
func selfSewn(seams []*Seam, piece, edge ID) bool {
	for _, s := range seams {
		if s.A.uses(piece, edge) && s.B.uses(piece, edge) {
			return true
		}
	}
	return false
}

// uses reports whether an edge is in the run, whichever copy of it.
func (r Run) uses(piece, edge ID) bool {
	return slices.ContainsFunc(r, func(u EdgeUse) bool { return u.Piece == piece && u.Edge == edge })
}

// addSpans adds the goals of which something is wanted.
func (f *fitMade) addSpans(b *fitBasis, pr *warp.Problem) {
	k := 0
	for _, g := range b.m.given {
		for _, span := range g.piece.Spans {
			goal := f.task.goals[k]
			k++
			if goal.weight <= 0 {
				continue
			}
			s, ok := b.span(g, span)
			if !ok {
				continue
			}
			s.Want, s.Weight = goal.want, goal.weight
			pr.Spans = append(pr.Spans, s)
			f.spanGoal = append(f.spanGoal, k-1)
		}
	}
}

// span returns a span as geom/warp has it, false where it measures nothing.
func (b *fitBasis) span(g *givingPiece, span Span) (warp.Span, bool) {
	var s warp.Span
	if len(span.Edges) == 0 && len(span.Lines) == 0 {
		chord, ok := g.chord(span)
		s.Chords = append(s.Chords, chord)
		return s, ok
	}
	l := b.m.newLengths()
	for _, id := range span.Edges {
		l.add(Run{{Piece: g.piece.ID, Copy: CopyRef{Number: 1}, Edge: id}}, 1)
	}
	s.Terms = l.warpTerms()
	for _, id := range span.Lines {
		path := g.inner(id)
		if path == 0 {
			continue
		}
		for k := range g.piece.Line(id).Path() {
			s.Terms = append(s.Terms, warp.Term{Shape: g.shape, Path: path, Stretch: k, Factor: 1})
		}
	}
	return s, len(s.Terms) > 0
}

// chord returns a span between two points as geom/warp has it.
func (g *givingPiece) chord(span Span) (warp.Chord, bool) {
	a, okA := g.spotOf(span.From)
	b, okB := g.spotOf(span.To)
	c := warp.Chord{A: a, B: b, Factor: 1}
	if !okA || !okB {
		return c, false
	}
	switch up := g.piece.GrainWay(); span.Way {
	case AlongGrain:
		c.Along = up
	case AcrossGrain:
		c.Along = up.Left()
	}
	way := b.At.Sub(a.At)
	if c.Along == (geom.Point{}) {
		return c, way.Len() >= shortestStretch
	}
	if way.Dot(c.Along) < 0 {
		c.Along = c.Along.Mul(-1)
	}
	return c, way.Dot(c.Along) >= shortestStretch
}

// spotOf returns the place of a node, on the outline or on a line inside.
func (g *givingPiece) spotOf(node ID) (warp.Spot, bool) {
	for k := range g.nodes {
		if g.nodes[k].ID == node {
			on := warp.Place{Shape: g.shape, Stretch: k}
			return warp.Spot{Shape: g.shape, At: g.nodes[k].At, On: &on}, true
		}
	}
	for _, l := range g.piece.Lines {
		for k := range l.Nodes {
			if l.Nodes[k].ID != node {
				continue
			}
			s := warp.Spot{Shape: g.shape, At: l.Nodes[k].At}
			if path := g.inner(l.ID); path > 0 {
				s.On = &warp.Place{Shape: g.shape, Path: path, Stretch: k}
				if last := len(l.Path()); k >= last {
					s.On.Stretch, s.On.T = last-1, 1
				}
			}
			return s, true
		}
	}
	return warp.Spot{}, false
}

// addDarts adds the darts of the outlines.
func (f *fitMade) addDarts(b *fitBasis, pr *warp.Problem) {
	for _, g := range b.m.given {
		for _, d := range g.piece.Darts {
			goal := f.task.mouth(fitPart{g.piece.ID, d.ID})
			for at := range g.nodes {
				if g.nodes[at].ID != d.From || g.nodes[g.next(at)].ID != d.To {
					continue
				}
				dart := warp.Dart{Shape: g.shape, Stretch: at, Apex: d.Apex, Want: goal.want, EqualLegs: g.equalLegs(at, d)}
				if !(goal.want > 0) {
					dart.Want = -1
				}
				pr.Darts = append(pr.Darts, dart)
			}
		}
	}
}

// legSlack is by how much, as a share, the legs of a dart may differ and still be meant to
// be equal. A pleat has none: its apex says how deep it goes.
const legSlack = 0.01

func (g *givingPiece) equalLegs(at int, d Dart) bool {
	a, b := d.Apex.Dist(g.nodes[at].At), d.Apex.Dist(g.nodes[g.next(at)].At)
	return d.Fold == Wedge && math.Abs(a-b) <= legSlack*max(a, b)
}
