package block

import (
	"fmt"

	"hemlet/draft/formula"
	"hemlet/geom"
)

// leapShare is the share of a piece's size beyond which a straight line that joins two
// curves is told: far above rounding, far below what is drawn on purpose.
const leapShare = 0.01

// mostLeaps bounds the leaps of one piece that are told: whoever has more has one cause.
const mostLeaps = 20

// leap is a place where one curve of an outline ends far from where the next one starts.
type leap struct {
	from, to geom.Point
	told     Told
}

// leaps returns where curves of an outline are joined straight. That is meant at the mouth
// of a dart, and seldom elsewhere: a curve is run the wrong way round, or an edge between
// the two was forgotten. What is written as points is meant.
func leaps(c *piece, stops []stop) []leap {
	box := geom.EmptyRect()
	for _, s := range stops {
		box = box.Include(s.at)
	}
	size := max(box.W(), box.H())
	var list []leap
	for i := range stops {
		if len(list) == mostLeaps {
			break
		}
		last := i+1 == len(stops)
		a, b := stops[i], stops[(i+1)%len(stops)]
		within := a.edge == b.edge && a.item == b.item && !last
		if !a.curve || !b.curve || within || a.at.Dist(b.at) <= leapShare*size {
			continue
		}
		list = append(list, leap{a.at, b.at, leapTold(c, a, b)})
	}
	return list
}

func leapTold(c *piece, a, b stop) Told {
	e, next := &c.edges[a.edge], &c.edges[b.edge]
	where := "its edge " + e.name + " is"
	if a.edge != b.edge {
		where = fmt.Sprintf("its edges %s and %s are", e.name, next.name)
	}
	return Told{
		Name:  c.role + " " + e.name + " joined",
		Level: "note",
		Says: fmt.Sprintf("%s: %s joined straight over %s mm, from the end of “%s” to the start of “%s”. If that is meant, write the two points between them; if not, a curve runs the wrong way round, or an edge is missing there.",
			c.title, where, formula.Figure(a.at.Dist(b.at), 1), cut(e.path[a.item].Source(), maxName), cut(next.path[b.item].Source(), maxName)),
	}
}

// leaps tells of the curves that are joined straight, but where a dart lies.
func (m *marker) leaps(list []leap) {
	for _, l := range list {
		// The mouth starts at the one end or, where the piece is listed clockwise, at the
		// other.
		isMouth := m.mouths[m.nodeAt(l.from)] || m.mouths[m.nodeAt(l.to)]
		if !isMouth {
			m.sheet.Told = append(m.sheet.Told, l.told)
		}
	}
}
