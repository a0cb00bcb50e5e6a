package draft

import (
	"fmt"
	"math"
)

// legLimit is how far, in mm, the two legs of a dart may differ: sewn together,
// the longer one puckers.
const legLimit = 0.5

// checkDarts finds darts whose legs differ or whose tip lies off the piece.
func (c *pieceCheck) checkDarts() {
	outline := c.piece.DrawnPath()
	for _, d := range c.piece.Darts {
		edge, _ := c.piece.Edge(d.Edge)
		from, _, _ := c.piece.Node(d.From)
		to, _, _ := c.piece.Node(d.To)
		if from == nil || to == nil {
			continue
		}
		a, b := from.At.Dist(d.Apex), to.At.Dist(d.Apex)
		if diff := math.Abs(a - b); diff > legLimit && d.Fold == Wedge {
			f := c.add(Problem, edge, "dart "+string(d.ID), "The legs of %s differ by %s (%s and %s); sewn together the longer one puckers. Move a mouth point or the tip.", d.called(), c.unit.FormatSmall(diff), c.unit.Format(a), c.unit.Format(b))
			f.Value, f.Limit = diff, legLimit
		}
		if !outline.Contains(d.Apex) {
			f := c.add(Problem, edge, "dart tip "+string(d.ID), "The tip of %s lies outside the piece. Move it in, or the whole dart.", d.called())
			apex := d.Apex
			f.At = &apex
		}
	}
}

// checkNotches finds notches that would lie beyond the end of their edge.
func (c *pieceCheck) checkNotches(lengths []float64) {
	for _, n := range c.piece.Notches {
		edge, i := c.piece.Edge(n.Edge)
		if edge == nil || n.Share || n.At <= lengths[i]+c.unit.placeSlack() {
			continue
		}
		f := c.add(LookAgain, edge, "notch "+string(n.ID), "A notch is set %s along an edge of %s, beyond its end. Move it back.", c.unit.Format(n.At), c.unit.Format(lengths[i]))
		f.Value, f.Limit = n.At, lengths[i]
	}
}

// checkPartners tells how many seam edges are not yet sewn to anything.
func (c *pieceCheck) checkPartners() {
	var alone []string
	for i := range c.piece.Edges {
		if e := &c.piece.Edges[i]; e.Kind == SeamEdge && !c.lookup.sewn[edgeKey{c.piece.ID, e.ID}] {
			alone = append(alone, e.label())
		}
	}
	switch {
	case len(alone) == 1:
		c.add(Remark, nil, "partners", "Its edge %s is sewn to nothing yet. Sew it to its partner, or say what it is: hem, casing or raw.", alone[0])
	case len(alone) > 1:
		c.add(Remark, nil, "partners", "%d of its edges are sewn to nothing yet: %s.", len(alone), list(alone, 5))
	}
}

// list joins the first most words with commas and says how many more there are.
func list(words []string, most int) string {
	text := ""
	for i, w := range words {
		if i == most {
			return text + fmt.Sprintf(" and %d more", len(words)-most)
		}
		if i > 0 {
			text += ", "
		}
		text += w
	}
	return text
}
