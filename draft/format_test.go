package draft

import "testing"

// What is at most so much is never told as less, nor as a step more than it is.
func TestFormatAtMost(t *testing.T) {
	for _, c := range []struct {
		u    Unit
		mm   float64
		want string
	}{
		{Millimetre, 2.7, "2.7 mm"}, {Millimetre, 2.71, "2.8 mm"}, {Millimetre, 0.14, "0.2 mm"},
		{Millimetre, 0, "0.1 mm"}, {Millimetre, 12, "12 mm"}, {Centimetre, 27.01, "2.71 cm"},
	} {
		if got := c.u.FormatAtMost(c.mm); got != c.want {
			t.Errorf("%g mm is at most %q in %s, want %q", c.mm, got, c.u, c.want)
		}
	}
}
