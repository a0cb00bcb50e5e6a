package draft

import "strings"

// checkScale tells what a fit has brought out of scale, as far as no other check says so.
func (s *Slots) checkScale(p *Project) []Finding {
	var out []Finding
	for _, d := range p.Derivations {
		if d.Kind != fitKind {
			continue
		}
		for _, a := range s.ScaleAdvice(p, d.ID) {
			if strings.HasPrefix(a.Key, "fit/") {
				out = append(out, a.Finding)
			}
		}
	}
	return out
}

// checkSmall finds what can hardly be sewn because it is too small.
func (c *pieceCheck) checkSmall() {
	for _, d := range c.piece.Darts {
		if width := c.piece.TakeUp(d); d.Fold == Wedge && width > 0 && width < leastDart {
			edge, _ := c.piece.Edge(d.Edge)
			f := c.add(Remark, edge, smallDart+string(d.ID), "Only %s is taken in by %s; below %s a dart can hardly be sewn to a point. Ease that in, gather it, or leave it out.", c.unit.FormatSmall(width), d.called(), c.unit.Format(leastDart))
			f.Value, f.Limit = width, leastDart
			dart := partText(c.piece.ID, d.ID)
			f.mend("Ease in what it takes in", "absorb-dart", "darts", dart, "into", Ease.String())
			f.mend("Gather what it takes in", "absorb-dart", "darts", dart, "into", Gathers.String())
			f.mend("Leave the dart out", "delete-dart", "darts", dart)
		}
	}
	if !strings.Contains(strings.ToLower(c.piece.Name), "gusset") {
		return
	}
	shortest := -1
	for i := range c.piece.Edges {
		if kind := c.piece.Edges[i].Kind; kind == SeamEdge && (shortest < 0 || c.piece.EdgeLength(i) < c.piece.EdgeLength(shortest)) {
			shortest = i
		}
	}
	if shortest >= 0 && c.piece.EdgeLength(shortest) < leastGusset {
		side := c.piece.EdgeLength(shortest)
		f := c.add(Remark, &c.piece.Edges[shortest], smallGusset, "A side of this gusset is %s long; below %s its corners can hardly be turned in. Cut the pieces wider there in place of the gusset, or sew it by hand.", c.unit.FormatSmall(side), c.unit.Format(leastGusset))
		f.Value, f.Limit = side, leastGusset
	}
}

// What the keys of the findings about small things end in.
const (
	smallDart   = "small dart "
	smallGusset = "small gusset"
)
