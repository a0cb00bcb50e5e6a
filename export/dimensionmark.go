package export

import (
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// dimensionMarks returns the dimension lines that run straight from point to point, with
// arrow heads and their length as their name. Lengths along edges are told by the edges.
func (r ruler) dimensionMarks(flat *draft.Flat) []Mark {
	var marks []Mark
	for _, s := range flat.Piece.Spans {
		if s.Measure != "" || len(s.Edges)+len(s.Lines) > 0 {
			continue
		}
		a, b := flat.Piece.AnyNode(s.From), flat.Piece.AnyNode(s.To)
		if a == nil || b == nil || a.At == b.At {
			continue
		}
		words := strings.TrimSpace(s.Name + " " + r.project.Unit.FormatTrue(a.At.Dist(b.At)))
		line := mark(PlacementMark, geom.Path{geom.Line(a.At, b.At)})
		line.Name, line.Sort, line.Solid = words, "dimension", true
		marks = append(marks, line)
		way := b.At.Sub(a.At).Unit()
		size := min(signSize(flat)/2, a.At.Dist(b.At)/3)
		heads := mark(PlacementMark, arrowHead(b.At, way, size), arrowHead(a.At, way.Mul(-1), size))
		heads.Sort, heads.Solid = "dimension", true
		marks = append(marks, heads)
	}
	return marks
}
