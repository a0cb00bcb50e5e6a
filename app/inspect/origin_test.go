package inspect

import (
	"testing"

	"hemlet/draft"
)

func TestOriginSays(t *testing.T) {
	for want, o := range map[string]draft.Origin{
		"Traced from Cape, size 14; made for: round the bust or chest 180 mm.": {Name: "Cape", Size: "14", Measures: []draft.OriginMeasure{{Name: "bust_girth", Value: 180}}},
		"Traced from Coat; worn over 2 mm.":                                    {Name: "Coat", Under: []draft.Worn{{Name: "shirt", Thickness: 0.5}, {Thickness: 1.5}}},
		"Traced from a cut line.":                                              {Line: draft.CutDrawn},
		"Traced from Envelope.":                                                {Name: "Envelope"},
	} {
		if got := originSays(&o, draft.Millimetre); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}
