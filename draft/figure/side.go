package figure

import (
	"math"

	"hemlet/geom"
)

// side holds what the marks of the side view need besides the skeleton. The wearer
// looks along x.
type side struct {
	*skeleton
	d         *Drawing
	fore, aft geom.Path // the front and the back of the trunk, upward
	legFore   geom.Path
	legAft    geom.Path
	headX     float64 // the middle of the head
	nape, pit geom.Point
	arm       geom.Affine
	snout     geom.Affine
	snoutR    float64
	snoutLong float64
	ear       geom.Affine
	tailBend  bend
	tailR     float64
	heel      float64 // where the foot begins
}

func drawSide(d *Drawing, k *skeleton) {
	s := &side{skeleton: k, d: d}
	s.trunk()
	if k.hasTail() {
		s.tail()
	}
	s.leg()
	s.head()
	s.armPart()
	s.marks()
}

// lean is how far the middle of the body lies forward at a height: a spine is not
// straight.
func (s *side) lean(y float64) float64 {
	if s.build != Upright {
		return 0
	}
	chest := s.at("bust")
	share := within((y-s.crotch)/(s.neckY-s.crotch), 0, 1)
	return -0.09 * chest.depth() * math.Sin(math.Pi*share) * share
}

// trunk draws the trunk from the fork to the neck.
func (s *side) trunk() {
	var st []station
	for i := len(s.levels) - 1; i >= 0; i-- {
		l := s.levels[i]
		st = append(st, station{s: l.y, c: -(l.front-l.back)/2 - s.lean(l.y), w: l.depth() / 2})
	}
	top := s.levels[0]
	neckDepth := s.neck.front
	shoulder := 0.5 * (0.66*top.depth()/2 + neckDepth)
	shoulder = max(shoulder, 1.02*neckDepth)
	back := top.back - s.lean(top.y)
	st = append(st,
		station{s: s.tipY, c: min(0.4*(back-shoulder), 0.3*back), w: shoulder},
		station{s: max(s.neckY, s.tipY+0.012*s.top), c: 0.25 * max(back-neckDepth, 0) * 0.5, w: 0.92 * neckDepth})
	st = rising(st)
	right, left := edges(st)
	toUp := up(geom.Pt(0, 0))
	s.fore, s.aft = right.Transform(toUp), left.Transform(toUp)
	low := s.lowest()
	s.d.part(bodyLayer, "trunk", band(st, 0.02*(low.y-s.crotch), 0.3*neckDepth).Transform(toUp))
	s.nape = s.aft.End()
	s.pit = geom.Pt(s.xAt(s.fore, s.pitY), s.pitY)
}

// xAt returns where an edge that runs upward lies at a height.
func (s *side) xAt(edge geom.Path, y float64) float64 { return edge.At(placeAt(edge, y)).X }

// placeAt returns the place on an edge that runs upward at a height.
func placeAt(edge geom.Path, y float64) geom.Place {
	for i, seg := range edge {
		if y > seg.P3.Y && i < len(edge)-1 {
			continue
		}
		lo, hi := 0.0, 1.0
		for range 40 {
			mid := (lo + hi) / 2
			if seg.At(mid).Y < y {
				lo = mid
			} else {
				hi = mid
			}
		}
		return geom.Place{Seg: i, T: lo}
	}
	return geom.Place{}
}

// leg draws the leg and the foot.
func (s *side) leg() {
	low := s.lowest()
	mid := (low.front-low.back)/2 + s.lean(low.y)
	deep := 1.08 * s.thigh
	ankleX := 0.35 * mid
	x := func(y float64) float64 { return ankleX + (mid-ankleX)*within((y-s.ankle)/(low.y-s.ankle), 0, 1) }
	calf := s.calfHalf(s.kneeR)
	calfY := s.ankle + 0.62*(s.knee-s.ankle)
	st := rising([]station{
		{s: 0.4 * s.ankle, c: -ankleX, w: s.ankleR},
		{s: s.ankle, c: -ankleX, w: s.ankleR},
		{s: calfY, c: -x(calfY) + 0.18*calf, w: 1.05 * calf},
		{s: s.knee, c: -x(s.knee), w: s.kneeR},
		{s: 0.97 * s.crotch, c: -x(s.crotch), w: min(deep, 0.47*low.depth())},
		{s: low.y, c: -mid, w: 0.5 * low.depth()},
	})
	right, left := edges(st)
	toUp := up(geom.Pt(0, 0))
	s.legFore, s.legAft = right.Transform(toUp), left.Transform(toUp)
	s.d.part(bodyLayer, "leg", band(st, 0.2*s.ankle, 0.2*s.thigh).Transform(toUp))
	s.heel = ankleX - max(0.24*s.foot, 0.9*s.ankleR)
	s.heel = max(s.heel, ankleX-0.5*s.foot)
	s.d.part(bodyLayer, "foot", sideFoot(s.heel, s.foot, 1.1*s.ankle))
}

// sideFoot is a foot seen from the side, its toes at larger x.
func sideFoot(heel, l, h float64) geom.Path {
	at := func(x, y float64) geom.Point { return geom.Pt(heel+x*l, y*h) }
	return geom.Path{
		geom.Line(at(0.07, 0), at(0.92, 0)),
		geom.Cubic(at(0.92, 0), at(0.98, 0), at(1, 0.08), at(1, 0.2)),
		geom.Cubic(at(1, 0.2), at(1, 0.4), at(0.88, 0.44), at(0.76, 0.5)),
		geom.Cubic(at(0.76, 0.5), at(0.6, 0.58), at(0.52, 1), at(0.3, 1)),
		geom.Cubic(at(0.3, 1), at(0.12, 1), at(0, 0.72), at(0, 0.34)),
		geom.Cubic(at(0, 0.34), at(0, 0.12), at(0.02, 0), at(0.07, 0)),
	}
}

// profile are the outlines of a head seen from the side in a box from (-1, 0) at the
// chin behind to (1, 1) at the crown in front: nodes with their handles.
var profile = map[Build][][2]float64{
	Upright: {
		{0.42, 0}, {0.62, 0}, {0.78, 0.02}, {0.8, 0.1},
		{0.81, 0.17}, {0.85, 0.2}, {0.84, 0.26},
		{0.84, 0.31}, {1.02, 0.3}, {1, 0.36},
		{0.98, 0.42}, {0.86, 0.47}, {0.88, 0.56},
		{0.92, 0.82}, {0.5, 1}, {-0.08, 1},
		{-0.62, 1}, {-1, 0.84}, {-1, 0.6},
		{-1, 0.4}, {-0.82, 0.3}, {-0.62, 0.22},
		{-0.3, 0.1}, {0.2, 0}, {0.42, 0},
	},
	Muzzled: {
		{0, 0}, {0.55, 0}, {1, 0.2}, {1, 0.47},
		{1, 0.78}, {0.6, 1}, {0, 1},
		{-0.6, 1}, {-1, 0.78}, {-1, 0.47},
		{-1, 0.2}, {-0.55, 0}, {0, 0},
	},
}

// head draws the neck and the head with its face.
func (s *side) head() {
	neckX := (s.nape.X + s.fore.End().X) / 2
	s.headX = neckX + 0.2*s.neck.front
	shape := profile[Muzzled]
	if s.build == Upright {
		shape = profile[Upright]
		s.headX = neckX + 0.24*s.headD
	}
	at := func(p [2]float64) geom.Point { return geom.Pt(s.headX+p[0]*s.headD, s.chin+p[1]*s.headH) }
	var head geom.Path
	for i := 0; i+3 < len(shape); i += 3 {
		head = append(head, geom.Cubic(at(shape[i]), at(shape[i+1]), at(shape[i+2]), at(shape[i+3])))
	}
	base := geom.Pt(neckX, s.neckY-0.3*(s.neckY-s.pitY))
	to := geom.Pt(s.headX-0.12*s.headD, max(s.chin+0.3*s.headH, base.Y+0.02*s.top))
	l := to.Dist(base)
	upper := min(0.84*s.neck.front, 0.72*s.headD)
	neck := band([]station{{s: 0, w: 0.9 * s.neck.front}, {s: 0.45 * l, w: 0.5 * (0.9*s.neck.front + upper)}, {s: l, w: upper}}, 0.1*s.neck.front, 0.1*upper)
	s.d.part(bodyLayer, "neck", neck.Transform(along(base, to.Sub(base).Angle())))
	s.d.part(bodyLayer, "head", head)
	if s.hasMuzzle() {
		s.muzzlePart(at)
	}
	s.ears(at)
}

func (s *side) muzzlePart(at func([2]float64) geom.Point) {
	r, l := s.muzzle().w, s.get("muzzle_length")
	root := 0.45 * s.headD
	from := at([2]float64{0.9, 0.3})
	s.snout, s.snoutR, s.snoutLong = along(from, -0.1), r, l
	tip := 0.62
	if s.build == Wide {
		tip = 0.4
	}
	end := min(tip*r, 0.4*l)
	st := []station{{s: -root, w: 0.95 * r}, {s: 0, w: r}, {s: 0.5 * l, w: 0.5 * (1 + tip) * r}, {s: l - end, w: tip * r}}
	s.d.part(bodyLayer, "muzzle", band(rising(st), 0.1*root, end).Transform(s.snout))
	nose := oval(geom.Pt(l-0.35*end, 0.3*tip*r), 0.4*end, 0.34*tip*r).Transform(s.snout)
	s.d.Details = append(s.d.Details, nose, oval(at([2]float64{0.5, 0.64}), 0.06*s.headD, 0.08*s.headD))
}

func (s *side) ears(at func([2]float64) geom.Point) {
	switch {
	case s.hasEars():
		w, l := s.earHalf(), s.get("ear_height")
		s.ear = along(at([2]float64{-0.12, 0.93}), math.Pi/2+0.16)
		// Seen from its edge an ear is narrower.
		s.d.part(behindLayer, "ear", earBand(0.72*w, l, 0.14*s.headH).Transform(s.ear))
	case s.build == Wide:
		s.d.part(behindLayer, "ear", oval(at([2]float64{-0.1, 0.92}), 0.2*s.headW, 0.26*s.headW))
	default:
		s.d.Details = append(s.d.Details, oval(at([2]float64{-0.1, 0.46}), 0.1*s.headD, 0.1*s.headH))
	}
}

// tail draws the tail in an arc behind the body.
func (s *side) tail() {
	r, l := s.tailHalf(), s.get("tail_length")
	y := (s.at("hip").y*0.55 + s.crotch*0.45)
	from := geom.Pt(s.xAt(s.aft, max(y, s.lowest().y))+0.8*r, y)
	turn := -min(1.7, 0.3*l/r)
	heading := math.Pi + 0.42 // down to the back
	st := rising([]station{{s: 0, w: r}, {s: 0.35 * l, w: 0.96 * r}, {s: 0.75 * l, w: 0.7 * r}, {s: l - 0.45*r, w: 0.45 * r}})
	s.tailR = r
	s.tailBend = bend{from: from, heading: heading, k: turn / st[len(st)-1].s}
	s.d.part(behindLayer, "tail", bent(from, heading, turn, st, r, 0.45*r))
}

// armPart draws the arm hanging before the body: its outline belongs to the
// silhouette, its lower part shows as a line.
func (s *side) armPart() {
	joint := geom.Pt(s.shoulderX(), s.tipY-0.62*s.upperArm)
	lean := 0.06
	if reach := s.armLength + s.handLong; joint.Y*0.97 < reach {
		lean = math.Acos(joint.Y * 0.97 / reach)
	}
	s.arm = along(joint, lean-math.Pi/2)
	st := s.armStations()
	s.d.part(bodyLayer, "arm", band(st, 0.9*s.upperArm, 0.2*s.wrist).Transform(s.arm))
	right, left := edges(st)
	palm := s.handParts(1)[0].Outline
	s.d.part(bodyLayer, "hand", palm.Transform(s.arm))
	// The line begins below the shoulder, and goes round the hand.
	line := append(append(geom.Path{}, right[1:]...), palm[:len(palm)-2]...)
	line = append(line, left[1:].Reverse()...)
	s.d.Details = append(s.d.Details, joined(line).Transform(s.arm))
}

// shoulderX returns where the shoulder lies between the back and the chest.
func (s *side) shoulderX() float64 {
	a, b := s.xAt(s.aft, s.armpitY), s.xAt(s.fore, s.armpitY)
	return a + 0.46*(b-a)
}
