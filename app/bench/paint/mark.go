package paint

import (
	"math"
	"slices"

	"hemlet/geom"
)

// Sizes of marks in screen units.
const (
	nodeSide      = 9.0 // square nodes, rim included
	nodeSideLarge = 12.0
	discSize      = 10.0 // round nodes, rim included
	discSizeLarge = 13.0
	handleSize    = 9.0
	handleLarge   = 11.0
	openSize      = 9.0 // open forms
	openSizeLarge = 13.0
	nodeRim       = 1.5
	nodeRimLarge  = 2.0

	arrowLength = 10.0 // of a head, along its line
	arrowHalf   = 5.0  // of a head, to each side

	bracketGap   = 18.0 // from the fold to the bar
	bracketInset = 40.0 // from the ends of the fold to the arrows, where there is room

	tickGap     = 6.0 // between the strokes of a double notch
	tickGapWide = 9.0 // between two that are broader
	tickClear   = 2.0 // from the edge to the foot of those that have one
	tickSpread  = 0.4 // of their length: half of how broad they are

	badgeSize = 14.0
)

// units returns the length in device pixels.
func (f *frame) units(n float64) float64 { return n * f.view.DPR }

// onPixel returns the place moved so that a box of the given side in pixels about
// it has its borders between pixels.
func onPixel(p geom.Point, side float64) geom.Point {
	half := math.Round(side) / 2
	return geom.Point{X: math.Round(p.X-half) + half, Y: math.Round(p.Y-half) + half}
}

// prepare makes a dot ready.
func (d Dot) prepare(f *frame) {
	rim, line := nodeRim, f.pal.ink(d.Colour)
	size := map[DotKind][2]float64{
		CornerNode: {nodeSide, nodeSideLarge},
		SmoothNode: {discSize, discSizeLarge},
		HandleEnd:  {handleSize, handleLarge},
	}[d.Kind]
	if d.Kind > HandleEnd {
		size = [2]float64{openSize, openSizeLarge}
	}
	side := size[0]
	if d.Large {
		side, rim = size[1], nodeRimLarge
	}
	px := math.Round(f.units(side))
	at := onPixel(f.px(d.At), px)
	half, in := px/2, f.units(rim)
	switch d.Kind {
	case CornerNode:
		f.polygon(line, square(at, half)...)
		f.polygon(f.pal.ink(d.Fill), square(at, half-in)...)
	case SmoothNode:
		f.polygon(line, disc(at, half)...)
		f.polygon(f.pal.ink(d.Fill), disc(at, half-in)...)
	case Ring, Square, Wedge, Cross, Plus:
		d.open(f, at, half, line, pen{half: in / 2, join: Mitre})
	default:
		f.polygon(line, disc(at, half)...)
	}
}

// open draws the forms without an inside.
func (d Dot) open(f *frame, at geom.Point, half float64, c ink, p pen) {
	place := func(x, y float64) geom.Point { return geom.Point{X: at.X + x*half, Y: at.Y + y*half} }
	switch d.Kind {
	case Ring:
		ring := disc(at, half-p.half)
		f.polyline(c, p, true, append(ring[:len(ring)-1], ring[0])...)
	case Square:
		corners := square(at, half-p.half)
		f.polyline(c, p, true, append(corners, corners[0])...)
	case Wedge:
		a, b, top := place(-1, 0.8), place(1, 0.8), place(0, -1)
		f.polyline(c, p, true, a, b, top, a)
	case Cross:
		f.polyline(c, p, false, place(-1, -1), place(1, 1))
		f.polyline(c, p, false, place(-1, 1), place(1, -1))
	default:
		f.polyline(c, p, false, place(-1, 0), place(1, 0))
		f.polyline(c, p, false, place(0, -1), place(0, 1))
	}
}

// square returns the corners of a square about c.
func square(c geom.Point, half float64) []geom.Point {
	return []geom.Point{
		{X: c.X - half, Y: c.Y - half}, {X: c.X + half, Y: c.Y - half},
		{X: c.X + half, Y: c.Y + half}, {X: c.X - half, Y: c.Y + half},
	}
}

// disc returns the corners of a circle about c.
func disc(c geom.Point, radius float64) []geom.Point {
	return arc(nil, c, radius, 0, 2*math.Pi)
}

// arc appends the chord ends of a circle about c from one angle to another.
func arc(dst []geom.Point, c geom.Point, radius, from, to float64) []geom.Point {
	step := 2 * math.Acos(1-min(arcTolerance/2/radius, 1))
	n := max(int(math.Ceil(math.Abs(to-from)/step)), 2)
	dst = slices.Grow(dst, n+1)
	for i := 0; i <= n; i++ {
		s, k := math.Sincos(from + (to-from)*float64(i)/float64(n))
		dst = append(dst, geom.Point{X: c.X + radius*k, Y: c.Y + radius*s})
	}
	return dst
}

// crisp moves a line that runs along the pixels onto the middle of a row or column
// of them, where it is not smeared over two; others it leaves as they are.
func crisp(a, b geom.Point) (geom.Point, geom.Point) {
	const along = 0.02 // pixels that the line may stray over its whole length
	if math.Abs(a.X-b.X) < along {
		a.X = math.Floor(a.X) + 0.5
		b.X = a.X
	}
	if math.Abs(a.Y-b.Y) < along {
		a.Y = math.Floor(a.Y) + 0.5
		b.Y = a.Y
	}
	return a, b
}

// prepare makes an arrow ready.
func (a Arrow) prepare(f *frame) {
	p, c, ok := f.pen(a.Line)
	if !ok {
		return
	}
	from, to := crisp(f.px(a.A), f.px(a.B))
	f.polyline(c, p, false, from, to)
	if a.Both {
		f.head(c, p, from, to, headOfTwo)
		f.head(c, p, to, from, headOfTwo)
		return
	}
	f.head(c, p, from, to, headAlone)
}

// A head takes at most this share of its line, so that two stay apart; one that
// would be shorter than leastHead, in screen units, is left out, for nobody could
// tell it from a blot.
const (
	headAlone = 0.6
	headOfTwo = 0.3
	leastHead = 3.0
)

// head draws an open arrow head at the end of the line between places in pixels,
// no longer than its share of the line.
func (f *frame) head(c ink, p pen, from, to geom.Point, share float64) {
	d := to.Sub(from)
	n := d.Len()
	long := math.Min(f.units(arrowLength), share*n)
	if n == 0 || long < f.units(leastHead) {
		return
	}
	d = d.Mul(long / n)
	back := to.Sub(d)
	side := d.Left().Mul(arrowHalf / arrowLength)
	f.polyline(c, p, false, back.Add(side), to, back.Sub(side))
}

// prepare makes a bracket ready.
func (b Bracket) prepare(f *frame) {
	p, c, ok := f.pen(b.Line)
	a, z := f.px(b.A), f.px(b.B)
	n := a.Dist(z)
	if !ok || n == 0 {
		return
	}
	d := z.Sub(a).Mul(1 / n)
	// The left in the document is found there, so that mirrored places keep it;
	// on the screen, y points down.
	out := f.toPx.ApplyVector(b.B.Sub(b.A).Left()).Unit().Mul(f.units(bracketGap))
	if b.Right {
		out = out.Mul(-1)
	}
	inset := math.Min(f.units(bracketInset), n/5)
	a, z = a.Add(d.Mul(inset)), z.Sub(d.Mul(inset))
	b0, b1 := crisp(a.Add(out), z.Add(out))
	a, b0 = crisp(a, b0)
	z, b1 = crisp(z, b1)
	f.polyline(c, p, false, a, b0, b1, z)
	f.head(c, p, b0, a, headAlone)
	f.head(c, p, b1, z, headAlone)
}

// prepare makes a notch ready.
func (t Tick) prepare(f *frame) {
	p, c, ok := f.pen(t.Line)
	d := f.toPx.ApplyVector(t.Dir).Unit()
	if !ok || d == (geom.Point{}) {
		return
	}
	at := f.px(t.At)
	gap := tickGap
	if t.Form != TickStroke {
		gap = tickGapWide
	}
	side, long := d.Left(), f.units(t.Length)
	for i := range t.Count {
		q := at.Add(side.Mul(f.units(gap) * (float64(i) - float64(t.Count-1)/2)))
		tip, arm := q.Add(d.Mul(long)), side.Mul(long*tickSpread)
		switch t.Form {
		case TickV:
			foot := q.Add(d.Mul(f.units(tickClear)))
			f.polyline(c, p, false, tip.Add(arm), foot, tip.Sub(arm))
		case TickT:
			foot := q.Add(d.Mul(f.units(tickClear)))
			f.polyline(c, p, false, tip, foot)
			f.polyline(c, p, false, foot.Add(arm), foot.Sub(arm))
		default:
			f.polyline(c, p, false, q, tip)
		}
	}
}

// prepare makes a badge ready.
func (b Badge) prepare(f *frame) {
	side := math.Round(f.units(badgeSize))
	at := onPixel(f.px(b.At).Add(geom.Point{X: f.units(b.DX), Y: f.units(b.DY)}), side)
	// The forms are drawn in a square from -1 to 1.
	place := func(x, y float64) geom.Point {
		return geom.Point{X: at.X + x*side/2, Y: at.Y + y*side/2}
	}
	line, fill := f.pal.ink(b.Colour), f.pal.ink(b.Fill)
	thin := pen{half: f.units(0.8), join: Round, cap: RoundCap}
	bold := pen{half: f.units(1), join: Round, cap: RoundCap}
	switch b.Kind {
	case Problem:
		f.polygon(line, disc(at, side/2)...)
		f.polyline(fill, bold, false, place(0, -0.5), place(0, 0.1))
		f.polygon(fill, disc(place(0, 0.5), f.units(1.1))...)
	case LookAgain:
		a, z, top := place(-1, 0.9), place(1, 0.9), place(0, -0.9)
		f.polygon(fill, a, z, top)
		f.polyline(line, thin, true, a, z, top, a)
		f.polyline(line, thin, false, place(0, -0.2), place(0, 0.25))
		f.polygon(line, disc(place(0, 0.58), f.units(0.9))...)
	case Note:
		a, z := place(-0.9, -0.9), place(0.9, 0.9)
		corners := []geom.Point{a, {X: z.X, Y: a.Y}, z, {X: a.X, Y: z.Y}, a}
		f.polygon(fill, corners[:4]...)
		f.polyline(line, thin, true, corners...)
		f.polyline(line, thin, false, place(0, -0.05), place(0, 0.5))
		f.polygon(line, disc(place(0, -0.45), f.units(0.9))...)
	default:
		f.polyline(line, bold, false, place(-0.85, 0.05), place(-0.25, 0.65), place(0.9, -0.65))
	}
}
