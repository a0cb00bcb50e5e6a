package tracer

import (
	"fmt"
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace"
)

// layers draws the lines, what did not close, the frame and the line on its way.
func (w *ways) layers() []*sheet.Layer {
	var out []*sheet.Layer
	now := drawnLines{w.finds.rev, w.faint(), w.guiding != nil, w.picked, w.unit()}
	if w.layer == nil || w.shown != now {
		w.shown, w.layer = now, w.lines()
	}
	out = append(out, w.layer)
	if f := w.frameLayer(); f != nil {
		out = append(out, f)
	}
	if w.guiding != nil {
		out = append(out, w.guiding.layer(w.reach(closeReach)))
	}
	return out
}

// faint reports whether the lines that are shown are not those of what is set now.
func (w *ways) faint() bool { return w.guiding != nil || w.finds.stale() }

// lines draws the lines that were found.
func (w *ways) lines() *sheet.Layer {
	l := &sheet.Layer{Aside: true}
	if last := w.finds.last; last != nil && w.guiding == nil {
		l.Things = append(l.Things, strays(last.traced.Open, last.traced.Cut, w.faint()))
	}
	for _, x := range w.finds.lines {
		l.Things = append(l.Things, w.lineThing(x))
	}
	return l
}

// lineThing draws one line, as it is looked at or not, taken or not.
func (w *ways) lineThing(x *line) *sheet.Thing {
	name, width, dash, strength := look.Chalk, 2.4, noDash, 1.0
	switch {
	case w.faint():
		name, width, strength = look.Faint, 1.6, 0.6
	case !x.taken:
		name, width, dash, strength = look.Faint, 1.8, barely, 0.9
	}
	picked := x.id == w.picked && !w.faint()
	if picked {
		width = 3.4
	}
	marks := []paint.Mark{
		paint.Shape{Path: x.Path, Line: over(look.Card, 0.7*strength, width+2.4, noDash)},
		paint.Shape{Path: x.Path, Line: over(name, strength, width, dash)},
	}
	if picked {
		marks = append([]paint.Mark{paint.Shape{Path: x.Path, Fill: inked(look.Chalk, 0.1)}}, marks...)
	}
	for _, in := range x.Inner {
		marks = append(marks, paint.Shape{Path: in.Path, Line: over(name, strength, width-0.6, dash)})
	}
	for _, in := range x.Holes {
		marks = append(marks, paint.Shape{Path: in.Path, Line: over(name, strength, width-0.6, cutDash)})
	}
	if w.guiding != nil { // then it only stands behind what is drawn
		return &sheet.Thing{Marks: marks}
	}
	lit := []paint.Mark{
		paint.Shape{Path: x.Path, Line: over(look.Card, 0.7, width+4, noDash)},
		paint.Shape{Path: x.Path, Line: over(look.Chalk, 1, width+1.2, dash)},
	}
	if picked {
		marks = append(marks, nodeMarks(x.Path, x.Corner)...)
		lit = append(lit, nodeMarks(x.Path, x.Corner)...)
	}
	if picked {
		marks = append(marks, useMarks(x)...)
	}
	marks = append(append(marks, grainMarks(x)...), w.nameMark(x))
	return &sheet.Thing{ID: x.thing(), Solid: true, Marks: marks, Lit: lit}
}

// nameMark writes the name of a line, or its number while it has none, into its corner, so that
// the print in its middle can be read and held against it.
func (w *ways) nameMark(x *line) paint.Mark {
	b := x.Path.Bounds()
	text := x.called()
	colour := inked(look.Ink, 1)
	switch {
	case x.taken:
	case w.finds.lies(x):
		text += " (on the bench)"
	default:
		text += " (left out)"
	}
	if !x.taken || w.faint() {
		colour = inked(look.Faint, 1)
	}
	size := 12.0
	if x.name == "" {
		size = 10
	}
	return paint.Text{
		At: b.Min, DX: 5, DY: -5, Text: text, Size: size, Weight: paint.SemiBold, Colour: colour, Halo: inked(look.Card, 0.85),
		Room: b.W(), Least: b.W(),
	}
}

// nodeMarks draws the corners of a path as squares and its smooth joins as rounds.
func nodeMarks(p geom.Path, corner []bool) []paint.Mark {
	var out []paint.Mark
	for i, s := range p {
		kind := paint.SmoothNode
		if i < len(corner) && corner[i] {
			kind = paint.CornerNode
		}
		out = append(out, paint.Dot{At: s.P0, Kind: kind, Colour: inked(look.Chalk, 1), Fill: inked(look.Card, 1)})
	}
	return out
}

// strays draws what became no outline: lines that did not close, with the gap, and shapes
// that run out of the picture.
func strays(open, cut []trace.Stray, faint bool) *sheet.Thing {
	t := &sheet.Thing{}
	name := look.Ochre
	if faint {
		name = look.Faint
	}
	var signed []geom.Point
	for i, s := range append(append([]trace.Stray{}, open...), cut...) {
		if path := chords(s.Ink); len(path) > 0 {
			t.Marks = append(t.Marks, paint.Shape{Path: path, Line: over(name, 0.9, 2, notYet)})
		}
		says := "runs out of the picture"
		if i < len(open) {
			says = "does not close"
			if s.Gap > 0 {
				says = fmt.Sprintf("gap %.1f mm", s.Gap)
			}
		}
		near := slices.ContainsFunc(signed, func(p geom.Point) bool { return p.Dist(s.At) < signApart })
		if len(signed) < mostStraySigns && !near { // the two ends of a gap say the same
			signed = append(signed, s.At)
			t.Marks = append(t.Marks,
				paint.Dot{At: s.At, Kind: paint.Cross, Colour: inked(name, 1), Large: true},
				paint.Text{At: s.At, DX: 9, DY: -7, Text: says, Size: 11, Colour: inked(look.OchreText, 1), Plate: inked(look.Card, 0.85)})
		}
	}
	return t
}

// signApart is how far apart in mm signs stand at least: farther than a gap is wide that
// one would bridge.
const signApart = 12.0

// mostStraySigns bounds the strays that say what is the matter: of a page of writing there
// are hundreds.
const mostStraySigns = 12

// frameLayer draws what is read where that is not all, or the box that is being drawn.
func (w *ways) frameLayer() *sheet.Layer {
	t := &sheet.Thing{}
	if b := w.box; b != nil {
		t.Marks = frameMarks(geom.Polygon(b.Min, geom.Pt(b.Max.X, b.Min.Y), b.Max, geom.Pt(b.Min.X, b.Max.Y)))
	} else {
		for _, g := range w.finds.groups() {
			for _, pic := range g {
				if path := cropPath(pic); path != nil {
					t.Marks = append(t.Marks, frameMarks(path)...)
				}
			}
		}
	}
	if t.Marks == nil {
		return nil
	}
	return &sheet.Layer{Aside: true, Things: []*sheet.Thing{t}}
}

// cropPath returns the outline of what is read of a picture, nil where that is all.
func cropPath(pic *draft.Picture) geom.Path {
	if pic.Crop == nil {
		return nil
	}
	corners := make([]geom.Point, len(pic.Crop))
	for i, c := range pic.Crop {
		corners[i] = pic.Place.Apply(c)
	}
	return geom.Polygon(corners...)
}

func frameMarks(path geom.Path) []paint.Mark {
	b := path.Bounds()
	return []paint.Mark{
		paint.Shape{Path: path, Line: over(look.Card, 0.8, 4, noDash)},
		paint.Shape{Path: path, Line: over(look.Level, 1, 1.8, notYet)},
		paint.Text{At: geom.Pt(b.Min.X, b.Max.Y), DX: 6, DY: -7, Text: "only this is read", Size: 11, Colour: inked(look.Level, 1), Plate: inked(look.Card, 0.85)},
	}
}
