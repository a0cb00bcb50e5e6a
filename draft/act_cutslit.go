package draft

import "fmt"

// CutSlitArgs are the arguments of CutSlit.
type CutSlitArgs struct {
	At        PlaceRef `arg:"at" says:"the place on the edge from which it is slit"`
	Depth     *Length  `arg:"depth" says:"how deep the slit is, square to the edge; without it, half of the piece there"`
	To        *Vector  `arg:"to" says:"in place of a depth, the point of the slit, in mm on the bench"`
	Allowance *Length  `arg:"allowance" says:"what is turned in along the slit, which tapers to 1 mm at its point; without it, as wide as the piece's seams"`
}

// CutSlit slits a piece from an edge, so that an opening becomes larger by both sides of the
// slit. The sides are hemmed, the point is marked to be sewn over.
var CutSlit = register(Info{
	Name: "cut-slit", Title: "Cut a slit", Group: groupCutting,
	Says: "Slits a piece from an edge, as at a neck or a wrist without a seam to open; its sides are turned in, its end is reinforced.",
}, cutSlit)

func cutSlit(p *Project, a CutSlitArgs) (Outcome, error) {
	panel, at, err := p.placeOn(a.At)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	q := panel.clone()
	plan := slitPlan{at: at}
	if plan.width, err = q.slitWidth(a.Allowance); err != nil {
		return Outcome{}, err
	}
	if plan.depth, plan.to, err = q.slitTo(at, a.Depth, a.To); err != nil {
		return Outcome{}, err
	}
	s, err := q.slitOpen(plan, p.Unit, ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", panel.label(), err)
	}
	for _, id := range [...]ID{s.up, s.down} {
		e, _ := q.Edge(id)
		e.Kind = HemEdge
	}
	out := Outcome{Project: p.withPiece(q), Lineage: s.lin, Made: s.up, subject: p.subject([]ID{panel.ID}), unit: p.Unit}
	out.say("The slit is %s deep, and opens by as much on either side.", p.Unit.Format(s.depth))
	out.settle(q)
	out.freeSpans(q, s)
	out.Project.dropIdle(p)
	out.Project.NextID = ids.next
	return out, nil
}
