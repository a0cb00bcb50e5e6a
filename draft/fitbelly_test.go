package draft_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/draft"
)

// withBelly adds Quill, whose belly is wider than waist and hips. Invented.
func withBelly(t *testing.T, p *draft.Project) *draft.Project { return withBellyOf(t, p, 258) }

func withBellyOf(t *testing.T, p *draft.Project, belly float64) *draft.Project {
	t.Helper()
	return bodyOf(t, p, "Quill", 1, append([]draft.Measure{{Name: "belly_girth", Value: belly}, {Name: "hip_girth", Value: 228}}, hedgehog...)...)
}

// hemMeasures returns what the hems of front and back stand for.
func hemMeasures(p *draft.Project) string {
	var list []string
	for _, piece := range p.Pieces {
		for _, s := range piece.Spans {
			if s.Name == "hem" {
				list = append(list, s.Measure)
			}
		}
	}
	return strings.Join(list, " ")
}

// What hangs loose past the hips goes by the belly where a wearer is widest there.
func TestHemOfALooseGarmentGoesByTheWidest(t *testing.T) {
	bare := loadSmock(t)
	if got := hemMeasures(done(t, bare, "take-spans")); got != "hip_arc_front hip_arc_back" {
		t.Errorf("without a wearer the hems stand for %s", got)
	}
	p := done(t, withBelly(t, bare), "take-spans")
	if got := hemMeasures(p); got != "belly_arc_front belly_arc_back" {
		t.Fatalf("for a wearer with a belly the hems stand for %s", got)
	}
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	before := hemsOf(fitOf(t, p))
	after := hemsOf(fitOf(t, done(t, p, "set-measure", "wearer", "Quill", "name", "belly_girth", "value", "268mm")))
	if want := before * 268 / 258; math.Abs(after-want) > 0.1 {
		t.Errorf("the hems measured %g; with a belly of 268 mm for 258 they measure %g, want %g", before, after, want)
	}
}

// hemsOf returns the length of the hems of a fit together.
func hemsOf(st *draft.FitState) float64 {
	sum := 0.0
	for _, x := range st.Targets {
		if x.Span.Name == "hem" {
			sum += x.Reached
		}
	}
	return sum
}

// A fit by the hips for such a wearer is told, and its mends let it go by the belly.
func TestFitTellsOfABellyThatIsForgotten(t *testing.T) {
	// Round the hips the smock is about 320 mm: room enough for a belly of 258, not for one
	// of 350.
	roomy := done(t, withBelly(t, done(t, loadSmock(t), "take-spans")), "fit-pattern", "wearer", "Quill")
	for _, f := range draft.NewSlots().Check(roomy).Findings {
		if strings.HasSuffix(f.Key, "/belly") && f.Level != draft.Remark {
			t.Errorf("there is room, and it is told as a fault: %s", f.Says)
		}
	}
	p := done(t, withBellyOf(t, done(t, loadSmock(t), "take-spans"), 350), "fit-pattern", "wearer", "Quill")
	find := func() *draft.Finding {
		for _, f := range draft.NewSlots().Check(p).Findings {
			if strings.HasSuffix(f.Key, "/belly") {
				return &f
			}
		}
		return nil
	}
	f := find()
	if f == nil || len(f.Mends) != 1 || f.Mends[0].Title != "Let hem of Front and hem of Back go by the belly" {
		t.Fatalf("found %+v", f)
	}
	before := hemsOf(fitOf(t, p))
	front := done(t, p, "set-span", "span", "Front.hem", "measure", "belly_arc_front")
	if bellyFinding(front) == nil {
		t.Error("it is told no more while one piece still goes by the hips")
	}
	out, err := p.Do(f.Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	p = out.Project
	if got := hemMeasures(p); got != "belly_arc_front belly_arc_back" {
		t.Errorf("after the mend the hems stand for %s", got)
	}
	if find() != nil {
		t.Error("it is still told after the mends")
	}
	if after := hemsOf(fitOf(t, p)); after < before*1.05 {
		t.Errorf("the hems measured %g and measure %g by the belly", before, after)
	}
}

// Where there is room for the belly, the mends leave the pattern as wide as it is, and from
// then on it follows the belly.
func TestGoingByTheBellyWidensNothingThatHasRoom(t *testing.T) {
	p := done(t, withBelly(t, done(t, loadSmock(t), "take-spans")), "fit-pattern", "wearer", "Quill")
	p = done(t, p, "set-level", "wearer", "Quill", "name", "belly", "front", "140mm", "back", "118mm")
	before := hemsOf(fitOf(t, p))
	f := bellyFinding(p)
	if f == nil || len(f.Mends) == 0 {
		t.Fatalf("found %+v", f)
	}
	out, err := p.Do(f.Mends[0])
	if err != nil {
		t.Fatal(err)
	}
	p = out.Project
	if after := hemsOf(fitOf(t, p)); math.Abs(after-before) > 0.02 {
		t.Errorf("the hems measured %g, and %g by the belly, for which they had room", before, after)
	}
	// Half of either arc is drawn, of front and of back.
	p = done(t, p, "set-measure", "wearer", "Quill", "name", "belly_girth", "value", "268mm")
	if by := hemsOf(fitOf(t, p)) - before; math.Abs(by-5) > 0.02 {
		t.Errorf("with 10 mm more round the belly the halves grow by %g, want 5", by)
	}
}

// An ease that is the figure it was, against another measure, is all the ease that is wanted.
func TestTheSameEaseAgainstAnotherMeasureIsTaken(t *testing.T) {
	p := done(t, withBelly(t, done(t, loadSmock(t), "take-spans")), "fit-pattern", "wearer", "Quill")
	for _, piece := range p.Pieces {
		for _, s := range piece.Spans {
			if s.Name != "hem" {
				continue
			}
			span := `"` + string(piece.ID) + `"."` + string(s.ID) + `"`
			measure := strings.Replace(s.Measure, "hip", "belly", 1)
			next := done(t, p, "set-span", "span", span, "measure", measure, "ease", fmt.Sprintf("%.6fmm", s.Ease))
			for _, x := range fitOf(t, next).Targets {
				if x.Span.ID == s.ID && math.Abs(x.Wants-x.Span.Share*x.New-s.Ease) > 1e-6 {
					t.Errorf("%s of %s is to be %g, with an ease of %g", s.Name, piece.Name, x.Wants, x.Wants-x.Span.Share*x.New)
				}
			}
		}
	}
}

// Where it is too tight, it gets the ease over the belly that it had over what was widest of
// the body for which it was made.
func TestRoundTheBellyItHasTheEaseThatItHad(t *testing.T) {
	for ease, girth := range map[string]float64{"scaled": 350, "kept": 700} {
		p := done(t, withBellyOf(t, done(t, loadSmock(t), "take-spans"), girth), "fit-pattern", "wearer", "Quill", "ease", ease)
		f := bellyFinding(p)
		if f == nil {
			t.Fatal("it is not told")
		}
		for _, m := range f.Mends {
			out, err := p.Do(m)
			if err != nil {
				t.Fatal(err)
			}
			p = out.Project
		}
		for _, x := range fitOf(t, p).Targets {
			if x.Span.Name != "hem" {
				continue
			}
			old := p.Origin(p.Piece(x.Piece.ID).Origin).Body()
			widest := max(old.MM(x.Span.Measure), old.MM(strings.Replace(x.Span.Measure, "belly", "hip", 1)))
			want := x.Was * x.New / widest
			if ease == "kept" {
				want = x.Was + x.Span.Share*(x.New-widest)
			}
			if math.Abs(x.Wants-want) > 1e-4 {
				t.Errorf("%s: %s of %s is to be %g, want %g", ease, x.Span.Name, x.Piece.Name, x.Wants, want)
			}
		}
	}
}

func bellyFinding(p *draft.Project) *draft.Finding {
	for _, f := range draft.NewSlots().Check(p).Findings {
		if strings.HasSuffix(f.Key, "/belly") {
			return &f
		}
	}
	return nil
}

// A measure by which no stretch of the fitted pattern goes is told, with what to do.
func TestAMeasureThatNothingFollowsIsTold(t *testing.T) {
	p := done(t, withBelly(t, done(t, loadSmock(t), "take-spans")), "fit-pattern", "wearer", "Quill")
	says := func(p *draft.Project, args ...string) string {
		t.Helper()
		m := draft.Mend{Act: "set-measure", Args: map[string]string{"wearer": "Quill"}}
		for i := 0; i < len(args); i += 2 {
			m.Args[args[i]] = args[i+1]
		}
		out, err := p.Do(m)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(out.Says, " ")
	}
	if got := says(p, "name", "belly_girth", "value", "268mm"); !strings.Contains(got, "No stretch of the fitted pattern goes by it: hem of Front and hem of Back go by the hips") {
		t.Errorf("of the belly: %q", got)
	}
	if got := says(p, "name", "hat", "value", "90mm"); !strings.Contains(got, "No stretch of the fitted pattern goes by it. ") {
		t.Errorf("of a measure of the maker's own: %q", got)
	}
	if got := says(p, "name", "bust_girth", "value", "240mm"); strings.Contains(got, "No stretch") {
		t.Errorf("of the bust: %q", got)
	}
	if got := says(p, "name", "belly_girth", "value", "258mm"); got != "" {
		t.Errorf("of nothing: %q", got)
	}
	if got := says(withBelly(t, loadSmock(t)), "name", "belly_girth", "value", "268mm"); got != "" {
		t.Errorf("before any fit: %q", got)
	}
}

// What was changed by hand since is no target that was missed.
func TestTargetsChangedByHandAreToldApart(t *testing.T) {
	p := done(t, bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...), "fit-pattern", "wearer", "Quill")
	front := pieceNamed(t, p, "Front")
	e, _ := front.Edge(edgeNamed(front, "hem"))
	p = done(t, p, "move-nodes", "nodes", `"`+string(front.ID)+`"."`+string(e.Nodes[len(e.Nodes)-1].ID)+`"`, "by", "0mm,-5mm")
	told := func() (byHand int) {
		for _, x := range fitOf(t, p).Targets {
			if x.ByHand {
				byHand++
			} else if x.Known && math.Abs(x.Off) > draft.TargetReached {
				t.Errorf("%s of %s is off by %g, and not by hand", x.Span.Name, x.Piece.Name, x.Off)
			}
		}
		return byHand
	}
	if told() == 0 {
		t.Fatal("nothing was changed by hand")
	}
	// A piece that was taken out of the fit is measured as it is.
	p = done(t, p, "keep-piece", "pieces", "Front")
	for _, x := range fitOf(t, p).Targets {
		if q := p.Piece(front.ID); x.Piece.ID == front.ID && x.Reached != draft.NewSlots().SpanLength(q, x.Span) {
			t.Errorf("%s is told to be %g, and is %g", x.Span.Name, x.Reached, draft.NewSlots().SpanLength(q, x.Span))
		}
	}
	told()
}

// A stretch that was said to stand for the wrong measure is put right after the fit as before
// it: the ease is that which the pattern as it came has on the right one, and nothing is left
// of what the wrong one made of it.
func TestAMeasurePutRightAfterTheFit(t *testing.T) {
	const right = "hip_arc_front"
	hem := func(p *draft.Project) (out draft.FitTarget) {
		for _, x := range fitOf(t, p).Targets {
			if x.Span.Name == "hem" && x.Piece.Name == "Front" {
				out = x
			}
		}
		return out
	}
	for _, ease := range []string{"kept", "scaled"} {
		wrong := bodyOf(t, done(t, loadSmock(t), "take-spans"), "Quill", 1, hedgehog...)
		wrong = done(t, wrong, "set-span", "span", "Front.hem", "measure", "bust_girth")
		before := hem(done(t, done(t, wrong, "set-span", "span", "Front.hem", "measure", right), "fit-pattern", "wearer", "Quill", "ease", ease))
		fitted := done(t, wrong, "fit-pattern", "wearer", "Quill", "ease", ease)
		after := hem(done(t, fitted, "set-span", "span", "Front.hem", "measure", right))
		if !before.Known || before.Was <= 0 {
			t.Fatalf("%s: nothing is wanted of the hem: %+v", ease, before)
		}
		if after.Given || after.Rule != before.Rule || math.Abs(after.Wants-before.Wants) > 1e-6 {
			t.Errorf("%s: said before the fit it wants %.3f by the rule %s; after it %.3f by %s", ease, before.Wants, before.Rule, after.Wants, after.Rule)
		}
	}
}

// A stretch is turned to the belly alike by the mend and by the word for what it stands for,
// with room for the belly and without.
func TestTheWordTurnsToTheBellyAsTheMendDoes(t *testing.T) {
	for _, belly := range []float64{258, 350} {
		p := done(t, withBellyOf(t, done(t, loadSmock(t), "take-spans"), belly), "fit-pattern", "wearer", "Quill")
		mended := done(t, p, "follow-belly", "spans", "Front.hem")
		said := done(t, p, "set-span", "span", "Front.hem", "measure", "belly_arc_front")
		a, b := fitOf(t, mended).Targets, fitOf(t, said).Targets
		for i := range a {
			if a[i].Span.Measure != b[i].Span.Measure || a[i].Rule != b[i].Rule || math.Abs(a[i].Wants-b[i].Wants) > 1e-9 || math.Abs(a[i].Reached-b[i].Reached) > 1e-9 {
				t.Errorf("belly %g: %s of %s wants %g of %s by the mend, %g of %s by the word", belly, a[i].Span.Name, a[i].Piece.Name, a[i].Wants, a[i].Span.Measure, b[i].Wants, b[i].Span.Measure)
			}
		}
		// One press for both or one after the other: with room it is the same.
		both := hemsOf(fitOf(t, done(t, p, "follow-belly", "spans", "Front.hem + Back.hem")))
		if belly == 258 {
			if one := hemsOf(fitOf(t, done(t, said, "set-span", "span", "Back.hem", "measure", "belly_arc_back"))); math.Abs(both-one) > 0.02 {
				t.Errorf("both at once make the hems %g, one by one %g", both, one)
			}
		}
	}
	p := done(t, withBellyOf(t, done(t, loadSmock(t), "take-spans"), 258), "fit-pattern", "wearer", "Quill")
	if _, err := p.Do(draft.Mend{Act: "follow-belly", Args: map[string]string{"spans": "Sleeve.upper arm"}}); err == nil || !strings.Contains(err.Error(), "upper arm of Sleeve does not go by the hips") {
		t.Errorf("of a sleeve it says %v", err)
	}
}
