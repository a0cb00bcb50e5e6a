package block_test

import (
	"math"
	"math/cmplx"
)

// What follows draws the main lines of the bodice once more, from what the block
// says of itself and without the formula engine or package geom: points are complex
// numbers, lengths are summed up over short stretches, and what has to be found is
// found by halving. The front is drawn like the back, outward from its fold, to the
// right.

// plainCubic is a cubic by its four points.
type plainCubic [4]complex128

// long is the length. Over so many stretches it is off by less than 1e-10 of it, for
// curves as tame as these.
func (c plainCubic) long() float64 { return c.longOver(240) }

// longOver sums the speed by Gauss's rule for three points over equal stretches.
func (c plainCubic) longOver(stretches int) float64 {
	node := math.Sqrt(0.6)
	sum := 0.0
	for i := range stretches {
		for k, w := range [3]float64{5. / 18, 8. / 18, 5. / 18} {
			sum += w * cmplx.Abs(c.speed((float64(i)+0.5+0.5*node*float64(k-1))/float64(stretches)))
		}
	}
	return sum / float64(stretches)
}

func (c plainCubic) speed(t float64) complex128 {
	a, b, d := complex((1-t)*(1-t), 0), complex(2*t*(1-t), 0), complex(t*t, 0)
	return 3 * (a*(c[1]-c[0]) + b*(c[2]-c[1]) + d*(c[3]-c[2]))
}

// halve finds where f turns from below 0 to above it.
func halve(lo, hi float64, f func(float64) float64) float64 {
	for range 200 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// plainLevel is the level line of so much cloth: from the centre, level, to the end
// of a side that comes down from u and is r long there, square to it. The handles are
// a third of the chord. ok is false where there is none.
func plainLevel(centre, u complex128, long, r float64) (end complex128, ok bool) {
	f, ok := plainLeaning(centre, u, long, r, 0)
	return u + cmplx.Rect(r, f-math.Pi/2), ok
}

// plainLeaning is the direction from straight below in which such a line ends seen from
// u, if it ends turned up from square by the lean; angles in radians.
func plainLeaning(centre, u complex128, long, r, lean float64) (f float64, ok bool) {
	const steps, steepest = 340, 85 * math.Pi / 180
	line := func(f float64) plainCubic {
		e := u + cmplx.Rect(r, f-math.Pi/2)
		third := complex(cmplx.Abs(e-centre)/3, 0)
		return plainCubic{centre, centre + third, e - third*cmplx.Rect(1, f+lean), e}
	}
	spare := func(f float64) float64 { return line(f).long() - long }
	roughly := func(f float64) float64 { return line(f).longOver(12) - long }
	if spare(steepest) < 0 {
		return 0, false
	}
	// The line that is turned up most is taken where several have the length.
	for i := steps - 1; i >= 0; i-- {
		if f := steepest * (2*float64(i)/steps - 1); roughly(f) <= 0 {
			return halve(f, steepest*(2*float64(i+1)/steps-1), spare), true
		}
	}
	return 0, false
}

// plainLean is how far the level line of the back turns up, and that of the front down,
// from square so that each ends as much further turned than an arc over its chord would:
// the sum of both turns stays that of two square ends. No more than 15 degrees, and less
// where a side goes sideways more than 0.6 of its length. A half is given by its centre,
// the point from which the side comes down, and the end of the line that is square to it.
func plainLean(back, front [3]complex128, side float64) float64 {
	over := func(h [3]complex128) float64 {
		return cmplx.Phase((h[2]-h[1])*1i) - 2*cmplx.Phase(h[2]-h[0])
	}
	slant := math.Max(math.Abs(real(back[2]-back[1])), math.Abs(real(front[2]-front[1]))) / side
	return held((over(front)-over(back))/2, -math.Pi/12, math.Pi/12) * held((0.85-slant)/0.25, 0, 1)
}

// plainFlow returns the length of the line that flows down through points: x over y is
// a cubic between neighbours, upright where x turns back, else as steep as the weighted
// harmonic mean of the chords, along the chord at both ends. It is measured by
// Simpson's rule on sqrt(1 + x'(y)^2).
func plainFlow(p ...complex128) float64 {
	chord := func(i int) float64 { return (real(p[i+1]) - real(p[i])) / (imag(p[i+1]) - imag(p[i])) }
	high := func(i int) float64 { return math.Abs(imag(p[i+1]) - imag(p[i])) }
	slope := func(i int) float64 {
		switch {
		case i == 0:
			return chord(0)
		case i == len(p)-1:
			return chord(i - 1)
		case chord(i-1)*chord(i) <= 0:
			return 0
		}
		u, v := 2*high(i)+high(i-1), high(i)+2*high(i-1)
		return (u + v) / (u/chord(i-1) + v/chord(i))
	}
	sum := 0.0
	for i := range len(p) - 1 {
		a, b, c := slope(i), slope(i+1), chord(i)
		speed := func(t float64) float64 { // x'(y) of the cubic of Hermite
			return math.Hypot(1, 6*t*(1-t)*c+(1-4*t+3*t*t)*a+(3*t*t-2*t)*b)
		}
		const parts = 2000
		area := speed(0) + speed(1)
		for k := 1; k < parts; k++ {
			area += float64(2+2*(k%2)) * speed(float64(k)/parts)
		}
		sum += area / (3 * parts) * high(i)
	}
	return sum
}

func held(v, least, most float64) float64 { return math.Max(least, math.Min(most, v)) }

// plainHalf is a half of the bodice, outward from its centre at x = 0, y from the
// nape up.
type plainHalf struct {
	neckWidth, neckCurve, armholeCurve, halfWidth, dart float64
	neck, tip, armfold, underarm                        complex128
	centreWaist                                         complex128
	waistCloth, bellyCloth, hipCloth                    float64
}

// plainBodice is both halves and what they share.
type plainBodice struct {
	back, front                      plainHalf
	depth, toWaist, longer, bustDart float64
	downToBelly, downToHip           float64
}

// plainNecks are the curves of the neck for a width: the back leaves the nape level
// and comes to the shoulder square, 1/3 as high as wide; the front leaves the
// shoulder square, and lies 1.05 of the width lower, and as much more as it is
// lowered, where it comes to the fold level. Outward from the centre, both from the
// level of the nape.
func plainNecks(width, tilt, lowered float64) (back, front plainCubic) {
	rise := width / 3
	point := complex(width, rise)
	upper := point - complex(0.7*rise*math.Tan(tilt), 0.7*rise)
	back = plainCubic{0, complex(0.6*real(upper), 0), upper, point}
	reach := math.Min(0.6*(1.05*width+lowered), 0.7*width/math.Max(math.Sin(tilt), 0.05))
	handle := point - complex(reach*math.Sin(tilt), reach*math.Cos(tilt))
	pit := complex(0, rise-1.05*width-lowered)
	front = plainCubic{point, handle, pit + complex(0.6*real(handle), 0), pit}
	return back, front
}

// plainArmhole is the length of the armhole: square to the shoulder at the tip,
// upright at the arm fold, level under the arm.
func plainArmhole(tip, fold, underarm complex128, tilt float64) float64 {
	reach := 0.42 * (imag(tip) - imag(fold))
	upper := plainCubic{tip, tip - complex(reach*math.Sin(tilt), reach*math.Cos(tilt)), fold + complex(0, reach), fold}
	corner := complex(real(fold), imag(underarm))
	lower := plainCubic{fold, fold + 0.58*(corner-fold), underarm + 0.58*(corner-underarm), underarm}
	return upper.long() + lower.long()
}

// plainDart is what of a quarter's surplus goes into its dart.
func plainDart(surplus, least, most, waist float64) float64 {
	if surplus < math.Min(least, waist/4) {
		return 0
	}
	return math.Min(surplus, most)
}

// drawPlain draws the bodice from measures and choices, in mm.
func drawPlain(m map[string]float64) plainBodice {
	quarter := func(level string) (back, front float64) {
		front = m[level+"_arc_front"]/2 + m[easeOf(level)]/4
		return (m[level+"_girth"]+m[easeOf(level)])/2 - front, front
	}
	var d plainBodice
	bustBack, bustFront := quarter("bust")
	d.back.waistCloth, d.front.waistCloth = quarter("waist")
	d.back.bellyCloth, d.front.bellyCloth = quarter("belly")
	d.back.hipCloth, d.front.hipCloth = quarter("hip")

	sine := held(m["shoulder_drop"]/m["shoulder_length"], -0.2, 0.8)
	tilt := math.Asin(sine)
	width := halve(0, m["neck_base_girth"], func(w float64) float64 {
		back, front := plainNecks(w, tilt, 0)
		return back.long() + front.long() - m["neck_base_girth"]/2
	})
	backNeck, frontNeck := plainNecks(width, tilt, m["neck_lowered"])
	tip := backNeck[3] + complex(m["shoulder_length"]*math.Sqrt(1-sine*sine), -m["shoulder_length"]*sine)

	armpit := math.Max(m["armscye_depth"]+m["armhole_lowered"], 0.3*m["upper_arm_girth"]-imag(tip))
	d.depth = math.Min(armpit, 0.85*m["back_waist_length"])
	d.toWaist = m["back_waist_length"] - d.depth

	// The width across: half the body's and some ease; no more than nearly all of the
	// quarter, nor much beyond the tip of the shoulder; no less than the neck needs.
	widthOf := func(half, quarter, share, neckShare float64) float64 {
		most := share * quarter
		tipRoom := real(tip) + 0.4*math.Max(0, quarter-real(tip))
		least := math.Min(math.Max(neckShare*width, 0.6*real(tip)), most)
		return math.Max(least, math.Min(half, math.Min(most, tipRoom)))
	}
	half := func(h *plainHalf, neck plainCubic, wide, bust, foldShare, sideShare float64) {
		h.neckWidth, h.neckCurve = width, neck.long()
		h.neck, h.tip, h.halfWidth = backNeck[3], tip, wide
		h.armfold = complex(wide, imag(tip)-foldShare*(imag(tip)+d.depth))
		h.underarm = complex(bust, -d.depth)
		h.armholeCurve = plainArmhole(tip, h.armfold, h.underarm, tilt)
		h.dart = plainDart(bust-h.waistCloth-sideShare*d.toWaist, m["least_dart"], m["most_dart"], h.waistCloth)
	}
	half(&d.back, backNeck, widthOf(m["back_width"]/2+m["ease"]/16, bustBack, 0.92, 1.15), bustBack, 0.55, 0.18)
	half(&d.front, frontNeck, widthOf(m["front_width"]/2+m["ease"]/20, bustFront, 0.9, 1.25), bustFront, 0.6, 0.16)

	// The back asks for a front that starts at the pit of the neck.
	asked := m["back_waist_length"] - (1.05*width - width/3)
	waist := d.front.waistCloth
	d.longer = held(m["front_waist_length"]-asked, -math.Min(0.3*d.toWaist, 0.4*waist), math.Min(0.5*d.toWaist, 0.35*waist))
	goesIn := held((bustFront-waist)/(0.08*bustFront), 0, 1)
	d.bustDart = goesIn * math.Min(math.Max(0, d.longer), math.Min(0.4*d.toWaist, 2*m["most_dart"]))
	if d.bustDart < m["least_dart"] {
		d.bustDart = 0
	}
	d.back.centreWaist = complex(0, -m["back_waist_length"])
	d.front.centreWaist = complex(0, -m["back_waist_length"]-d.longer)

	belly := held(m["waist_to_belly"], 0.2*m["waist_to_hip"], 0.8*m["waist_to_hip"])
	d.downToBelly = math.Min(m["below_waist"], belly)
	d.downToHip = math.Max(0, m["below_waist"]-d.downToBelly)
	return d
}
