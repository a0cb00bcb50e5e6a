package station

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// worn is a garment drawn on its wearer, seen from the front: its front and its sleeves
// as cloth hangs about a round body.
type worn struct {
	project *draft.Project
	body    *body.Body
	fig     *figure.Drawing
	marks   []paint.Mark
}

// wornMarks draws the wearer of a project and what the project's pieces make, as far as
// that can be told by their names. It returns nothing where there is no wearer.
func wornMarks(p *draft.Project) ([]paint.Mark, geom.Rect) {
	if len(p.Wearers) == 0 {
		return nil, geom.EmptyRect()
	}
	w := p.Wearers[0]
	k := &worn{project: p, body: body.Resolve(w.Given())}
	k.fig = figure.Draw(k.body, w.Build, figure.Front, ownLevels(w)...)
	k.marks = figureMarks(k.fig)
	for _, piece := range p.Pieces {
		if strings.Contains(strings.ToLower(piece.Name), "sleeve") {
			k.sleeve(piece)
		}
	}
	for _, piece := range p.Pieces {
		if strings.Contains(strings.ToLower(piece.Name), "front") && piece.FoldEdge() >= 0 {
			k.front(piece)
		}
	}
	return k.marks, k.fig.Bounds
}

// roundShare is how wide half of what goes round is seen from the front, as a share of
// its length: the diameter of a circle over half its circumference.
const roundShare = 0.6366

// front hangs a front that is cut on the fold: the fold in the middle, the top of its
// shoulders at the neck, narrower towards the armpits as the cloth goes round.
func (k *worn) front(piece *draft.Piece) {
	flat, err := draft.Unfold(piece)
	neck, ok := k.fig.Mark("neck_base_girth")
	if err != nil || flat.Fold == nil || !ok {
		return
	}
	upright := geom.Translation(flat.Fold.P0.Mul(-1)).Then(geom.Rotation(turnUp(*flat.Fold), geom.Point{}))
	line := flat.Stitch.Transform(upright)
	box := line.Bounds()
	// Below this share of the height the cloth has gone round.
	const round = 0.4
	at := neck.Near[0].Start().Y - box.Max.Y
	k.cloth(piece, warped(line, func(q geom.Point) geom.Point {
		down := min((box.Max.Y-q.Y)/(round*box.H()), 1)
		return geom.Pt(q.X*(1-(1-roundShare)*down), q.Y+at)
	}))
}

// turnUp returns the angle by which a line must be turned to stand upright.
func turnUp(s geom.Segment) float64 {
	d := s.P3.Sub(s.P0)
	if d.Y < 0 {
		d = d.Mul(-1)
	}
	return geom.Pt(0, 1).Angle() - d.Angle()
}

// sleeve hangs a sleeve along each arm, folded in half as a sleeve on an arm is.
func (k *worn) sleeve(piece *draft.Piece) {
	flat, err := draft.Unfold(piece)
	arm, ok := k.fig.Mark("arm_length")
	if err != nil || !ok || len(arm.Near) == 0 {
		return
	}
	from, to := arm.Near[0].Start(), arm.Near[0].End()
	if from.Y < to.Y {
		from, to = to, from
	}
	box := flat.Stitch.Bounds()
	middle := geom.Pt(box.Center().X, box.Max.Y)
	// The mark runs over the arm; the sleeve lies about its middle, a little way up.
	along := to.Sub(from).Unit()
	inward := along.Left()
	if inward.X*from.X > 0 {
		inward = inward.Mul(-1)
	}
	from = from.Add(inward.Mul(k.body.MM("upper_arm_girth") / (2 * math.Pi))).Sub(along.Mul(capTucked * box.H()))
	hang := geom.Translation(middle.Mul(-1)).Then(geom.Scaling(roundShare, 1)).
		Then(geom.Rotation(to.Sub(from).Angle()-geom.Pt(0, -1).Angle(), geom.Point{})).Then(geom.Translation(from))
	line := flat.Stitch.Transform(hang)
	k.cloth(piece, line)
	k.cloth(piece, line.Transform(geom.Scaling(-1, 1)))
}

// capTucked is how much of a sleeve lies under the front at its shoulder, as a share of
// its length.
const capTucked = 0.14

// cloth adds a closed line filled with the cloth of the piece.
func (k *worn) cloth(piece *draft.Piece, line geom.Path) {
	fill := paint.Faded(paint.Cloth, 0.95)
	if c := k.project.Cloth(piece.Cloth); c != nil {
		var rgb color.NRGBA
		if n, err := fmt.Sscanf(c.Colour, "#%02x%02x%02x", &rgb.R, &rgb.G, &rgb.B); n == 3 && err == nil {
			rgb.A = clothOpaque
			fill = paint.Custom(rgb)
		}
	}
	k.marks = append(k.marks, sheet.Filled(line, fill, sheet.Solid(paint.Ink, 1.4)))
}

// clothOpaque is the opacity of a garment, of 255: the body shows through a little.
const clothOpaque = 225

// warped returns the path with its points and handles moved.
func warped(p geom.Path, move func(geom.Point) geom.Point) geom.Path {
	out := make(geom.Path, len(p))
	for i, s := range p {
		s.P0, s.P1, s.P2, s.P3 = move(s.P0), move(s.P1), move(s.P2), move(s.P3)
		out[i] = s
	}
	return out
}
