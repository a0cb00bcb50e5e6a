package scan

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Known is a length in a picture that is known from outside: of a ruler, a test square, or
// a line whose length is written beside it.
type Known struct {
	From, To geom.Point // px
	Length   float64    // mm
}

// Scale is the size of a picture's pixel as known lengths tell it.
type Scale struct {
	MM         float64   // mm a pixel
	RMS        float64   // mm, of the lengths about their best common scale; 0 with one
	Each       []float64 // mm, each length by the scale less the true one
	Worst      int       // index of the length that is off by most
	Uneven     bool      // lengths in two directions disagree: the picture is stretched
	Across, Up float64   // mm a pixel each way; both MM where not Uneven
}

// Limits of known lengths.
const (
	// leastKnown is the shortest length in px that scales a picture: a click half a pixel
	// off would make a shorter one wrong by more than a twentieth.
	leastKnown = 10.0
	// mostKnown is the longest length in px that is taken: far beyond every picture, and
	// short enough that sums of its squares stay numbers.
	mostKnown = 1e6
	// leastStretch is the share by which lengths in two directions must disagree before a
	// picture is called stretched: scanners are held to be within 0.3 % (common practice,
	// no source), and clicks on 100 mm at 100 dpi to 0.2 %.
	leastStretch = .003
	// leastSpan is the least that the directions of lengths must differ to tell a stretch,
	// as the determinant of the squares of their shares across and up.
	leastSpan = .1
	// mostLength is the longest length in mm: the limit of coordinates on the bench.
	mostLength = 1e5
)

// ScaleOf returns the scale that makes the known lengths true with the least squares of
// what they are off by.
func ScaleOf(known []Known) (Scale, error) {
	if len(known) == 0 {
		return Scale{}, errors.New("a length that is known makes a picture true: there is none")
	}
	var dl, dd float64
	for i, k := range known {
		d := k.From.Dist(k.To)
		switch {
		case !k.From.Finite() || !k.To.Finite():
			return Scale{}, fmt.Errorf("length %d has an end without a place", i+1)
		case !(k.Length > 0) || k.Length > mostLength:
			return Scale{}, fmt.Errorf("length %d must lie above 0 and be at most 100 m", i+1)
		case d > mostKnown:
			return Scale{}, fmt.Errorf("the ends of length %d lie %.3g px apart: no picture is as large as that", i+1, d)
		case !(d >= leastKnown):
			return Scale{}, fmt.Errorf("the ends of length %d lie %.3g px apart: take a longer one, at least %g px", i+1, d, leastKnown)
		}
		dl, dd = dl+d*k.Length, dd+d*d
	}
	s := Scale{MM: dl / dd, Each: make([]float64, len(known))}
	s.Across, s.Up = s.MM, s.MM
	var sum float64
	for i, k := range known {
		s.Each[i] = s.MM*k.From.Dist(k.To) - k.Length
		sum += s.Each[i] * s.Each[i]
		if math.Abs(s.Each[i]) > math.Abs(s.Each[s.Worst]) {
			s.Worst = i
		}
	}
	if len(known) > 1 {
		// One of the lengths is used up by the scale.
		s.RMS = math.Sqrt(sum / float64(len(known)-1))
	}
	if x, y, ok := stretchOf(known); ok && math.Abs(x/y-1) > leastStretch {
		s.Uneven, s.Across, s.Up = true, x, y
	}
	return s, nil
}

// stretchOf returns the scales across and up that make the lengths true, if they run in
// directions that tell them apart: L² = x² dx² + y² dy² is linear in x² and y².
func stretchOf(known []Known) (x, y float64, ok bool) {
	var aa, ab, bb, ac, bc float64
	for _, k := range known {
		v := k.To.Sub(k.From)
		w := 1 / v.Dot(v)
		a, b, c := v.X*v.X*w, v.Y*v.Y*w, k.Length*k.Length*w
		aa, ab, bb, ac, bc = aa+a*a, ab+a*b, bb+b*b, ac+a*c, bc+b*c
	}
	det := aa*bb - ab*ab
	if !(det > leastSpan) {
		return 0, 0, false
	}
	xx, yy := (ac*bb-bc*ab)/det, (aa*bc-ab*ac)/det
	if !(xx > 0) || !(yy > 0) {
		return 0, 0, false
	}
	return math.Sqrt(xx), math.Sqrt(yy), true
}
