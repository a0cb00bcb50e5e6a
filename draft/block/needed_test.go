package block

import (
	"errors"
	"slices"
	"testing"

	"hemlet/draft/body"
)

// A measure that is needed has to be taken, at least as its front and its back; that
// it could be estimated is no help.
func TestNeededIsNotEstimated(t *testing.T) {
	b, err := Named("bodice")
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		given   body.Given
		missing []string
	}{
		{body.Given{"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84}, nil},
		{body.Given{"bust_arc_front": 121, "bust_arc_back": 110, "waist_girth": 238, "back_waist_length": 84}, nil},
		{body.Given{"waist_girth": 238}, []string{"bust_girth", "back_waist_length"}},
		{body.Given{"stature": 360, "bust_girth": 231, "hip_girth": 228}, []string{"waist_girth", "back_waist_length"}},
		{body.Given{"bust_arc_front": 121, "waist_girth": 238, "back_waist_length": 84}, []string{"bust_girth"}},
	} {
		_, err := b.Draft(tc.given, nil)
		var missing *MissingError
		switch {
		case len(tc.missing) == 0 && err != nil:
			t.Errorf("%v: %v", tc.given, err)
		case len(tc.missing) > 0 && (!errors.As(err, &missing) || !slices.Equal(missing.Measures, tc.missing)):
			t.Errorf("%v: %v; want %v to be missing", tc.given, err, tc.missing)
		}
	}
}
