package figure

import (
	"math"

	"hemlet/geom"
)

// front holds what the marks of the front view need besides the skeleton.
type front struct {
	*skeleton
	d     *Drawing
	arm   geom.Affine // lays the x axis down the arm on the right of the paper
	legAt func(y float64) (middle, half float64)
	side  geom.Path // of the trunk on the right of the paper, upward
	// shoulder runs from its tip to the neck, on the right of the paper.
	shoulder geom.Path
	ear      geom.Affine
}

func drawFront(d *Drawing, k *skeleton) {
	f := &front{skeleton: k, d: d}
	if k.hasTail() {
		f.tail()
	}
	if k.hasEars() {
		f.tallEars()
	}
	f.arms()
	f.legs()
	f.trunk()
	f.neckPart()
	f.head()
	f.marks()
}

func (k *skeleton) shows(names ...string) bool {
	if k.build == Muzzled {
		return true
	}
	for _, n := range names {
		if _, ok := k.given(n); ok {
			return true
		}
	}
	return false
}

func (k *skeleton) hasMuzzle() bool {
	return k.build == Wide || k.shows("muzzle_length", "muzzle_girth")
}
func (k *skeleton) hasEars() bool { return k.shows("ear_height", "ear_girth") }
func (k *skeleton) hasTail() bool { return k.shows("tail_length", "tail_girth") }

// trunk draws the trunk from the fork up to the neck.
func (f *front) trunk() {
	low := f.lowest()
	st := f.frontStations()
	right, _ := edges(st)
	right = right.Transform(up(geom.Pt(0, 0)))
	f.side = right
	tip := right.End()
	neck := geom.Pt(f.neck.w, f.neckY)
	run := tip.X - neck.X
	half := geom.Path{quarter(geom.Pt(0, f.crotch), geom.Pt(low.w, f.crotch), geom.Pt(low.w, low.y))}
	half = append(half, right...)
	f.shoulder = geom.Path{geom.Cubic(tip, tip.Add(geom.Pt(-0.35*run, 0.45*(neck.Y-tip.Y))), neck.Add(geom.Pt(0.3*run, -0.25*(neck.Y-tip.Y))), neck)}
	half = append(half, f.shoulder...)
	stump := geom.Pt(0.84*neck.X, f.neckY+0.5*f.neck.w)
	half = append(half, geom.Cubic(neck, neck.Add(geom.Pt(-0.1*neck.X, 0.14*neck.X)), stump.Sub(geom.Pt(0, 0.22*neck.X)), stump))
	half = append(half, geom.Line(stump, geom.Pt(0, stump.Y)))
	f.d.part(bodyLayer, "trunk", append(half, mirrored(half).Reverse()...))
}

// frontStations returns the half widths of the trunk from the lowest level up to the
// tip of the shoulder.
func (f *front) frontStations() []station {
	var st []station
	for i := len(f.levels) - 1; i >= 0; i-- {
		st = append(st, station{s: f.levels[i].y, w: f.levels[i].w})
	}
	top := f.levels[0]
	if armpit := f.armpitY; armpit > top.y+0.1*(f.tipY-top.y) && armpit < f.tipY-0.1*(f.tipY-top.y) {
		st = append(st, station{s: armpit, w: top.w + 0.22*(f.tipX-top.w)})
	}
	return append(st, station{s: f.tipY, w: f.tipX})
}

// halfAt returns half the width of the trunk at a height from the lowest level to the
// shoulder.
func (f *front) halfAt(y float64) float64 {
	for _, s := range f.side {
		if y <= s.P3.Y {
			lo, hi := 0.0, 1.0
			for range 40 {
				mid := (lo + hi) / 2
				if s.At(mid).Y < y {
					lo = mid
				} else {
					hi = mid
				}
			}
			return s.At(lo).X
		}
	}
	return f.tipX
}

// arms draws the arms hanging, a little away from the body or as far as that asks for.
func (f *front) arms() {
	st := f.armStations()
	angle := f.armAngle(geom.Pt(f.tipX-0.8*f.upperArm, f.tipY-0.5*f.upperArm))
	sin, cos := math.Sincos(angle)
	down, out := geom.Pt(sin, -cos), geom.Pt(cos, sin)
	// The outer edge of the arm runs out from the tip of the shoulder.
	joint := geom.Pt(f.tipX, f.tipY).Add(down.Mul(0.12 * f.upperArm)).Sub(out.Mul(0.9 * f.upperArm))
	f.arm = along(joint, angle-math.Pi/2)
	f.d.both(bodyLayer, "arm", band(st, 0.55*f.upperArm, 0.2*f.wrist).Transform(f.arm))
	for _, p := range f.handParts(1) {
		f.d.both(bodyLayer, p.Name, p.Outline.Transform(f.arm))
	}
}

// armStations returns the widths of an arm from the shoulder to the wrist.
func (k *skeleton) armStations() []station {
	l := k.armLength
	fore := k.elbow
	if k.elbow > k.wrist {
		fore = 1.02 * k.elbow
	}
	return []station{
		{s: 0, w: 0.97 * k.upperArm}, {s: 0.26 * l, w: k.upperArm}, {s: 0.52 * l, w: k.elbow},
		{s: 0.63 * l, w: fore}, {s: l, w: k.wrist},
	}
}

// handParts returns the hand, and the thumb where there is one, past the wrist on the x
// axis. The thumb lies on the side of the sign.
func (k *skeleton) handParts(sign float64) []Part {
	l, long := k.armLength, k.handLong
	palm := band([]station{
		{s: l, w: k.wrist}, {s: l + 0.4*long, w: k.hand}, {s: l + 0.72*long, w: 0.84 * k.hand},
	}, 0.1*k.wrist, 0.28*long)
	parts := []Part{{Name: "hand", Outline: palm}}
	if k.build == Upright {
		thumb := band([]station{{s: 0, w: 0.3 * k.hand}, {s: 0.34 * long, w: 0.25 * k.hand}}, 0.1*long, 0.12*long)
		parts = append(parts, Part{Name: "thumb", Outline: thumb.Transform(along(geom.Pt(l+0.16*long, -sign*0.45*k.hand), -sign*0.55))})
	}
	return parts
}

// The angles that arms are held away from the upright, in radians.
const (
	leastArmAngle = 0.2
	mostArmAngle  = 1.15
)

// armAngle returns how far the arm must be held away to clear the trunk and the ground.
func (f *front) armAngle(joint geom.Point) float64 {
	angle := leastArmAngle
	reach := f.armLength + f.handLong
	for _, l := range f.levels {
		down := joint.Y - l.y
		if down <= f.upperArm || down > reach {
			continue
		}
		r := f.upperArm + (f.wrist-f.upperArm)*min(down/f.armLength, 1)
		angle = max(angle, math.Atan2(l.w+1.25*r-joint.X, down))
	}
	if lift := joint.Y * 0.97 / reach; lift < 1 {
		angle = max(angle, math.Acos(lift))
	}
	return min(angle, mostArmAngle)
}

// legs draws the legs and the feet.
func (f *front) legs() {
	low := f.lowest()
	gap := max(0.03*low.w, 0.006*f.top)
	footW := 0.2 * f.foot
	thigh := min(f.thigh, 0.5*(low.w-gap))
	fork := gap + thigh
	if fork+thigh < 0.86*low.w { // thin legs stand under the middle of each side
		fork = max(fork, min(0.5*low.w, fork+0.6*(0.86*low.w-fork-thigh)))
	}
	stand := max(fork, footW*1.06)
	in := fork + 0.35*(stand-fork)
	knee := min(f.kneeR, in*0.97)
	st := []station{
		{s: 0.4 * f.ankle, c: -(fork + 0.9*(stand-fork)), w: f.ankleR},
		{s: f.ankle, c: -(fork + 0.8*(stand-fork)), w: f.ankleR},
		{s: f.ankle + 0.62*(f.knee-f.ankle), c: -in, w: f.calfHalf(knee)},
		{s: f.knee, c: -in, w: knee},
		{s: 0.97 * f.crotch, c: -fork, w: thigh},
		{s: low.y, c: -0.55 * low.w, w: 0.45 * low.w},
	}
	st = rising(st)
	f.legAt = func(y float64) (float64, float64) { return bandAt(st, y) }
	leg := band(st, 0.2*f.ankle, 0.2*low.w).Transform(up(geom.Pt(0, 0)))
	f.d.both(bodyLayer, "leg", leg)
	h := 1.1 * f.ankle
	f.d.both(bodyLayer, "foot", frontFoot(stand, footW, h))
}

// rising drops stations that do not lie beyond the one before.
func rising(st []station) []station {
	out := st[:1]
	for _, s := range st[1:] {
		if s.s > out[len(out)-1].s*(1+1e-9)+1e-12 {
			out = append(out, s)
		}
	}
	return out
}

// bandAt returns the middle, to the right of the axis, and half the width of a band.
func bandAt(st []station, at float64) (middle, half float64) {
	right, left := edges(st)
	for i, s := range right {
		if at > s.P3.X && i < len(right)-1 {
			continue
		}
		t := within((at-s.P0.X)/(s.P3.X-s.P0.X), 0, 1)
		a, b := s.At(t).Y, left[i].At(t).Y
		return -(a + b) / 2, (b - a) / 2
	}
	return 0, 0
}

// frontFoot is a foot seen from its toes.
func frontFoot(x, w, h float64) geom.Path {
	r := min(0.35*w, 0.35*h)
	left, right := x-w, x+w
	sole := []geom.Point{geom.Pt(left+r, 0), geom.Pt(right-r, 0)}
	mid := 0.34 * h
	p := geom.Path{geom.Line(sole[0], sole[1]), quarter(sole[1], geom.Pt(right, 0), geom.Pt(right, mid))}
	top := geom.Pt(x, h)
	p = append(p,
		geom.Cubic(geom.Pt(right, mid), geom.Pt(right, mid+0.6*(h-mid)), geom.Pt(x+0.75*w, h), top),
		geom.Cubic(top, geom.Pt(x-0.75*w, h), geom.Pt(left, mid+0.6*(h-mid)), geom.Pt(left, mid)),
		quarter(geom.Pt(left, mid), geom.Pt(left, 0), sole[0]))
	return p
}

// neckPart joins the head to the trunk.
func (f *front) neckPart() {
	base := f.neckY - 0.3*(f.neckY-f.pitY)
	top := max(f.chin+0.3*f.headH, base+0.02*f.top)
	upper := min(0.82*f.neck.w, 0.82*f.headW)
	st := []station{{s: base, w: upper}, {s: top, w: upper}}
	f.d.part(bodyLayer, "neck", band(st, 0.1*f.neck.w, 0.1*f.neck.w).Transform(up(geom.Pt(0, 0))))
}

// head draws the head with its face.
func (f *front) head() {
	w, h := f.headW, f.headH
	at := func(x, y float64) geom.Point { return geom.Pt(x*w, f.chin+y*h) }
	wide, jaw := 0.58, 0.5
	switch f.build {
	case Muzzled:
		wide, jaw = 0.46, 0.62
	case Wide:
		wide, jaw = 0.48, 0.58
	}
	half := geom.Path{
		geom.Cubic(at(0, 0), at(jaw*0.7, 0), at(1, wide*(1-0.72)), at(1, wide)),
		geom.Cubic(at(1, wide), at(1, wide+round*(1-wide)), at(round, 1), at(0, 1)),
	}
	f.d.part(bodyLayer, "head", append(half, mirrored(half).Reverse()...))
	if !f.hasEars() {
		f.smallEars(at)
	}
	if f.hasMuzzle() {
		f.face(at)
	}
}

// smallEars are ears that nothing is measured on.
func (f *front) smallEars(at func(x, y float64) geom.Point) {
	if f.build == Wide {
		r := 0.26 * f.headW
		f.d.both(behindLayer, "ear", oval(at(0.66, 0.86), r, r))
		return
	}
	f.d.both(bodyLayer, "ear", oval(at(0.99, 0.5), 0.085*f.headW, 0.1*f.headH))
}

// oval returns an ellipse.
func oval(c geom.Point, rx, ry float64) geom.Path {
	e, n, w, s := c.Add(geom.Pt(rx, 0)), c.Add(geom.Pt(0, ry)), c.Add(geom.Pt(-rx, 0)), c.Add(geom.Pt(0, -ry))
	return geom.Path{
		quarter(e, geom.Pt(e.X, n.Y), n), quarter(n, geom.Pt(w.X, n.Y), w),
		quarter(w, geom.Pt(w.X, s.Y), s), quarter(s, geom.Pt(e.X, s.Y), e),
	}
}

// face draws the muzzle seen from its tip, the nose and the eyes.
func (f *front) face(at func(x, y float64) geom.Point) {
	r := f.muzzle().w
	c := at(0, 0.3)
	f.d.Details = append(f.d.Details, oval(c, r, min(0.9*r, 0.29*f.headH)))
	nose := c.Add(geom.Pt(0, 0.3*r))
	f.d.Details = append(f.d.Details, oval(nose, 0.26*r, 0.19*r))
	eye := at(0.4, 0.62)
	e := oval(eye, 0.055*f.headW, 0.075*f.headW)
	f.d.Details = append(f.d.Details, e, mirrored(e))
}

// muzzle returns the muzzle where it leaves the head, no wider than the head there.
func (k *skeleton) muzzle() ring {
	r := roundOf(k.get("muzzle_girth"), 1)
	r.w = min(r.w, 0.8*k.headW, 0.42*k.headH)
	return r
}

// tallEars draws ears that are measured.
func (f *front) tallEars() {
	w, l := f.earHalf(), f.get("ear_height")
	base := geom.Pt(0.46*f.headW, f.chin+0.9*f.headH)
	f.ear = along(base, math.Pi/2-0.2)
	f.d.both(behindLayer, "ear", earBand(w, l, 0.12*f.headH).Transform(f.ear))
	inner := band([]station{{s: 0.16 * l, w: 0.2 * w}, {s: 0.45 * l, w: 0.52 * w}, {s: 0.78 * l, w: 0.3 * w}}, 0.05*l, 0.1*l).Transform(f.ear)
	f.d.Details = append(f.d.Details, inner, mirrored(inner))
}

// earHalf returns half the width of an ear, which is flat.
func (k *skeleton) earHalf() float64 {
	return min(k.get("ear_girth")/(2*halfOval(1, 0.3)), 0.45*k.get("ear_height"))
}

// earBand is an ear of half the width and the length over the x axis, with its root
// so deep in the head.
func earBand(w, l, root float64) geom.Path {
	return band([]station{{s: -root, w: 0.72 * w}, {s: 0.05 * l, w: 0.84 * w}, {s: 0.42 * l, w: w}, {s: 0.8 * l, w: 0.5 * w}}, 0.3*root, 0.2*l)
}

// tail draws the tail as far as it shows from the front: straight down between the
// legs, shortened.
func (f *front) tail() {
	r := f.tailHalf()
	from := (f.at("hip").y + f.crotch) / 2
	to := max(from-0.55*f.get("tail_length"), 0.03*f.top)
	if from-to < 2*r || to > 0.7*f.crotch { // hidden by the body, but for its tip
		return
	}
	st := []station{{s: 0, w: r}, {s: 0.6 * (from - to), w: 0.85 * r}, {s: from - to - 0.9*r, w: 0.6 * r}}
	f.d.part(behindLayer, "tail", band(rising(st), r, 0.9*r).Transform(along(geom.Pt(0, from), -math.Pi/2)))
}

func (k *skeleton) tailHalf() float64 {
	return min(roundR(k.get("tail_girth")), 0.2*k.get("tail_length"))
}
