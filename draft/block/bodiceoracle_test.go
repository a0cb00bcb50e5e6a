package block_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
	"hemlet/draft/formula"
	"hemlet/geom"
)

const (
	// plainSlack, in mm, is what two ways of reckoning the same line may differ by:
	// both find lengths to far below it.
	plainSlack = 1e-6
	// roomSlack is the share to which the formula sweep_room finds its radius, with a
	// tenth more for how coarsely the plain way looks for lines.
	roomSlack = 1.1e-3
	// roomGiven is what the block adds to the least room.
	roomGiven = 1.03
)

// plainBodies are bodies that the bodice is drawn for both ways; all made up but for
// the published figures and those of the survey.
func plainBodies(t testing.TB) []bodyCase {
	tight, depth, _ := tightLining(t)
	tight["armscye_depth"] = depth * inch
	woman := size36()
	woman["waist_girth"], woman["hip_girth"] = 25*inch, 43*inch
	out := []bodyCase{
		{"size 36 of the proportions", woman},
		{"the worked draft of a tight lining", tight},
		{"a child with a little waist", inchBody(map[string]float64{"bust_girth": 26, "waist_girth": 21, "back_waist_length": 10.5})},
		{"a puppet, wide below, hardly a neck", body.Given{"stature": 360, "bust_girth": 231, "waist_girth": 238, "belly_girth": 262, "hip_girth": 240, "neck_base_girth": 118, "back_waist_length": 84, "front_waist_length": 88, "shoulder_length": 19, "head_girth": 205}},
		{"a belly in front", body.Given{"bust_girth": 1100, "waist_girth": 1150, "belly_girth": 1240, "hip_girth": 1120, "belly_arc_front": 700, "waist_arc_front": 640, "back_waist_length": 440, "front_waist_length": 430}},
		{"a full bust, long in front", body.Given{"bust_girth": 1120, "bust_arc_front": 620, "waist_girth": 840, "hip_girth": 1130, "back_waist_length": 410, "front_waist_length": 430}},
		{"a barrel below a waist", body.Given{"bust_girth": 231, "waist_girth": 200, "belly_girth": 300, "hip_girth": 240, "back_waist_length": 84}},
		{"a doll of 1:12", bodytest.Scale(woman, 1./12)},
	}
	return out
}

// plainOthers are some bodies of the survey, and random odd ones.
func plainOthers(t testing.TB) (out []bodyCase) {
	for i, g := range bodytest.Sample(t) {
		if i%20 == 0 {
			out = append(out, bodyCase{fmt.Sprintf("kept survey body %d", i), g})
		}
	}
	for i := range 16 {
		out = append(out, bodyCase{fmt.Sprintf("odd body %d", i), bodytest.Odd(rand.New(rand.NewPCG(uint64(i), 1)))})
	}
	return out
}

// TestBodiceDrawnAnotherWay draws the bodice's main lines in plain arithmetic and
// holds the block's to them.
func TestBodiceDrawnAnotherWay(t *testing.T) {
	cases := append(plainBodies(t), plainOthers(t)...)
	faults, compared := plainFaults(t, builtin(t, "bodice"), cases)
	tell(t, faults)
	if least := 2 * len(cases); compared < least {
		t.Errorf("only %d drafts were drawn, and %d are wanted", compared, least)
	}
}

// plainFaults draws the block for each body as it is, ended at the waist, and with a
// lower neck and other ease. Drafts that are refused are not compared.
func plainFaults(t testing.TB, b *block.Block, cases []bodyCase) (faults []string, compared int) {
	for _, c := range cases {
		for _, set := range []block.Settings{nil, {"below_waist": formula.Length{}}, {"neck_lowered": formula.Length{MM: 0.1 * c.given["back_waist_length"]}, "ease": formula.Length{MM: 0.12 * c.given["bust_girth"]}}} {
			sheet, err := b.Draft(c.given, set)
			if err != nil {
				continue
			}
			compared++
			for _, f := range plainDifferences(readSheet(sheet)) {
				faults = append(faults, fmt.Sprintf("%s, with %v: %s", c.name, set, f))
			}
		}
	}
	return faults, compared
}

// difference collects where the two ways do not agree.
type difference struct {
	d      drafted
	faults []string
}

func (x *difference) length(name string, got, want float64) {
	if !(math.Abs(got-want) <= plainSlack) {
		x.faults = append(x.faults, fmt.Sprintf("%s is %.7f mm, drawn another way %.7f", name, got, want))
	}
}

func (x *difference) between(name string, got, least, most float64) {
	if !(got >= least-plainSlack && got <= most+plainSlack) {
		x.faults = append(x.faults, fmt.Sprintf("%s is %.7f mm, drawn another way %.7f to %.7f", name, got, least, most))
	}
}

func (x *difference) point(name string, got, want complex128) {
	if !(cmplx.Abs(got-want) <= plainSlack) {
		x.faults = append(x.faults, fmt.Sprintf("%s lies at %.7f, drawn another way at %.7f", name, got, want))
	}
}

// back and front return a point outward from the centre of its half.
func back(p geom.Point) complex128 { return complex(p.X, p.Y) }
func (x *difference) front(p geom.Point) complex128 {
	return complex(x.d.point("centre_front").X-p.X, p.Y)
}

func plainDifferences(d drafted) []string {
	m := make(map[string]float64)
	for name, v := range d.values {
		if l, ok := v.(formula.Length); ok {
			m[name] = l.MM
		}
	}
	x, p := &difference{d: d}, drawPlain(m)
	x.upper(p)
	x.lower(p)
	return x.faults
}

// upper compares what lies above the waist.
func (x *difference) upper(p plainBodice) {
	d := x.d
	x.length("neck_width", d.mm("neck_width"), p.back.neckWidth)
	x.length("armhole_depth", d.mm("armhole_depth"), p.depth)
	x.length("front_longer", d.mm("front_longer"), p.longer)
	x.length("bust_dart", d.mm("bust_dart"), p.bustDart)
	for _, side := range []struct {
		name  string
		half  plainHalf
		place func(geom.Point) complex128
	}{{"back", p.back, back}, {"front", p.front, x.front}} {
		n, h := side.name, side.half
		x.length("the neck of the "+n, d.curve(n+"_neckline").Length(), h.neckCurve)
		x.length("the armhole of the "+n, d.curve(n+"_armhole").Length(), h.armholeCurve)
		x.length("half_"+n, d.mm("half_"+n), h.halfWidth)
		x.length(n+"_dart", d.mm(n+"_dart"), h.dart)
		for name, want := range map[string]complex128{"_neck": h.neck, "_tip": h.tip, "_armfold": h.armfold, "_underarm": h.underarm} {
			x.point(n+name, side.place(d.point(n+name)), want)
		}
	}
	x.point("back_waist_cb", back(d.point("back_waist_cb")), p.back.centreWaist)
	x.point("front_waist_cf", x.front(d.point("front_waist_cf")), p.front.centreWaist)
}

// plainRoom is the least radius from least on at which there is a level line.
func plainRoom(centre, u complex128, long, least float64) float64 {
	there := func(r float64) bool { _, ok := plainLevel(centre, u, long, r); return ok }
	if there(least) {
		return least
	}
	lo, hi := least, 2*least
	for !there(hi) {
		lo, hi = hi, 2*hi
	}
	for hi-lo > 1e-5*hi {
		if mid := (lo + hi) / 2; there(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// side holds how long a side seam is from one level to the next: as far as the levels
// lie apart, or where no level line is so long there, as far as one is and a little;
// the front's is longer by its dart.
func (x *difference) side(name string, apart, dart float64, back, front [2]complex128, backLong, frontLong float64) float64 {
	b := plainRoom(back[0], back[1], backLong, apart/roomGiven)
	f := plainRoom(front[0], front[1], frontLong, (apart+dart)/roomGiven)
	least := roomGiven * math.Max(b, f-dart/roomGiven)
	most := least
	if b > apart/roomGiven || f > (apart+dart)/roomGiven {
		most = roomGiven * math.Max(b*(1+roomSlack), f*(1+roomSlack)-dart/roomGiven)
		least *= 1 - roomSlack
	}
	got := x.d.mm(name)
	x.between(name, got, least, most)
	return got
}

// end holds where a level line ends.
func (x *difference) end(name string, got, centre, u complex128, long, r float64) complex128 {
	want, ok := plainLevel(centre, u, long, r)
	if !ok {
		x.faults = append(x.faults, fmt.Sprintf("%s: there is no such line", name))
		return got
	}
	x.point(name, got, want)
	return want
}

// hems holds where both hems end at the side: each is given by its centre, the point from
// which the side comes down to it, where it would end square to the side, and where it ends.
// They lean as is meant; of a body that is said to change too fast for flat cloth, a hem
// may lean less.
func (x *difference) hems(name string, back, front [4]complex128, backLong, frontLong, side float64) {
	lean := plainLean([3]complex128(back[:3]), [3]complex128(front[:3]), side)
	shares := []float64{1}
	if slices.ContainsFunc(x.d.Told, func(t block.Told) bool { return t.Name == "changes too fast" }) {
		shares = []float64{1, 0.5, 0.25, 0}
	}
	end := func(at [4]complex128, long, lean float64) complex128 {
		nearest := cmplx.Inf()
		for _, share := range shares {
			r := cmplx.Abs(at[3] - at[1])
			f, ok := plainLeaning(at[0], at[1], long, r, share*lean)
			if e := at[1] + cmplx.Rect(r, f-math.Pi/2); ok && cmplx.Abs(e-at[3]) < cmplx.Abs(nearest-at[3]) {
				nearest = e
			}
		}
		return nearest
	}
	x.point("the back "+name, back[3], end(back, backLong, lean))
	x.point("the front "+name, front[3], end(front, frontLong, -lean))
}

// lower compares the waist and what lies below it.
func (x *difference) lower(p plainBodice) {
	d, b, f := x.d, p.back, p.front
	down := held(d.mm("back_waist_length")-(d.mm("bust_height")-d.mm("waist_height"))-p.depth, 0.15*p.toWaist, 0.33*p.toWaist)
	bBust, fBust := b.underarm-complex(0, down), f.underarm-complex(0, down)
	bCloth, fCloth := b.waistCloth+b.dart, f.waistCloth+f.dart
	atWaist := x.side("side_to_waist", p.toWaist-down, p.bustDart, [2]complex128{b.centreWaist, bBust}, [2]complex128{f.centreWaist, fBust}, bCloth, fCloth)
	bWaist := x.end("back_waist_at", back(d.point("back_waist_at")), b.centreWaist, bBust, bCloth, atWaist)
	fWaist := x.end("front_waist_at", x.front(d.point("front_waist_at")), f.centreWaist, fBust, fCloth, atWaist+p.bustDart)
	toHip := d.mm("waist_to_hip")
	if p.downToBelly < 0.05*toHip { // the block ends at the waist
		long := math.Max(plainFlow(b.underarm, bBust, bWaist), plainFlow(f.underarm, fBust, fWaist)-p.bustDart)
		bEnd, fEnd := back(d.curve("back_hem").End()), x.front(d.curve("front_hem").End())
		x.hems("waist", [4]complex128{b.centreWaist, bBust, bWaist, bEnd}, [4]complex128{f.centreWaist, fBust, fWaist, fEnd}, bCloth, fCloth, atWaist)
		x.length("the back's side", plainFlow(b.underarm, bBust, bEnd), long)
		x.length("the front's side", plainFlow(f.underarm, fBust, fEnd), long+p.bustDart)
		return
	}
	belly := held(d.mm("waist_to_belly"), 0.2*toHip, 0.8*toHip)
	share := p.downToBelly / belly
	bLong, fLong := b.waistCloth+share*(b.bellyCloth-b.waistCloth), f.waistCloth+share*(f.bellyCloth-f.waistCloth)
	drop := math.Max(p.downToBelly, math.Max(bLong-b.waistCloth, fLong-f.waistCloth))
	bCentre := complex(0, math.Min(imag(b.centreWaist)-drop, imag(bWaist)-drop/2))
	fCentre := complex(0, math.Min(imag(f.centreWaist)-drop, imag(fWaist)-drop/2))
	atBelly := x.side("side_to_belly", drop, 0, [2]complex128{bCentre, bWaist}, [2]complex128{fCentre, fWaist}, bLong, fLong)
	bBelly := x.end("back_belly_at", back(d.point("back_belly_at")), bCentre, bWaist, bLong, atBelly)
	fBelly := x.end("front_belly_at", x.front(d.point("front_belly_at")), fCentre, fWaist, fLong, atBelly)
	if p.downToHip <= 0.05*toHip {
		return
	}
	// The hem: its dart is the block's own; that its cloth is what is asked for and
	// the dart, and that both sides come out as long, is held.
	share = p.downToHip / (toHip - belly)
	bHip, fHip := b.bellyCloth+share*(b.hipCloth-b.bellyCloth), f.bellyCloth+share*(f.hipCloth-f.bellyCloth)
	drop = math.Max(p.downToHip, math.Max(bHip-b.bellyCloth, fHip-f.bellyCloth))
	bCentre = complex(0, math.Min(imag(bCentre)-drop, imag(bBelly)-drop/2))
	fCentre = complex(0, math.Min(imag(fCentre)-drop, imag(fBelly)-drop/2))
	bHip, fHip = bHip+d.mm("back_hem_dart"), fHip+d.mm("front_hem_dart")
	atHip := x.side("side_to_hip", drop, 0, [2]complex128{bCentre, bBelly}, [2]complex128{fCentre, fBelly}, bHip, fHip)
	bFirst, _ := plainLevel(bCentre, bBelly, bHip, atHip)
	fFirst, _ := plainLevel(fCentre, fBelly, fHip, atHip)
	long := math.Max(plainFlow(b.underarm, bBust, bWaist, bBelly, bFirst), plainFlow(f.underarm, fBust, fWaist, fBelly, fFirst)-p.bustDart)
	x.length("side_length", d.mm("side_length"), long)
	bEnd, fEnd := back(d.curve("back_hem").End()), x.front(d.curve("front_hem").End())
	x.hems("hem", [4]complex128{bCentre, bBelly, bFirst, bEnd}, [4]complex128{fCentre, fBelly, fFirst, fEnd}, bHip, fHip, atHip)
	x.length("the back's side", plainFlow(b.underarm, bBust, bWaist, bBelly, bEnd), long)
	x.length("the front's side", plainFlow(f.underarm, fBust, fWaist, fBelly, fEnd), long+p.bustDart)
}
