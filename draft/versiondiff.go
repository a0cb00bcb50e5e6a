package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hemlet/geom"
)

// PieceChange is what is otherwise about a piece in one state of a pattern than in another.
type PieceChange struct {
	Piece ID
	Name  string
	// Way says whether the piece was added, is gone, or is another.
	Way ChangeWay
	// Moved is by how many mm any place of its outline moved at most.
	Moved float64
	Edges []EdgeChange
	// Says tells what else is otherwise, one phrase each.
	Says []string
}

// ChangeWay tells how a piece changed.
type ChangeWay int

const (
	PieceChanged ChangeWay = iota
	PieceAdded
	PieceGone
)

// EdgeChange is what is otherwise about one edge.
type EdgeChange struct {
	Edge ID
	Name string
	// In and Out are how far the edge moved into the piece and out of it at most, in mm.
	In, Out float64
	// Evenly says that it moved alike all along, but at its ends.
	Evenly bool
	// Was and Now are its lengths in mm; 0 where it is added or gone.
	Was, Now float64
	// Says tells it in words.
	Says string
}

// changeShown is how far, in mm, an edge must have moved, or its length have changed, to be
// told: what a pencil line hides is no change to a maker.
const changeShown = 0.05

// changeSamples is at how many places an edge is looked at.
const changeSamples = 24

// Changes lists what is otherwise in a pattern than it was, piece by piece in the order of
// the present one. Where a piece lies on the bench, and what only its label says, does not
// count.
func Changes(was, now *Project) []PieceChange {
	was, now = was.Pattern(), now.Pattern()
	var list []PieceChange
	for _, q := range now.Pieces {
		p := was.Piece(q.ID)
		if p == nil {
			list = append(list, PieceChange{Piece: q.ID, Name: q.label(), Way: PieceAdded})
			continue
		}
		if c := p.changeTo(q, now.Unit); len(c.Edges)+len(c.Says) > 0 {
			list = append(list, c)
		}
	}
	for _, p := range was.Pieces {
		if now.Piece(p.ID) == nil {
			list = append(list, PieceChange{Piece: p.ID, Name: p.label(), Way: PieceGone})
		}
	}
	return list
}

// changeTo returns what is otherwise about q than about p.
func (p *Piece) changeTo(q *Piece, unit Unit) PieceChange {
	c := PieceChange{Piece: q.ID, Name: q.label()}
	if p == q {
		return c
	}
	c.Moved = p.movedTo(q)
	outline := p.DrawnPath()
	for i := range q.Edges {
		e := &q.Edges[i]
		old, k := p.Edge(e.ID)
		if k < 0 {
			c.Edges = append(c.Edges, EdgeChange{Edge: e.ID, Name: e.label(), Now: q.EdgeLength(i), Says: "is new, " + unit.Format(q.EdgeLength(i)) + " long"})
			continue
		}
		if x := p.edgeChange(q, k, i, outline); x != nil {
			x.Says = x.words(unit)
			c.Edges = append(c.Edges, *x)
		}
		if old.Allowance != e.Allowance {
			c.Says = append(c.Says, fmt.Sprintf("allowance of %s %s, was %s", e.label(), e.Allowance.words(unit), old.Allowance.words(unit)))
		}
		if old.Kind != e.Kind {
			c.Says = append(c.Says, fmt.Sprintf("%s is %s, was %s", e.label(), e.Kind, old.Kind))
		}
	}
	for i := range p.Edges {
		if _, k := q.Edge(p.Edges[i].ID); k < 0 {
			c.Edges = append(c.Edges, EdgeChange{Edge: p.Edges[i].ID, Name: p.Edges[i].label(), Was: p.EdgeLength(i), Says: "is gone"})
		}
	}
	c.Says = append(c.Says, p.marksChange(q, unit)...)
	return c
}

// edgeChange returns how an edge moved, nil where nobody would see it.
func (p *Piece) edgeChange(q *Piece, k, i int, outline geom.Path) *EdgeChange {
	x := &EdgeChange{Edge: q.Edges[i].ID, Name: q.Edges[i].label(), Was: p.EdgeLength(k), Now: q.EdgeLength(i)}
	a, b := p.EdgePath(k), q.EdgePath(i)
	if slices.Equal(a, b) {
		return nil
	}
	least, most := math.Inf(1), math.Inf(-1)
	see := func(out float64) {
		least, most = math.Min(least, out), math.Max(most, out)
	}
	run := geom.NewRun(b)
	for n := 1; n < changeSamples; n++ {
		place, ok := run.At(run.Length() * float64(n) / changeSamples)
		if !ok {
			continue
		}
		at := run.Point(place)
		near, d := a.Nearest(at)
		if atEnd(a, near) {
			continue // it slid along, and lies beyond the old end
		}
		if d > 0 && outline.Contains(at) {
			d = -d
		}
		see(d)
	}
	if math.IsInf(least, 1) {
		// All of it lies beyond the ends of what it was.
		see(0)
	}
	x.In, x.Out = math.Max(-least, 0), math.Max(most, 0)
	x.Evenly = most-least < changeShown
	if max(x.In, x.Out, math.Abs(x.Now-x.Was)) < changeShown {
		return nil
	}
	return x
}

// atEnd reports whether a place is an end of a path.
func atEnd(p geom.Path, at geom.Place) bool {
	return at.Seg == 0 && at.T <= 0 || at.Seg == len(p)-1 && at.T >= 1
}

// words tells the change of an edge: "3 mm in", "up to 3 mm in, 81.2 mm long, was 80 mm".
func (x *EdgeChange) words(unit Unit) string {
	var says []string
	most := "up to "
	if x.Evenly {
		most = ""
	}
	if x.In >= changeShown {
		says = append(says, most+unit.Format(x.In)+" in")
	}
	if x.Out >= changeShown {
		says = append(says, most+unit.Format(x.Out)+" out")
	}
	if math.Abs(x.Now-x.Was) >= changeShown {
		says = append(says, unit.Format(x.Now)+" long, was "+unit.Format(x.Was))
	}
	return strings.Join(says, ", ")
}

// words tells the width of an allowance.
func (a Allowance) words(unit Unit) string {
	says := unit.Format(a.Start)
	if a.Start != a.End {
		says += " to " + unit.Format(a.End)
	}
	if a.TrimTo > 0 {
		says += ", trimmed to " + unit.Format(a.TrimTo)
	}
	return says
}

// marksChange tells what else is otherwise about a piece: how it is cut, its grain, darts,
// notches and lines.
func (p *Piece) marksChange(q *Piece, unit Unit) []string {
	var says []string
	add := func(format string, args ...any) { says = append(says, fmt.Sprintf(format, args...)) }
	if p.Cut != q.Cut {
		add("%s, was %s", q.Cut, p.Cut)
	}
	if p.Name != q.Name {
		add("called %s, was %s", q.label(), p.label())
	}
	if (p.Grain == nil) != (q.Grain == nil) || p.Grain != nil && math.Abs(p.Grain.way().Cross(q.Grain.way())) > grainSlack {
		add("the grain lies otherwise")
	}
	for _, d := range q.Darts {
		old := p.dart(d.ID)
		if old == nil {
			add("%s is new", d.called())
			continue
		}
		if was, now := p.TakeUp(*old), q.TakeUp(d); math.Abs(was-now) >= changeShown {
			add("%s takes in %s, was %s", d.called(), unit.Format(now), unit.Format(was))
		}
		if by := d.Apex.Dist(old.Apex); by >= changeShown {
			add("the tip of %s lies %s from where it was", d.called(), unit.Format(by))
		}
	}
	for _, d := range p.Darts {
		if q.dart(d.ID) == nil {
			add("%s is gone", d.called())
		}
	}
	if a, b := len(p.Notches), len(q.Notches); a != b {
		add("%d notches, were %d", b, a)
	} else if p.notchesMoved(q) {
		add("notches lie elsewhere")
	}
	if a, b := len(p.Lines), len(q.Lines); a != b {
		add("%d lines inside, were %d", b, a)
	} else if p.linesMoved(q) {
		add("lines inside lie elsewhere")
	}
	return says
}

// way returns the direction of the grain.
func (g *Grain) way() geom.Point { return g.To.Sub(g.From).Unit() }

func (p *Piece) dart(id ID) *Dart {
	for i := range p.Darts {
		if p.Darts[i].ID == id {
			return &p.Darts[i]
		}
	}
	return nil
}

// notchesMoved reports whether a notch lies at another place of the cloth.
func (p *Piece) notchesMoved(q *Piece) bool {
	at := func(x *Piece, n Notch) (geom.Point, bool) {
		_, i := x.Edge(n.Edge)
		if i < 0 {
			return geom.Point{}, false
		}
		k, t := x.locate(i, n.Along(x.EdgeLength(i)))
		nodes := x.EdgeNodes(i)
		return segment(nodes[k], nodes[k+1]).At(t), true
	}
	for k := range q.Notches {
		a, okA := at(p, p.Notches[k])
		b, okB := at(q, q.Notches[k])
		if okA != okB || a.Dist(b) >= changeShown {
			return true
		}
	}
	return false
}

// linesMoved reports whether a line inside runs elsewhere.
func (p *Piece) linesMoved(q *Piece) bool {
	for k := range q.Lines {
		a, b := p.Lines[k].Path(), q.Lines[k].Path()
		if p.Lines[k].ID != q.Lines[k].ID || max(mostApart(a, b), mostApart(b, a)) >= changeShown && len(a) > 0 && len(b) > 0 {
			return true
		}
	}
	return false
}

// Words tells the change of a piece in one line: its edges, then what else.
func (c *PieceChange) Words() string {
	switch c.Way {
	case PieceAdded:
		return "is new"
	case PieceGone:
		return "is gone"
	}
	var says []string
	for _, e := range c.Edges {
		says = append(says, e.Name+" "+e.Says)
	}
	return strings.Join(append(says, c.Says...), "; ")
}
