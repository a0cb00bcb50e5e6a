package draft

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// cuffed returns a sleeve with a cuff and a frill, whose ends are sewn together or not.
func cuffed(t fataler, ends bool) *Project {
	sleeve := wornPanel("Sleeve", 56, 90, "wrist", "seam", "top", "other seam")
	cuff := wornPanel("Cuff", 56, 18, "edge", "end 1", "wrist", "end 2")
	frill := wornPanel("Frill", 56, 12, "hem", "end 1", "gathers", "end 2")
	p := sewnUp(t, projectOf(sleeve, cuff, frill), [3]string{"sleeve", "Sleeve.seam", "Sleeve.other seam"},
		[3]string{"cuff", "Sleeve.wrist", "Cuff.wrist"}, [3]string{"frill", "Cuff.edge", "Frill.gathers"})
	if ends {
		p = sewnUp(t, p, [3]string{"cuff ends", "Cuff.end 1", "Cuff.end 2"}, [3]string{"frill ends", "Frill.end 1", "Frill.end 2"})
	}
	return onBody(t, p, map[string]float64{"hand_girth": 40, "stature": 360})
}

// The opening of a cuff with a frill is as long as the frill, whether the ends of the two are
// sewn together already or only lie on each other; the sides of a slit count, for they gape.
func TestEndsOfStripsAreNoOpening(t *testing.T) {
	for _, ends := range []bool{true, false} {
		list := NewSlots().Openings(cuffed(t, ends), "G")
		o := list[slices.IndexFunc(list, func(o Opening) bool { return strings.Contains(o.Name, "Frill") })]
		if math.Abs(o.Length-56) > 1e-9 || math.Abs(o.Closed-56) > 1e-9 || o.Name != "hem of Frill" || len(o.Uses) != 1 {
			t.Errorf("ends sewn %v: %s opens to %g, closed %g, along %d edges", ends, o.Name, o.Length, o.Closed, len(o.Uses))
		}
	}
	// Ends that are closed with a button gape as well.
	p := doAct(t, cuffed(t, true), "edit-seam", map[string]string{"seam": "frill ends", "opens": "yes"})
	list := NewSlots().Openings(p, "G")
	if o := list[slices.IndexFunc(list, func(o Opening) bool { return o.Name == "hem of Frill" })]; math.Abs(o.Length-80) > 1e-9 || math.Abs(o.Closed-56) > 1e-9 {
		t.Errorf("with ends of 12 mm that open the frill of 56 mm opens to %g, closed %g", o.Length, o.Closed)
	}
	// A sleeve whose seam ends 20 mm before the wrist.
	p = sewnUp(t, projectOf(wornPanel("Sleeve", 56, 90, "wrist", "seam", "top", "other seam")), [3]string{"sleeve", "Sleeve.seam", "Sleeve.other seam"})
	p = doAct(t, onBody(t, p, map[string]float64{"hand_girth": 40, "stature": 360}), "open-seam", map[string]string{"seam": "sleeve", "from": "start", "length": "20mm"})
	if o := openingAt(t, NewSlots().Openings(p, "G"), OpenWrist); math.Abs(o.Length-96) > 1e-6 {
		t.Errorf("with a slit of 20 mm the wrist of 56 mm opens to %g", o.Length)
	}
}

// An opening that lets pass with less than 2 % and 2 mm of ease is told, and its first mend
// gives it that. (Common practice, no source.)
func TestOpeningWantsEase(t *testing.T) {
	for _, c := range []struct {
		girth, by     float64
		holds, barely bool
	}{
		{560, 0.2, false, true}, {560, 10, false, true}, {560, 11.3, true, false}, {560, -1, false, false},
		{60, 1, false, true}, {60, 2.1, true, false}, // at the least 2 mm
		{20, 0.4, false, true}, {20, 1.1, true, false}, // for the smallest a twentieth
	} {
		p := onBody(t, wornTube(t, c.girth+c.by), map[string]float64{"head_girth": c.girth, "stature": 1700})
		o := openingAt(t, NewSlots().Openings(p, "G"), OpenNeck)
		// By half a millimetre an opening may be short and still hold.
		if slack := o.Wants - o.Ease; slack > 0 && slack <= passSlack {
			t.Fatalf("girth %g by %g lies within the slack", c.girth, c.by)
		}
		if o.Holds != c.holds || o.Barely != c.barely {
			t.Errorf("a neck %g larger than a head of %g: %+v", c.by, c.girth, o)
		}
		if !c.barely {
			continue
		}
		var f *Finding
		for _, g := range NewSlots().Check(p).Findings {
			if g.Key == o.Key {
				f = &g
			}
		}
		if f == nil || f.Level != LookAgain || len(f.Mends) == 0 {
			t.Errorf("a neck %g larger than a head of %g: told %+v", c.by, c.girth, f)
			continue
		}
		out, err := p.Do(f.Mends[0])
		if err != nil {
			t.Fatal(err)
		}
		if o := openingAt(t, NewSlots().Openings(out.Project, "G"), OpenNeck); !o.Holds || o.Ease < o.Wants {
			t.Errorf("after %q: %+v", f.Mends[0].Title, o)
		}
	}
}
