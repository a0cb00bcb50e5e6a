package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// godetInSeam sets godets into the seams of an edge.
type godetInSeam struct {
	p    *Project
	a    InsertGodetArgs
	ids  *idSource
	ends []seamEnd
	// far is how far the point of the godet lies along each side of each seam, in mm from
	// where the runs begin.
	far [][2]float64
	// sides are how long the sides of the godet are, on the left and on the right.
	left, right float64
	lefts       []Side // which side of each seam lies on the left of its godet
	cut         CutRule
}

// setInSeam sets a godet into each seam of an edge, or into the one that is named: the
// seam ends at its point, below which both sides are sewn to it.
func (p *Project) setInSeam(a InsertGodetArgs, name string, edge EdgeRef, at outlinePlace) (Outcome, error) {
	g := &godetInSeam{p: p, a: a, ids: p.newIDs()}
	for _, s := range p.seamsAt(edge) {
		if a.Seam != nil && s.ID != ID(*a.Seam) {
			continue
		}
		end, err := p.endNear(s, edge, at.along)
		if err != nil {
			return Outcome{}, err
		}
		g.ends = append(g.ends, end)
	}
	if len(g.ends) == 0 {
		return Outcome{}, errors.New("this edge is not sewn in the seam that is named")
	}
	if err := g.measure(edge, at); err != nil {
		return Outcome{}, err
	}
	if err := g.rule(); err != nil {
		return Outcome{}, err
	}
	return g.make(name)
}

// depth returns how far from the hem the point is, in mm along the side of a seam on
// which it was placed.
func (g *godetInSeam) depth(edge EdgeRef, at outlinePlace) (float64, error) {
	end := g.ends[0]
	switch {
	case g.a.Depth != nil && g.a.To != nil:
		return 0, errors.New("a slit goes to a depth or to a point; give one of the two")
	case g.a.Depth != nil:
		return float64(*g.a.Depth), nil
	case g.a.To != nil:
		piece := g.p.Piece(edge.Piece)
		back, ok := piece.Place.Affine().Invert()
		if !ok {
			return 0, fmt.Errorf("%s lies on the bench in a way that cannot be undone", piece.label())
		}
		path := piece.EdgePath(at.edge)
		place, _ := path.Nearest(back.Apply(geom.Point(*g.a.To)))
		near, err := g.p.endNear(end.seam, edge, min(path.Tape().To(place), piece.EdgeLength(at.edge)))
		if err != nil {
			return 0, err
		}
		if near.atEnd != end.atEnd {
			near.from = g.p.runLength(end.seam.run(end.side)) - near.from
		}
		return near.from, nil
	case end.from > 2*placeReach:
		return end.from, nil // the place itself is the point
	}
	return g.p.runLength(end.seam.run(end.side)) / 2, nil
}

// measure finds where the point lies on both sides of each seam.
func (g *godetInSeam) measure(edge EdgeRef, at outlinePlace) error {
	depth, err := g.depth(edge, at)
	if err != nil {
		return err
	}
	unit := g.p.Unit
	for _, end := range g.ends {
		s := end.seam
		var far, below [2]float64
		for _, side := range [...]Side{end.side, end.side.other()} {
			length := g.p.runLength(s.run(side))
			switch {
			case side == end.side && end.atEnd:
				far[side] = length - depth
			case side == end.side:
				far[side] = depth
			case s.Ratio == 1 && end.atEnd: // as deep on either side
				far[side] = length - depth
			default:
				far[side] = g.p.opposite(s, end.side, far[end.side])
			}
			if below[side] = far[side]; end.atEnd {
				below[side] = length - far[side]
			}
			const least = 2 * placeReach
			if !(below[side] > least && below[side] < length-least) {
				return fmt.Errorf("the godet goes %s into seam %s, which is %s long there; its point lies between the ends of the seam", unit.Format(depth), s.label(), unit.Format(length))
			}
		}
		left := end.leftSide()
		if len(g.far) == 0 {
			g.left, g.right = below[left], below[left.other()]
		} else if math.Abs(g.left-below[left])+math.Abs(g.right-below[left.other()]) > meantSlack {
			return fmt.Errorf("seam %s is not like the others of this edge there; name the seam that gets a godet", s.label())
		}
		g.far, g.lefts = append(g.far, far), append(g.lefts, left)
	}
	return nil
}

// leftSide returns the side of the seam that lies on the left of its godet, as that lies
// with its point up: the one whose outline runs up from the hem.
func (e seamEnd) leftSide() Side {
	u := e.seam.A[0]
	if e.atEnd {
		u = e.seam.A[len(e.seam.A)-1]
		u.Reversed = !u.Reversed
	}
	mirrored := e.seam.BothSides && u.Copy.Mirrored != (u.Half == Far)
	if u.forward() != mirrored {
		return SideA
	}
	return SideB
}

// rule finds how the godet is cut: a pair for each seam that stands for both sides of the
// body, one for each other.
func (g *godetInSeam) rule() error {
	both := 0
	for _, e := range g.ends {
		if e.seam.BothSides {
			both++
		}
	}
	g.cut = CutRule{Way: CutSingle, Count: len(g.ends)}
	switch both {
	case 0:
	case len(g.ends):
		g.cut.Way = CutPairs
	default:
		return errors.New("some seams of this edge stand for both sides of the body and some do not; name the seam that gets a godet")
	}
	return nil
}

// make divides the edges, shortens the seams, and makes the godet and sews it in.
func (g *godetInSeam) make(name string) (Outcome, error) {
	p := g.p
	panel, hem, share := g.hem()
	out := Outcome{}
	next, lin, err := p.divideEdges(g.cuts(), g.ids)
	if err != nil {
		return Outcome{}, err
	}
	shape, err := godetShape(g.left, g.right, g.a, p.Unit)
	if err != nil {
		return Outcome{}, err
	}
	width, err := panel.slitWidth(g.a.Allowance)
	if err != nil {
		return Outcome{}, err
	}
	if g.a.Allowance == nil {
		run := g.ends[0].seam.run(g.ends[0].side)
		if e, _ := p.Piece(run[0].Piece).Edge(run[0].Edge); e != nil {
			width = e.Allowance.Widest()
		}
	}
	if name == "" {
		name = "Godet"
	}
	godet := panel.newPiece(p.unusedPieceName(name), g.ids)
	godet.Cut = g.cut
	left, right := godet.godetOutline(shape, g.a.Shape, hem, share, width, g.ids)
	out.Project, out.Lineage, out.Made = next, lin, godet.ID
	out.Project.takeIn(godet)
	var touched []ID
	for k := range g.ends {
		ids, err := g.sewIn(&out, k, godet, left, right)
		if err != nil {
			return Outcome{}, err
		}
		touched = append(touched, ids...)
	}
	touched = distinct(touched)
	out.subject = p.subject(touched)
	side := min(g.left, g.right)
	out.say("%s is made, with sides of %s; its seams are recorded.", godet.label(), p.Unit.Format(side))
	if side < leastGusset {
		out.say("Sides of %s are hard to sew in; below %s sew by hand.", p.Unit.Format(side), p.Unit.Format(leastGusset))
	}
	for _, id := range touched {
		q := out.Project.Piece(id).clone()
		out.settle(q)
		out.Project = out.Project.withPiece(q)
	}
	out.Project.dropIdle(p)
	out.Project.NextID = g.ids.next
	return out, nil
}

// hem returns the piece and the edge that hangs free beside the side on which the godet
// was placed, and the share of the edge at which the seam ends.
func (g *godetInSeam) hem() (*Piece, Edge, float64) {
	end := g.ends[0]
	piece, i, after, _ := g.p.beyond(end.seam.run(end.side), end.atEnd)
	if after {
		return piece, piece.Edges[i], 0
	}
	return piece, piece.Edges[i], 1
}

// cuts returns where the edges of the seams become two.
func (g *godetInSeam) cuts() []runCut {
	var list []runCut
	for k, end := range g.ends {
		for _, side := range [...]Side{SideA, SideB} {
			if c, ok, err := g.p.cutOf(end.seam.run(side), g.far[k][side]); ok && err == nil {
				list = append(list, c)
			}
		}
	}
	return list
}

// sewIn ends a seam at the point of the godet, marks the point, and records that both
// sides below it are sewn to the godet. It returns the pieces that are sewn.
func (g *godetInSeam) sewIn(out *Outcome, k int, godet *Piece, left, right ID) ([]ID, error) {
	end, s := g.ends[k], g.ends[k].seam
	upper := *s
	var lower [2]Run
	for _, side := range [...]Side{SideA, SideB} {
		run, err := out.Project.followRun(s.run(side), out.Lineage)
		if err != nil {
			return nil, err
		}
		first, second, err := out.Project.parted(run, g.far[k][side])
		if err != nil {
			return nil, err
		}
		kept, freed := second, first.reversed()
		if end.atEnd {
			kept, freed = first, second
		}
		// From the point down to the hem.
		if lower[side] = freed; side == SideA {
			upper.A = kept
		} else {
			upper.B = kept
		}
	}
	begins := g.far[k][s.Fuller]
	if end.atEnd {
		begins = 0
	}
	out.Project.keepFullness(g.p, s, &upper, begins)
	out.Project = out.Project.withSeam(&upper)
	out.say("Seam %s ends at the point of %s: sew to it and no farther, and secure the end.", s.label(), godet.label())
	var touched []ID
	for side, run := range lower {
		in, word := left, "left"
		if Side(side) != g.lefts[k] {
			in, word = right, "right"
		}
		u := EdgeUse{Piece: godet.ID, Copy: CopyRef{Number: k + 1}, Edge: in, Reversed: in == right}
		like := s.A[0]
		u.Copy.Mirrored = g.cut.Way == CutPairs && like.Copy.Mirrored != (like.Half == Far)
		out.Project.sew(g.ids, run, Run{u}, godet.Name+", "+word, 1, Plain)
		touched = append(touched, g.markPoint(out, run[0]))
		for _, v := range run {
			touched = append(touched, v.Piece)
		}
	}
	return touched, nil
}

// markPoint marks where a run begins that leads from the point of a godet, which is sewn
// over twice, and returns the piece.
func (g *godetInSeam) markPoint(out *Outcome, u EdgeUse) ID {
	q := out.Project.Piece(u.Piece).clone()
	path := q.EdgePath(q.indexOf(u.Edge))
	tip := path.Start()
	if u.Reversed {
		tip = path.End()
	}
	marked := slices.ContainsFunc(q.Lines, func(l Line) bool { return l.Kind == ReinforcePoint && l.Nodes[0].At.Near(tip, placeReach) })
	if !marked {
		q.Lines = append(q.Lines, Line{
			ID: g.ids.make(kindLine), Name: unusedName("point of the godet", q.hasLineName), Kind: ReinforcePoint,
			Nodes: []Node{{ID: g.ids.make(kindNode), At: tip}},
		})
		out.Project = out.Project.withPiece(q)
	}
	return q.ID
}
