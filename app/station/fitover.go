package station

import (
	"fmt"
	"math"

	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/geom"
)

// drawOver has drawn on the bench what the open step tells of the pieces.
func (f *Fitting) drawOver() {
	if !f.seen {
		return
	}
	o := &bench.Over{}
	fit := f.fit()
	if f.step == stepSee && fit != nil && fit.Err == nil {
		f.see.pictureOver(o, fit)
		f.see.outlinesOver(o, fit)
	}
	if f.step != stepSee || !f.see.bare {
		f.spansOver(o)
	}
	if f.step == stepMade {
		f.suggestionOver(o)
	}
	f.ways.Over(o)
}

// spansOver draws the stretches with their figures, the one in hand strongest.
func (f *Fitting) spansOver(o *bench.Over) {
	u := f.desk.Project().Unit
	for _, r := range f.table.rows {
		m := bench.SpanMark{Piece: r.key.piece, Span: r.span, Colour: paint.Level, Text: u.FormatBare(r.was)}
		if r.target != nil && f.step == stepSee {
			m.Text = u.FormatBare(r.target.Reached)
			if r.contradictory {
				m.Colour = paint.Pin
				m.Text += " of " + u.FormatBare(r.target.Wants)
			}
		}
		if r.key == f.table.chosen {
			m.Strong, m.Colour = true, paint.Chalk
			m.Text = f.strongText(r)
		}
		o.Spans = append(o.Spans, m)
	}
}

// strongText is what stands at the stretch in hand.
func (f *Fitting) strongText(r fitRow) string {
	u := f.desk.Project().Unit
	name := r.span.Name
	if r.span.Measure != "" && f.step != stepSee {
		name = standsFor(r.span.Measure, r.span.Share)
	}
	if r.target != nil && f.step == stepSee && r.target.Known {
		return fmt.Sprintf("%s: %s → %s", name, u.FormatBare(r.was), u.Format(r.target.Reached))
	}
	if r.came {
		return name + ": " + u.Format(r.was) + " as it came"
	}
	return name + ": " + u.Format(r.was)
}

// suggestionOver draws the suggestion that is looked at.
func (f *Fitting) suggestionOver(o *bench.Over) {
	for _, g := range f.made.spans.list {
		if g.Key() == f.made.spans.looked {
			o.Spans = append(o.Spans, bench.SpanMark{
				Piece: g.Piece.ID, Span: g.Span, Colour: paint.Chalk, Strong: true, Lines: g.Lines,
				Text: standsFor(g.Span.Measure, g.Span.Share) + ": " + f.desk.Project().Unit.Format(g.Length),
			})
		}
	}
}

// likeness lays the pattern as it was over a piece: middle on middle, as large as it was or
// brought to the size of what became of it.
func likeness(was, now geom.Path, scale float64) geom.Path {
	from, to := was.Bounds().Center(), now.Bounds().Center()
	out := make(geom.Path, len(was))
	move := func(p geom.Point) geom.Point { return to.Add(p.Sub(from).Mul(scale)) }
	for i, s := range was {
		out[i] = geom.Segment{P0: move(s.P0), P1: move(s.P1), P2: move(s.P2), P3: move(s.P3)}
	}
	return out
}

// outlinesOver draws the pattern as it was, and what lies between that and what it became.
func (s *fitSee) outlinesOver(o *bench.Over, fit *draft.FitState) {
	if s.beside == besideNot && s.share >= 1 {
		return
	}
	scale := fit.Scale
	if s.beside == besideItsSize {
		scale = 1
	}
	for _, now := range fit.Pieces {
		was := sourceOf(fit, now.ID)
		if was == nil {
			continue
		}
		path := now.DrawnPath()
		before := likeness(was.DrawnPath(), path, scale)
		if s.beside != besideNot {
			o.Outlines = append(o.Outlines, bench.Outline{Path: before, Place: now.Place.Affine(), Line: paint.Line{Colour: paint.Of(paint.Chalk), Width: 1.4, Dash: paint.Dash{5, 4}, Join: paint.Round}})
		}
		if s.share < 1 && len(before) == len(path) {
			o.Outlines = append(o.Outlines, bench.Outline{
				Path: between(before, path, s.share), Place: now.Place.Affine(),
				Line: paint.Line{Colour: paint.Of(paint.Chalk), Width: 2.4, Join: paint.Round}, Fill: paint.Faded(paint.Chalk, 0.16),
			})
		}
	}
}

// sourceOf returns a piece of a fit as it was, or nil.
func sourceOf(fit *draft.FitState, id draft.ID) *draft.Piece {
	for _, p := range fit.Source {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// between returns the path that lies a share of the way from one to another of as many
// segments.
func between(a, b geom.Path, share float64) geom.Path {
	out := make(geom.Path, len(a))
	for i := range a {
		out[i] = geom.Segment{P0: a[i].P0.Lerp(b[i].P0, share), P1: a[i].P1.Lerp(b[i].P1, share), P2: a[i].P2.Lerp(b[i].P2, share), P3: a[i].P3.Lerp(b[i].P3, share)}
	}
	return out
}

// tokenOf is the colour of the bench that stands for one of the look.
func (c *strainClass) token() paint.Token {
	if c.colour == look.Ochre {
		return paint.Ochre
	}
	return paint.Chalk
}

// pictureOver lays into the pieces how much longer or shorter the cloth has become.
func (s *fitSee) pictureOver(o *bench.Over, fit *draft.FitState) {
	if s.picture != strainNot {
		s.strains.over(o, fit, s.picture)
	}
}

// strainCells is into how many parts the longer side of a piece is divided for its picture.
const strainCells = 28

// strainPicture is the picture of a piece, with the factor and the place of most change.
type strainPicture struct {
	piece   draft.ID
	patches []bench.Patch
	most    float64
	at      geom.Point
}

// pictureOf divides a piece as it was into cells, lays each where it has come to, and
// gathers those of one class.
func pictureOf(fit *draft.FitState, was, now *draft.Piece, of strainOf) strainPicture {
	outline := was.DrawnPath()
	edge := now.DrawnPath().Flatten(flatWithin * now.DrawnPath().Bounds().H())
	box := outline.Bounds()
	cell := math.Max(box.W(), box.H()) / strainCells
	nx, ny := int(math.Ceil(box.W()/cell)), int(math.Ceil(box.H()/cell))
	// Corners are shared, so that cells of the same class leave no gap.
	corner := make([]geom.Point, (nx+1)*(ny+1))
	for j := range ny + 1 {
		for i := range nx + 1 {
			corner[j*(nx+1)+i], _ = fit.Map(was.ID, geom.Pt(box.Min.X+cell*float64(i), box.Min.Y+cell*float64(j)))
		}
	}
	scale := scaleOf(fit)
	classes := scale.classes()
	quads := make([][][]geom.Point, len(classes))
	out := strainPicture{piece: now.ID}
	for j := range ny {
		for i := range nx {
			middle := geom.Pt(box.Min.X+cell*(float64(i)+0.5), box.Min.Y+cell*(float64(j)+0.5))
			along, across, ok := fit.Strain(was.ID, middle)
			if !ok {
				continue
			}
			k := along
			if of == strainAcross {
				k = across
			}
			if outline.Contains(middle) && (out.most == 0 || offOne(k) > offOne(out.most)) {
				out.most = k
				out.at, _ = fit.Map(was.ID, middle)
			}
			class := scale.classOf(k)
			if classes[class].opacity == 0 {
				continue
			}
			quad := []geom.Point{corner[j*(nx+1)+i], corner[j*(nx+1)+i+1], corner[(j+1)*(nx+1)+i+1], corner[(j+1)*(nx+1)+i]}
			if part := clipped(edge, quad); len(part) > 2 {
				quads[class] = append(quads[class], part)
			}
		}
	}
	out.heed(fit, was, of)
	out.colour(quads, classes)
	return out
}

// colour makes the patches of the cells of each class.
func (x *strainPicture) colour(quads [][][]geom.Point, classes []strainClass) {
	for class, list := range quads {
		if len(list) > 0 {
			c := &classes[class]
			x.patches = append(x.patches, bench.Patch{Piece: x.piece, Path: joinedUp(list), Colour: paint.Faded(c.token(), 0.75*c.opacity)})
		}
	}
}

// heed takes over the place where the whole fit has changed most, which lies between the middles
// of the cells, so that the note there says what is told of it beside.
func (x *strainPicture) heed(fit *draft.FitState, was *draft.Piece, of strainOf) {
	k, way := mostStrain(fit.Largest)
	if fit.Largest.Piece != was.ID || way != of {
		return
	}
	x.most = k
	x.at, _ = fit.Map(was.ID, fit.Largest.At)
}

// mostStrain returns the factor of the way in which the cloth has changed more at a place.
func mostStrain(at draft.StrainAt) (k float64, way strainOf) {
	if offOne(at.Across) > offOne(at.Along) {
		return at.Across, strainAcross
	}
	return at.Along, strainAlong
}

// flatWithin is how far a chord may leave an outline in a picture, as a share of its height.
const flatWithin = 1e-3

// clipped returns the part of a polygon that lies in a convex quadrilateral; parts that hang
// together only along its rim are joined by it, which a fill does not show.
func clipped(polygon, quad []geom.Point) []geom.Point {
	if turns(quad) < 0 {
		quad = []geom.Point{quad[3], quad[2], quad[1], quad[0]}
	}
	out := polygon
	for i := range quad {
		a, b := quad[i], quad[(i+1)%len(quad)]
		side := func(p geom.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }
		in := out
		out = nil
		for k, p := range in {
			q := in[(k+1)%len(in)]
			sp, sq := side(p), side(q)
			if sp >= 0 {
				out = append(out, p)
			}
			if sp*sq < 0 {
				out = append(out, p.Lerp(q, sp/(sp-sq)))
			}
		}
		if len(out) < 3 {
			return nil
		}
	}
	return out
}

// turns returns twice the area of a polygon, above 0 where it goes counter-clockwise.
func turns(p []geom.Point) float64 {
	sum := 0.0
	for i := range p {
		sum += p[i].Cross(p[(i+1)%len(p)])
	}
	return sum
}

// joinedUp makes one path of many polygons, by ways to and fro that enclose nothing, so
// that one fill covers all of them evenly.
func joinedUp(list [][]geom.Point) geom.Path {
	start := list[0][0]
	var path geom.Path
	at := start
	to := func(p geom.Point) {
		if p != at {
			path = append(path, geom.Line(at, p))
			at = p
		}
	}
	for _, polygon := range list {
		for _, p := range polygon {
			to(p)
		}
		to(polygon[0])
		to(start)
	}
	return path
}
