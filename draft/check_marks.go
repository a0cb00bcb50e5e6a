package draft

import (
	"fmt"
	"math"

	"hemlet/geom"
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
			c.offerTip(f, &d, d.evenTip(from.At, to.At), "Move the tip so that the legs are equal")
		}
		if !outline.Contains(d.Apex) {
			f := c.add(Problem, edge, "dart tip "+string(d.ID), "The tip of %s lies outside the piece. Move it in, or the whole dart.", d.called())
			apex := d.Apex
			f.At = &apex
			if tip, ok := d.tipInside(from.At, to.At, outline); ok {
				c.offerTip(f, &d, tip, "Move the tip into the piece")
			}
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
		notch := partText(c.piece.ID, n.ID)
		f.mend("Put it in the middle of the edge", "move-notch", "notch", notch, "at", "50%")
		f.mend("Take it away", "delete-notch", "notches", notch)
	}
}

// checkPartners tells how many seam edges are not yet sewn to anything.
func (c *pieceCheck) checkPartners() {
	var alone []string
	var edges []*Edge
	for i := range c.piece.Edges {
		if e := &c.piece.Edges[i]; e.Kind == SeamEdge && !c.lookup.sewn[edgeKey{c.piece.ID, e.ID}] {
			alone, edges = append(alone, e.label()), append(edges, e)
		}
	}
	var f *Finding
	them := "them all"
	switch {
	case len(alone) == 0:
		return
	case len(alone) == 1:
		them = "it"
		f = c.add(Remark, nil, "partners", "Its edge %s is sewn to nothing yet. Sew it to its partner, or say what it is: hem, casing or raw.", alone[0])
	default:
		f = c.add(Remark, nil, "partners", "%d of its edges are sewn to nothing yet: %s. Sew them to their partners, or say what they are: hem, casing or raw.", len(alone), list(alone, 5))
	}
	f.mend("Hem "+them, "set-kind", "edges", c.piece.edgesText(edges), "kind", HemEdge.String())
	f.mend("Leave "+them+" raw", "set-kind", "edges", c.piece.edgesText(edges), "kind", RawEdge.String())
}

// offerTip offers to move the tip of a dart.
func (c *pieceCheck) offerTip(f *Finding, d *Dart, tip geom.Point, title string) {
	f.mend(title, "move-dart", "dart", partText(c.piece.ID, d.ID), "apex", c.piece.onBench(tip))
}

// evenTip returns the place for the tip, next to where it is, that is equally far from both
// ends of the mouth.
func (d *Dart) evenTip(from, to geom.Point) geom.Point {
	middle := from.Lerp(to, 0.5)
	square := to.Sub(from).Unit().Left()
	return middle.Add(square.Mul(d.Apex.Sub(middle).Dot(square)))
}

// tipInside returns a place for the tip within the outline: as long as the dart is, or
// half or a quarter of that, to the one side of its mouth or the other.
func (d *Dart) tipInside(from, to geom.Point, outline geom.Path) (geom.Point, bool) {
	middle := from.Lerp(to, 0.5)
	reach := middle.Sub(d.Apex)
	for _, share := range []float64{1, -0.5, 0.5, -0.25, 0.25} {
		if tip := middle.Add(reach.Mul(share)); outline.Contains(tip) {
			return tip, true
		}
	}
	return geom.Point{}, false
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
