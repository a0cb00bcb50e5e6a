package draft_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/draft"
)

// withStrip returns the smock as a plain drawing, with a strip in the place of its bands that
// is some times as long as the necks of front and back as they are drawn, and 40 mm wide.
func withStrip(t *testing.T, name string, times float64) (*draft.Project, float64) {
	t.Helper()
	p := asDrawn(fitSmock(t))
	neck := 0.0
	slots := draft.NewSlots()
	for _, pa := range slots.Anatomy(p).Pieces {
		for _, i := range pa.With(draft.AtNeck) {
			neck += pa.Piece.EdgeLength(i)
		}
	}
	p = acted(t, p, "delete-piece", "pieces=piece 4;piece 5").Project
	return acted(t, p, "draw-shape", "shape=rectangle", "from=2000mm,0mm", fmt.Sprintf("to=%fmm,40mm", 2000+times*neck), "name="+name).Project, neck
}

// A strip is taken for a neck band by its name or by its length, and never for a sleeve, which
// would be scaled by the length of the arm.
func TestAnatomyOfStrips(t *testing.T) {
	for _, tc := range []struct {
		name  string
		times float64
		want  draft.PiecePart
		half  bool
	}{
		{"piece 9", 2, draft.PartNeckBand, false},
		{"piece 9", 1, draft.PartNeckBand, true},
		{"piece 9", 1.7, draft.PartUnknown, false},
		{"piece 9", 0.6, draft.PartUnknown, false},
		{"piece 9", 2.1, draft.PartUnknown, false},
		{"Neck", 1.7, draft.PartNeckBand, false},
		{"Neck", 2, draft.PartNeckBand, false},
		{"Wrist", 2, draft.PartCuff, false},
		{"Belt", 2, draft.PartUnknown, false},
	} {
		p, _ := withStrip(t, tc.name, tc.times)
		strip := p.Pieces[len(p.Pieces)-1]
		slots := draft.NewSlots()
		pa := slots.Anatomy(p).Of(strip.ID)
		if pa.Part != tc.want || pa.Half != tc.half {
			t.Errorf("%s, %g times the half neck: %s, half %v: %s", tc.name, tc.times, pa.Part, pa.Half, pa.Why)
		}
		for _, g := range slots.SuggestSpans(p, []draft.ID{strip.ID}) {
			if g.Span.Measure == "arm_length" || g.Span.Measure == "upper_arm_girth" {
				t.Errorf("%s, %g times the half neck: %s stands for %s", tc.name, tc.times, g.Span.Name, g.Span.Measure)
			}
		}
	}
}

// A cuff that nobody has named is known where it is as long as the end of the sleeve, which
// the bands of the smock, to which it is gathered, are not.
func TestAnatomyOfPlainCuff(t *testing.T) {
	p, neck := withStrip(t, "piece 9", 1)
	sleeve := p.Pieces[2]
	end := draft.NewSlots().Anatomy(p).Of(sleeve.ID).With(draft.AtWrist)
	if len(end) != 1 {
		t.Fatalf("the sleeve has %d ends", len(end))
	}
	p, _ = withStrip(t, "piece 9", sleeve.EdgeLength(end[0])/neck)
	if pa := draft.NewSlots().Anatomy(p).Of(p.Pieces[len(p.Pieces)-1].ID); pa.Part != draft.PartCuff || pa.Half {
		t.Errorf("%s, half %v: %s", pa.Part, pa.Half, pa.Why)
	}
}

// Half a band is sewn to the halves of a neck that are drawn: from the middle of the front
// over the shoulder to that of the back. A whole one is not, and on the fold halves are whole.
func TestSuggestedSeamOfHalfANeckBand(t *testing.T) {
	suggested := func(p *draft.Project) []string {
		strip := p.Pieces[len(p.Pieces)-1].ID
		var out []string
		for _, g := range draft.NewSlots().SuggestSeams(p) {
			for _, u := range append(append(draft.Run{}, g.A...), g.B...) {
				if u.Piece == strip {
					out = append(out, fmt.Sprintf("%s to %s, %.2f", p.RunText(g.A), p.RunText(g.B), g.Ratio))
				}
			}
		}
		return out
	}
	p, neck := withStrip(t, "Band", 1)
	got := suggested(p)
	if len(got) != 1 || !strings.HasPrefix(got[0], "piece 1.edge 5/reversed + piece 2.") || !strings.HasSuffix(got[0], ", 1.00") {
		t.Fatalf("the half of a band: %q", got)
	}
	for _, g := range draft.NewSlots().SuggestSeams(p) {
		if len(g.A) == 2 && g.A[0].Edge == p.Pieces[0].Edges[4].ID {
			out, err := p.Do(g.Mend(p))
			if err != nil {
				t.Fatal(err)
			}
			s := out.Project.Seams[len(out.Project.Seams)-1]
			if state, err := draft.NewSlots().SeamState(out.Project, s); err != nil || math.Abs(state.A-neck) > draft.Grid || math.Abs(state.B-neck) > 1e-3 {
				t.Errorf("sewn, its sides are %g and %g long, not %g", state.A, state.B, neck)
			}
		}
	}
	if p, _ = withStrip(t, "Band", 2); len(suggested(p)) != 0 {
		t.Errorf("the whole band is sewn to half a neck: %q", suggested(p))
	}
}

// Where it is said that the front is cut on the fold and the back in pairs, the whole neck is known: a strip
// that is as long is sewn to it, whole or as a half on the fold.
func TestSuggestedSeamOfABandOnAWholeNeck(t *testing.T) {
	for _, times := range []float64{2, 1} {
		p := nameless(unsewn(fitSmock(t)))
		neck := 0.0
		for _, pa := range draft.NewSlots().Anatomy(p).Pieces[:2] {
			for _, i := range pa.With(draft.AtNeck) {
				neck += pa.Piece.EdgeLength(i)
			}
		}
		p = acted(t, p, "delete-piece", "pieces=piece 4;piece 5").Project
		p = acted(t, p, "draw-shape", "shape=rectangle", "from=2000mm,0mm", fmt.Sprintf("to=%fmm,40mm", 2000+times*neck), "name=strip").Project
		if times == 1 {
			p = acted(t, p, "set-kind", "edges=strip.edge 1", "kind=fold").Project
		}
		strip, found := p.Pieces[len(p.Pieces)-1], 0
		slots := draft.NewSlots()
		if pa := slots.Anatomy(p).Of(strip.ID); pa.Part != draft.PartNeckBand || pa.Half != (times == 1) {
			t.Fatalf("%g: %s, half %v: %s", times, pa.Part, pa.Half, pa.Why)
		}
		for _, g := range slots.SuggestSeams(p) {
			for _, u := range g.B {
				if u.Piece == strip.ID && g.Ratio == 1 && len(g.A) > len(g.B) {
					found++
				}
			}
		}
		if found == 0 {
			t.Errorf("%g times the half neck: nothing sews the strip to it", times)
		}
	}
}
