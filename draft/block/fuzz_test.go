package block

import (
	"errors"
	"os"
	"strings"
	"testing"

	"hemlet/draft/body"
)

// Whatever the text, Parse gives a block or an *Error on one line, and what it gives
// drafts to a sound sheet or an error of a known type.
func FuzzParse(f *testing.F) {
	f.Add([]byte(square))
	f.Add([]byte(bothWays))
	f.Add([]byte(bag(f).Text()))
	if text, err := os.ReadFile("testdata/whole.toml"); err == nil {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := Parse("fuzz.toml", text)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || strings.ContainsAny(err.Error(), "\n\r") {
				t.Fatalf("%q", err)
			}
			return
		}
		g := body.Given{"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84}
		s, err := b.Draft(g, nil)
		if err == nil {
			sound(t, s)
			return
		}
		var bad *Error
		var missing *MissingError
		var stop *StopError
		if !errors.As(err, &bad) && !errors.As(err, &missing) && !errors.As(err, &stop) {
			t.Fatalf("%v", err)
		}
	})
}
