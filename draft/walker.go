package draft

import (
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// Walker walks a seam as a pattern maker does by hand: the pieces of one side lie still,
// joined end to end as they are sewn, and those of the other roll along them, stitching
// line on stitching line, so that one sees whether both come to the end together and
// whether the notches meet. All pieces lie right side up, with the seam open between
// them.
//
// Lengths are mm. A Walker holds for the project that it was made from and changes
// nothing.
type Walker struct {
	// Seam is the seam, and Still the side that lies still.
	Seam  *Seam
	Still Side
	// FromEnd says that it is walked from its end to its start.
	FromEnd bool
	// TurnedOver says that the rolling pieces are shown wrong side up: the seam joins two
	// edges whose pieces would otherwise lie on one another.
	TurnedOver bool

	still, rolling laidRow
	// pair matches the places of the two sides; less is the side of it that is not fuller.
	pair geom.Walk
	less Side
	// length is how far along the still side it can be walked.
	length float64
	stops  []WalkStop
}

// Laid is one half of a copy of a piece as it lies while a seam is walked. A piece that
// is cut on the fold is there with both halves.
type Laid struct {
	Piece *Piece
	Copy  CopyRef
	Half  Half
	// Map takes the piece's own millimetres to the bench's; it keeps lengths.
	Map geom.Affine
}

// WalkStep is one position of a walk.
type WalkStep struct {
	// Still and Rolling are the pieces as they lie.
	Still, Rolling []Laid
	// Contact is where the two sides touch on the bench, and Tangent the unit direction
	// in which the seam is walked there.
	Contact, Tangent geom.Point
	// AtA and AtB are how far along their sides the two touch, RestA and RestB what is
	// left of each.
	AtA, AtB, RestA, RestB float64
	// NotchHere says that a side has a notch here.
	NotchHere bool
	// Roll takes the plane of the rolling side, in which its line lies, to the bench.
	Roll geom.Affine
}

// WalkStop is a notch that the walk comes to.
type WalkStop struct {
	// At is how far along the still side that is.
	At float64
	// Side bears the notch.
	Side  Side
	Piece *Piece
	Notch Notch
	// Use is the edge as it is sewn.
	Use EdgeUse
}

// Walker returns the walk along a seam. The first of the pieces that lie still stays
// where it lies on the bench; of a piece that is cut in pairs the mirror image lies in
// its place where the seam sews that.
//
// Places are matched by the intended ratio, evenly or within the stretch in which the
// fullness lies, so that what is too long or too short is left over at the end. Where the
// stretch is too short for so much fullness, it is taken to lie all along. It is an error
// if a piece or an edge is gone or a side has no length.
func (s *Slots) Walker(p *Project, seam ID, still Side) (*Walker, error) {
	return s.walker(p, seam, still, false)
}

// WalkerFromEnd is Walker from the end of the seam to its start: what does not fit is
// left over at the start.
func (s *Slots) WalkerFromEnd(p *Project, seam ID, still Side) (*Walker, error) {
	return s.walker(p, seam, still, true)
}

func (s *Slots) walker(p *Project, id ID, still Side, fromEnd bool) (*Walker, error) {
	seam := p.Seam(id)
	if seam == nil {
		return nil, fmt.Errorf("walk a seam: seam %s is gone", id)
	}
	w := &Walker{Seam: seam, Still: still, FromEnd: fromEnd, less: SideB - seam.Fuller}
	a, b := seam.side(still), seam.side(SideB-still)
	if fromEnd {
		a, b = a.reversed(), b.reversed()
	}
	if len(a) == 0 || len(b) == 0 {
		return nil, fmt.Errorf("walk a seam: a side of %s has no edge", seam.Name)
	}
	at := s.lookupIn(p)
	var err error
	if w.still, err = p.layRow(a, at, layOnBench); err != nil {
		return nil, fmt.Errorf("walk a seam: %w", err)
	}
	if w.rolling, err = p.layRow(b, at, layAsDrawn); err != nil {
		return nil, fmt.Errorf("walk a seam: %w", err)
	}
	w.TurnedOver = a[0].forward() == b[0].forward()
	if err := w.match(); err != nil {
		return nil, fmt.Errorf("walk a seam: %w", err)
	}
	w.findStops()
	return w, nil
}

// side returns the run of a side.
func (s *Seam) side(k Side) Run {
	if k == SideA {
		return s.A
	}
	return s.B
}

// layAsDrawn lays a copy as it was drawn.
func layAsDrawn(*Piece, CopyRef) geom.Affine { return geom.Identity }

// layOnBench lays a copy where its piece lies on the bench, a mirrored one in the place of
// what is drawn, turned over from side to side.
func layOnBench(piece *Piece, copy CopyRef) geom.Affine {
	place := piece.Place.Affine()
	if !copy.Mirrored {
		return place
	}
	middle := piece.DrawnPath().Transform(place).Bounds().Center()
	turned, _ := geom.Reflection(middle, middle.Add(geom.Pt(0, 1)))
	return Copy{Ref: copy, Mirror: true}.Affine().Then(place).Then(turned)
}

// match finds how the places of the two sides belong together and how far they do.
func (w *Walker) match() error {
	s := w.Seam
	from, to := s.From, s.To
	if w.FromEnd {
		from, to = 1-to, 1-from
	}
	w.pair = geom.Walk{A: w.row(w.less).line, B: w.row(s.Fuller).line, Ratio: s.Ratio}
	if from > 0 || to < 1 {
		// The stretch is told on the fuller side, as long as that is meant to be.
		less := w.pair.A.Length()
		full := s.Ratio * less
		w.pair.From, w.pair.To = from*full, to*full-(s.Ratio-1)*less
		if w.pair.Check() != nil {
			w.pair.From, w.pair.To = 0, 0
		}
	}
	if err := w.pair.Check(); err != nil {
		return fmt.Errorf("the sides of %s cannot be laid together: %w", s.Name, err)
	}
	w.length = min(w.still.line.Length(), w.toStill(w.rolling.line.Length()))
	return nil
}

// row returns the pieces of a side.
func (w *Walker) row(k Side) laidRow {
	if k == w.Still {
		return w.still
	}
	return w.rolling
}

// toRolling returns the place on the rolling side that belongs to one on the still side.
func (w *Walker) toRolling(a float64) float64 {
	if w.Still == w.less {
		return w.pair.ToB(a)
	}
	return w.pair.ToA(a)
}

// toStill is the inverse of toRolling.
func (w *Walker) toStill(b float64) float64 {
	if w.Still == w.less {
		return w.pair.ToA(b)
	}
	return w.pair.ToB(b)
}

// Length returns how far along the still side the seam can be walked, in mm: until the
// first of the two sides ends. What is left of the other there is what does not fit.
func (w *Walker) Length() float64 { return w.length }

// SideLength returns the whole length of a side in mm.
func (w *Walker) SideLength(k Side) float64 { return w.row(k).line.Length() }

// Wanted returns how long the side is meant to be by the length of the other, in mm.
func (w *Walker) Wanted(k Side) float64 {
	other := w.SideLength(SideB - k)
	if k == w.Seam.Fuller {
		return other * w.Seam.Ratio
	}
	return other / w.Seam.Ratio
}

// Stops lists the notches of both sides in the order in which the walk comes to them.
func (w *Walker) Stops() []WalkStop { return w.stops }

// At returns the position at a place of the still side, in mm from where the walk begins,
// held within 0 and Length. The rolling pieces lie with their line on the still one, in
// one direction; where the fullness lies, they slip by the local ratio. Past the mouth of
// a dart, and from one edge to the next, they go on from where the line goes on.
func (w *Walker) At(a float64) WalkStep {
	a = min(max(a, 0), w.length)
	b := min(max(w.toRolling(a), 0), w.rolling.line.Length())
	var step WalkStep
	on, okOn := w.still.line.After(a)
	by, okBy := w.rolling.line.After(b)
	step.Roll = geom.Identity
	if okOn && okBy {
		step.Contact, step.Tangent = w.still.line.Point(on), w.still.line.Tangent(on)
		step.Roll, _ = laidTo(w.rolling.line.Point(by), w.rolling.line.Tangent(by), step.Contact, step.Tangent, w.TurnedOver)
	}
	step.Still, step.Rolling = w.still.laid(geom.Identity), w.rolling.laid(step.Roll)
	step.AtA, step.AtB = a, b
	if w.Still == SideB {
		step.AtA, step.AtB = b, a
	}
	step.RestA, step.RestB = w.SideLength(SideA)-step.AtA, w.SideLength(SideB)-step.AtB
	step.NotchHere = slices.ContainsFunc(w.stops, func(s WalkStop) bool { return math.Abs(s.At-a) <= placeReach })
	return step
}

// ContactAt returns where the two touch on the bench at a place of the still side.
func (w *Walker) ContactAt(a float64) geom.Point {
	on, ok := w.still.line.After(min(max(a, 0), w.length))
	if !ok {
		return geom.Point{}
	}
	return w.still.line.Point(on)
}

// Share returns the share of side A's length, from its start, that belongs to a place of
// the walk: the way in which a mark of a seam is kept.
func (w *Walker) Share(a float64) float64 {
	step := w.At(a)
	share := shareAlong(step.AtA, w.SideLength(SideA))
	if w.FromEnd {
		return 1 - share
	}
	return share
}

// Lines returns the parts of a side that are walked already and those that are to come,
// on the bench.
func (w *Walker) Lines(k Side, step WalkStep) (done, rest []geom.Path) {
	row, at := w.row(k), step.AtA
	if k == SideB {
		at = step.AtB
	}
	done, rest = row.line.Between(0, at), row.line.Between(at, row.line.Length())
	if k == w.Still {
		return done, rest
	}
	for _, list := range [][]geom.Path{done, rest} {
		for i := range list {
			list[i] = list[i].Transform(step.Roll)
		}
	}
	return done, rest
}

// findStops notes where the notches of both sides are met.
func (w *Walker) findStops() {
	for _, k := range [...]Side{SideA, SideB} {
		for _, use := range w.row(k).uses {
			length := use.to - use.from
			for _, n := range use.piece.Notches {
				if n.Edge != use.Edge {
					continue
				}
				at := n.Along(length)
				if use.Reversed {
					at = length - at
				}
				at += use.from
				if k != w.Still {
					at = w.toStill(at)
				}
				w.stops = append(w.stops, WalkStop{at, k, use.piece, n, use.EdgeUse})
			}
		}
	}
	slices.SortStableFunc(w.stops, func(a, b WalkStop) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
}
