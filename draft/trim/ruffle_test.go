package trim

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

const inch = 25.4 // mm, ISO 31-1

func TestStrips(t *testing.T) {
	for _, c := range []struct {
		name  string
		r     Ruffle
		flat  float64
		n     int
		strip float64
	}{
		// Worked by hand from n W - 2 s n >= F: a ring of 60 in at 2 is 120 in; strips of
		// 44 in with half an inch a join give 43 each, and three of them 129.
		{"ring of 60 in", Ruffle{Edge: 60 * inch, Ratio: 2, ClothWidth: 44 * inch, Join: inch / 2, Closed: true}, 120 * inch, 3, 41 * inch},
		// The published ruffle gauge: 10 in of result take 15, 20 and 30 in of cloth
		// (instructables, "Make a Ruffle Gauge").
		{"gauge 1.5", Ruffle{Edge: 10 * inch, Ratio: 1.5}, 15 * inch, 1, 15 * inch},
		{"gauge 2", Ruffle{Edge: 10 * inch, Ratio: 2}, 20 * inch, 1, 20 * inch},
		{"gauge 3", Ruffle{Edge: 10 * inch, Ratio: 3}, 30 * inch, 1, 30 * inch},
		// stitchcoach.blogspot.com, 2017: 15 in at 2.5 are 37.5 in, and about an inch for
		// the allowances of its two ends.
		{"coach", Ruffle{Edge: 15 * inch, Ratio: 2.5, End: inch / 2}, 37.5 * inch, 1, 38.5 * inch},
		// Worked by hand.
		{"fits exactly", Ruffle{Edge: 500, Ratio: 2, ClothWidth: 1000}, 1000, 1, 1000},
		{"just too long", Ruffle{Edge: 500, Ratio: 2, ClothWidth: 999, Join: 10}, 1000, 2, 510},
		{"one strip, closed", Ruffle{Edge: 100, Ratio: 1.5, ClothWidth: 400, Join: 6, Closed: true}, 150, 1, 162},
		{"ends are counted", Ruffle{Edge: 495, Ratio: 2, ClothWidth: 1000, End: 6, Join: 5}, 990, 2, (990 + 12 + 10) / 2.},
		{"two exactly", Ruffle{Edge: 1990, Ratio: 1, ClothWidth: 1000, Join: 5}, 1990, 2, 1000},
	} {
		s, err := c.r.Strips()
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if math.Abs(s.Flat-c.flat) > 1e-9 || s.Count != c.n || math.Abs(s.Length-c.strip) > 1e-9 {
			t.Errorf("%s: %g mm of %d strips of %g, want %g, %d, %g", c.name, s.Flat, s.Count, s.Length, c.flat, c.n, c.strip)
		}
	}
}

func TestStripsRefused(t *testing.T) {
	for _, r := range []Ruffle{
		{}, {Edge: -1, Ratio: 2}, {Edge: 1, Ratio: 0.9}, {Edge: 1, Ratio: 21}, {Edge: math.NaN(), Ratio: 2},
		{Edge: 1, Ratio: math.NaN()}, {Edge: 1, Ratio: 2, ClothWidth: -1}, {Edge: 1, Ratio: 2, Join: -1},
		{Edge: 1, Ratio: 2, End: -1}, {Edge: math.Inf(1), Ratio: 2}, {Edge: 50_000, Ratio: 20, ClothWidth: 10, Join: 1},
	} {
		if _, err := r.Strips(); err == nil {
			t.Errorf("%+v is taken", r)
		}
	}
	_, err := Ruffle{Edge: 100, Ratio: 2, ClothWidth: 12, Join: 6}.Strips()
	if !errors.Is(err, ErrNarrowCloth) {
		t.Errorf("strips that joins use up: %v", err)
	}
}

// The strips, joined, are the ruffle; each fits the cloth; one fewer would not do.
// The count is found the long way round, strip by strip.
func TestStripsAreEnoughAndNoneTooMany(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Ruffle{
			Edge:       rapid.Float64Range(1, 20_000).Draw(t, "edge"),
			Ratio:      rapid.Float64Range(1, 4).Draw(t, "ratio"),
			ClothWidth: rapid.Float64Range(200, 3000).Draw(t, "width"),
			Join:       rapid.Float64Range(0, 20).Draw(t, "join"),
			Closed:     rapid.Bool().Draw(t, "closed"),
			End:        rapid.Float64Range(0, 20).Draw(t, "end"),
		}
		s, err := r.Strips()
		if err != nil {
			t.Fatal(err)
		}
		ends := 2 * r.End
		if r.Closed {
			ends = 0
		}
		gives := func(n int, strip float64) float64 {
			joins := n
			if !r.Closed {
				joins--
			}
			return float64(n)*strip - 2*r.Join*float64(joins) - ends
		}
		n := 1
		for gives(n, r.ClothWidth) < s.Flat-lengthSlack {
			n++
		}
		if s.Count != n {
			t.Fatalf("%d strips, and %d are the fewest", s.Count, n)
		}
		if d := gives(s.Count, s.Length) - s.Flat; math.Abs(d) > 1e-9*s.Flat {
			t.Fatalf("the strips are off by %g", d)
		}
		if s.Length > r.ClothWidth+2*lengthSlack {
			t.Fatalf("strips of %g on cloth of %g", s.Length, r.ClothWidth)
		}
	})
}
