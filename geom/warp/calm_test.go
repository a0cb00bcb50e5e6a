package warp

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestCalmest: of all lists of sides with so few changes none takes less back.
func TestCalmest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		by := rapid.SliceOfN(rapid.Float64Range(-1, 1), 0, 9).Draw(t, "by")
		most := rapid.IntRange(0, 4).Draw(t, "most")
		back := func(sides []float64) float64 {
			sum := 0.0
			for i, side := range sides {
				sum += math.Max(0, -side*by[i])
			}
			return sum
		}
		got := calmest(by, most)
		if len(got) != len(by) || changes(got) > most {
			t.Fatalf("%v has %d changes, at most %d are wanted", got, changes(got), most)
		}
		try := make([]float64, len(by))
		for bits := range 1 << len(by) {
			for i := range try {
				try[i] = sideNamed(bits >> i & 1)
			}
			if changes(try) <= most && back(try) < back(got)-1e-12 {
				t.Fatalf("%v takes %g back, and %v only %g", got, back(got), try, back(try))
			}
		}
	})
}

func TestChangesSkipWhatIsStraight(t *testing.T) {
	for _, c := range []struct {
		sides []float64
		want  int
	}{
		{nil, 0},
		{[]float64{0, 0}, 0},
		{[]float64{0, 1, 0, 1}, 0},
		{[]float64{1, 0, 0, -1, -1, 1}, 2},
	} {
		if got := changes(c.sides); got != c.want {
			t.Errorf("%v changes %d times, want %d", c.sides, got, c.want)
		}
	}
}
