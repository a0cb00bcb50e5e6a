package block_test

import (
	"math"
	"testing"

	"hemlet/draft/block"
	"hemlet/draft/formula"
	"hemlet/geom"
)

const (
	// cornerSlack, in radians, is how far two hems may be from running straight on over the
	// side seam: no more than the rounding of numbers.
	cornerSlack = 1e-9
	// alikeSlack, in radians, is by how much their turns may differ: they are made alike
	// before the sides are trued, which moves their ends a little.
	alikeSlack = 5 * math.Pi / 180
	// mostLean, in radians, is how far a hem leans at most: bodies that ask for more get
	// hems that do not turn alike.
	mostLean = 15 * math.Pi / 180
	// mostSlant is how far a side may go sideways for its length for the hems to lean in full.
	mostSlant = 0.6
)

// TestHemRunsOnOverTheSide: with the side seam sewn, front and back hem of the bodice go
// on in one direction (common practice, no source), and neither swings out for it more
// than the other: both turn over their chords alike. The bodies are those of the survey
// that are kept.
func TestHemRunsOnOverTheSide(t *testing.T) {
	b := builtin(t, "bodice")
	checked := 0
	for _, c := range sampleCases(t) {
		sheet, err := b.Draft(c.given, nil)
		if err != nil || toldOf(sheet, "changes too fast") {
			continue
		}
		d := readSheet(sheet)
		// The front is turned over, so that its centre lies to the left as the back's does.
		over := geom.Scaling(-1, 1)
		backHem, backSide := d.curve("back_hem"), d.curve("back_side")
		frontHem, frontSide := d.curve("front_hem").Transform(over), d.curve("front_side").Transform(over)
		back, front := corner(backHem, backSide), corner(frontHem, frontSide)
		if off := math.Abs(back + front - math.Pi); off > cornerSlack {
			t.Errorf("%s: the hems meet at %.6f degrees", c.name, (back+front)*180/math.Pi)
		}
		checked++
		limited := math.Abs(d.values["hem_lean"].(formula.Angle).Rad) > mostLean-cornerSlack || d.values["hem_slant"].(float64) > mostSlant
		if off := math.Abs(overChord(backHem) - overChord(frontHem)); off > alikeSlack && !limited {
			t.Errorf("%s: the back hem turns %.1f degrees over its chord, and the front hem %.1f", c.name, overChord(backHem)*180/math.Pi, overChord(frontHem)*180/math.Pi)
		}
	}
	if checked < 20 {
		t.Errorf("only %d bodies were drafted", checked)
	}
}

// corner returns the angle inside the piece between a hem and a side that comes down to
// its end.
func corner(hem, side geom.Path) float64 {
	back := hem[len(hem)-1]
	up := side[len(side)-1]
	return math.Remainder(endOf(back).Mul(-1).Angle()-endOf(up).Mul(-1).Angle(), 2*math.Pi)
}

// endOf returns the direction in which a stretch ends.
func endOf(s geom.Segment) geom.Point {
	if s.Straight {
		return s.P3.Sub(s.P0)
	}
	return s.P3.Sub(s.P2)
}

// overChord returns by how much a line that leaves its start level ends more turned than
// an arc over its chord.
func overChord(p geom.Path) float64 {
	return endOf(p[len(p)-1]).Angle() - 2*p.End().Sub(p.Start()).Angle()
}

func toldOf(s *block.Sheet, name string) bool {
	for _, t := range s.Told {
		if t.Name == name {
			return true
		}
	}
	return false
}
