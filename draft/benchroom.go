package draft

import (
	"cmp"
	"slices"

	"hemlet/geom"
)

// benchGap is the room in mm between pieces that are laid beside each other: a
// finger's width. benchRow is how wide a row of them grows before the next begins
// below it: the length of a cutting table.
const (
	benchGap = 20
	benchRow = 1500
)

// benchRoom knows what lies on the bench, so that what is new finds a free place.
type benchRoom struct {
	lying []lyingPiece
	box   geom.Rect
	// row is the place where the next piece that must move begins: its left and
	// its top. began says that there is a row.
	row   geom.Point
	began bool
}

// lyingPiece is the line round a piece where it lies.
type lyingPiece struct {
	line geom.Path
	box  geom.Rect
}

// lineOnBench returns the cut line of the piece where it lies, or its outline
// where there is none.
func (p *Piece) lineOnBench() lyingPiece {
	line := p.DrawnPath()
	if flat, err := LayFlat(p); err == nil {
		line = flat.Cut
	}
	line = line.Transform(p.Place.Affine())
	return lyingPiece{line, line.Bounds()}
}

func (b *benchRoom) take(p *Piece) { b.add(p.lineOnBench()) }

func (b *benchRoom) add(l lyingPiece) {
	if len(b.lying) == 0 {
		b.box = geom.EmptyRect()
	}
	b.lying = append(b.lying, l)
	b.box = b.box.Union(l.box)
}

// lay takes the piece where it lies if that is free; else it moves the piece to
// the right of everything, in rows.
func (b *benchRoom) lay(p *Piece) {
	here := p.lineOnBench()
	if b.covered(here) {
		move := b.free(here.box).Sub(geom.Pt(here.box.Min.X, here.box.Max.Y))
		p.Place.At = p.Place.At.Add(move)
		here = here.moved(move)
	}
	b.add(here)
}

// settle takes the piece where it lies if that is free; else it moves the piece to the
// free place nearest to there.
func (b *benchRoom) settle(p *Piece) {
	here := p.lineOnBench()
	if b.covered(here) {
		move := b.nearest(here.box)
		p.Place.At = p.Place.At.Add(move)
		here = here.moved(move)
	}
	b.add(here)
}

// benchNear is how many of the nearest pieces are tried as neighbours of a new one; past
// them it is out of sight anyway.
const benchNear = 24

// nearest returns the shortest way on which a piece of the size of box comes to a place
// where it lies clear of all others, beside, above or below some of them.
func (b *benchRoom) nearest(box geom.Rect) geom.Point {
	near := slices.Clone(b.lying)
	slices.SortStableFunc(near, func(l, m lyingPiece) int {
		return cmp.Compare(l.box.Center().Dist(box.Center()), m.box.Center().Dist(box.Center()))
	})
	var lefts []float64
	tops := []float64{box.Max.Y}
	for _, l := range near[:min(len(near), benchNear)] {
		lefts = append(lefts, l.box.Max.X+benchGap, l.box.Min.X-benchGap-box.W())
		tops = append(tops, l.box.Max.Y+benchGap+box.H(), l.box.Min.Y-benchGap)
	}
	lefts = append(lefts, box.Min.X) // beside before above and below
	// Right of everything there is always room.
	best := geom.Pt(b.box.Max.X+benchGap-box.Min.X, 0)
	for _, x := range lefts {
		for _, y := range tops {
			way := geom.Pt(x-box.Min.X, y-box.Max.Y)
			if way.Len() < best.Len() && !b.crowded(geom.Pt(x, y), box) {
				best = way
			}
		}
	}
	return best
}

// crowded reports whether a piece of the size of box would come nearer to another there
// than pieces are laid beside each other.
func (b *benchRoom) crowded(at geom.Point, box geom.Rect) bool {
	const rounding = 1e-6 // mm, of the places that are tried
	const clear = benchGap - rounding
	return b.taken(at.Add(geom.Pt(-clear, clear)), box.Grow(clear))
}

// covered reports whether a piece with that line would lie on another.
func (b *benchRoom) covered(l lyingPiece) bool { return slices.ContainsFunc(b.lying, l.covers) }

// free returns the left top of a free place for a piece of the size of box.
func (b *benchRoom) free(box geom.Rect) geom.Point {
	switch {
	case !b.began:
		b.row, b.began = geom.Pt(b.box.Max.X+benchGap, b.box.Max.Y), true
	case b.row.X+box.W() > b.box.Min.X+benchRow:
		b.row = geom.Pt(b.box.Min.X, b.box.Min.Y-benchGap)
	}
	// What lies in the way by its own choice is passed by.
	for b.taken(b.row, box) {
		b.row.X = b.box.Max.X + benchGap
	}
	at := b.row
	b.row.X += box.W() + benchGap
	return at
}

// taken reports whether something lies where a piece of the size of box would.
func (b *benchRoom) taken(at geom.Point, box geom.Rect) bool {
	there := geom.Rect{Min: geom.Pt(at.X, at.Y-box.H()), Max: geom.Pt(at.X+box.W(), at.Y)}
	for _, l := range b.lying {
		if there.Overlaps(l.box) {
			return true
		}
	}
	return false
}

func (l lyingPiece) moved(by geom.Point) lyingPiece {
	m := geom.Translation(by)
	return lyingPiece{l.line.Transform(m), geom.Rect{Min: m.Apply(l.box.Min), Max: m.Apply(l.box.Max)}}
}

// covers reports whether some cloth of the two lies on top of each other.
func (l lyingPiece) covers(o lyingPiece) bool {
	if !l.box.Overlaps(o.box) || len(l.line) == 0 || len(o.line) == 0 {
		return false
	}
	if l.line.Contains(o.line.Start()) || o.line.Contains(l.line.Start()) {
		return true
	}
	for _, s := range l.line {
		if !s.HandleBounds().Overlaps(o.box) {
			continue
		}
		for _, u := range o.line {
			for _, m := range s.Intersections(u) {
				if m.Kind != geom.Touches {
					return true
				}
			}
		}
	}
	return false
}
