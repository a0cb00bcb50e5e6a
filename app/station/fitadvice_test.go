package station

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// A proposed figure that is the one that was there already is not told as a change.
func TestAFigureThatStaysIsNoChange(t *testing.T) {
	f, _ := fitting(t)
	a := draft.Advice{Was: "6 mm", Now: "6 mm, trimmed to 3 mm", Adjust: "width", Amount: 6}
	for amount, want := range map[float64]string{6: "stays", 5: "was 6 mm, now"} {
		if got := firstText(f.adjusting(a, amount, func(float64) {})); got != want {
			t.Errorf("of 6 mm that become %g it says %q, not %q", amount, got, want)
		}
	}
}

// The foot line tells of the fit that was just made, not of what was done before it.
func TestAFitIsToldInTheFootLine(t *testing.T) {
	f, shown := fitted(t)
	says, _, _ := f.see.sumOf(f.fit())
	if n := len(shown.said); n == 0 || !strings.HasPrefix(shown.said[n-1], "Fits Quill, ") || !strings.Contains(shown.said[n-1], says) {
		t.Errorf("said is %q", shown.said)
	}
}

// firstText returns the first text of an object.
func firstText(o fyne.CanvasObject) string {
	switch x := o.(type) {
	case *control.Text:
		return x.Text()
	case *fyne.Container:
		for _, part := range x.Objects {
			if text := firstText(part); text != "" {
				return text
			}
		}
	}
	return ""
}

// What is to be looked at of a fit is told where the fit is seen, with what mends it, unless
// somebody lives with it.
func TestAFitTellsWhatIsToBeLookedAt(t *testing.T) {
	f, shown := fitting(t)
	say(t, f, "back_waist_length", 1, "Front", "side")
	say(t, f, "hip_girth", 0.25, "Front", "hem") // of a puppet that is widest round the belly
	f.Open(stepWhom)
	f.whom.doIt()
	fit, p := f.fit(), f.desk.Project()
	if fit == nil {
		t.Fatalf("it is not fitted: %v", shown.said)
	}
	cards := f.lookSection().Cards(p, f.desk.Slots(), fit)
	findings := f.desk.Slots().FitFindings(p, fit.Derivation.ID)
	if len(cards) != len(findings) || len(cards) == 0 {
		t.Fatalf("%d cards for %d findings", len(cards), len(findings))
	}
	for i, c := range cards {
		if len(c.Mends) != len(findings[i].Mends) || c.Title == "" {
			t.Errorf("the card %+v for %+v", c, findings[i])
		}
	}
	waive := findings[0].Key
	if err := desk.Run(f.desk, draft.Waive, draft.WaiveArgs{Finding: waive, Reason: "as it is meant"}); err != nil {
		t.Fatal(err)
	}
	for _, g := range f.desk.Slots().FitFindings(f.desk.Project(), fit.Derivation.ID) {
		if g.Key == waive {
			t.Error("what somebody lives with is told still")
		}
	}
	if got := f.lookSection().Cards(f.desk.Project(), f.desk.Slots(), nil); got != nil {
		t.Errorf("without a fit it tells %+v", got)
	}
}
