package station

import (
	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// Widths of the lines of a figure, in screen units. That of the outline is half of what
// is drawn: the inside is filled over the other half, so that parts run into one another.
const (
	outlineWidth = 3.2
	detailWidth  = 1
	markWidth    = 1.3
)

// figureMarks returns how a figure is painted: each layer's parts are lined first and
// then filled, which leaves the line round all of them.
func figureMarks(d *figure.Drawing) []paint.Mark {
	var marks []paint.Mark
	last := 0
	for _, p := range d.Parts {
		last = max(last, p.Layer)
	}
	rim, cloth := sheet.Solid(paint.Ink, outlineWidth), paint.Of(paint.Cloth)
	for layer := 0; layer <= last; layer++ {
		for _, p := range d.Parts {
			if p.Layer == layer {
				marks = append(marks, sheet.Lined(p.Outline, rim))
			}
		}
		for _, p := range d.Parts {
			if p.Layer == layer {
				marks = append(marks, sheet.Filled(p.Outline, cloth, paint.Line{}))
			}
		}
	}
	for _, p := range d.Details {
		marks = append(marks, sheet.Lined(p, sheet.Fainter(sheet.Solid(paint.Ink, detailWidth), 0.55)))
	}
	return marks
}

// markLook says how the place of a measure is shown.
type markLook int

const (
	markTaken  markLook = iota // by a line
	markWanted                 // faintly: it is asked for, or can be
)

// markThing returns the place of a measure as it is shown and pointed at. label is
// written beside it while it is lit.
func markThing(m figure.Mark, look markLook, label string) *sheet.Thing {
	near, far := sheet.Solid(paint.Level, markWidth), sheet.Dashed(paint.Level, 1)
	if look == markWanted {
		near, far = sheet.Fainter(near, 0.5), sheet.Fainter(far, 0.4)
	}
	t := &sheet.Thing{ID: m.Measure}
	for _, p := range m.Near {
		t.Marks = append(t.Marks, sheet.Lined(p, near))
		t.Lit = append(t.Lit, sheet.Lined(p, sheet.Solid(paint.Chalk, 3)))
	}
	for _, p := range m.Far {
		t.Marks = append(t.Marks, sheet.Lined(p, far))
		t.Lit = append(t.Lit, sheet.Lined(p, sheet.Dashed(paint.Chalk, 2)))
	}
	if label != "" {
		anchor, dx := paint.Start, 9.0
		if m.Beside < 0 {
			anchor, dx = paint.End, -9
		}
		t.Lit = append(t.Lit, sheet.Strong(m.At, dx, 14, label, 12, paint.Chalk, anchor))
	}
	return t
}

// room returns a thing that is not seen and keeps a box in view.
func room(box geom.Rect) *sheet.Thing {
	return &sheet.Thing{Marks: []paint.Mark{paint.Shape{Path: geom.Polygon(box.Min, geom.Pt(box.Max.X, box.Min.Y), box.Max, geom.Pt(box.Min.X, box.Max.Y))}}}
}
