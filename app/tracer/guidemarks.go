package tracer

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/geom"
)

// chords returns the path through points.
func chords(pts []geom.Point) geom.Path {
	var out geom.Path
	for i := 1; i < len(pts); i++ {
		if pts[i] != pts[i-1] {
			out = append(out, geom.Line(pts[i-1], pts[i]))
		}
	}
	return out
}

// over returns a line as it is drawn over pictures.
func over(name fyne.ThemeColorName, opacity, width float64, dash paint.Dash) paint.Line {
	l := paint.Line{Colour: inked(name, opacity), Width: width, Dash: dash, Join: paint.Round, Cap: paint.RoundCap}
	if dash != (paint.Dash{}) {
		l.Cap = paint.Butt
	}
	return l
}

// The dashes of what is laid over pictures, in screen units.
var (
	barely  = paint.Dash{2, 4, 2, 4}
	notYet  = paint.Dash{7, 4, 7, 4}
	noDash  = paint.Dash{}
	cutDash = paint.Dash{9, 3, 2, 3}
)

// layer draws the line on its way.
func (g *guiding) layer(reach float64) *sheet.Layer {
	var marks []paint.Mark
	draw := func(pts []geom.Point, bare, live bool) {
		if path := chords(pts); len(path) > 0 {
			name, dash := look.Chalk, noDash
			if live {
				dash = notYet
			}
			if bare {
				name, dash = look.Ochre, barely
			}
			marks = append(marks,
				paint.Shape{Path: path, Line: over(look.Card, 0.75, 4.6, noDash)},
				paint.Shape{Path: path, Line: over(name, 1, 2.4, dash)})
		}
	}
	for i, way := range g.ways {
		draw(way, g.bare[i], false)
	}
	closing := g.over && g.closes(g.at, reach)
	draw(g.live, g.liveBare, true)
	if len(g.stops) == 0 && len(g.live) == 1 {
		marks = append(marks, paint.Dot{At: g.live[0], Kind: paint.Ring, Colour: inked(look.Chalk, 1), Large: true})
	}
	for i, s := range g.stops {
		kind := paint.SmoothNode
		if s.corner {
			kind = paint.CornerNode
		}
		marks = append(marks, paint.Dot{At: g.stopAt(i), Kind: kind, Colour: inked(look.Chalk, 1), Fill: inked(look.Card, 1), Large: i == 0 && closing})
	}
	if closing {
		marks = append(marks, paint.Text{
			At: g.first(), DX: 14, DY: -10, Text: "close it here", Size: 12, Weight: paint.SemiBold,
			Colour: paint.Of(paint.PlateText), Plate: paint.Of(paint.Plate),
		})
	}
	return &sheet.Layer{Aside: true, Things: []*sheet.Thing{{Marks: marks}}}
}

// stopAt returns where a stop lies: on the ink, as far as that is known.
func (g *guiding) stopAt(i int) geom.Point {
	switch {
	case i < len(g.ways) && len(g.ways[i]) > 0:
		return g.ways[i][0]
	case i > 0 && i-1 < len(g.ways) && len(g.ways[i-1]) > 0:
		return g.ways[i-1][len(g.ways[i-1])-1]
	}
	return g.stops[i].at
}
