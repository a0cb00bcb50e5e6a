package body_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
)

// What estimates of odd bodies must be, whatever was taken of them.
var sane = []struct {
	says  string
	holds func(mm func(string) float64) bool
}{
	{"the armhole ends above the waist", func(mm func(string) float64) bool {
		return mm("armscye_depth") <= 0.75*mm("back_waist_length")
	}},
	{"the bust goes round back and chest and leaves room for arms", func(mm func(string) float64) bool {
		return mm("back_width")+mm("front_width") <= 0.97*mm("bust_girth")
	}},
	{"the back lies within the bust's back arc", func(mm func(string) float64) bool {
		return mm("back_width") <= mm("bust_arc_back")
	}},
	{"a shoulder is no longer than the back is", func(mm func(string) float64) bool {
		return mm("shoulder_length") <= 0.75*mm("back_waist_length")
	}},
	{"two shoulders and a neck are no giant's", func(mm func(string) float64) bool {
		return 2*mm("shoulder_length")+mm("neck_base_girth")/3 <= 0.75*mm("bust_girth")
	}},
	{"a shoulder falls less than it is long", func(mm func(string) float64) bool {
		return mm("shoulder_drop") < mm("shoulder_length")
	}},
	{"a neck is thinner than the body", func(mm func(string) float64) bool {
		return mm("neck_base_girth") <= 0.75*mm("bust_girth")
	}},
	{"an arm goes into an armhole", func(mm func(string) float64) bool {
		return mm("upper_arm_girth") <= 3*mm("armscye_depth")
	}},
	{"bust points lie on the chest", func(mm func(string) float64) bool {
		return mm("bust_point_distance") <= 0.85*mm("front_width")
	}},
	{"front and back make up the bust", sums("bust")},
	{"front and back make up the waist", sums("waist")},
	{"front and back make up the belly", sums("belly")},
	{"front and back make up the hip", sums("hip")},
}

func sums(level string) func(mm func(string) float64) bool {
	return func(mm func(string) float64) bool {
		girth := mm(body.GirthOf(level))
		front, back := mm(body.ArcFrontOf(level)), mm(body.ArcBackOf(level))
		return math.Abs(front+back-girth) < 1e-9*girth && min(front, back) > 0.15*girth
	}
}

func TestEstimatesOfOddBodies(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	broken := map[string]int{}
	for range 100000 / bodytest.Step(20) {
		g := bodytest.Odd(r)
		b := body.Resolve(g)
		for _, m := range body.Catalogue() {
			if v := b.MM(m.Name); !(v > 0) || math.IsInf(v, 0) {
				t.Fatalf("%s is %g, given %v", m.Name, v, g)
			}
		}
		for _, s := range sane {
			if !s.holds(b.MM) {
				broken[s.says]++
				if broken[s.says] == 1 {
					t.Errorf("%s: not so, given %v", s.says, g)
				}
			}
		}
	}
	t.Log(broken)
}

// Where no height but the stature was taken, the estimated levels follow each other.
func TestEstimatedLevelsFollowEachOther(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	order := []string{"stature", "neck_height", "bust_height", "waist_height", "belly_height", "hip_height", "inside_leg"}
	for range 100000 / bodytest.Step(20) {
		g := bodytest.Odd(r)
		for _, name := range append(order[1:], "waist_to_belly", "waist_to_hip", "head_girth") {
			delete(g, name)
		}
		b := body.Resolve(g)
		for i := 1; i < len(order); i++ {
			if b.MM(order[i]) >= b.MM(order[i-1]) {
				t.Fatalf("%s %g is not below %s %g, given %v", order[i], b.MM(order[i]), order[i-1], b.MM(order[i-1]), g)
			}
		}
	}
}

// A short stout body gets no giant's shoulders: three times the girth on the same
// back makes them no longer than the longest for such a back in the ANSUR II survey,
// 0.42 of it; half as long a back makes them shorter.
func TestStoutBodiesKeepTheirShoulders(t *testing.T) {
	human := body.Given{"bust_girth": 947, "waist_girth": 861, "back_waist_length": 425}
	stout := body.Given{"bust_girth": 3 * 947, "waist_girth": 3 * 861, "back_waist_length": 425}
	short := body.Given{"bust_girth": 947, "waist_girth": 861, "back_waist_length": 425. / 2}
	of := func(g body.Given) float64 { return body.Resolve(g).MM("shoulder_length") }
	if h, s := of(human), of(stout); s > 0.42*425+1e-9 {
		t.Errorf("shoulder %g, of the stout body %g", h, s)
	}
	if h, s := of(human), of(short); s >= 0.85*h {
		t.Errorf("shoulder %g, of the short body %g", h, s)
	}
}

// A belly that stands out of its neighbours stands out in front.
func TestBelliesAreInFront(t *testing.T) {
	flat := body.Resolve(body.Given{"bust_girth": 231, "waist_girth": 238, "hip_girth": 228, "belly_girth": 233, "back_waist_length": 84})
	round := body.Resolve(body.Given{"bust_girth": 231, "waist_girth": 238, "hip_girth": 228, "belly_girth": 333, "back_waist_length": 84})
	more := 100.0
	front := round.MM("belly_arc_front") - flat.MM("belly_arc_front")
	if front < 0.75*more || front > 0.85*more {
		t.Errorf("of %g more round the belly %g are in front", more, front)
	}
}
