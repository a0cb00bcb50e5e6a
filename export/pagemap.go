package export

import (
	"fmt"
	"math"

	"hemlet/geom"
)

// The parts of the map in mm: what lies between its sheets, and what the name below
// each takes.
const (
	mapGap   = 3
	mapWords = 3.2
)

// mapScales are the largest and the least scale of the map.
const (
	largestMap = 0.2
	leastMap   = 1e-4
	mapStep    = 0.97
)

// drawMap draws every sheet with its pages and pieces, as large as the box holds.
func (p *Plan) drawMap(to pen, box geom.Rect) {
	scale, corners := p.mapPlaces(box)
	for i, corner := range corners {
		p.mapGroup(to, p.Groups[i], corner, scale)
	}
}

// mapPlaces returns the largest scale at which the box holds every sheet, and the
// lower left corner of each.
func (p *Plan) mapPlaces(box geom.Rect) (scale float64, corners []geom.Point) {
	for scale = largestMap; scale > leastMap; scale *= mapStep {
		if corners, ok := p.mapCorners(box, scale); ok {
			return scale, corners
		}
	}
	return scale, nil
}

// mapCorners returns the lower left corner of each sheet on the map, or false if
// the box does not hold them at the scale.
func (p *Plan) mapCorners(box geom.Rect, scale float64) ([]geom.Point, bool) {
	x, y, row := box.Min.X, box.Max.Y, 0.0
	out := make([]geom.Point, len(p.Groups))
	for i, g := range p.Groups {
		w, h := g.W*scale, p.shownHeight(g)*scale
		if x+w > box.Max.X && x > box.Min.X {
			x, y, row = box.Min.X, y-row-mapWords-mapGap, 0
		}
		if x+w > box.Max.X || y-h-mapWords < box.Min.Y {
			return nil, false
		}
		out[i] = geom.Pt(x, y-h)
		x, row = x+w+mapGap, math.Max(row, h)
	}
	return out, true
}

// shownHeight is the height of a group, on a roll cut off below its pieces.
func (p *Plan) shownHeight(g *Group) float64 {
	if !p.Paper.endless() {
		return g.H
	}
	low := g.H
	for _, page := range p.Pages {
		if page.Group == g {
			low = math.Min(low, page.Window.Min.Y)
		}
	}
	return g.H - low
}

// mapGroup draws one sheet on the map.
func (p *Plan) mapGroup(to pen, g *Group, corner geom.Point, scale float64) {
	low := g.H - p.shownHeight(g)
	small := geom.Translation(geom.Pt(0, -low)).Then(geom.Scaling(scale, scale)).Then(geom.Translation(corner))
	for _, l := range g.Pieces {
		shape := l.Cut.Transform(small)
		to.fillPath(shape, mapFill)
		to.strokePath(shape, mapPiece, 0)
	}
	for _, page := range p.Pages {
		if page.Group != g {
			continue
		}
		own := page.Window
		sx, sy := p.step()
		// Pages are drawn as they lie when joined, each up to its neighbour.
		if page.Col < g.Cols {
			own.Max.X = own.Min.X + sx
		}
		if page.Row < g.Rows {
			own.Min.Y = own.Max.Y - sy
		}
		cell := rectPath(own).Transform(small)
		to.strokePath(cell, mapLook, 0)
		box := cell.Bounds()
		if page.Number == 1 {
			info := rectPath(p.info).Transform(small)
			to.strokePath(info, mapFacts, 0)
		}
		mapNumber(to, box, page.Number)
	}
	to.write(Text{At: corner.Add(geom.Pt(0, -2.6)), Size: 2.2, Words: "sheet " + g.Name})
}

// mapNumber writes the number of a page into the upper left corner of its cell, on
// white, so that no line runs through it.
func mapNumber(to pen, cell geom.Rect, n int) {
	const largest, share = 3.5, 0.3
	t := Text{Size: math.Min(largest, share*math.Min(cell.W(), cell.H())), Strong: true, Words: fmt.Sprint(n)}
	t.At = geom.Pt(cell.Min.X, cell.Max.Y).Add(geom.Pt(0.3*t.Size, -1.1*t.Size))
	to.fillPath(rectPath(t.Bounds().Grow(0.1*t.Size)), "#ffffff")
	to.write(t)
}
