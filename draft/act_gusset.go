package draft

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"hemlet/geom"
)

// InsertGussetArgs are the arguments of InsertGusset.
type InsertGussetArgs struct {
	At        PlaceRef `arg:"at" says:"the place on the edge from which it is slit"`
	Depth     *Length  `arg:"depth" says:"how deep the slit is, square to the edge; without it, half of the piece there"`
	To        *Vector  `arg:"to" says:"in place of a depth, the point of the slit, in mm on the bench"`
	Width     *Length  `arg:"width" says:"how far it opens the edge; without it, so far that its corners are square"`
	Both      *bool    `arg:"both" says:"whether the piece that is sewn to the edge is slit there too; without it, yes where one is"`
	Allowance *Length  `arg:"allowance" says:"the allowance along the slit, which tapers to 1 mm at its point; without it, that of the seam that is slit"`
	Name      string   `arg:"name,optional" says:"what the gusset is called"`
}

// InsertGusset slits a piece from an edge, and the one that is sewn to it at the same
// place, and lets a gusset into the slits: a triangle into one, a diamond into two. The
// seam that is slit goes on as two, and all seams are recorded and hold.
var InsertGusset = register(Info{
	Name: "insert-gusset", Title: "Let in a gusset", Group: groupCutting,
	Says: "Slits a piece, and its partner across a seam, and lets in a triangle or a diamond that gives room to move, as under an arm.",
}, insertGusset)

// slitPiece is a piece that is slit for a gusset: the piece as it was and is, the slit,
// and the seam that it interrupts, if any.
type slitPiece struct {
	old, now *Piece
	edge     Edge
	slit     slit
	use      EdgeUse
}

func insertGusset(p *Project, a InsertGussetArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	piece, at, err := p.placeOn(a.At)
	if err != nil {
		return Outcome{}, err
	}
	g := &gusseting{p: p, ids: p.newIDs(), a: a, lin: Lineage{}}
	seams := p.seamsAt(EdgeRef{a.At.Piece, a.At.Edge})
	if len(seams) > 0 && a.Both != nil && !*a.Both {
		return Outcome{}, fmt.Errorf("this edge is sewn in seam %s: slit the piece that is sewn to it as well, or take the seam apart first", seams[0].label())
	}
	if len(seams) == 0 && a.Both != nil && *a.Both {
		return Outcome{}, errors.New("this edge is sewn to nothing yet; link its seam first")
	}
	if err := g.slitFirst(piece, at); err != nil {
		return Outcome{}, err
	}
	if len(seams) > 0 {
		if err := g.slitSecond(seams, at); err != nil {
			return Outcome{}, err
		}
	}
	return g.finish(name, seams)
}

// seamsAt returns the seams that sew an edge.
func (p *Project) seamsAt(r EdgeRef) []*Seam {
	there := func(u EdgeUse) bool { return u.Piece == r.Piece && u.Edge == r.Edge }
	var list []*Seam
	for _, s := range p.Seams {
		if slices.ContainsFunc(s.A, there) || slices.ContainsFunc(s.B, there) {
			list = append(list, s)
		}
	}
	return list
}

// gusseting is a gusset under way.
type gusseting struct {
	p      *Project
	ids    *idSource
	a      InsertGussetArgs
	pieces []*slitPiece
	lin    Lineage
}

// slit slits a piece.
func (g *gusseting) slit(old, now *Piece, plan slitPlan) error {
	var err error
	if plan.width, err = g.width(now, plan.at); err != nil {
		return err
	}
	edge := now.Edges[plan.at.edge]
	s, err := now.slitOpen(plan, g.p.Unit, g.ids)
	if err != nil {
		return fmt.Errorf("%s: %w", old.label(), err)
	}
	maps.Copy(g.lin, s.lin)
	g.pieces = append(g.pieces, &slitPiece{old: old, now: now, edge: edge, slit: s, use: EdgeUse{Piece: old.ID, Copy: CopyRef{Number: 1}, Edge: edge.ID}})
	return nil
}

// width returns the allowance along a slit in mm: both slits and the gusset have the same,
// so that all that is sewn together is trimmed alike. Without a wish it is that of the seam
// from which the first is slit.
func (g *gusseting) width(p *Piece, at outlinePlace) (float64, error) {
	if len(g.pieces) > 0 {
		first := g.pieces[0]
		return first.now.Edges[first.now.indexOf(first.slit.up)].Allowance.Start, nil
	}
	e := &p.Edges[at.edge]
	if g.a.Allowance == nil && e.Kind == SeamEdge {
		return e.widthAt(shareAlong(at.along, p.EdgeLength(at.edge))), nil
	}
	return p.slitWidth(g.a.Allowance)
}

func (g *gusseting) slitFirst(piece *Piece, at outlinePlace) error {
	q := piece.clone()
	plan := slitPlan{at: at}
	var err error
	if plan.depth, plan.to, err = q.slitTo(at, g.a.Depth, g.a.To); err != nil {
		return err
	}
	return g.slit(piece, q, plan)
}

// slitSecond slits the piece that is sewn to the first at the same place of their seam,
// to the same depth.
func (g *gusseting) slitSecond(seams []*Seam, at outlinePlace) error {
	first := g.pieces[0]
	partner, err := g.p.across(seams[0], first.use, at.along)
	if err != nil {
		return err
	}
	for _, s := range seams {
		if _, _, ok := s.meets(EdgeRef{first.use.Piece, first.use.Edge}, EdgeRef{partner.piece.ID, partner.piece.Edges[partner.at.edge].ID}); !ok {
			return fmt.Errorf("edge %s is sewn in seam %s too, to something else; take that apart first", first.edge.label(), s.label())
		}
	}
	if partner.piece.ID == first.old.ID {
		return fmt.Errorf("%s is sewn to itself there; a gusset between two sides of one piece is two triangles: slit it for one, and sew them to each other", first.old.label())
	}
	plan := slitPlan{at: partner.at, depth: first.slit.depth, half: first.slit.half}
	if err := g.slit(partner.piece, partner.piece.clone(), plan); err != nil {
		return err
	}
	g.pieces[0].use, g.pieces[1].use = partner.from, partner.to
	return nil
}

// sewnPlace is the place to which one on another piece is sewn, with the uses of the seam
// on which both lie.
type sewnPlace struct {
	piece    *Piece
	at       outlinePlace
	from, to EdgeUse
}

// across returns the place to which a place along an edge is sewn.
func (p *Project) across(s *Seam, u EdgeUse, along float64) (sewnPlace, error) {
	side, b := SideA, s.B
	use, far, ok := p.walkTo(s.A, u, along)
	if !ok {
		side, b = SideB, s.A
		if use, far, ok = p.walkTo(s.B, u, along); !ok {
			return sewnPlace{}, errors.New("the edge is not in its seam")
		}
	}
	far = p.opposite(s, side, far)
	for _, v := range b {
		piece := p.Piece(v.Piece)
		if piece == nil {
			return sewnPlace{}, fmt.Errorf("piece %s %w", v.Piece, errGone)
		}
		i := piece.indexOf(v.Edge)
		if i < 0 {
			return sewnPlace{}, fmt.Errorf("edge %s %w", v.Edge, errGone)
		}
		length := piece.EdgeLength(i)
		if far <= length {
			if v.Reversed {
				far = length - far
			}
			return sewnPlace{piece, outlinePlace{i, far}, use, v}, nil
		}
		far -= length
	}
	return sewnPlace{}, fmt.Errorf("seam %s does not hold: its other side ends before this place", s.label())
}

// walkTo returns the use of an edge in a run, and how far along the run a place of the
// edge lies.
func (p *Project) walkTo(run Run, u EdgeUse, along float64) (EdgeUse, float64, bool) {
	far := 0.0
	for _, v := range run {
		length := p.runLength(Run{v})
		if v.Piece == u.Piece && v.Edge == u.Edge {
			if v.Reversed {
				along = length - along
			}
			return v, far + along, true
		}
		far += length
	}
	return u, 0, false
}

// meets returns where in the two runs of the seam one edge is and, on the other side, the
// other; swapped says that the first is in side b.
func (s *Seam) meets(first, second EdgeRef) (at [2]int, swapped, ok bool) {
	index := func(run Run, r EdgeRef) int {
		return slices.IndexFunc(run, func(u EdgeUse) bool { return u.Piece == r.Piece && u.Edge == r.Edge })
	}
	if i, k := index(s.A, first), index(s.B, second); i >= 0 && k >= 0 {
		return [2]int{i, k}, false, true
	}
	if i, k := index(s.B, first), index(s.A, second); i >= 0 && k >= 0 {
		return [2]int{i, k}, true, true
	}
	return at, false, false
}

// parts returns the uses of the two parts of an edge that was slit, in the direction of
// its use.
func (s *slitPiece) parts(u EdgeUse) (first, second EdgeUse) {
	first, second = u, u
	first.Edge, second.Edge = s.slit.before, s.slit.after
	if u.Reversed {
		first, second = second, first
	}
	return first, second
}

// part divides the seams at the gusset: each goes on as two.
func (g *gusseting) part(p *Project, seams []*Seam, out *Outcome) {
	first, second := g.pieces[0], g.pieces[1]
	for _, s := range seams {
		at, swapped, ok := s.meets(EdgeRef{first.old.ID, first.edge.ID}, EdgeRef{second.old.ID, second.edge.ID})
		if !ok {
			continue
		}
		a, b := s.A, s.B
		if swapped {
			a, b = b, a
		}
		a1, a2 := first.parts(a[at[0]])
		b1, b2 := second.parts(b[at[1]])
		one, two := *s, *s
		one.A, one.B = append(slices.Clone(a[:at[0]]), a1), append(slices.Clone(b[:at[1]]), b1)
		two.A, two.B = append(Run{a2}, a[at[0]+1:]...), append(Run{b2}, b[at[1]+1:]...)
		if swapped {
			one.A, one.B, two.A, two.B = one.B, one.A, two.B, two.A
		}
		p.keepFullness(g.p, s, &one, 0)
		p.keepFullness(g.p, s, &two, g.p.runLength(s.run(s.Fuller))-p.runLength(two.run(s.Fuller)))
		two.ID = g.ids.make(kindSeam)
		stem, _ := nameStem(s.Name)
		two.Name = unusedName(stem, func(n string) bool {
			return slices.ContainsFunc(p.Seams, func(o *Seam) bool { return o.Name == n })
		})
		list := make([]*Seam, 0, len(p.Seams)+1)
		for _, o := range p.Seams {
			if o == s {
				list = append(list, &one, &two)
				continue
			}
			list = append(list, o)
		}
		p.Seams = list
		out.say("Seam %s ends at the gusset and goes on beyond it as %s.", s.label(), two.label())
	}
}

// finish makes the gusset, sews it in and divides the seams.
func (g *gusseting) finish(name string, seams []*Seam) (Outcome, error) {
	first := g.pieces[0]
	up, down := first.now.slitSides(first.slit)
	width := math.Hypot(up, down)
	if g.a.Width != nil {
		width = float64(*g.a.Width)
	}
	if !(width > 0) {
		return Outcome{}, errors.New("a gusset is wider than nothing")
	}
	if name == "" {
		name = "Gusset"
	}
	in := first.now.newPiece(g.p.unusedPieceName(name), g.ids)
	sides, shape, err := g.outline(in, up, down, width)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: g.p.withPiece(first.now), Lineage: g.lin, Made: in.ID}
	subject := []ID{first.old.ID}
	if len(g.pieces) > 1 {
		out.Project = out.Project.withPiece(g.pieces[1].now)
		subject = append(subject, g.pieces[1].old.ID)
		g.part(out.Project, seams, &out)
	}
	out.Project.takeIn(in)
	for _, s := range sides {
		out.Project.sew(g.ids, Run{s.of}, Run{s.in}, in.Name+", "+s.name, 1, Plain)
	}
	out.sayLetIn(first.now, in, shape, first.now.Edges[first.now.indexOf(first.slit.up)].Allowance.Start, g.p.Unit)
	for _, s := range g.pieces {
		out.settle(s.now)
		out.freeSpans(s.now, s.slit)
	}
	out.Project.dropIdle(g.p)
	out.Project.NextID = g.ids.next
	out.subject = g.p.subject(subject)
	return out, nil
}

// gussetSide is one side of the gusset and the side of a slit that it is sewn to.
type gussetSide struct {
	of, in EdgeUse
	name   string
}

// outline draws the gusset: a triangle into one slit, with its base left free, a diamond
// into two.
func (g *gusseting) outline(in *Piece, up, down, width float64) ([]gussetSide, letIn, error) {
	first := g.pieces[0]
	unit := g.p.Unit
	shape, ok := opened(up, down, width)
	if !ok {
		return nil, shape, fmt.Errorf("a gusset with sides of %s and %s cannot be %s wide; make it narrower, or the slit deeper", unit.Format(up), unit.Format(down), unit.Format(width))
	}
	allowance := Even(first.now.Edges[first.now.indexOf(first.slit.up)].Allowance.Start)
	// Feet on the level 0, the point above.
	feet := [2]geom.Point{shape.foot(-1), shape.foot(1)}
	use := func(edge ID, like EdgeUse, reversed bool) EdgeUse {
		u := EdgeUse{Piece: in.ID, Copy: CopyRef{Number: 1}, Edge: edge, Reversed: reversed}
		// The left of the piece has the left of the gusset.
		u.Copy.Mirrored = in.Cut.Way == CutPairs && like.Copy.Mirrored != (like.Half == Far)
		return u
	}
	slitUse := func(s *slitPiece, edge ID, reversed bool) EdgeUse {
		u := s.use
		u.Edge, u.Reversed = edge, reversed
		return u
	}
	var sides []gussetSide
	if len(g.pieces) == 1 {
		in.addEdge(Edge{Name: "base", Allowance: allowance}, geom.Path{geom.Line(feet[0], feet[1])}, g.ids)
	} else {
		second := g.pieces[1]
		// The foot beside the first part of the first piece's edge is where the part of
		// the second that is sewn to it ends.
		same := first.use.Reversed == second.use.Reversed
		a, b := second.now.slitSides(second.slit)
		left, right := a, b
		edges := [2]ID{second.slit.up, second.slit.down}
		if !same {
			left, right = b, a
			edges[0], edges[1] = edges[1], edges[0]
		}
		lower, ok := opened(left, right, width)
		if !ok {
			return nil, shape, fmt.Errorf("a gusset with sides of %s and %s cannot be %s wide; make it narrower, or the slits deeper", unit.Format(left), unit.Format(right), unit.Format(width))
		}
		point := lower.below(feet)
		ids := [2]ID{
			in.addEdge(Edge{Name: "lower left", Allowance: allowance}, geom.Path{geom.Line(feet[0], point)}, g.ids),
			in.addEdge(Edge{Name: "lower right", Allowance: allowance}, geom.Path{geom.Line(point, feet[1])}, g.ids),
		}
		sides = append(sides,
			gussetSide{slitUse(second, edges[0], !same), use(ids[0], first.use, false), "lower left"},
			gussetSide{slitUse(second, edges[1], !same), use(ids[1], first.use, false), "lower right"})
	}
	right := in.addEdge(Edge{Name: "right", Allowance: allowance}, geom.Path{geom.Line(feet[1], geom.Point{})}, g.ids)
	left := in.addEdge(Edge{Name: "left", Allowance: allowance}, geom.Path{geom.Line(geom.Point{}, feet[0])}, g.ids)
	in.closeOutline()
	// A gusset gives best where it is stretched on the bias; its corners, cut square, lie
	// on it when the grain runs along a side.
	in.Grain = grainAlong(in.DrawnPath(), upright)
	return append([]gussetSide{
		{slitUse(first, first.slit.up, false), use(left, first.use, true), "left"},
		{slitUse(first, first.slit.down, false), use(right, first.use, true), "right"},
	}, sides...), shape, nil
}

// below returns the point of the piece turned over so that it lies below its feet.
func (l letIn) below(feet [2]geom.Point) geom.Point {
	// Along the line of the feet from the left one, by the law of cosines.
	base := feet[1].Sub(feet[0])
	apart := base.Len()
	x := (l.left*l.left - l.right*l.right + apart*apart) / (2 * apart)
	y := math.Sqrt(math.Max(l.left*l.left-x*x, 0))
	way := base.Unit()
	return feet[0].Add(way.Mul(x)).Sub(way.Left().Mul(y))
}
