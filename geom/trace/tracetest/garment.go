package tracetest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"hemlet/geom"
)

// What a garment outline of this package keeps to.
const (
	leastSide   = 50.0  // mm, longer side of the smallest piece
	largestSide = 400.0 // mm, of the largest
	leastRadius = 8.0   // mm, tightest curve: below it a bend cannot be told from a corner at 150 dpi
	leastEdge   = 9.0   // mm, shortest segment
	leastCorner = 12.0  // degrees: a joint is either smooth or turns by this at least
)

// Garment returns a random piece of the kind that clothes are cut from: 6 to 9 lines and
// cubics, 50 to 400 mm, with darts, hollowed necks, straight runs and smooth joints. The
// same seed gives the same piece. Its lower left corner lies at the origin.
func Garment(seed uint64) Piece {
	rng := rand.New(rand.NewPCG(seed, 0x9a12))
	for {
		kind := kinds[rng.IntN(len(kinds))]
		// Sizes spread evenly by ratio.
		side := leastSide * math.Pow(largestSide/leastSide, rng.Float64())
		if p, ok := sized(kind.draw(rng), side, rng); ok {
			return Piece{Name: fmt.Sprintf("%s %d", kind.name, seed), Outline: p}
		}
	}
}

var kinds = []struct {
	name string
	draw func(*rand.Rand) geom.Path
}{{"front", front}, {"front with a dart", dartFront}, {"sleeve", sleeve}, {"skirt", skirt}, {"collar", collar}, {"trouser", trouser}, {"sole", sole}, {"round", round}}

// sized scales the path to a longer side of side mm, turns it anyhow, puts its corner at
// the origin, and reports whether it keeps to the limits above.
func sized(p geom.Path, side float64, rng *rand.Rand) (geom.Path, bool) {
	b := p.Bounds()
	k := side / math.Max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y)
	p = p.Transform(geom.Scaling(k, k).Then(geom.Rotation(rng.Float64()*2*math.Pi, geom.Point{})))
	p = p.Transform(geom.Translation(p.Bounds().Min.Mul(-1)))
	if len(p) < 6 || len(p) > 9 || p.Area() <= 0 || p.Simple() != nil {
		return nil, false
	}
	for i, s := range p {
		next := p[(i+1)%len(p)]
		u, v := s.Tangent(1), next.Tangent(0)
		turn := math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) * 180 / math.Pi
		if s.Length() < leastEdge || turn > 1e-6 && turn < leastCorner {
			return nil, false
		}
		if s.Straight {
			continue
		}
		for j := range 101 {
			if math.Abs(s.Curvature(float64(j)/100)) > 1/leastRadius {
				return nil, false
			}
		}
	}
	return p, true
}

// pencil draws an outline edge by edge.
type pencil struct {
	start, at geom.Point
	path      geom.Path
}

func from(x, y float64) *pencil { p := geom.Pt(x, y); return &pencil{start: p, at: p} }

func (d *pencil) add(s geom.Segment) *pencil {
	d.path, d.at = append(d.path, s), s.P3
	return d
}

func (d *pencil) line(x, y float64) *pencil { return d.add(geom.Line(d.at, geom.Pt(x, y))) }

// curve goes to (x, y), leaving in direction a and arriving in direction b (degrees), with
// handles of a share h of the chord.
func (d *pencil) curve(a, x, y, b, h float64) *pencil {
	to := geom.Pt(x, y)
	l := h * d.at.Dist(to)
	return d.add(geom.Cubic(d.at, d.at.Add(ray(a, l)), to.Sub(ray(b, l)), to))
}

// on goes on to (x, y) as curve does, in the direction in which the last edge arrived.
func (d *pencil) on(x, y, b, h float64) *pencil {
	u := d.path[len(d.path)-1].Tangent(1)
	l := h * d.at.Dist(geom.Pt(x, y))
	to := geom.Pt(x, y)
	return d.add(geom.Cubic(d.at, d.at.Add(u.Mul(l/u.Len())), to.Sub(ray(b, l)), to))
}

func (d *pencil) shut() geom.Path { return d.line(d.start.X, d.start.Y).path }

func ray(deg, l float64) geom.Point {
	s, c := math.Sincos(deg * math.Pi / 180)
	return geom.Pt(l*c, l*s)
}

func between(rng *rand.Rand, a, b float64) float64 { return a + (b-a)*rng.Float64() }

func front(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	w, waist, arm := r(.8, 1.2), r(.4, .6), r(.95, 1.15)
	d := from(0, 0)
	if rng.IntN(2) == 0 {
		d.line(w, r(-.05, .1))
	} else {
		d.curve(r(-12, 0), w, r(.02, .1), r(5, 20), r(.3, .4))
	}
	d.curve(r(95, 115), w-r(.1, .25), waist, r(84, 94), r(.3, .4)).on(w+r(-.05, .1), arm, r(70, 86), r(.3, .4))
	d.curve(r(165, 185), w-r(.25, .4), arm+r(.22, .3), r(88, 100), r(.3, .42)).on(w-r(.12, .3), arm+r(.55, .7), r(75, 88), r(.3, .4))
	tip := d.at
	d.line(r(.25, .35), tip.Y+r(.06, .18))
	d.curve(r(255, 275), 0, d.at.Y-r(.25, .4), r(175, 185), r(.4, .55))
	return d.shut()
}

func dartFront(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	w, arm := r(.8, 1.2), r(.8, 1)
	mouth, intake := r(.35, .5), r(.09, .18)
	d := from(0, 0).line(mouth, r(-.04, 0)).line(mouth+intake/2+r(-.03, .03), r(.4, .6)).line(mouth+intake, r(-.04, .02))
	d.line(w, r(.05, .12)).curve(r(84, 100), w+r(-.1, .1), arm, r(80, 96), r(.3, .4))
	d.curve(r(168, 185), w-r(.12, .28), arm+r(.45, .6), r(78, 92), r(.4, .55))
	d.line(r(.25, .35), d.at.Y+r(.06, .18)).curve(r(255, 275), 0, d.at.Y-r(.25, .35), r(175, 185), r(.4, .55))
	return d.shut()
}

func sleeve(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	hem, w, long, cap := r(.28, .45), r(.5, .65), r(.5, 1.3), r(.25, .4)
	mid, rise := r(.45, .55), r(35, 50)
	d := from(-hem, -long)
	if rng.IntN(2) == 0 {
		d.line(hem, -long)
	} else {
		d.curve(r(-18, -8), hem, -long, r(8, 18), r(.3, .4))
	}
	d.line(w, 0).curve(180-r(0, 10), w*mid, cap*.55, 180-rise, r(.33, .42)).on(r(-.03, .03), cap, 180, r(.33, .42))
	d.on(-w*mid, cap*.52, 180+rise, r(.33, .42)).on(-w, 0, 180+r(0, 10), r(.33, .42))
	return d.shut()
}

func skirt(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	w, top, high := r(.5, .8), r(.36, .48), r(.7, 1.2)
	hip := high * r(.6, .75)
	mouth := top * r(.4, .55)
	d := from(0, 0).curve(r(-4, 4), w, r(.03, .1), r(12, 25), r(.3, .4))
	side := geom.Pt(w-r(.02, .08), hip)
	d.line(side.X, side.Y).on(top, high+r(.02, .05), r(105, 120), r(.3, .4))
	intake := r(.06, .1)
	d.line(mouth+intake/2, high+.01).line(mouth+r(-.02, .02), high-r(.2, .3)).line(mouth-intake/2, high).line(0, high-r(.005, .03))
	return d.shut()
}

func collar(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	// A band bent round a neck: inner and outer curve of two cubics each.
	in, wide, drop := r(.5, .7), r(.22, .4), r(.35, .6)
	d := from(-in, drop)
	d.curve(r(-85, -65), r(-.03, .03), 0, 0, r(.4, .5)).on(in, drop+r(-.03, .03), r(65, 85), r(.4, .5))
	at := d.at
	d.line(at.X+wide*r(.8, 1), at.Y+r(-.08, .1))
	at = d.at
	d.curve(r(258, 275), r(-.03, .03), -wide, 180, r(.42, .52)).on(-at.X, at.Y, r(85, 100), r(.42, .52))
	return d.shut()
}

func trouser(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	leg, w, knee, rise := r(.35, .5), r(.55, .7), r(.4, .55), r(.9, 1.1)
	d := from(0, 0).line(leg, r(-.02, .02)).curve(r(86, 92), leg+r(.0, .05), knee, r(82, 89), r(.3, .4)).on(w, rise, r(75, 86), r(.3, .4))
	d.curve(r(92, 105), w-r(.05, .1), rise+r(.4, .55), r(95, 105), r(.3, .4))
	d.line(r(.02, .1), d.at.Y+r(.03, .08))
	d.line(r(-.02, .02), rise+r(.2, .28)).on(-r(.15, .25), rise-r(.02, .05), r(185, 205), r(.35, .45))
	return d.curve(r(-80, -70), 0, 0, r(-88, -84), r(.3, .4)).path
}

// sole is a foot seen from below: smooth but for two corners.
func sole(rng *rand.Rand) geom.Path {
	r := func(a, b float64) float64 { return between(rng, a, b) }
	d := from(-r(.12, .16), .05)
	d.curve(r(-70, -50), r(0, .04), -.1, 0, r(.38, .45)).on(.2, .12, r(80, 95), r(.38, .45))
	d.on(.17+r(0, .05), .5, r(86, 96), r(.3, .38)).on(.3, .85, r(80, 90), r(.3, .38)).on(.02, 1.15, 180+r(-8, 8), r(.4, .5))
	d.on(-.24, .8, r(262, 275), r(.38, .46))
	return d.curve(r(-78, -62), d.start.X, d.start.Y, r(-95, -75), r(.3, .38)).path
}

// round is an odd lump of 6 to 9 cubics, some joints of which are corners.
func round(rng *rand.Rand) geom.Path {
	n := 6 + rng.IntN(4)
	type node struct {
		at      geom.Point
		in, out float64 // degrees
	}
	nodes := make([]node, n)
	corners := 0
	for i := range nodes {
		a := (float64(i) + between(rng, -.2, .2)) * 360 / float64(n)
		at := ray(a, between(rng, .75, 1.1))
		dir := a + 90 + between(rng, -12, 12)
		nodes[i] = node{at, dir, dir}
		if rng.IntN(3) == 0 {
			turn := between(rng, 20, 50)
			if rng.IntN(4) == 0 {
				turn = -turn
			}
			nodes[i].in -= turn / 2
			nodes[i].out += turn / 2
			corners++
		}
	}
	if corners == 0 {
		nodes[0].in -= 20
		nodes[0].out += 20
	}
	d := from(nodes[0].at.X, nodes[0].at.Y)
	for i := range nodes {
		to := nodes[(i+1)%n]
		h := between(rng, .32, .38)
		d.curve(nodes[i].out, to.at.X, to.at.Y, to.in, h)
	}
	return d.path
}
