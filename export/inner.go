package export

import (
	"hemlet/draft"
	"hemlet/geom"
)

// innerMarks returns the lines inside the piece on all its halves: darts, placement
// lines, slits, cut-outs, marked points, fastenings. With cuts only what is cut through,
// with holes buttonholes too.
func innerMarks(flat *draft.Flat, cuts, holes bool) []Mark {
	halves := []geom.Affine{geom.Identity}
	if flat.Fold != nil {
		if mirror, ok := geom.Reflection(flat.Fold.P0, flat.Fold.P3); ok {
			halves = append(halves, mirror)
		}
	}
	var marks []Mark
	for _, half := range halves {
		if !cuts {
			for _, d := range flat.Piece.Darts {
				marks = append(marks, dartMark(flat.Piece, d, half)...)
			}
		}
		for _, line := range flat.Piece.Lines {
			for _, m := range lineMarks(line, cuts, holes) {
				if len(m.Chains) == 0 {
					continue
				}
				if m = m.Transform(half); half == geom.Identity || !onFold(flat, m) {
					marks = append(marks, m)
				}
			}
		}
	}
	return marks
}

// onFold reports whether the mark lies wholly on the fold, so that its mirror
// image would draw it twice.
func onFold(flat *draft.Flat, m Mark) bool {
	if flat.Fold == nil {
		return false
	}
	const near = 1e-6 // mm: rounding of the mirror image
	for _, c := range m.Chains {
		for _, s := range c {
			for _, p := range [...]geom.Point{s.P0, s.P1, s.P2, s.P3} {
				if _, d := flat.Fold.Nearest(p); d > near {
					return false
				}
			}
		}
	}
	return true
}

// dartMark returns the lines of a dart, pleat or tuck: those that are sewn onto each
// other, those that only meet, those along which the cloth turns back, and arrows from
// what is folded to where it is laid.
func dartMark(p *draft.Piece, d draft.Dart, half geom.Affine) []Mark {
	meet, turn := p.FoldLines(d)
	if len(meet) == 0 {
		return nil
	}
	if d.Fold == draft.Wedge {
		m := mark(DartLegs, geom.Path{meet[0], meet[1].Reverse()})
		m.Name, m.DashFrom = d.Name, dashToEnd(meet[0].Length())
		return []Mark{m.Transform(half)}
	}
	role := DartLegs
	if d.Fold == draft.Pleat {
		role = PlacementMark
	}
	var marks []Mark
	for _, s := range meet {
		m := mark(role, geom.Path{s})
		if role == DartLegs {
			m.DashFrom = dashToEnd(s.Length())
		}
		marks = append(marks, m.Transform(half))
	}
	for i, s := range turn {
		m := mark(InternalLine, geom.Path{s})
		m.Turned = true
		if i == 0 {
			m.Name = d.Name
		}
		marks = append(marks, m.Transform(half))
	}
	for _, s := range p.FoldArrows(d) {
		way := s.P3.Sub(s.P0)
		m := mark(InternalLine, geom.Path{s}, arrowHead(s.P3, way.Unit(), min(foldHead, way.Len()/3)))
		m.Sort, m.Solid = "arrow", true
		marks = append(marks, m.Transform(half))
	}
	return marks
}

// foldHead is how long in mm the head of the arrow across a pleat is, at most.
const foldHead = 2

// dashToEnd returns where in the dashes a stitching line of a length begins so that the
// middle of a dash lies on its end, where it can be seen.
func dashToEnd(length float64) float64 {
	dash := stitching.dashes[0]
	period := dash + stitching.dashes[1]
	return period - mod(length+period-dash/2, period)
}

// lineMarks returns what is drawn of a line inside the piece, or cut.
func lineMarks(line draft.Line, cuts, holes bool) []Mark {
	switch {
	case line.Kind == draft.FastenLine:
		if cuts && !holes {
			return nil
		}
		return fastenMarks(line, cuts)
	case cuts && !line.Kind.Cut():
		return nil
	}
	return []Mark{lineMark(line)}
}

// lineMark returns a line that is drawn inside the piece.
func lineMark(line draft.Line) Mark {
	role := InternalLine
	switch line.Kind {
	case draft.CutoutLine:
		role = Cutout
	case draft.SlitLine:
		role = Slit
	case draft.PlacementLine, draft.StyleLine:
		role = PlacementMark
	case draft.DartLine:
		role = DartLegs
	}
	m := mark(role, line.Path())
	if sign := line.PointSign(); sign != nil {
		m = mark(role, sign...)
		m.Drill = true
	}
	if line.Kind == draft.StyleLine || line.Kind == draft.GatheringLine || line.Kind == draft.ReinforcePoint {
		m.Sort = line.Kind.String()
	}
	m.Name = line.Name
	return m
}
