package intake

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// maxVisits bounds how often elements are drawn, references included: twice the
// elements that a file may have, so that only piled-up references reach it.
const maxVisits = 2 * maxElements

// maxWork bounds what is read while drawing, in bytes of attributes: those of the
// largest file once, and a quarter as much again through references.
const maxWork = draft.MaxTextBytes + draft.MaxTextBytes/4

// svgReader draws a tree of elements into a Drawing.
type svgReader struct {
	ctx    context.Context
	file   string
	opts   Options
	out    *Drawing
	ids    map[string]*element
	styles styleSheet
	visits int
	work   int
	room   int // nodes that may still be made
	pieces int
	using  []*element // the references being followed
}

// svgState is what an element inherits.
type svgState struct {
	toMM geom.Affine // from user space to mm, y up
	view geom.Point  // the size of the viewport, for percentages
	// name is that of the nearest group that has one; given overrides the name
	// of the shape itself, for a reference that is named.
	name, given string
	piece       string
	pieceNo     int
	role        Role
	hidden      bool
	depth       int
}

func readSVG(ctx context.Context, d *Drawing, data []byte, opts Options) error {
	root, err := parseTree(ctx, d.Name, data)
	if err != nil {
		return err
	}
	r := &svgReader{ctx: ctx, file: d.Name, opts: opts, out: d,
		ids: map[string]*element{}, styles: styleSheet{}, room: draft.MaxNodes}
	if err := r.index(root); err != nil {
		return err
	}
	s, err := r.page(root)
	if err != nil {
		return placed(d.Name, root.source(), err)
	}
	if r.styles.property(root, "display") == "none" {
		return nil
	}
	return r.children(root, s)
}

// index notes every id, the first of each, and every style sheet. The tree is
// no deeper than draft.MaxDepth.
func (r *svgReader) index(e *element) error {
	if id := e.attr("id"); id != "" && r.ids[id] == nil {
		r.ids[id] = e
	}
	if e.name == "style" {
		if err := r.styles.addSheet(string(e.text)); err != nil {
			return placed(r.file, e.source(), err)
		}
	}
	for _, k := range e.kids {
		if err := r.index(k); err != nil {
			return err
		}
	}
	return nil
}

// page works out how the outermost element's user space becomes millimetres.
// The top left corner of the page is the origin.
func (r *svgReader) page(root *element) (svgState, error) {
	s := svgState{toMM: geom.Scaling(1, -1)}
	switch r.styles.property(root, "visibility") {
	case "hidden", "collapse":
		s.hidden = true
	}
	box, err := elementBox(root)
	if err != nil {
		return s, err
	}
	w, h, says, err := pageSize(root, box)
	if err != nil {
		return s, err
	}
	s.view = geom.Pt(w, h)
	fit := geom.Identity
	if box != nil {
		s.view = geom.Pt(box.w, box.h)
		if fit, err = box.fit(w, h, root.attr("preserveAspectRatio")); err != nil {
			return s, fmt.Errorf("preserveAspectRatio: %w", err)
		}
	}
	mm := draft.MMPerInch / pxPerInch
	if r.opts.UnitMM > 0 {
		if says == "" {
			r.out.tellOtherUnit(root.source(), stretch(fit)*mm, r.opts.UnitMM)
		}
		// The person knows what a unit is; the size of the page does not matter.
		fit, mm, says = geom.Identity, r.opts.UnitMM, ""
		if box != nil {
			fit = geom.Translation(box.min.Mul(-1))
		}
	}
	s.toMM = fit.Then(geom.Scaling(mm, -mm))
	r.out.Scale = Scale{MM: stretch(s.toMM), Assumed: says != ""}
	if says != "" {
		r.out.warn(root.source(), says)
	}
	if v := r.styles.property(root, "transform"); v != "" && v != "none" {
		r.out.warn(root.source(), "the transform of the whole page is left out; measure the result")
	}
	if !finite(s.toMM) || stretch(s.toMM) == 0 {
		return s, errors.New("the size of the page and its viewBox give no scale")
	}
	return s, nil
}

func elementBox(e *element) (*viewBox, error) {
	v := e.attr("viewBox")
	if strings.TrimSpace(v) == "" {
		return nil, nil
	}
	box, err := parseViewBox(v)
	if err != nil {
		return nil, fmt.Errorf("viewBox: %w", err)
	}
	if box.w == 0 || box.h == 0 {
		return nil, errors.New("viewBox: a size of 0 shows nothing")
	}
	return box, nil
}

const (
	saysNoSize = "the drawing does not state its size; one unit is taken as 1/96 in; measure the result or give the unit"
	saysPixels = "the drawing states its size in px only; one px is taken as 1/96 in; measure the result or give the unit"
)

// pageSize returns the size of the page in px, and what is assumed about it. A
// side that is missing or a percentage follows the viewBox.
func pageSize(root *element, box *viewBox) (w, h float64, says string, err error) {
	var size [2]float64
	var known [2]bool
	for i, name := range [2]string{"width", "height"} {
		v := strings.TrimSpace(root.attr(name))
		if v == "" || v == "auto" {
			continue
		}
		l, err := parseLength(v)
		if err != nil {
			return 0, 0, "", fmt.Errorf("%s: %w", name, err)
		}
		if l.percent {
			continue
		}
		if l.px <= 0 {
			return 0, 0, "", fmt.Errorf("%s: the page must be larger than 0", name)
		}
		size[i], known[i] = l.px, true
		if l.plain {
			says = saysPixels
		}
	}
	switch {
	case known[0] && known[1]:
	case box == nil:
		// User units are px whatever the page; its size serves percentages only.
		says = saysNoSize
		for i, fallback := range [2]float64{300, 150} {
			if !known[i] {
				size[i] = fallback
			}
		}
	case known[0]:
		size[1] = size[0] * box.h / box.w
	case known[1]:
		size[0] = size[1] * box.w / box.h
	default:
		size[0], size[1], says = box.w, box.h, saysNoSize
	}
	return size[0], size[1], says, nil
}
