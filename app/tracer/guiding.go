package tracer

import (
	"context"
	"math"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/fit"
	"hemlet/geom/trace/follow"
)

// guiding is a line on its way: it goes from stop to stop along the ink. Questions to the
// guide are answered aside, the newest first, so that the pointer never waits. It belongs
// to the window's goroutine.
type guiding struct {
	guide *follow.Guide
	// to leads from pixels of the guide's picture to mm, back the other way.
	to, back geom.Homography
	aside    func(work func() func())
	changed  func()

	stops []stop
	// ways are the lines between stops, as far as they are known, in mm.
	ways [][]geom.Point
	// bare says of each way that it runs straight over paper.
	bare []bool
	// over is whether the pointer is over the pictures, at where.
	over bool
	at   geom.Point
	// live is the way to the pointer, or the place on ink nearest to it while there is no
	// stop yet.
	live     []geom.Point
	liveBare bool

	// turn counts changes of the stops, known is the turn that ways belong to.
	turn, known  int
	asking, wish bool
}

// stop is a place through which the line goes.
type stop struct {
	// at is where it was clicked, in mm; px the same in pixels.
	at, px geom.Point
	joint  joint
	// corner is what came of joint.
	corner bool
}

// joint says how a line goes through a stop.
type joint int

const (
	byTurn   joint = iota // as a corner where the ink turns sharply
	asCorner              // as a corner
	asSmooth              // smoothly
)

// newGuiding begins a line in what was prepared.
func newGuiding(guide *follow.Guide, p trace.Prepared, aside func(func() func()), changed func()) (*guiding, bool) {
	back, ok := p.Map.Invert()
	return &guiding{guide: guide, to: p.Map, back: back, aside: aside, changed: changed}, ok
}

// move tells where the pointer is.
func (g *guiding) move(at geom.Point, over bool) {
	g.at, g.over = at, over
	if !over {
		g.live = nil
		g.changed()
		return
	}
	g.ask()
}

// add sets a stop.
func (g *guiding) add(at geom.Point) {
	g.stops = append(g.stops, stop{at: at, px: g.back.Apply(at)})
	if n := len(g.stops); n > 1 {
		way, bare := g.live, g.liveBare
		if len(way) < 2 { // until it is known
			way, bare = []geom.Point{g.stops[n-2].at, at}, true
		}
		g.ways, g.bare = append(g.ways, way), append(g.bare, bare)
	}
	g.live = nil
	g.alter()
}

// backUp takes the last stop back and reports whether there was one.
func (g *guiding) backUp() bool {
	n := len(g.stops)
	if n == 0 {
		return false
	}
	g.stops = g.stops[:n-1]
	if n > 1 {
		g.ways, g.bare = g.ways[:n-2], g.bare[:n-2]
	}
	g.live = nil
	g.alter()
	return true
}

// turnOver makes a smooth stop of the last one if it is a corner, and the other way round.
func (g *guiding) turnOver() {
	n := len(g.stops)
	if n == 0 {
		return
	}
	s := &g.stops[n-1]
	if s.corner {
		s.joint, s.corner = asSmooth, false
	} else {
		s.joint, s.corner = asCorner, true
	}
	g.alter()
}

func (g *guiding) alter() {
	g.turn++
	g.ask()
	g.changed()
}

// closes reports whether a click at a place, with a reach in mm, closes the line.
func (g *guiding) closes(at geom.Point, reach float64) bool {
	return len(g.stops) > 2 && g.first().Dist(at) < reach
}

// first returns where the line begins.
func (g *guiding) first() geom.Point {
	if len(g.ways) > 0 && len(g.ways[0]) > 0 {
		return g.ways[0][0]
	}
	return g.stops[0].at
}

// ask has the guide asked for what is not known yet, as soon as it has answered what it
// was asked before.
func (g *guiding) ask() {
	if g.asking {
		g.wish = true
		return
	}
	g.asking, g.wish = true, false
	q := question{g: g, stops: append([]stop(nil), g.stops...), turn: g.turn, whole: g.known != g.turn, over: g.over, at: g.at}
	g.aside(func() func() {
		a := q.answer()
		return func() {
			g.asking = false
			g.take(q, a)
			if g.wish {
				g.ask()
			}
			g.changed()
		}
	})
}

// question is what the guide is asked, and answer what came of it.
type question struct {
	g     *guiding
	stops []stop
	turn  int
	whole bool
	over  bool
	at    geom.Point
}

type answer struct {
	stops    []stop
	ways     [][]geom.Point
	bare     []bool
	live     []geom.Point
	liveBare bool
}

func (g *guiding) take(q question, a answer) {
	if q.turn != g.turn {
		g.wish = true
		return
	}
	if q.whole {
		g.known = q.turn
		if a.ways != nil {
			g.stops, g.ways, g.bare = a.stops, a.ways, a.bare
		}
	}
	if g.over {
		g.live, g.liveBare = a.live, a.liveBare
	}
}

// answer asks the guide. It may run on any goroutine.
func (q question) answer() answer {
	ctx := context.Background()
	a := answer{stops: q.stops}
	if q.whole && len(q.stops) > 1 {
		if line, stops, err := q.g.line(ctx, q.stops, false); err == nil {
			a.stops = stops
			for i := range len(stops) - 1 {
				a.ways = append(a.ways, q.g.inMM(line.Pts[line.Stops[i]:line.Stops[i+1]+1]))
				a.bare = append(a.bare, line.Bare[i])
			}
		}
	}
	if !q.over {
		return a
	}
	px := q.g.back.Apply(q.at)
	if len(q.stops) == 0 {
		if on, ok, err := q.g.guide.Snap(ctx, px, snapMM/q.g.to.ScaleAt(px)); ok && err == nil {
			a.live = []geom.Point{q.g.to.Apply(on)}
		}
		return a
	}
	if way, err := q.g.guide.Path(ctx, q.stops[len(q.stops)-1].px, px); err == nil {
		a.live, a.liveBare = q.g.inMM(way.Pts), way.Straight
	}
	return a
}

// snapMM is how far in mm the ink may be that the first stop is shown on: what the guide
// itself goes by.
const snapMM = 3.0

func (g *guiding) inMM(px []geom.Point) []geom.Point {
	out := make([]geom.Point, len(px))
	for i, p := range px {
		out[i] = g.to.Apply(p)
	}
	return out
}

// line has the guide lead through stops. Those that are to be told by the ink are smooth
// at first; where the line then turns sharply they become corners.
func (g *guiding) line(ctx context.Context, stops []stop, closed bool) (follow.Guided, []stop, error) {
	stops = append([]stop(nil), stops...)
	for i := range stops {
		if stops[i].joint != byTurn {
			stops[i].corner = stops[i].joint == asCorner
		}
	}
	led, err := g.guide.Line(ctx, closed, guideStops(stops)...)
	if err != nil {
		return led, stops, err
	}
	s := 1 / g.to.ScaleAt(stops[0].px)
	again := false
	for i := range stops {
		if stops[i].joint != byTurn || !closed && (i == 0 || i == len(stops)-1) {
			continue
		}
		if is := turnAt(led.Pts, led.Stops[i], closed, s) > sharpTurn; is != stops[i].corner {
			stops[i].corner, again = is, true
		}
	}
	if again {
		led, err = g.guide.Line(ctx, closed, guideStops(stops)...)
	}
	return led, stops, err
}

func guideStops(stops []stop) []follow.Stop {
	out := make([]follow.Stop, len(stops))
	for i, s := range stops {
		out[i] = follow.Stop{At: s.px, Corner: s.corner}
	}
	return out
}

const (
	// sharpTurn is the turn in radians from which a stop is a corner unless told
	// otherwise: 25 degrees, more than a curve of a pattern turns within turnArm.
	sharpTurn = 25 * math.Pi / 180
	// turnGap and turnArm say in mm which stretch on either side of a stop tells the turn:
	// past what the pen rounds, and no longer than a short edge of a doll's pattern.
	turnGap, turnArm = 0.7, 2.0
)

// turnAt returns by how much a line of points turns at one of them, s points being about a
// mm; 0 at the ends of an open line.
func turnAt(pts []geom.Point, i int, closed bool, s float64) float64 {
	gap, arm := max(1, int(turnGap*s)), max(2, int(turnArm*s))
	at := func(k int) (geom.Point, bool) {
		if closed {
			return pts[((k%len(pts))+len(pts))%len(pts)], len(pts) > 2*(gap+arm)
		}
		if k < 0 || k >= len(pts) {
			return geom.Point{}, false
		}
		return pts[k], true
	}
	a, ok1 := at(i - gap - arm)
	b, ok2 := at(i - gap)
	c, ok3 := at(i + gap)
	d, ok4 := at(i + gap + arm)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return 0
	}
	u, v := b.Sub(a), d.Sub(c)
	return math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
}

// fitted leads the line through its stops, back to the first one if closed, and fits it.
// It may run on any goroutine, on a copy of the stops.
func (g *guiding) fitted(ctx context.Context, stops []stop, closed bool, tol float64) (trace.Outline, error) {
	led, _, err := g.line(ctx, stops, closed)
	if err != nil {
		return trace.Outline{}, err
	}
	ink := g.inMM(led.Pts)
	pen := led.Width * g.to.ScaleAt(led.Pts[len(led.Pts)/2])
	o := fit.Options{Tol: tol, Pen: pen, Corners: led.Corners}
	var c fit.Curve
	if closed {
		c, err = fit.Closed(ctx, ink, o)
		ink = append(ink, ink[0])
	} else {
		c, err = fit.Open(ctx, ink, o)
	}
	if err == nil {
		err = c.Path.Simple()
	}
	if err != nil {
		return trace.Outline{}, err
	}
	lines := [][]geom.Point{trace.Sharpened(c.Path, ink, 0, pen)}
	return trace.Outline{Path: c.Path, Corner: c.Corner, Ink: lines, Pen: pen, Off: trace.Review(c.Path, lines)}, nil
}
