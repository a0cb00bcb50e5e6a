package formula

import "testing"

func TestFigure(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     string
	}{
		{12.5, 2, "12.5"}, {3, 4, "3"}, {-0.001, 2, "0"}, {100, 0, "100"}, {0.12345, 4, "0.1235"}, {-2.04, 1, "-2"}, {1e7, 2, "10000000"},
	} {
		if got := Figure(c.x, c.decimals); got != c.want {
			t.Errorf("Figure(%v, %d) = %q, want %q", c.x, c.decimals, got, c.want)
		}
	}
}
