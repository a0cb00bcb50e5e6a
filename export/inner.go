package export

import (
	"hemlet/draft"
	"hemlet/geom"
)

// drillArm is half the size in mm of the cross on a marked point.
const drillArm = 1.5

// innerMarks returns the lines inside the piece on all its halves: darts, placement
// lines, slits, cut-outs, marked points. With cuts only what is cut through.
func innerMarks(flat *draft.Flat, cuts bool) []Mark {
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
			if cuts && !line.Kind.Cut() {
				continue
			}
			m := lineMark(line)
			if len(m.Chains) == 0 {
				continue
			}
			if m = m.Transform(half); half == geom.Identity || !onFold(flat, m) {
				marks = append(marks, m)
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

// dartMark returns the two legs of the dart, to be sewn onto each other.
func dartMark(p *draft.Piece, d draft.Dart, half geom.Affine) []Mark {
	from, _, _ := p.Node(d.From)
	to, _, _ := p.Node(d.To)
	if from == nil || to == nil {
		return nil
	}
	m := mark(DartLegs, geom.Path{geom.Line(from.At, d.Apex), geom.Line(d.Apex, to.At)})
	m.Name = d.Name
	// The middle of a dash lies on the point, so that it can be seen.
	dash := stitching.dashes[0]
	period := dash + stitching.dashes[1]
	m.DashFrom = period - mod(from.At.Dist(d.Apex)+period-dash/2, period)
	return []Mark{m.Transform(half)}
}

// lineMark returns a line that is drawn inside the piece.
func lineMark(line draft.Line) Mark {
	role := InternalLine
	switch line.Kind {
	case draft.CutoutLine:
		role = Cutout
	case draft.SlitLine:
		role = Slit
	case draft.PlacementLine:
		role = PlacementMark
	case draft.DartLine:
		role = DartLegs
	}
	m := mark(role, line.Path())
	if line.Kind == draft.DrillPoint && len(line.Nodes) > 0 {
		at, x, y := line.Nodes[0].At, geom.Pt(drillArm, 0), geom.Pt(0, drillArm)
		m = mark(role, geom.Path{geom.Line(at.Sub(x), at.Add(x))}, geom.Path{geom.Line(at.Sub(y), at.Add(y))})
		m.Drill = true
	}
	m.Name = line.Name
	return m
}
