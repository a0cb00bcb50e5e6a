package trim

import (
	"errors"
	"fmt"
	"math"
)

// Ruffle is a straight strip that is gathered or pleated to an edge. Lengths are mm.
type Ruffle struct {
	// Edge is the length of the edge that it is sewn to, above 0.
	Edge float64
	// Ratio is how many times as long as the edge the flat strip is, from 1 to MaxRatio.
	Ratio float64
	// ClothWidth is the usable width of the cloth, between its selvedges: the strips are
	// cut across it. 0 means that the cloth is long enough for one strip.
	ClothWidth float64
	// Join is the allowance that a join takes off each of the two strips.
	Join float64
	// Closed says that the ruffle is a ring: its last strip is joined to its first.
	Closed bool
	// End is the cloth that is turned under at each end of an open ruffle.
	End float64
}

// MaxRatio bounds how full a ruffle can be: sheers gather to three, ruffs to ten.
const MaxRatio = 20

// maxStrips bounds how many strips are counted: more are a slip of the pen.
const maxStrips = 999

// Strips are the strips of which a ruffle is pieced, all cut to one length.
type Strips struct {
	// Flat is the finished length of the ruffle in mm before it is gathered, without
	// joins and ends.
	Flat float64
	// Count is how many strips are cut, Joins how many seams join them.
	Count, Joins int
	// Length is what each strip is cut to in mm, joins and ends included.
	Length float64
}

// ErrNarrowCloth says that the joins leave nothing of a strip.
var ErrNarrowCloth = errors.New("the cloth is not wider than what two joins take off a strip")

// lengthSlack is by how much, in mm, a strip may be too short and still do: what
// rounding leaves of sums that come out even on paper.
const lengthSlack = 1e-6

// Strips returns how the ruffle is pieced of as few strips as can be. n strips of
// width W give n W - 2 s j with j joins of s each, n of them in a ring and one less in
// an open ruffle, less the two ends of an open one. Strips are cut equally long, so that
// no short bit is left over at one place of the edge.
func (r Ruffle) Strips() (Strips, error) {
	if err := r.check(); err != nil {
		return Strips{}, err
	}
	flat := r.Edge * r.Ratio
	n, err := r.count(flat)
	if err != nil {
		return Strips{}, err
	}
	s := Strips{Flat: flat, Count: n, Joins: r.joins(n)}
	s.Length = (flat + r.ends() + 2*r.Join*float64(s.Joins)) / float64(n)
	return s, nil
}

// count returns the least number of strips.
func (r Ruffle) count(flat float64) (int, error) {
	if r.ClothWidth == 0 {
		return 1, nil
	}
	gain := r.ClothWidth - 2*r.Join
	lacks := flat + r.ends() + 2*r.Join*float64(r.joins(1)) - r.ClothWidth
	if lacks <= lengthSlack {
		return 1, nil
	}
	if gain <= 0 {
		return 0, ErrNarrowCloth
	}
	// Each strip more adds its width less one join.
	n := 1 + math.Ceil((lacks-lengthSlack)/gain)
	if !(n <= maxStrips) {
		return 0, fmt.Errorf("that takes more than %d strips; is the cloth's width right?", maxStrips)
	}
	return int(n), nil
}

// joins returns how many seams join n strips.
func (r Ruffle) joins(n int) int {
	if r.Closed {
		return n
	}
	return n - 1
}

// ends returns what the two ends of an open ruffle take.
func (r Ruffle) ends() float64 {
	if r.Closed {
		return 0
	}
	return 2 * r.End
}

// maxLength bounds every length in mm: no garment is longer than a hundred metres.
const maxLength = 100_000

func (r Ruffle) check() error {
	switch {
	case !(r.Edge > 0 && r.Edge <= maxLength):
		return errors.New("the edge has to be longer than nothing and at most 100 m long")
	case !(r.Ratio >= 1 && r.Ratio <= MaxRatio):
		return fmt.Errorf("the ratio is the flat strip over the edge and lies between 1 and %d, not at %g", MaxRatio, r.Ratio)
	case !(r.ClothWidth >= 0 && r.ClothWidth <= maxLength):
		return errors.New("the cloth's width has to be from 0 to 100 m")
	case !(r.Join >= 0 && r.Join <= maxLength):
		return errors.New("what a join takes off has to be from 0 to 100 m")
	case !(r.End >= 0 && r.End <= maxLength):
		return errors.New("what is turned under at an end has to be from 0 to 100 m")
	}
	return nil
}
