package draft_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"hemlet/draft"
)

// contradicting returns the smock fitted to Quill with two sides that are sewn to each other
// and are to be of different lengths.
func contradicting(t *testing.T, weight string) *draft.Project {
	t.Helper()
	p := bodyOf(t, done(t, loadSmock(t), "take-spans"), "Quill", 1, hedgehog...)
	p = done(t, p, "add-span", "edges", "Front.side", "measure", "back_waist_length", "name", "one")
	p = done(t, p, "add-span", "edges", "Back.side", "measure", "back_waist_length", "name", "other")
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	p = done(t, p, "set-fit-target", "span", "Front.one", "by", "length", "value", "118mm", "weight", weight)
	return done(t, p, "set-fit-target", "span", "Back.other", "by", "length", "value", "124mm")
}

// toldOf returns what is told to contradict.
func toldOf(t *testing.T, p *draft.Project) []string {
	t.Helper()
	var told []string
	for _, c := range fitOf(t, p).Contradicts {
		told = append(told, c.Says)
	}
	return told
}

// Of twenty-one targets those two are named that stand against each other, and no other one:
// set free, each of them lets all be had, and none of the others does.
func TestFitNamesTheSmallestContradiction(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	p := contradicting(t, "1")
	told := toldOf(t, p)
	if len(told) != 1 || !strings.Contains(told[0], "Front, one: ") || !strings.Contains(told[0], "Back, other: ") {
		t.Fatalf("told is %q", told)
	}
	for _, x := range fitOf(t, p).Targets {
		free := done(t, p, "set-fit-target", "span", `"`+string(x.Piece.ID)+`"."`+string(x.Span.ID)+`"`, "by", "free")
		left := toldOf(t, free)
		name := x.Piece.Name + ", " + x.Span.Name
		switch named := strings.Contains(told[0], name+": "); {
		case named && len(left) > 0:
			t.Errorf("%s is named, and without it: %q", name, left)
		case !named && len(left) == 0:
			t.Errorf("%s is not named, and without it nothing contradicts", name)
		}
	}
}

// One that counts a hundred times as much is met, or nearly, and named as what the other
// cannot be had together with.
func TestFitNamesWhatCountsMore(t *testing.T) {
	p := contradicting(t, "1000")
	told := toldOf(t, p)
	if len(told) != 1 || !strings.HasPrefix(told[0], "Back, other: ") || !strings.Contains(told[0], "cannot be had together with Front, one.") {
		t.Errorf("told is %q", told)
	}
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.About == "Back, other" && strings.Contains(f.Says, "than it is to be") && !strings.Contains(f.Says, "cannot be had together with Front, one.") {
			t.Errorf("the finding says %q", f.Says)
		}
	}
}

// Each of the stretches that are named can be given more weight, whereupon it is missed by
// less, and set free, whereupon nothing contradicts any more. One that is met can only be set
// free.
func TestContradictionOffersWaysOut(t *testing.T) {
	off := func(p *draft.Project, stretch string) float64 {
		for _, x := range fitOf(t, p).Targets {
			if x.Piece.Name+", "+x.Span.Name == stretch {
				return math.Abs(x.Off)
			}
		}
		t.Fatalf("there is no %s", stretch)
		return 0
	}
	p := contradicting(t, "1")
	ways := fitOf(t, p).Contradicts[0].Ways
	if len(ways) != 2 {
		t.Fatalf("%d ways out are offered: %+v", len(ways), ways)
	}
	for _, w := range ways {
		if w.Weigh == nil {
			t.Fatalf("%s cannot be given more weight", w.Stretch)
		}
		out, err := p.Do(*w.Weigh)
		if err != nil {
			t.Fatal(err)
		}
		// Ten to one, a tenth of the eleven parts of the 6 mm between them is left of it.
		if left := off(out.Project, w.Stretch); math.Abs(left-6.0/11) > 0.01 {
			t.Errorf("with more weight %s misses %.3f mm, and missed %.3f", w.Stretch, left, off(p, w.Stretch))
		}
		if out, err = p.Do(w.Free); err != nil {
			t.Fatal(err)
		}
		if told := toldOf(t, out.Project); len(told) > 0 {
			t.Errorf("with %s set free: %q", w.Stretch, told)
		}
	}
	met := 0
	for _, w := range fitOf(t, contradicting(t, "1000")).Contradicts[0].Ways {
		if w.Stretch == "Front, one" && w.Weigh == nil {
			met++
		}
	}
	if met != 1 {
		t.Error("a stretch that is met is offered more weight")
	}
}

// What contradicts in pieces that nothing joins is told apart, what is off by more first.
func TestFitTellsContradictionsApart(t *testing.T) {
	p := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	p = done(t, p, "unlink-seam", "seams", "cuff")
	for _, s := range [][3]string{{"Cuff.wrist", "first", "50mm"}, {"Cuff.edge", "second", "52mm"}, {"Front.side", "third", "118mm"}, {"Back.side", "fourth", "126mm"}} {
		p = done(t, p, "add-span", "edges", s[0], "measure", "upper_arm_girth", "name", s[1])
	}
	p = done(t, p, "link-seam", "a", "Cuff.wrist", "b", "Cuff.edge", "name", "turned")
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	p = done(t, p, "set-fit-target", "span", "Cuff.wrist", "by", "free")
	for _, s := range [][2]string{{"Cuff.first", "50mm"}, {"Cuff.second", "52mm"}, {"Front.third", "118mm"}, {"Back.fourth", "126mm"}} {
		p = done(t, p, "set-fit-target", "span", s[0], "by", "length", "value", s[1])
	}
	told := toldOf(t, p)
	if len(told) != 2 || !strings.Contains(told[0], "third") || !strings.Contains(told[0], "fourth") || strings.Contains(told[0], "Cuff") ||
		!strings.Contains(told[1], "first") || !strings.Contains(told[1], "second") || strings.Contains(told[1], "Front") {
		t.Errorf("told is %q", told)
	}
}

// What two sides of one seam miss that are to be of different lengths is worked out by hand:
// of all that add up to the difference, the two for which the weighted sum of squares is
// least share it in the inverse ratio of their weights. So is what three of a chain of two
// seams miss, from the linear equations of the same least squares.
func TestCompromiseByHand(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, w := range [][2]float64{{1, 1}, {4, 1}, {1, 10}, {300, 100}} {
		p := contradicting(t, "7")
		p = done(t, p, "set-fit-target", "span", "Front.one", "by", "length", "value", "118mm", "weight", strconv.FormatFloat(w[0], 'g', -1, 64))
		if w[1] != 1 {
			p = done(t, p, "set-fit-target", "span", "Back.other", "by", "length", "value", "124mm", "weight", strconv.FormatFloat(w[1], 'g', -1, 64))
		}
		want := map[string]float64{"one": 6 * w[1] / (w[0] + w[1]), "other": -6 * w[0] / (w[0] + w[1])}
		for _, x := range fitOf(t, p).Targets {
			off, contradicts := want[x.Span.Name]
			if d := x.Off - off; contradicts && math.Abs(d) > 0.01 {
				t.Errorf("weights %v: %s misses %.4f mm, by hand %.4f", w, x.Span.Name, x.Off, off)
			} else if !contradicts && x.Known && math.Abs(x.Off) > draft.TargetReached {
				t.Errorf("weights %v: %s of %s misses %.4f mm, and nothing stands against it", w, x.Span.Name, x.Piece.Name, x.Off)
			}
		}
	}
	// The neck band, its gathered neckline and the necks of front and back: N = 1.5 B and
	// N = 2 F + 2 K, where B, F and K are to be of lengths that do not go together.
	p := bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...)
	p = done(t, p, "add-span", "edges", "Front.neck", "measure", "bust_girth", "name", "front neck")
	p = done(t, p, "add-span", "edges", "Back.neck", "measure", "bust_girth", "name", "back neck")
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	wants, weights := [3]float64{118, 46, 38}, [3]float64{1, 2, 5}
	for i, span := range []string{`"Neck band".neck`, `Front."front neck"`, `Back."back neck"`} {
		p = done(t, p, "set-fit-target", "span", span, "by", "length", "value", mm(wants[i]), "weight", strconv.FormatFloat(weights[i], 'g', -1, 64))
	}
	// Least of sum w off² under c·off = gap, with c = (1.5, -2, -2).
	c := [3]float64{1.5, -2, -2}
	gap, give := 0.0, 0.0
	for i := range c {
		gap -= c[i] * wants[i]
		give += c[i] * c[i] / weights[i]
	}
	for i, name := range []string{"neck", "front neck", "back neck"} {
		for _, x := range fitOf(t, p).Targets {
			if x.Span.Name != name {
				continue
			}
			if want := gap * c[i] / weights[i] / give; math.Abs(want) < 0.1 || math.Abs(x.Off-want) > 0.01 {
				t.Errorf("%s misses %.4f mm, by hand %.4f", name, x.Off, want)
			}
		}
	}
}
