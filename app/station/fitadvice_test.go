package station

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
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
