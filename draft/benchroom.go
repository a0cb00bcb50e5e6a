package draft

import "hemlet/geom"

// benchGap is the room in mm between pieces that are laid beside each other: a
// finger's width.
const benchGap = 20

// benchRoom knows what lies on the bench, so that what is new finds a free place.
type benchRoom struct {
	lying []lyingPiece
	box   geom.Rect
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
// the right of everything.
func (b *benchRoom) lay(p *Piece) {
	here := p.lineOnBench()
	for _, other := range b.lying {
		if here.covers(other) {
			p.Place.At.X += b.box.Max.X + benchGap - here.box.Min.X
			here = p.lineOnBench()
			break
		}
	}
	b.add(here)
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
