package follow

import (
	"context"
	"errors"
	"math"
	"sync"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// Mode says what a Guide follows.
type Mode uint8

const (
	// AlongStrokes follows the middle of drawn lines.
	AlongStrokes Mode = iota
	// AlongEdges follows the border between ink and paper.
	AlongEdges
)

// Guide is a guided tracer: between two places that someone points at, the path follows
// the ink. It is for what cannot be followed by itself: nests of several sizes that
// overlap and cross, faint lines, one edge of a shape.
//
// All places are in pixels of the picture. The picture is read when the first question is
// asked, or by Prepare; afterwards an answer takes some milliseconds. Answers are the same
// every time. A Guide may be asked from several goroutines.
//
// Method: the ridges of ink (or of its slope, for edges) are thinned to a graph of lines
// between crossings. A path is the cheapest way through that graph, where length, faint
// ink, bare paper and turning off at a crossing cost; two lines that cross at a small angle
// run together for a while, and are told apart by how they run before and after. The
// chosen way is then moved to the middle of the stroke in the full picture. Where another
// line crosses, the stroke has no middle of its own, and the least bent line goes between.
type Guide struct {
	field *scan.Field
	scale float64 // pixels per mm
	mode  Mode

	mu   sync.Mutex
	web  *web
	tree *tree // of the last start, so that a moving pointer is answered at once
}

// NewGuide returns a guide along the middle of strokes in a picture of s pixels per mm.
func NewGuide(f *scan.Field, s float64) *Guide { return NewGuideAlong(f, s, AlongStrokes) }

// NewGuideAlong returns a guide along strokes or edges in a picture of s pixels per mm.
func NewGuideAlong(f *scan.Field, s float64, m Mode) *Guide {
	if !(s > 0) || math.IsInf(s, 0) {
		s = defaultScale
	}
	return &Guide{field: f, scale: s, mode: m}
}

// defaultScale is 150 dpi in pixels per mm, for a picture whose scale is not known yet.
const defaultScale = 150 / 25.4

// ErrNoPicture is returned where a Guide has nothing to follow.
var ErrNoPicture = errors.New("there is no picture to follow")

// Prepare reads the ink of the picture, so that the first answer is as quick as the
// others. It takes some tenths of a second for a large sheet and may be called from any
// goroutine. It returns the error of ctx if cancelled.
func (g *Guide) Prepare(ctx context.Context) error {
	_, err := g.prepared(ctx)
	return err
}

// prepared returns the graph of the ink, made at the first call.
func (g *Guide) prepared(ctx context.Context) (*web, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.web != nil {
		return g.web, nil
	}
	f := g.field
	if f == nil || f.W <= 0 || f.H <= 0 || len(f.V) < f.W*f.H {
		return nil, ErrNoPicture
	}
	ink, err := readInk(ctx, f, g.scale, g.mode)
	if err != nil {
		return nil, err
	}
	w, err := newWeb(ctx, ink)
	if err != nil {
		return nil, err
	}
	g.web = w
	return w, nil
}

// Pen returns the width in pixels of the strokes that the guide goes by; 0 along edges.
func (g *Guide) Pen(ctx context.Context) (float64, error) {
	w, err := g.prepared(ctx)
	if err != nil || g.mode == AlongEdges {
		return 0, err
	}
	return w.ink.pen, nil
}

// Snap returns the place on ink that is nearest to at, if one is within reach pixels.
func (g *Guide) Snap(ctx context.Context, at geom.Point, reach float64) (geom.Point, bool, error) {
	w, err := g.prepared(ctx)
	if err != nil {
		return at, false, err
	}
	s, ok := w.spotNear(at, reach)
	if !ok {
		return at, false, nil
	}
	return g.onInk(w, s), true, nil
}

// onInk returns the place of a spot, moved to the middle of its stroke.
func (g *Guide) onInk(w *web, s spot) geom.Point {
	c := &w.chains[s.chain]
	base := c.part(s.at-w.ink.pen*snapArm, s.at+w.ink.pen*snapArm)
	if len(base) < 2 {
		return c.pointAt(s.at)
	}
	fine := refineWay(g.field, w.ink, base, nil)
	p := c.pointAt(s.at)
	best, d := p, math.Inf(1)
	for i := 0; i+1 < len(fine); i++ {
		q := nearestOnChord(fine[i], fine[i+1], p)
		if e := q.Dist(p); e < d {
			best, d = q, e
		}
	}
	if d > w.ink.pen {
		return p
	}
	return best
}

// snapArm is how many widths of the pen to both sides of a click are looked at to find the
// middle of the stroke there.
const snapArm = 4

// nearestOnChord returns the point of the line from a to b that is nearest to p.
func nearestOnChord(a, b, p geom.Point) geom.Point {
	d := b.Sub(a)
	n := d.Dot(d)
	if n == 0 {
		return a
	}
	return a.Lerp(b, min(1, max(0, p.Sub(a).Dot(d)/n)))
}

// Way is what a Guide found between two places.
type Way struct {
	Pts []geom.Point // in pixels, about a pixel apart where ink was followed
	// Straight: no ink leads from one place to the other, so that the way is a straight
	// line.
	Straight bool
	// Bare is the length in pixels of the way that runs over bare paper.
	Bare float64
}

// Path returns the way along the ink from one place to another. Both are moved to the ink
// that is nearest within 3 mm; where there is none, or none that connects, the way is the
// straight line between them, and says so. It returns the error of ctx if cancelled, or
// ErrNoPicture.
func (g *Guide) Path(ctx context.Context, from, to geom.Point) (Way, error) {
	w, err := g.prepared(ctx)
	if err != nil {
		return Way{}, err
	}
	r, err := g.rough(ctx, w, Stop{At: from}, Stop{At: to}, geom.Point{})
	if err != nil {
		return Way{}, err
	}
	if r.straight {
		return straightWay(r.pts[0], r.pts[1]), nil
	}
	return Way{Pts: refineWay(g.field, w.ink, r.pts, []geom.Point{from, to}), Bare: r.bare}, ctx.Err()
}

// clickReach is how far from the ink a click may lie, in mm: well above what a hand does
// on a picture that fills the screen, and below what another line could be meant by.
const clickReach = 3.0

// roughWay is a way to within the width of the pen.
type roughWay struct {
	pts      []geom.Point
	straight bool
	bare     float64
}

// rough finds the way between two stops. A heading, if not zero, is the direction in which
// it goes on from what went before.
func (g *Guide) rough(ctx context.Context, w *web, from, to Stop, heading geom.Point) (roughWay, error) {
	a, okA := g.spotOf(w, from)
	b, okB := g.spotOf(w, to)
	if okA && okB && !to.Straight {
		t, err := g.treeFrom(ctx, w, a, heading)
		if err != nil {
			return roughWay{}, err
		}
		if legs, ok := t.to(b); ok {
			if base, bare := w.base(legs); len(base) >= 2 {
				return roughWay{pts: base, bare: bare}, nil
			}
		}
	}
	p, q := from.At, to.At
	if okA {
		p = g.onInk(w, a)
	}
	if okB {
		q = g.onInk(w, b)
	}
	return roughWay{pts: []geom.Point{p, q}, straight: true, bare: p.Dist(q)}, ctx.Err()
}

// spotOf returns the place on ink that a stop stands for, if there is one.
func (g *Guide) spotOf(w *web, s Stop) (spot, bool) {
	if s.Loose {
		return spot{}, false
	}
	return w.spotNear(s.At, clickReach*g.scale)
}

// headingArm is how many widths of the pen back the direction of a way is taken from.
const headingArm = 4

// headingOf returns the direction in which a line of points ends, looked at over length
// pixels; zero for none.
func headingOf(pts []geom.Point, length float64) geom.Point {
	if len(pts) < 2 {
		return geom.Point{}
	}
	end := pts[len(pts)-1]
	for i := len(pts) - 2; i >= 0; i-- {
		if d := end.Sub(pts[i]); d.Len() >= length || i == 0 {
			return d.Unit()
		}
	}
	return geom.Point{}
}

// treeFrom returns the ways from a spot to everywhere, kept for the next question.
func (g *Guide) treeFrom(ctx context.Context, w *web, a spot, heading geom.Point) (*tree, error) {
	g.mu.Lock()
	t := g.tree
	g.mu.Unlock()
	if t != nil && t.from == a && t.heading == heading {
		return t, nil
	}
	t, err := w.grow(ctx, a, heading)
	if err != nil {
		return nil, err
	}
	g.mu.Lock()
	g.tree = t
	g.mu.Unlock()
	return t, nil
}

// straightWay is the way where no ink leads.
func straightWay(from, to geom.Point) Way {
	return Way{Pts: []geom.Point{from, to}, Straight: true, Bare: from.Dist(to)}
}
