package draft_test

import (
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
	if f == nil || len(f.Mends) != 2 {
		t.Fatalf("found %+v", f)
	}
	before := hemsOf(fitOf(t, p))
	for i, m := range f.Mends {
		if i > 0 && find() == nil {
			t.Error("it is told no more while one piece still goes by the hips")
		}
		out, err := p.Do(m)
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	if find() != nil {
		t.Error("it is still told after the mends")
	}
	if after := hemsOf(fitOf(t, p)); after < before*1.05 {
		t.Errorf("the hems measured %g and measure %g by the belly", before, after)
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
