package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

const (
	// mostLean is how far, in radians (5 degrees), a grain line may lean for it to be meant
	// straight: a sheet that lies more askew on the glass of a scanner is laid again.
	mostLean = 5 * math.Pi / 180
	// leastLean is the lean in radians (0.05 degrees) from which on anybody could see it: a
	// third of a millimetre on a line of 40 cm.
	leastLean = 0.05 * math.Pi / 180
	// leansAlike is by how much, in radians (half a degree), lines of one sheet that were
	// drawn straight lean otherwise than one another.
	leansAlike = 0.5 * math.Pi / 180
)

// lean returns by how many radians, counter-clockwise, a grain line runs beside straight up or
// across, whichever is nearer; false where that is so much that it is meant.
func lean(along geom.Point) (float64, bool) {
	by := math.Remainder(math.Atan2(along.Y, along.X), math.Pi/2)
	return by, math.Abs(by) <= mostLean
}

// sheetLean returns by how much the sheet lay askew on which grain lines were drawn: the median
// of what they lean, false where they do not lean alike.
func sheetLean(along []geom.Point) (float64, bool) {
	var leans []float64
	for _, a := range along {
		if by, ok := lean(a); ok {
			leans = append(leans, by)
		}
	}
	if len(leans) == 0 || len(leans) < len(along) {
		return 0, false
	}
	slices.Sort(leans)
	return leans[len(leans)/2], leans[len(leans)-1]-leans[0] <= leansAlike
}

// turnsToGrain returns by how many radians pieces are turned on the bench for their grain to
// run straight up or across.
func (p *Project) turnsToGrain(refs []PieceRef) (map[ID]float64, error) {
	turns := make(map[ID]float64)
	var bare []ID
	var all []geom.Point
	for _, r := range refs {
		piece := p.Piece(ID(r))
		if piece == nil {
			return nil, fmt.Errorf("piece %s %w", r, errGone)
		}
		if piece.Grain == nil {
			bare = append(bare, piece.ID)
			continue
		}
		along := piece.Place.Affine().ApplyVector(piece.GrainWay())
		all = append(all, along)
		if by, ok := lean(along); ok && math.Abs(by) >= leastLean {
			turns[piece.ID] = -by
		}
	}
	if by, ok := sheetLean(all); ok && math.Abs(by) >= leastLean {
		for _, id := range bare {
			turns[id] = -by
		}
	}
	if len(turns) == 0 {
		return nil, errors.New("the grain of these pieces runs straight up or across, or leans by more than a little; give an angle")
	}
	return turns, nil
}
