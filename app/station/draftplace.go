package station

import (
	"math"
	"strings"

	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// side says before which half of the wearer a piece is shown.
type side int

const (
	aside side = iota // beside the figures
	onBack
	onFront
)

// sideOf returns where a piece belongs by the name of its role.
func sideOf(p *block.Piece) side {
	role := strings.ToLower(p.Role)
	switch {
	case strings.Contains(role, "front"):
		return onFront
	case strings.Contains(role, "back"):
		return onBack
	}
	return aside
}

// middleOf returns where the middle of the body runs through a piece: across at its
// fold, or at the edge that is called the centre.
func middleOf(p *block.Piece) (x float64, ok bool) {
	for i, e := range p.Edges {
		if len(e.Nodes) == 0 || e.Kind != "fold" && !strings.Contains(strings.ToLower(e.Name), "centre") {
			continue
		}
		next := p.Edges[(i+1)%len(p.Edges)]
		if len(next.Nodes) == 0 {
			continue
		}
		return (e.Nodes[0].At.X + next.Nodes[0].At.X) / 2, true
	}
	return 0, false
}

// levelOrder is by which levels pieces are put at the height where they belong, the
// surest first.
var levelOrder = []string{"waist", "bust", "belly", "hip"}

// levelIn returns the height at which a span of the piece lies that stands for the
// girth of a level, near the middle of the body.
func levelIn(p *block.Piece, level string, middle float64) (y float64, ok bool) {
	best := math.Inf(1)
	for _, s := range p.Spans {
		if s.Measure != body.GirthOf(level) && s.Measure != body.ArcFrontOf(level) && s.Measure != body.ArcBackOf(level) {
			continue
		}
		for _, path := range stretchOf(p, s) {
			for _, at := range []geom.Point{path.Start(), path.End()} {
				if d := math.Abs(at.X - middle); d < best {
					best, y, ok = d, at.Y, true
				}
			}
		}
	}
	return y, ok
}

// heightOf returns how high above the ground the level is on the figure.
func heightOf(fig *figure.Drawing, level string) (float64, bool) {
	m, ok := fig.Mark(body.GirthOf(level))
	if !ok || len(m.Near) == 0 || len(m.Near[0]) == 0 {
		return 0, false
	}
	return m.Near[0].Start().Y, true
}

// placing says where the figures stand and how the pieces of a block lie on them, all
// in the millimetres of the sheet.
type placing struct {
	back, front geom.Affine // of the figures
	// hasBack and hasFront say whether any piece lies on the figure.
	hasBack, hasFront bool
	pieces            []geom.Affine
	sides             []side
}

// Gaps as shares of the width of the figure.
const (
	gapBetween = 0.14
	gapAside   = 0.12
)

// place finds where the pieces lie on the wearer: the middle of the body on that of the
// figure, and the levels at their height. Pieces that are neither of the front nor of
// the back lie beside it as they do on the sheet.
func place(s *block.Sheet, fig *figure.Drawing) placing {
	l := placing{back: geom.Identity, front: geom.Identity}
	dx, leftward := l.takeSides(s)
	apart := geom.Translation(geom.Pt(fig.Bounds.W()*(1+gapBetween), 0))
	switch {
	case !l.hasBack || !l.hasFront: // one figure will do
	case leftward: // as they lie on the sheet, side seam to side seam
		l.front = apart
	default:
		l.back = apart
	}
	dy := risen(s, fig)
	beside := math.Inf(-1)
	boxes := geom.EmptyRect()
	for i, at := range l.sides {
		m := geom.Identity
		switch at {
		case onFront:
			m = geom.Translation(geom.Pt(dx[onFront], dy)).Then(l.front)
		case onBack:
			m = geom.Translation(geom.Pt(dx[onBack], dy)).Then(l.back)
		}
		l.pieces = append(l.pieces, m)
		box := outlineOf(&s.Pieces[i]).Transform(m).Bounds()
		if at == aside {
			boxes = boxes.Union(box)
			continue
		}
		beside = max(beside, box.Max.X)
	}
	if !boxes.Empty() {
		l.layAside(boxes, beside, fig)
	}
	return l
}

// takeSides finds of each piece the side of the body that it covers, aside where nothing says
// where the middle of that side lies. It returns how far each side is moved to have its middle
// at 0, and whether the front lies to the left of its middle.
func (l *placing) takeSides(s *block.Sheet) (dx [onFront + 1]float64, leftward bool) {
	var known [onFront + 1]bool
	for i := range s.Pieces {
		p := &s.Pieces[i]
		at := sideOf(p)
		l.sides = append(l.sides, at)
		if x, ok := middleOf(p); ok && at != aside && !known[at] {
			dx[at], known[at] = -x, true
			if at == onFront {
				leftward = outlineOf(p).Bounds().Center().X < x
			}
		}
	}
	for i, at := range l.sides {
		if at != aside && !known[at] {
			l.sides[i] = aside
		}
		l.hasBack = l.hasBack || l.sides[i] == onBack
		l.hasFront = l.hasFront || l.sides[i] == onFront
	}
	return dx, leftward
}

// layAside lays what is on no side of the body, and has its place on the sheet in boxes, to
// the right of the figures and of what reaches to beside on them, its middle at half their
// height.
func (l *placing) layAside(boxes geom.Rect, beside float64, fig *figure.Drawing) {
	wide := fig.Bounds.W()
	edge := fig.Bounds.Max.X
	if l.hasBack && l.hasFront {
		edge += wide * (1 + gapBetween)
	}
	edge = max(edge, beside)
	by := geom.Pt(edge+gapAside*wide-boxes.Min.X, fig.Bounds.Center().Y-boxes.Center().Y)
	for i, at := range l.sides {
		if at == aside {
			l.pieces[i] = geom.Translation(by)
		}
	}
}

// risen returns how far the pieces are lifted from the sheet to the height where they
// belong on the figure.
func risen(s *block.Sheet, fig *figure.Drawing) float64 {
	// The back first: its levels are what the front's are drawn from.
	for _, want := range []side{onBack, onFront} {
		for _, level := range levelOrder {
			for i := range s.Pieces {
				p := &s.Pieces[i]
				middle, ok := middleOf(p)
				if sideOf(p) != want || !ok {
					continue
				}
				y, inPiece := levelIn(p, level, middle)
				h, onFigure := heightOf(fig, level)
				if inPiece && onFigure {
					return h - y
				}
			}
		}
	}
	top := math.Inf(-1)
	for i := range s.Pieces {
		if sideOf(&s.Pieces[i]) != aside {
			top = max(top, outlineOf(&s.Pieces[i]).Bounds().Max.Y)
		}
	}
	if neck, ok := fig.Mark("neck_base_girth"); ok && len(neck.Near) > 0 && !math.IsInf(top, 0) {
		return neck.Near[0].Start().Y - top
	}
	return 0
}
