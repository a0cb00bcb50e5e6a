package figure

import (
	"math"
	"slices"

	"hemlet/geom"
)

// halfRing returns half an ellipse from the left to the right of an axis that leans by
// an angle: half the width w to each side of the middle, and h to the right of the axis.
func halfRing(c geom.Point, w, h, angle float64) geom.Path {
	m := along(c, angle)
	a, b := geom.Pt(-w, 0), geom.Pt(w, 0)
	return rounded(a, b, geom.Pt(0, -h)).Transform(m)
}

// ringRise is how far a girth is seen to swing to the front, as a share of half its
// width: as if one looked a little from above.
const ringRise = 0.16

// girth adds a girth, seen as an ellipse, and what runs across its front and its back.
func (d *Drawing) girth(name string, c geom.Point, w, rise, angle float64) {
	near, far := halfRing(c, w, rise, angle), halfRing(c, w, -rise, angle)
	d.mark(name, near[1].At(0.4), 1, []geom.Path{near}, far)
}

// mark adds a mark.
func (d *Drawing) mark(measure string, at geom.Point, beside int, near []geom.Path, far ...geom.Path) {
	d.Marks = append(d.Marks, Mark{Measure: measure, Near: near, Far: far, At: at, Beside: beside})
}

func line(a, b geom.Point) geom.Path { return geom.Path{geom.Line(a, b)} }

// dimension returns a line with bars across its ends.
func dimension(a, b geom.Point, bar float64) []geom.Path {
	n := b.Sub(a).Unit().Left().Mul(bar / 2)
	return []geom.Path{line(a, b), line(a.Sub(n), a.Add(n)), line(b.Sub(n), b.Add(n))}
}

// ticked returns a line on the body with short bars across its ends.
func ticked(p geom.Path, bar float64) []geom.Path {
	end := func(at geom.Place, q geom.Point) geom.Path {
		n := p.Tangent(at).Left().Mul(bar / 2)
		return line(q.Sub(n), q.Add(n))
	}
	last := geom.Place{Seg: len(p) - 1, T: 1}
	return []geom.Path{p, end(geom.Place{}, p.Start()), end(last, p.End())}
}

// bar is the length of the bars across the ends of a mark.
func (k *skeleton) bar() float64 { return 0.016 * k.top }

func (f *front) marks() {
	f.trunkMarks()
	f.widthMarks()
	f.armMarks()
	f.legMarks()
	d := f.d
	y := f.chin + 0.7*f.headH
	d.girth("head_girth", geom.Pt(0, y), 0.965*f.headW, 0.8*ringRise*f.headW, 0)
	if f.hasMuzzle() {
		r := f.muzzle().w
		d.mark("muzzle_girth", geom.Pt(0.7*r, f.chin+0.3*f.headH-0.6*r), 1, []geom.Path{oval(geom.Pt(0, f.chin+0.3*f.headH), r, min(0.9*r, 0.29*f.headH))})
	}
	if f.hasEars() {
		l := f.get("ear_height")
		axis := line(geom.Pt(0, 0), geom.Pt(l, 0)).Transform(f.ear)
		d.mark("ear_height", axis.Start().Lerp(axis.End(), 0.6), 1, ticked(axis, f.bar()))
		at := geom.Pt(0.1*l, 0)
		d.girth("ear_girth", f.ear.Apply(at), 0.84*f.earHalf(), 0.2*f.earHalf(), -0.2)
	}
}

// trunkMarks shows the girths and lengths of the trunk.
func (f *front) trunkMarks() {
	d := f.d
	dip := f.neckY - f.pitY
	near, far := halfRing(geom.Pt(0, f.neckY), f.neck.w, dip, 0), halfRing(geom.Pt(0, f.neckY), f.neck.w, -0.22*f.neck.w, 0)
	d.mark("neck_base_girth", near[1].At(0.3), 1, []geom.Path{near}, far)
	for _, l := range f.levels {
		c, rise := geom.Pt(0, l.y), ringRise*l.w
		d.girth(l.name+"_girth", c, l.w, rise, 0)
		near, far := halfRing(c, l.w, rise, 0), halfRing(c, l.w, -rise, 0)
		d.mark(l.name+"_arc_front", near[0].At(0.55), -1, []geom.Path{near})
		d.mark(l.name+"_arc_back", far[0].At(0.55), -1, nil, far)
	}
	bust, waist := f.at("bust"), f.at("waist")
	down := line(geom.Pt(0, f.pitY), geom.Pt(0, waist.y-ringRise*waist.w))
	d.mark("front_waist_length", down[0].At(0.62), 1, ticked(down, f.bar()))
	half := min(f.get("bust_point_distance")/2, 0.9*bust.w)
	level := bust.y - 0.4*ringRise*bust.w
	d.mark("bust_point_distance", geom.Pt(-0.5*half, level), -1, ticked(line(geom.Pt(-half, level), geom.Pt(half, level)), f.bar()))
	for _, to := range []string{"belly", "hip"} {
		if y := f.at(to).y; y < waist.y {
			over := f.sidePart(y, waist.y)
			at := over.At(over.AtLength(over.Length() * 0.35))
			d.mark("waist_to_"+to, at, 1, ticked(over, f.bar()))
		}
	}
}

// sidePart returns the side of the trunk between two heights, upward, where it shows.
func (f *front) sidePart(lo, hi float64) geom.Path {
	return f.side.Part(placeAt(f.side, lo), placeAt(f.side, hi))
}

// widthMarks shows what is measured about the shoulders.
func (f *front) widthMarks() {
	d := f.d
	d.mark("shoulder_length", f.shoulder[0].At(0.5), 1, ticked(f.shoulder, f.bar()))
	tip := geom.Pt(-f.tipX, f.tipY)
	above := geom.Pt(-f.tipX, f.neckY)
	d.mark("shoulder_drop", above, -1, dimension(tip, above, f.bar()), line(above, geom.Pt(-f.neck.w, f.neckY)))
	y := f.armpitY + 0.34*(f.tipY-f.armpitY)
	most := 0.97 * f.halfAt(y)
	half := min(f.get("front_width")/2, most)
	across := halfRing(geom.Pt(0, y), half, 0.05*half, 0)
	d.mark("front_width", across[1].At(0.55), 1, ticked(across, f.bar()))
	y = f.armpitY + 0.56*(f.tipY-f.armpitY)
	half = min(f.get("back_width")/2, 0.97*f.halfAt(y))
	across = halfRing(geom.Pt(0, y), half, -0.05*half, 0)
	d.mark("back_width", across[0].At(0.5), -1, nil, ticked(across, f.bar())...)
}

func (f *front) armMarks() {
	d, l := f.d, f.armLength
	right := func(name string, s, w float64) {
		c := f.arm.Apply(geom.Pt(s, 0))
		dir := f.arm.ApplyVector(geom.Pt(1, 0))
		d.girth(name, c, w, 0.24*w, dir.Left().Angle())
	}
	right("armscye_girth", 0.05*l, 1.15*f.upperArm)
	right("upper_arm_girth", 0.26*l, f.upperArm)
	right("elbow_girth", 0.52*l, f.elbow)
	right("wrist_girth", 0.985*l, f.wrist)
	right("hand_girth", l+0.4*f.handLong, f.hand)
	_, outer := edges(f.armStations())
	over := mirrored(outer.Transform(f.arm))
	d.mark("arm_length", over.At(over.AtLength(over.Length()*0.45)), -1, ticked(over, f.bar()))
}

func (f *front) legMarks() {
	d := f.d
	ring := func(name string, y float64) {
		c, w := f.legAt(y)
		d.girth(name, geom.Pt(c, y), w, 0.2*w, 0)
	}
	ring("thigh_girth", 0.97*f.crotch)
	ring("knee_girth", f.knee)
	ring("ankle_girth", f.ankle*1.12)
	inside := line(geom.Pt(0, 0), geom.Pt(0, f.crotch))
	d.mark("inside_leg", inside[0].At(0.55), -1, dimension(inside.Start(), inside.End(), f.bar()))
}

func (s *side) marks() {
	s.girthMarks()
	s.lengthMarks()
	s.heightMarks()
	d := s.d
	y := s.chin + 0.7*s.headH
	d.girth("head_girth", geom.Pt(s.headX, y), 0.94*s.headD, 0.8*ringRise*s.headD, 0)
	if s.hasMuzzle() {
		l := s.snoutLong
		over := []geom.Path{}
		for _, p := range dimension(geom.Pt(0, 1.2*s.snoutR), geom.Pt(l, 1.2*s.snoutR), s.bar()) {
			over = append(over, p.Transform(s.snout))
		}
		d.mark("muzzle_length", s.snout.Apply(geom.Pt(0.6*l, 1.2*s.snoutR)), 1, over)
		at, angle := s.snout.Apply(geom.Pt(0.08*l, 0)), s.snout.ApplyVector(geom.Pt(1, 0)).Left().Angle()
		d.girth("muzzle_girth", at, 0.98*s.snoutR, 0.2*s.snoutR, angle)
	}
	if s.hasTail() {
		s.tailMarks()
	}
}

// girthMarks shows the girths of the trunk as they are seen from the side.
func (s *side) girthMarks() {
	d := s.d
	for _, l := range s.levels {
		a, b := s.xAt(s.aft, l.y), s.xAt(s.fore, l.y)
		c, w := geom.Pt((a+b)/2, l.y), (b-a)/2
		near := halfRing(c, w, ringRise*w, 0)
		d.mark(l.name+"_girth", near[1].At(0.4), 1, []geom.Path{near})
		d.mark(l.name+"_arc_front", near[1].At(0.6), 1, []geom.Path{near[1:]})
		d.mark(l.name+"_arc_back", near[0].At(0.4), -1, []geom.Path{near[:1]})
	}
	mid := s.nape.Lerp(s.pit, 0.5)
	neck := halfRing(mid, s.nape.Dist(s.pit)/2, 0.3*s.neck.front, s.pit.Sub(s.nape).Angle())
	d.mark("neck_base_girth", neck[1].At(0.4), 1, []geom.Path{neck})
	h := 1.1 * s.ankle
	heel, instep := geom.Pt(s.heel+0.04*s.foot, 0.14*h), geom.Pt(s.heel+0.44*s.foot, 0.83*h)
	d.girth("heel_girth", heel.Lerp(instep, 0.5), heel.Dist(instep)/2, 0.12*heel.Dist(instep), instep.Sub(heel).Angle())
}

// lengthMarks shows what is measured over the back and the front, and the foot.
func (s *side) lengthMarks() {
	d, waist := s.d, s.at("waist").y
	back := s.aft.Part(placeAt(s.aft, waist), geom.Place{Seg: len(s.aft) - 1, T: 1})
	d.mark("back_waist_length", back.At(back.AtLength(back.Length()*0.3)), -1, ticked(back, s.bar()))
	fore := s.fore.Part(placeAt(s.fore, waist), placeAt(s.fore, s.pitY))
	d.mark("front_waist_length", fore.At(fore.AtLength(fore.Length()*0.4)), 1, ticked(fore, s.bar()))
	x := min(s.nape.X, s.xAt(s.aft, s.armpitY), s.xAt(s.aft, s.at("bust").y)) - 0.03*s.top
	level := geom.Pt(x, s.armpitY)
	d.mark("armscye_depth", geom.Pt(x, (s.nape.Y+s.armpitY)/2), -1, dimension(level, geom.Pt(x, s.nape.Y), s.bar()),
		line(level, geom.Pt(s.shoulderX(), s.armpitY)), line(geom.Pt(x, s.nape.Y), s.nape))
	seat := max(s.xAt(s.fore, waist), s.xAt(s.fore, s.at("hip").y)) + 0.03*s.top
	d.mark("body_rise", geom.Pt(seat, (waist+s.crotch)/2), 1, dimension(geom.Pt(seat, s.crotch), geom.Pt(seat, waist), s.bar()))
	under := -0.02 * s.top
	d.mark("foot_length", geom.Pt(s.heel+0.6*s.foot, under), 1, dimension(geom.Pt(s.heel, under), geom.Pt(s.heel+s.foot, under), s.bar()))
}

// heightMarks shows the heights as upright lines beside the body.
func (s *side) heightMarks() {
	d, box := s.d, geom.EmptyRect()
	for _, p := range d.Parts {
		box = box.Union(p.Outline.Bounds())
	}
	gap := 0.035 * s.top
	upright := func(name string, x float64, to geom.Point, beside int) {
		d.mark(name, geom.Pt(x, 0.5*to.Y), beside, dimension(geom.Pt(x, 0), geom.Pt(x, to.Y), s.bar()), line(geom.Pt(x, to.Y), to))
	}
	upright("stature", box.Min.X-2*gap, geom.Pt(s.headX, s.top), -1)
	upright("neck_height", box.Min.X-gap, s.nape, -1)
	order := slices.Clone(s.levels)
	slices.Reverse(order) // the lowest nearest, so that no line crosses another
	x := max(s.heel+s.foot, box.Max.X*0.75)
	for _, l := range order {
		x += gap
		upright(l.name+"_height", x, geom.Pt(s.xAt(s.fore, l.y), l.y), 1)
	}
}

func (s *side) tailMarks() {
	l := s.get("tail_length")
	var axis geom.Path
	const steps = 6
	for i := range steps {
		a, b := geom.Pt(l*float64(i)/steps, 0), geom.Pt(l*float64(i+1)/steps, 0)
		third := b.Sub(a).Mul(1.0 / 3)
		p, q := s.tailBend.at(a), s.tailBend.at(b)
		axis = append(axis, geom.Cubic(p, p.Add(s.tailBend.turned(a, third)), q.Sub(s.tailBend.turned(b, third)), q))
	}
	s.d.mark("tail_length", axis[3].P0, -1, ticked(axis, s.bar()))
	at := geom.Pt(min(2.2*s.tailR, 0.3*l), 0)
	s.d.girth("tail_girth", s.tailBend.at(at), 0.98*s.tailR, 0.22*s.tailR, math.Mod(s.tailBend.way(at.X).Left().Angle(), math.Pi))
}
