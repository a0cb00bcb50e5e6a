package intake

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// errNoOutline says that an entity draws no flat line.
var errNoOutline = errors.New("no outline")

// path returns what the entity draws, in its own coordinates and units.
func (e *dxfEntity) path(arcTol, splineTol float64, room int) (geom.Path, bool, error) {
	switch e.kind {
	case "LINE":
		a, err := e.point(10)
		if err != nil {
			return nil, false, err
		}
		b, err := e.point(11)
		return geom.Path{geom.Line(a, b)}, false, err
	case "ARC", "CIRCLE":
		return e.arc(arcTol)
	case "ELLIPSE":
		return e.ellipse(arcTol)
	case "LWPOLYLINE":
		return e.light(arcTol, room)
	case "POLYLINE":
		return e.heavy(arcTol, room)
	}
	return e.spline(splineTol, room)
}

func (e *dxfEntity) arc(tol float64) (geom.Path, bool, error) {
	c, err := e.point(10)
	if err != nil {
		return nil, false, err
	}
	r, err := e.num(40, 0)
	if err != nil {
		return nil, false, err
	}
	if r <= 0 {
		return nil, false, fmt.Errorf("the radius is %g", r)
	}
	round := ellipse{c, geom.Pt(r, 0), geom.Pt(0, r)}
	if e.kind == "CIRCLE" {
		return round.full(0, tol), true, nil
	}
	from, err := e.num(50, 0)
	if err != nil {
		return nil, false, err
	}
	to, err := e.num(51, 360)
	if err != nil {
		return nil, false, err
	}
	return round.swept(from*math.Pi/180, to*math.Pi/180, tol)
}

// swept returns the stretch of the ellipse counter-clockwise between two
// parameters; equal ones, or a full turn, give it whole.
func (e ellipse) swept(from, to, tol float64) (geom.Path, bool, error) {
	const full = 2 * math.Pi
	if math.Abs(from) > 1e6 || math.Abs(to) > 1e6 {
		return nil, false, fmt.Errorf("the angles %g and %g are out of range", from, to)
	}
	turn := math.Mod(to-from, full)
	if turn < 0 {
		turn += full
	}
	// Angles are written with few digits; 1e-7 of a radius is less than they hold.
	if turn < 1e-7 || full-turn < 1e-7 {
		return e.full(from, tol), true, nil
	}
	return e.arc(from, from+turn, tol), false, nil
}

func (e *dxfEntity) ellipse(tol float64) (geom.Path, bool, error) {
	c, err := e.point(10)
	if err != nil {
		return nil, false, err
	}
	major, err := e.point(11)
	if err != nil {
		return nil, false, err
	}
	var v [3]float64
	for i, f := range [3]struct {
		code      int32
		otherwise float64
	}{{40, 1}, {41, 0}, {42, 2 * math.Pi}} {
		if v[i], err = e.num(f.code, f.otherwise); err != nil {
			return nil, false, err
		}
	}
	if major.Len() == 0 || v[0] <= 0 {
		return nil, false, errors.New("an axis has no length")
	}
	minor := major.Left().Mul(v[0])
	if z, _ := e.num(230, 1); z < 0 {
		minor = minor.Mul(-1)
	}
	return ellipse{c, major, minor}.swept(v[1], v[2], tol)
}

// vertex is a corner of a polyline, with the bulge of the stretch that starts
// there: the tangent of a quarter of its angle, positive to the left.
type vertex struct {
	at    geom.Point
	bulge float64
}

func (e *dxfEntity) light(tol float64, room int) (geom.Path, bool, error) {
	var vs []vertex
	for _, g := range e.groups {
		if g.code != 10 && g.code != 20 && g.code != 42 {
			continue
		}
		v, err := g.number()
		if err != nil {
			return nil, false, err
		}
		switch {
		case g.code == 10:
			vs = append(vs, vertex{at: geom.Pt(v, 0)})
		case len(vs) == 0:
		case g.code == 20:
			vs[len(vs)-1].at.Y = v
		default:
			vs[len(vs)-1].bulge = v
		}
	}
	closed := e.flags(70)&1 != 0
	path, err := polyline(vs, closed, tol, room)
	return path, closed, err
}

// Bits of group 70 of a POLYLINE and of its VERTEX entities.
const (
	polyClosed  = 1
	polyMesh    = 16
	polyFaces   = 64
	vertexFrame = 16 // a control point of the curve that the others follow
)

func (e *dxfEntity) heavy(tol float64, room int) (geom.Path, bool, error) {
	flags := e.flags(70)
	if flags&(polyMesh|polyFaces) != 0 {
		return nil, false, errNoOutline
	}
	var vs []vertex
	for i := range e.verts {
		v := &e.verts[i]
		if v.flags(70)&vertexFrame != 0 {
			continue
		}
		at, err := v.point(10)
		if err != nil {
			return nil, false, err
		}
		bulge, err := v.num(42, 0)
		if err != nil {
			return nil, false, err
		}
		vs = append(vs, vertex{at, bulge})
	}
	closed := flags&polyClosed != 0
	path, err := polyline(vs, closed, tol, room)
	return path, closed, err
}

// flatBulge is the bulge below which a stretch is straight: it rises by half a
// bulge of its chord, less than the grid of a document over 100 m.
const flatBulge = 1e-11

// polyline returns the lines and arcs through the vertices.
func polyline(vs []vertex, closed bool, tol float64, room int) (geom.Path, error) {
	if closed && len(vs) > 1 && vs[0].at == vs[len(vs)-1].at {
		vs = vs[:len(vs)-1]
	}
	n := len(vs)
	if !closed {
		n--
	}
	if n < 1 || len(vs) < 2 {
		return nil, nil
	}
	path := make(geom.Path, 0, n)
	for i := range n {
		a, b := vs[i], vs[(i+1)%len(vs)]
		switch {
		case a.at == b.at:
		case math.Abs(a.bulge) < flatBulge:
			path = append(path, geom.Line(a.at, b.at))
		default:
			path = append(path, bulged(a.at, b.at, a.bulge, tol)...)
		}
		if len(path) > room {
			return nil, errTooManyNodes
		}
	}
	return path, nil
}

// bulged returns the arc from a to b.
func bulged(a, b geom.Point, bulge, tol float64) geom.Path {
	c := a.Lerp(b, 0.5).Add(b.Sub(a).Left().Mul((1 - bulge*bulge) / (4 * bulge)))
	r, from := a.Dist(c), a.Sub(c).Angle()
	round := ellipse{c, geom.Pt(r, 0), geom.Pt(0, r)}
	return between(round.arc(from, from+4*math.Atan(bulge), tol), a, b)
}
