package intake

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

var errTooManyNodes = fmt.Errorf("the drawing has more than %d nodes", draft.MaxNodes)

// subpath is one stretch of path data from a move to the next move or close.
type subpath struct {
	path   geom.Path
	closed bool
}

// pathReader reads the path data of SVG 2, section 9.3, in user units.
type pathReader struct {
	scanner
	// tol is how far arcs may lie from the truth, in user units; room is how many
	// segments may still be made.
	tol  float64
	room int

	subs      []subpath
	start, at geom.Point
	handle    geom.Point // the last control point, for S and T
	last      byte       // the last command, upper case
	fresh     bool       // no segment since the last move
}

// parsePath returns the subpaths of path data. Where the standard draws what
// comes before a mistake, this refuses the whole: half an outline is no pattern.
func parsePath(d string, tol float64, room int) ([]subpath, error) {
	r := pathReader{scanner: scanner{s: d}, tol: tol, room: room}
	r.space()
	if r.done() || strings.TrimSpace(d) == "none" {
		return nil, nil
	}
	if b := r.peek(); b != 'M' && b != 'm' {
		return nil, r.errorf("path data must start with M, found %s", r.found())
	}
	for r.space(); !r.done(); r.space() {
		if err := r.command(); err != nil {
			return nil, err
		}
	}
	return r.subs, nil
}

// command reads a command letter and all the arguments that follow it.
func (r *pathReader) command() error {
	letter := r.peek()
	upper := letter &^ 0x20
	if !isAlpha(letter) || !strings.ContainsRune("MLHVCSQTAZ", rune(upper)) {
		return r.errorf("expected a path command, found %s", r.found())
	}
	r.i++
	if upper == 'Z' {
		return r.close()
	}
	relative := letter != upper
	for first := true; ; first = false {
		if !first {
			mark := r.i
			comma := r.comma()
			if !r.startsNumber() {
				if comma {
					return r.errorf("expected a number after the comma, found %s", r.found())
				}
				r.i = mark
				return nil
			}
			// Further pairs after a move are lines.
			if upper == 'M' {
				upper = 'L'
			}
		} else {
			r.space()
		}
		if err := r.step(upper, relative); err != nil {
			return err
		}
	}
}

// step reads the arguments of one command and draws it.
func (r *pathReader) step(upper byte, relative bool) error {
	origin := geom.Point{}
	if relative {
		origin = r.at
	}
	before := r.last
	r.last = upper
	switch upper {
	case 'M':
		p, err := r.point(origin)
		if err != nil {
			return err
		}
		r.move(p)
		return nil
	case 'L':
		p, err := r.point(origin)
		if err != nil {
			return err
		}
		return r.line(p)
	case 'H':
		v, err := r.number()
		if err != nil {
			return err
		}
		return r.line(geom.Pt(origin.X+v, r.at.Y))
	case 'V':
		v, err := r.number()
		if err != nil {
			return err
		}
		return r.line(geom.Pt(r.at.X, origin.Y+v))
	case 'C', 'S':
		return r.cubic(upper, before, origin)
	case 'Q', 'T':
		return r.quadratic(upper, before, origin)
	}
	return r.arc(origin)
}

// point reads a pair of numbers.
func (r *pathReader) point(origin geom.Point) (geom.Point, error) {
	x, err := r.number()
	if err != nil {
		return geom.Point{}, err
	}
	r.comma()
	y, err := r.number()
	if err != nil {
		return geom.Point{}, err
	}
	return geom.Pt(origin.X+x, origin.Y+y), nil
}

// points reads n pairs, separated as the grammar allows.
func (r *pathReader) points(n int, origin geom.Point) (p [3]geom.Point, err error) {
	for i := range n {
		if i > 0 {
			r.comma()
		}
		if p[i], err = r.point(origin); err != nil {
			return p, err
		}
	}
	return p, nil
}

func (r *pathReader) move(p geom.Point) {
	r.start, r.at, r.fresh = p, p, true
}

// close draws the line back to the start, unless it would have no length.
func (r *pathReader) close() error {
	if r.at != r.start {
		if err := r.line(r.start); err != nil {
			return err
		}
	}
	if !r.fresh {
		r.subs[len(r.subs)-1].closed = true
	}
	r.last = 'Z'
	r.move(r.start)
	return nil
}

// add appends segments to the current subpath, opening one if need be.
func (r *pathReader) add(segs ...geom.Segment) error {
	if len(segs) == 0 {
		return nil
	}
	if r.room -= len(segs); r.room < 0 {
		return errTooManyNodes
	}
	if r.fresh {
		r.subs = append(r.subs, subpath{})
		r.fresh = false
	}
	s := &r.subs[len(r.subs)-1]
	s.path = append(s.path, segs...)
	r.at = s.path.End()
	if !r.at.Finite() {
		return r.errorf("the number is out of range")
	}
	return nil
}

func (r *pathReader) line(p geom.Point) error { return r.add(geom.Line(r.at, p)) }

// cubic reads C, or S whose first handle mirrors the last cubic's second.
func (r *pathReader) cubic(upper, before byte, origin geom.Point) error {
	first := r.at
	n := 3
	if upper == 'S' {
		n = 2
		if before == 'C' || before == 'S' {
			first = r.at.Mul(2).Sub(r.handle)
		}
	}
	p, err := r.points(n, origin)
	if err != nil {
		return err
	}
	if n == 3 {
		first = p[0]
	}
	r.handle = p[n-2]
	return r.add(geom.Cubic(r.at, first, p[n-2], p[n-1]))
}

// quadratic reads Q, or T whose control point mirrors the last quadratic's.
func (r *pathReader) quadratic(upper, before byte, origin geom.Point) error {
	control := r.at
	n := 2
	if upper == 'T' {
		n = 1
		if before == 'Q' || before == 'T' {
			control = r.at.Mul(2).Sub(r.handle)
		}
	}
	p, err := r.points(n, origin)
	if err != nil {
		return err
	}
	if n == 2 {
		control = p[0]
	}
	r.handle = control
	return r.add(raised(r.at, control, p[n-1]))
}

// arc reads the seven arguments of A; the two flags may stand without anything
// between them and what follows.
func (r *pathReader) arc(origin geom.Point) error {
	var v [3]float64
	for i := range v {
		n, err := r.number()
		if err != nil {
			return err
		}
		v[i] = n
		r.comma()
	}
	var flags [2]bool
	for i := range flags {
		switch r.peek() {
		case '0', '1':
			flags[i] = r.take('1') || !r.take('0')
		default:
			return r.errorf("an arc's flag must be 0 or 1, found %s", r.found())
		}
		r.comma()
	}
	to, err := r.point(origin)
	if err != nil {
		return err
	}
	return r.add(endpointArc(r.at, to, v[0], v[1], v[2]*math.Pi/180, flags[0], flags[1], r.tol)...)
}

// endpointArc returns the elliptical arc from a to b after SVG 2, appendix B.2:
// radii of 0 give a line, radii too small are scaled up, and an arc to its own
// start is left out. phi is the turn of the rx axis in radians.
func endpointArc(a, b geom.Point, rx, ry, phi float64, large, sweep bool, tol float64) geom.Path {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if a == b {
		return nil
	}
	if rx == 0 || ry == 0 {
		return geom.Path{geom.Line(a, b)}
	}
	sin, cos := math.Sincos(phi)
	h := a.Sub(b).Mul(0.5)
	// The start on the unit circle's scale, seen from the middle of the chord.
	p := geom.Pt((cos*h.X+sin*h.Y)/rx, (cos*h.Y-sin*h.X)/ry)
	if d := p.Len(); d > 1 {
		rx, ry, p = rx*d, ry*d, p.Mul(1/d)
	}
	rest := max(0, 1-p.Dot(p))
	c := p.Left().Mul(-math.Sqrt(rest) / p.Len())
	if large == sweep {
		c = c.Mul(-1)
	}
	from, to := p.Sub(c).Angle(), p.Mul(-1).Sub(c).Angle()
	if sweep && to < from {
		to += 2 * math.Pi
	}
	if !sweep && to > from {
		to -= 2 * math.Pi
	}
	e := ellipse{u: geom.Pt(cos*rx, sin*rx), v: geom.Pt(-sin*ry, cos*ry)}
	e.c = a.Lerp(b, 0.5).Add(e.u.Mul(c.X)).Add(e.v.Mul(c.Y))
	// Radii so small or large that the figures run out are taken for none, which
	// the SVG standard draws as a line. No point or handle of the arc lies farther out
	// than the reach.
	reach := e.c.Len() + 2*(e.u.Len()+e.v.Len())
	if math.IsInf(reach, 1) || math.IsNaN(reach+from+to) {
		return geom.Path{geom.Line(a, b)}
	}
	return between(e.arc(from, to, tol), a, b)
}

// parsePoints reads the points of a polyline or polygon.
func parsePoints(s string, room int) ([]geom.Point, error) {
	c := pathReader{scanner: scanner{s: s}}
	var pts []geom.Point
	for c.space(); !c.done(); c.comma() {
		if len(pts) >= room {
			return nil, errTooManyNodes
		}
		p, err := c.point(geom.Point{})
		if err != nil {
			if c.done() {
				return nil, errors.New("the list of points has an odd number of coordinates")
			}
			return nil, err
		}
		pts = append(pts, p)
	}
	return pts, nil
}
