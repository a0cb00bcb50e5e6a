package figure

import (
	"slices"

	"hemlet/draft/body"
	"hemlet/geom"
)

// View is the side from which a figure is seen.
type View int

// The views.
const (
	Front View = iota
	Side       // from the wearer's right, looking to the right of the paper
)

// Body answers for the measures of a wearer, as body.Body does.
type Body interface {
	Get(name string) (body.Known, bool)
}

// Part is a part of the figure.
type Part struct {
	// Name is head, ear, muzzle, neck, trunk, arm, hand, thumb, leg, foot or tail;
	// parts that come in pairs bear the same name.
	Name string
	// Outline is closed, simple and counter-clockwise.
	Outline geom.Path
	// Layer orders the parts from behind to the front. The parts of one layer make
	// one silhouette: line them all, then fill them all.
	Layer int
}

// Mark shows where a measure is taken.
type Mark struct {
	// Measure is the name of the measure.
	Measure string
	// Near are the lines that are seen, Far those that run behind the body.
	Near, Far []geom.Path
	// At is a place on the mark for its name, Beside whether there is room for the
	// name to its left (-1) or right (1).
	At     geom.Point
	Beside int
}

// Drawing is a figure from one side. All is in mm, the feet stand at y = 0.
type Drawing struct {
	Build Build
	View  View
	// Parts are ordered from behind to the front.
	Parts []Part
	// Details are lines on the figure that bound no part: the face, an arm that lies
	// before the body.
	Details []geom.Path
	Marks   []Mark
	// Bounds holds the parts, and the marks too where they reach beyond.
	Bounds geom.Rect
}

// Draw returns the figure of a wearer from one side. own are the names of the levels
// that the user added to bust, waist, belly and hip. What the body does not know is
// drawn in the proportions of the build; without any measure it is the build itself,
// 1 m high.
func Draw(b Body, build Build, view View, own ...string) *Drawing {
	known := func(string) (body.Known, bool) { return body.Known{}, false }
	if b != nil {
		known = b.Get
	}
	k := newSkeleton(newSource(known, build), own)
	d := &Drawing{Build: k.build, View: view}
	if view == Side {
		drawSide(d, k)
	} else {
		drawFront(d, k)
	}
	slices.SortStableFunc(d.Parts, func(a, b Part) int { return a.Layer - b.Layer })
	d.Bounds = geom.EmptyRect()
	for _, p := range d.Parts {
		d.Bounds = d.Bounds.Union(p.Outline.Bounds())
	}
	for _, m := range d.Marks {
		for _, p := range append(append([]geom.Path{}, m.Near...), m.Far...) {
			d.Bounds = d.Bounds.Union(p.Bounds())
		}
	}
	return d
}

// Mark returns the mark of a measure, or false where it is not taken on this side.
func (d *Drawing) Mark(measure string) (Mark, bool) {
	for _, m := range d.Marks {
		if m.Measure == measure {
			return m, true
		}
	}
	return Mark{}, false
}

// part adds a part.
func (d *Drawing) part(layer int, name string, outline geom.Path) {
	if outline.Area() < 0 {
		outline = outline.Reverse()
	}
	d.Parts = append(d.Parts, Part{Name: name, Outline: outline, Layer: layer})
}

// both adds a part and its mirror image.
func (d *Drawing) both(layer int, name string, outline geom.Path) {
	d.part(layer, name, outline)
	d.part(layer, name, mirrored(outline))
}

// mirror is the mirror image about the middle of the body.
var mirror = geom.Affine{A: -1, D: 1}

func mirrored(p geom.Path) geom.Path { return p.Transform(mirror) }

// The layers of both views.
const (
	behindLayer = iota
	bodyLayer
)
