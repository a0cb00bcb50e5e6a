package block_test

import (
	"fmt"
	"math"
	"testing"

	"hemlet/draft/block"
	"hemlet/draft/formula"
)

// comparison is a figure of the bodice beside that of a published draft: in inches,
// or degrees for a slope. The bodice may be larger by least to most; the reason why it
// is not nearer stands beside each.
type comparison struct {
	name        string
	ours, book  float64
	least, most float64
}

func (c comparison) fault() string {
	if more := c.ours - c.book; !(more >= c.least && more <= c.most) {
		return fmt.Sprintf("%s: %.3f, and %.3f in the book; it may be larger by %g to %g", c.name, c.ours, c.book, c.least, c.most)
	}
	return ""
}

// TestBodiceBesidePublishedDrafts holds the bodice near the foundation and the shirt,
// for the figures that they are published for.
func TestBodiceBesidePublishedDrafts(t *testing.T) {
	tell(t, besideFaults(t, builtin(t, "bodice")))
}

func besideFaults(t testing.TB, bodice *block.Block) (faults []string) {
	for _, c := range append(besideFoundation(t, bodice), besideShirt(t, bodice)...) {
		if f := c.fault(); f != "" {
			faults = append(faults, f)
		}
	}
	return append(faults, tightArmholeFaults(t, bodice)...)
}

// nothing is a choice of no length.
var nothing = formula.Length{}

func besideFoundation(t testing.TB, bodice *block.Block) []comparison {
	f := draftFor(t, builtin(t, "foundation-1918"), size36(), nil)
	g := size36()
	g["waist_girth"], g["hip_girth"] = 25*inch, 43*inch
	d := draftFor(t, bodice, g, nil)
	// The book's depth is where its line is drawn: nothing is added below it.
	line := draftFor(t, bodice, g, block.Settings{"armhole_lowered": nothing})
	// The book's own shoulder: 6 in long, falling as its line falls.
	g["shoulder_length"] = f.point("K").Dist(f.point("L"))
	g["shoulder_drop"] = f.point("K").Y - f.point("L").Y
	shoulder := draftFor(t, bodice, g, nil)
	deg := 180 / math.Pi
	return []comparison{
		// The book's neck is a sixth of half the size; ours is as wide as a neck of
		// 14 1/2 in, estimated, asks for.
		{"foundation: width of the back neck", d.inches("neck_width"), f.inchesAcross("J"), -0.375, 0.25},
		{"foundation: rise of the back neck", d.inches("neck_rise"), f.inchesUp("K"), -0.25, 0.25},
		{"foundation: the line under the arm", line.inches("armhole_depth"), -f.inchesUp("B"), -1e-6, 1e-6},
		{"foundation: the armhole and the room under it", d.inches("armhole_depth"), -f.inchesUp("B"), 0, 1},
		{"foundation: the waist at the centre back", -d.inchesUp("back_waist_cb"), -f.inchesUp("C"), -1e-6, 1e-6},
		// Half the back, estimated from bust and back length, with its ease.
		{"foundation: half the width of the back", d.inches("half_back"), f.inchesAcross("H"), -0.25, 0.25},
		// The book's shoulder reaches out by the fashion of its day, and lies higher in
		// the back; what its front does is not on the page.
		{"foundation: slope of the back's shoulder", math.Asin(d.mm("shoulder_drop")/d.mm("shoulder_length")) * deg, math.Atan2(f.point("K").Y-f.point("L").Y, f.point("L").X-f.point("K").X) * deg, -5, 10},
		{"foundation: reach of the shoulder", d.inchesAcross("back_tip"), f.inchesAcross("L"), -1.5, 0.25},
		// Given the book's shoulder, only the neck is left between the two tips.
		{"foundation: reach of its own shoulder", shoulder.inchesAcross("back_tip"), f.inchesAcross("L"), -0.375, 0.25},
		{"foundation: height of its own shoulder's tip", shoulder.inchesUp("back_tip"), f.inchesUp("L"), -0.25, 0.25},
	}
}

func besideShirt(t testing.TB, bodice *block.Block) []comparison {
	g, depth, _ := tightLining(t)
	more := formula.Length{MM: 4 * inch} // in both, so that widths can be compared
	s := draftFor(t, builtin(t, "shirt-1916"), g, block.Settings{"increased_bust": formula.Length{MM: g["bust_girth"] + more.MM}})
	g["armscye_depth"] = depth * inch
	d := draftFor(t, bodice, g, block.Settings{"ease": more})
	slope := func(neck, tip string) float64 {
		way := s.point(tip).Sub(s.point(neck))
		return math.Atan2(-way.Y, math.Abs(way.X)) * 180 / math.Pi
	}
	front := func(name string) float64 { return (s.point("front_A").X - s.point(name).X) / inch }
	return []comparison{
		// See TestNeckRule.
		{"shirt: width of the back neck", d.inches("neck_width"), s.inchesAcross("F"), -0.125, 0.375},
		{"shirt: rise of the back neck", d.inches("neck_rise"), s.inchesUp("F"), -0.125, 0.125},
		{"shirt: depth of the front neck", d.inches("neck_depth"), s.inchesUp("front_F") - s.inchesUp("front_F1"), -0.125, 0.25},
		// Ours has one slope for both; the shirt has 21 degrees behind and 15 in front.
		{"shirt: slope of the shoulders", math.Asin(d.mm("shoulder_drop")/d.mm("shoulder_length")) * 180 / math.Pi, (slope("F", "I") + slope("front_F", "front_H")) / 2, -5, 5},
		{"shirt: the line under the arm", d.inches("armhole_depth"), -s.inchesUp("C"), -1, 1},
		// The shirt lies loose: 3/4 in more than half the back, 1 1/4 more than half the
		// front. Ours adds a sixteenth and a twentieth of the ease.
		{"shirt: half the width of the back", d.inches("half_back"), s.inchesAcross("G"), -0.75, 0},
		{"shirt: half the width of the front", d.inches("half_front"), front("front_G"), -1.25, 0},
		// The shirt's shoulder drops over the arm by the fashion of its day.
		{"shirt: reach of the shoulder", d.inchesAcross("back_tip"), s.inchesAcross("I"), -1.5, 0},
		// All round, body and ease are the same.
		{"shirt: half the bust", d.inches("bust_back") + d.inches("bust_front"), s.inchesAcross("J") + front("front_J"), -1e-6, 1e-6},
		// Where the side seam hangs is a matter of the garment: the shirt's back is 4 in
		// narrower than its front, ours parts by what the body has behind and in front.
		{"shirt: the side seam under the arm", d.inches("bust_back"), s.inchesAcross("J"), 0, 1.75},
		{"shirt: the back's waist with its dart", d.inches("waist_back") + d.inches("back_dart"), s.inchesAcross("K"), -0.5, 0.5},
	}
}

func (d drafted) inchesAcross(name string) float64 { return d.point(name).X / inch }
func (d drafted) inchesUp(name string) float64     { return d.point(name).Y / inch }

// tightArmholeFaults compares how long the armhole comes out with the measure round
// the arm of the worked draft, 15 in. A tight lining has no ease and its line under
// the arm where the measure says: then ours is within half an inch. As the bodice is
// drafted without being asked, lower and with ease, it is longer by up to 2 1/4 in;
// where the depth is left to the estimate, by the survey, it is within an inch.
func tightArmholeFaults(t testing.TB, bodice *block.Block) (faults []string) {
	g, depth, armhole := tightLining(t)
	long := func(s block.Settings) float64 {
		d := draftFor(t, bodice, g, s)
		return d.inches("back_armhole") + d.inches("front_armhole")
	}
	estimated := long(nil)
	g["armscye_depth"] = depth * inch
	for _, c := range []comparison{
		{"armhole, tight", long(block.Settings{"ease": nothing, "armhole_lowered": nothing}), armhole, -0.5, 0.5},
		{"armhole, as it comes", long(nil), armhole, 0, 2.25},
		{"armhole, its depth estimated", estimated, armhole, -1, 1},
	} {
		if f := c.fault(); f != "" {
			faults = append(faults, f)
		}
	}
	return faults
}
