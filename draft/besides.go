package draft

import (
	"math"
	"slices"
)

// leastBesides is by how much, in mm, a length changes at least for that to be told beside
// what was asked for: a twentieth, which nobody cuts.
const leastBesides = 0.05

// besides returns in words what a change for the sake of seams alters besides: edges that
// none of them sews, sewn ones before others, and lengths that stand for a measure.
func (p *Project) besides(next *Project, seams []*Seam) []string {
	meant := edgesOf(seams)
	var sewn, open, measured []string
	s, t := NewSlots(), NewSlots()
	for _, was := range p.Pieces {
		now := next.Piece(was.ID)
		if now == nil || now == was {
			continue
		}
		told := make(map[ID]bool)
		for i := range was.Edges {
			e := &was.Edges[i]
			_, k := now.Edge(e.ID)
			if k < 0 || meant[EdgeRef{was.ID, e.ID}] {
				continue
			}
			by := t.EdgeLengths(now)[k] - s.EdgeLengths(was)[i]
			if math.Abs(by) < leastBesides {
				continue
			}
			told[e.ID] = true
			says := p.grown(e.label()+" of "+was.label(), by)
			if p.sewn(was.ID, e.ID) {
				sewn = append(sewn, says)
			} else {
				open = append(open, says)
			}
		}
		for _, span := range was.Spans {
			if span.Measure == "" || !saysMore(span, was.ID, told, meant) {
				continue
			}
			if by := t.SpanLength(now, span) - s.SpanLength(was, span); math.Abs(by) >= leastBesides {
				measured = append(measured, p.grown(span.Name+" of "+was.label(), by))
			}
		}
	}
	return slices.Concat(sewn, open, measured)
}

// saysMore reports whether the length of a span says something that its edges do not: that
// of a seam that is meant to change, or of an edge that is told of already.
func saysMore(span Span, piece ID, told map[ID]bool, meant map[EdgeRef]bool) bool {
	if len(span.Edges) == 0 {
		return true
	}
	return !slices.ContainsFunc(span.Edges, func(id ID) bool { return told[id] || meant[EdgeRef{piece, id}] })
}

// grown says by how much a length has changed.
func (p *Project) grown(what string, by float64) string {
	way := "longer"
	if by < 0 {
		way = "shorter"
	}
	return what + " " + p.Unit.FormatSmall(math.Abs(by)) + " " + way
}

// mostBesides is how many of them an act tells.
const mostBesides = 4

// sayBesides tells what an act for the sake of seams has altered besides.
func (p *Project) sayBesides(seams []*Seam, out *Outcome) {
	if out.Besides = p.besides(out.Project, seams); len(out.Besides) > 0 {
		out.say("Besides, it makes %s.", list(out.Besides, mostBesides))
	}
}

// measured reports whether a length of the piece along edge i stands for a measure.
func (p *Piece) measured(i int) bool {
	return slices.ContainsFunc(p.Spans, func(s Span) bool {
		return s.Measure != "" && slices.Contains(s.Edges, p.Edges[i].ID)
	})
}
