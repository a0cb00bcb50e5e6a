package draft

import (
	"fmt"
	"math"

	"hemlet/geom"
)

// commit finishes what every act leaves to it: references follow the lineage, what
// was drafted from what has changed is drawn anew, coordinates go to the grid, and
// the limits hold. Pieces, cloths and pictures
// that the act left alone are not touched.
func commit(before *Project, out Outcome) (Outcome, error) {
	after := out.Project
	if !out.generated {
		if err := keepLocked(before, after); err != nil {
			return Outcome{}, err
		}
	}
	if out.uses != nil {
		after = after.rewrite(out.uses)
	}
	if len(out.Lineage) > 0 {
		moved, err := followLineage(before, after, out.Lineage)
		if err != nil {
			return Outcome{}, err
		}
		after = moved
	}
	out.Project = after.keepSources(before, out.easesSaid)
	out.keepMeasured(before)
	out.followLinks(before)
	out, err := remakeMarked(before, out)
	if err != nil {
		return Outcome{}, err
	}
	after, err = roundNew(before, out.Project.withoutIdleOrigins().withoutIdleMarks().keepNotes(out.Lineage))
	if err != nil {
		return Outcome{}, err
	}
	if n := after.nodeCount(); n > MaxNodes {
		return Outcome{}, fmt.Errorf("the project would have %d points; at most %d fit", n, MaxNodes)
	}
	if out.generated {
		// Generated ids are made of names; a file that a hand has written may have given
		// them to something else.
		if err := Validate(after); err != nil {
			return Outcome{}, fmt.Errorf("what the block makes has no place in this project: %w", err)
		}
	}
	out.Project = after
	return out, nil
}

// remakeMarked remakes what reads what has changed, and puts the notches of seams where they
// match on what came of it. What is made from a piece whose notches moved by that, such as
// its lining, is then made once more.
func remakeMarked(before *Project, out Outcome) (Outcome, error) {
	out, err := remake(before, out)
	if err != nil {
		return Outcome{}, err
	}
	made := out.Project
	out.Project = made.keepMarks(before)
	if out.Project == made {
		return out, nil
	}
	if out, err = remake(made, out); err != nil {
		return Outcome{}, err
	}
	out.Project = out.Project.keepMarks(made)
	return out, nil
}

// rewrite returns the project with each use of an edge in its seams rewritten.
func (p *Project) rewrite(uses func(EdgeUse) EdgeUse) *Project {
	next := p.shallow()
	next.Seams = make([]*Seam, len(p.Seams))
	through := func(run Run) Run {
		out := make(Run, len(run))
		for i, u := range run {
			out[i] = uses(u)
		}
		return out
	}
	for i, s := range p.Seams {
		moved := *s
		moved.A, moved.B = through(s.A), through(s.B)
		if next.Seams[i] = s; !sameRun(moved.A, s.A) || !sameRun(moved.B, s.B) {
			next.Seams[i] = &moved
		}
	}
	return next
}

// roundNew rounds the coordinates of pieces that are not in the project before.
func roundNew(before, after *Project) (*Project, error) {
	old := make(map[*Piece]bool, len(before.Pieces))
	for _, p := range before.Pieces {
		old[p] = true
	}
	next := after
	for i, p := range after.Pieces {
		if old[p] {
			continue
		}
		rounded, err := rounded(p)
		if err != nil {
			return nil, fmt.Errorf("piece %s: %w", p.Name, err)
		}
		if next == after {
			next = after.shallow()
			next.Pieces = append([]*Piece(nil), after.Pieces...)
		}
		next.Pieces[i] = rounded
	}
	return next, nil
}

// rounded returns p with every coordinate on the grid, or an error if one is no
// number or lies out of bounds.
func rounded(p *Piece) (*Piece, error) {
	q := p.clone()
	var bad error
	fix := func(v geom.Point) geom.Point {
		if !v.Finite() || math.Abs(v.X) > MaxCoordinate || math.Abs(v.Y) > MaxCoordinate {
			bad = fmt.Errorf("a point at (%g, %g) mm lies outside the 100 m that a project holds", v.X, v.Y)
			return v
		}
		return geom.Pt(toGrid(v.X), toGrid(v.Y))
	}
	fixNodes := func(nodes []Node) {
		for i := range nodes {
			n := &nodes[i]
			n.At, n.In, n.Out = fix(n.At), fix(n.In), fix(n.Out)
		}
	}
	for i := range q.Edges {
		fixNodes(q.Edges[i].Nodes)
	}
	for i := range q.Lines {
		fixNodes(q.Lines[i].Nodes)
	}
	for i := range q.Darts {
		q.Darts[i].Apex = fix(q.Darts[i].Apex)
	}
	if q.Grain != nil {
		q.Grain.From, q.Grain.To = fix(q.Grain.From), fix(q.Grain.To)
	}
	if q.LabelAt != nil {
		*q.LabelAt = fix(*q.LabelAt)
	}
	q.Place.At = fix(q.Place.At)
	q.Place.Turn = TurnRadians(TurnDegrees(q.Place.Turn))
	return q, bad
}

// toGrid rounds v mm to the grid. Dividing by the whole number 1e6 gives the
// float64 nearest to the decimal, so that writing six places and reading them
// back returns the same bits.
func toGrid(v float64) float64 {
	const perMM = 1e6
	return math.Round(v*perMM)/perMM + 0 // + 0 turns -0 into 0
}

func (p *Project) nodeCount() int {
	n := 0
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			n += len(e.Nodes)
		}
		for _, l := range piece.Lines {
			n += len(l.Nodes)
		}
	}
	return n
}
