package warp

import (
	"math"
	"testing"

	"hemlet/geom/sqp"
)

// told is a measure that is what it is.
type told float64

func (m told) Value([][]float64) float64              { return float64(m) }
func (told) Slope([][]float64, *sqp.Gradient)         {}
func (told) Curve([][]float64, float64, []sqp.Square) {}

// TestMissedIsAShare: what counts as met is not missed, however short it is wanted; of a
// distance along a direction that is wanted backwards the share counts as of any other.
func TestMissedIsAShare(t *testing.T) {
	for _, c := range []struct{ is, want, missed float64 }{
		{200, 200, 0},
		{200 + met/2, 200, 0},
		{4 + met/2, 4, 0}, // of a doll's cuff
		{met / 2, 0, 0},
		{202, 200, 0.01},
		{-50 - met/2, -50, 0},
		{-51, -50, 0.02},
		{-49, -50, 0.02},
	} {
		g := &goal{measure: told(c.is), want: c.want}
		if got := g.missed(nil); math.Abs(got-c.missed) > 1e-12 {
			t.Errorf("%g for %g is missed by the share %g, want %g", c.is, c.want, got, c.missed)
		}
	}
}
