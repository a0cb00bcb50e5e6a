package intake

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// lengths reads up to four attributes as lengths in user units; those that are
// absent are 0. Percentages of x, cx, rx and width go by the viewport's width,
// those of r by its diagonal over √2 (SVG 2, section 8.9).
func (r *svgReader) lengths(e *element, s svgState, names ...string) (v [4]float64, err error) {
	for i, name := range names {
		text := e.attr(name)
		if text == "" || text == "auto" {
			continue
		}
		l, err := parseLength(text)
		if err != nil {
			return v, fmt.Errorf("%s: %w", name, err)
		}
		whole := s.view.Y
		switch {
		case strings.Contains(name, "x") || name == "width":
			whole = s.view.X
		case name == "r":
			whole = s.view.Len() / math.Sqrt2
		}
		v[i] = l.of(whole)
	}
	return v, nil
}

// shape draws a path or a basic shape.
func (r *svgReader) shape(e *element, s svgState) error {
	if s.hidden {
		return nil
	}
	scale := stretch(s.toMM)
	tol := arcTolerance / max(scale, 1e-12)
	subs, err := r.subpaths(e, s, tol)
	if err != nil {
		return err
	}
	name := r.nameOf(e, s)
	for _, sub := range subs {
		if r.room -= len(sub.path); r.room < 0 {
			return errTooManyNodes
		}
		path := sub.path.Transform(s.toMM)
		if err := inBounds(path); err != nil {
			return err
		}
		r.out.Shapes = append(r.out.Shapes, Shape{
			Path: path, Closed: sub.closed, Name: name, Layer: e.attr("class"),
			Role: roleOf(e, s), Piece: s.piece, PieceNo: s.pieceNo, Where: e.source(),
		})
	}
	return nil
}

// inBounds checks every control point against the promised limit.
func inBounds(path geom.Path) error {
	for _, g := range path {
		for _, p := range [4]geom.Point{g.P0, g.P1, g.P2, g.P3} {
			// Written so that NaN fails.
			if !(math.Abs(p.X) <= draft.MaxCoordinate && math.Abs(p.Y) <= draft.MaxCoordinate) {
				return fmt.Errorf("the point (%.6g, %.6g) mm lies beyond %d m; is the unit right?", p.X, p.Y, draft.MaxCoordinate/1000)
			}
		}
	}
	return nil
}

// roleOf reads the classes that our own export gives the lines of a piece.
func roleOf(e *element, s svgState) Role {
	if s.role != Unmarked || s.pieceNo == 0 {
		return s.role
	}
	for _, class := range strings.Fields(e.attr("class")) {
		switch class {
		case "cut":
			return CutRole
		case "stitch":
			return StitchRole
		case "internal", "cutout", "slit":
			return InsideRole
		case "fold", "grain", "notch", "leader", "scale":
			return AnnotateRole
		}
	}
	return Unmarked
}

// nameOf finds what a shape is called: its title, the id that a person gave it,
// its label, the group it stands in, and last an id that a program counted out.
func (r *svgReader) nameOf(e *element, s svgState) string {
	return firstOf(s.given, e.title(), handmade(e), tidy(e.attr("aria-label")), s.name, tidy(e.attr("id")))
}

// handmade returns the element's id unless it is a word of the format with a
// number, as programs count them out.
func handmade(e *element) string {
	id := tidy(e.attr("id"))
	stem := strings.TrimRight(strings.ToLower(id), "0123456789-_.")
	if stem == strings.ToLower(id) && stem != e.name {
		return id
	}
	switch stem {
	case "", "g", "group", "layer", "svg", "use", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "shape":
		return ""
	}
	return id
}

// subpaths returns the element's lines in user units.
func (r *svgReader) subpaths(e *element, s svgState, tol float64) ([]subpath, error) {
	switch e.name {
	case "path":
		subs, err := parsePath(e.attr("d"), tol, r.room)
		if err != nil && err != errTooManyNodes {
			return nil, fmt.Errorf("path data: %w", err)
		}
		return subs, err
	case "rect":
		return r.rect(e, s, tol)
	case "circle", "ellipse":
		return r.round(e, s, tol)
	case "line":
		v, err := r.lengths(e, s, "x1", "y1", "x2", "y2")
		return []subpath{{geom.Path{geom.Line(geom.Pt(v[0], v[1]), geom.Pt(v[2], v[3]))}, false}}, err
	}
	return r.poly(e)
}

func (r *svgReader) rect(e *element, s svgState, tol float64) ([]subpath, error) {
	v, err := r.lengths(e, s, "x", "y", "width", "height")
	if err != nil {
		return nil, err
	}
	x, y, w, h := v[0], v[1], v[2], v[3]
	radii, err := r.lengths(e, s, "rx", "ry")
	if err != nil {
		return nil, err
	}
	rx, ry := radii[0], radii[1]
	if isAuto(e.attr("rx")) {
		rx = ry
	}
	if isAuto(e.attr("ry")) {
		ry = rx
	}
	if w < 0 || h < 0 || rx < 0 || ry < 0 {
		return nil, errors.New("a size or radius is negative")
	}
	if w == 0 || h == 0 {
		return nil, nil
	}
	rx, ry = min(rx, w/2), min(ry, h/2)
	if rx == 0 || ry == 0 {
		return []subpath{{geom.Polygon(geom.Pt(x, y), geom.Pt(x+w, y), geom.Pt(x+w, y+h), geom.Pt(x, y+h)), true}}, nil
	}
	return []subpath{{roundedRect(x, y, w, h, rx, ry, tol), true}}, nil
}

func isAuto(v string) bool { return v == "" || v == "auto" }

// roundedRect runs from the left end of the upper side, as SVG 2, section 10.2
// lays down. Sides that the radii use up are left out.
func roundedRect(x, y, w, h, rx, ry, tol float64) geom.Path {
	var path geom.Path
	start := geom.Pt(x+rx, y)
	at := start
	line := func(p geom.Point) {
		if at.Dist(p) > 1e-12*(w+h) {
			path = append(path, geom.Line(at, p))
			at = p
		}
	}
	corner := func(c geom.Point, t float64, p geom.Point) {
		e := ellipse{c, geom.Pt(rx, 0), geom.Pt(0, ry)}
		path = append(path, between(e.arc(t, t+math.Pi/2, tol), at, p)...)
		at = p
	}
	line(geom.Pt(x+w-rx, y))
	corner(geom.Pt(x+w-rx, y+ry), -math.Pi/2, geom.Pt(x+w, y+ry))
	line(geom.Pt(x+w, y+h-ry))
	corner(geom.Pt(x+w-rx, y+h-ry), 0, geom.Pt(x+w-rx, y+h))
	line(geom.Pt(x+rx, y+h))
	corner(geom.Pt(x+rx, y+h-ry), math.Pi/2, geom.Pt(x, y+h-ry))
	line(geom.Pt(x, y+ry))
	corner(geom.Pt(x+rx, y+ry), math.Pi, start)
	return path
}

func (r *svgReader) round(e *element, s svgState, tol float64) ([]subpath, error) {
	names := []string{"cx", "cy", "rx", "ry"}
	if e.name == "circle" {
		names = []string{"cx", "cy", "r"}
	}
	v, err := r.lengths(e, s, names...)
	if err != nil {
		return nil, err
	}
	rx, ry := v[2], v[3]
	switch {
	case e.name == "circle" || isAuto(e.attr("ry")):
		ry = rx
	case isAuto(e.attr("rx")):
		rx = ry
	}
	if rx < 0 || ry < 0 {
		return nil, errors.New("a radius is negative")
	}
	if rx == 0 || ry == 0 {
		return nil, nil
	}
	c := ellipse{geom.Pt(v[0], v[1]), geom.Pt(rx, 0), geom.Pt(0, ry)}
	return []subpath{{c.full(0, tol), true}}, nil
}

func (r *svgReader) poly(e *element) ([]subpath, error) {
	pts, err := parsePoints(e.attr("points"), r.room)
	if err != nil {
		return nil, fmt.Errorf("points: %w", err)
	}
	if len(pts) < 2 {
		return nil, nil
	}
	path := geom.Polygon(pts...)
	if e.name == "polyline" {
		path = path[:len(path)-1]
	}
	return []subpath{{path, e.name == "polygon"}}, nil
}
