package control

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/look"
)

// An icon that is told to refresh is read anew only where it is another one, or in another
// colour.
func TestIconIsReadAnewOnlyWhenItIsAnother(t *testing.T) {
	test.NewTempApp(t)
	i := NewIcon("holds", look.Ink, 16)
	r := test.WidgetRenderer(i).(*iconRenderer)
	shown := r.image.Resource
	if i.Refresh(); r.image.Resource != shown {
		t.Error("the same icon is read anew")
	}
	i.Put("problem")
	if r.image.Resource == shown {
		t.Error("another icon is not shown")
	}
	shown = r.image.Resource
	i.colour = theme.ColorNamePrimary
	if i.Refresh(); r.image.Resource == shown {
		t.Error("another colour is not shown")
	}
}
