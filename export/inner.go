package export

import (
	"math"
	"strings"

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
	m := mark(InternalLine, geom.Path{geom.Line(from.At, d.Apex), geom.Line(d.Apex, to.At)})
	m.Name = d.Name
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

// noteShare is the size of notes as a share of the piece's signs, leastNote the
// least in mm.
const (
	noteShare = 0.5
	leastNote = 1.6
)

// addNotes writes beside slits, cut-outs and marked lines their names, or what they
// are.
func (l *Laid) addNotes(sign float64) {
	size := math.Max(leastNote, noteShare*sign)
	for _, m := range l.Marks {
		if words := noteWords(m); words != "" {
			l.Notes = append(l.Notes, l.noteBeside(m.Bounds(), size, words))
		}
	}
}

// noteWords returns what is written beside a mark, empty for nothing.
func noteWords(m Mark) string {
	switch m.Role {
	case Cutout:
		return strings.TrimPrefix(m.Name+", cut out", ", ")
	case Slit:
		if m.Name == "" {
			return "slit"
		}
		return m.Name
	case InternalLine:
		return m.Name
	default:
		return ""
	}
}

// noteBeside returns the words below a mark; or above, in or beside it, where they would
// run off the piece or into a line below.
func (l *Laid) noteBeside(mark geom.Rect, size float64, words string) Text {
	at, width := mark.Center(), textWidth(words, size, false)
	aside := mark.W()/2 + width/2 + size/2
	middle := at.Y - (textHeight-textDepth)/2*size
	below := Text{At: geom.Pt(at.X, mark.Min.Y-size*1.2), Size: size, Anchor: Middle, Words: words}
	for _, place := range [...]geom.Point{
		below.At, {X: at.X, Y: mark.Max.Y + size*0.5}, {X: at.X, Y: middle},
		{X: at.X + aside, Y: middle}, {X: at.X - aside, Y: middle},
	} {
		t := below
		t.At = place
		if free(t.slab(), l, nil) {
			return t
		}
	}
	return below
}
