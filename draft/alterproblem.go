package draft

import (
	"context"
	"fmt"
	"math"
	"slices"
	"unicode"
	"unicode/utf8"

	"hemlet/geom/warp"
)

// problem returns the alteration as geom/warp has it: nothing is scaled, what is not moved
// wants to stay where it is, seams keep the difference of their sides and darts their
// width.
func (a *altering) problem() warp.Problem {
	pr := warp.Problem{Stay: 1}
	for _, t := range a.pieces {
		pr.Shapes = append(pr.Shapes, t.g.warpShape())
		pr.Rows = append(pr.Rows, t.g.rows()...)
		pr.Rails = append(pr.Rails, t.g.warpRails(a.p.Seams)...)
		// Of a pair each half lies on one side of the body, and is altered on one side.
		if mirror, ok := t.g.mirror(); ok && len(mirror.Pairs) > 0 && t.Piece.Cut.Way == CutSingle {
			pr.Mirrors = append(pr.Mirrors, mirror)
		}
		pr.Shifts = append(pr.Shifts, t.shifts()...)
		a.addDarts(t, &pr)
	}
	for _, s := range a.p.Seams {
		l := a.m.newLengths()
		l.addSeam(s)
		if terms := l.warpTerms(); len(terms) > 0 {
			pr.Seams = append(pr.Seams, warp.Seam{Terms: terms, Want: a.p.seamDiff(s) - l.rest})
		}
	}
	for _, kept := range a.lengths {
		l := a.m.newLengths()
		for _, e := range kept.edges {
			l.add(Run{{Piece: e.a.Piece.ID, Copy: CopyRef{Number: 1}, Edge: e.a.Piece.Edges[e.edge].ID}}, 1)
		}
		pr.Spans = append(pr.Spans, warp.Span{Terms: l.warpTerms(), Want: kept.want, Weight: 1})
	}
	return pr
}

// addDarts adds the darts of a piece with the width that they are to have.
func (a *altering) addDarts(t *alteredPiece, pr *warp.Problem) {
	for i := range t.Piece.Darts {
		d := &t.Piece.Darts[i]
		for k := range t.g.nodes {
			if t.g.nodes[k].ID != d.From || t.g.nodes[t.g.next(k)].ID != d.To {
				continue
			}
			want, changes := a.mouths[d]
			if !changes {
				want = t.Piece.TakeUp(*d)
			}
			pr.Darts = append(pr.Darts, warp.Dart{Shape: t.g.shape, Stretch: k, Apex: d.Apex, Want: want, EqualLegs: t.g.equalLegs(k, *d)})
		}
		if by, moves := a.points[d]; moves {
			pr.Shifts = append(pr.Shifts, t.shift(warp.Spot{Shape: t.g.shape, At: d.Apex}, d.Apex, by)...)
		}
	}
}

// missedMost is by how much, in mm, what is moved may end up beside where it was to be, and
// as a share of the amount: a fold of the paper is as thick.
const missedMost, missedShare = 0.1, 0.02

// solve returns the project with the pieces altered.
func (a *altering) solve() (*Project, error) {
	pr := a.problem()
	r, err := a.solved(&pr)
	if err != nil && slices.ContainsFunc(a.pieces, func(t *alteredPiece) bool { return len(t.loose) > 0 }) {
		// What is to dip that rose a little has to bend the other way.
		for i, t := range a.pieces {
			pr.Shapes[i].Loose = t.loose
		}
		r, err = a.solved(&pr)
	}
	if err != nil {
		return nil, err
	}
	next := a.p
	for _, t := range a.pieces {
		q := t.g.warped(r)
		for _, do := range a.after {
			do(q)
		}
		q, err := rounded(q)
		if err == nil {
			err = q.soundAfter(t.Piece)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", t.Piece.label(), err)
		}
		next = next.withPiece(q)
	}
	return next, nil
}

// solved returns a solution that has all that is wanted.
func (a *altering) solved(pr *warp.Problem) (*warp.Result, error) {
	r, err := warp.Solve(context.Background(), *pr, nil)
	if err != nil {
		return nil, fmt.Errorf("no change can be worked out: %w", err)
	}
	if r.Held {
		return nil, fmt.Errorf("a piece would overlap itself; alter by less than %s", a.p.Unit.Format(math.Abs(a.by)))
	}
	return r, a.missed(pr, r)
}

// missed returns an error where the alteration was not to be had without tearing a seam or
// changing what is to stay.
func (a *altering) missed(pr *warp.Problem, r *warp.Result) error {
	most := 0.0
	for i, off := range r.ShiftOff {
		if pr.Shifts[i].Weight > guideWeight {
			most = max(most, math.Abs(off))
		}
	}
	for _, list := range [][]float64{r.SpanOff, r.SeamOff, r.DartOff} {
		for _, off := range list {
			most = max(most, math.Abs(off))
		}
	}
	if most > missedMost+missedShare*math.Abs(a.by) {
		return fmt.Errorf("what is sewn or is to stay does not let it: a place would be off by %s", a.p.Unit.Format(most))
	}
	return nil
}

// capital returns a text with a capital at its beginning.
func capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
