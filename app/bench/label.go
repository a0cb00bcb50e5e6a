package bench

import (
	"math"
	"sort"

	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
)

// Sizes of the label in screen units.
const (
	nameSize = 15
	lineSize = 11.5
)

// labelFlat is how far, in mm, the chords may lie from the outline when a place for
// the label is sought; nothing is drawn by them.
const labelFlat = 0.5

// Heights in screen units that the name alone, and the name with the line under
// it, need.
const (
	nameTall = 22
	bothTall = 60
)

// lineAfter keeps the second line away until the name has more room than it needs, as
// a share of the room that is there.
const lineAfter = 0.75

// letterWide is about how wide a letter is, as a share of its size.
const letterWide = 0.56

// label sets the name of the piece, and what it is cut from where there is room. The
// name comes first: where it must be cut short there is no second line.
func (d *pieceDrawing) label(cloth *draft.Cloth) {
	at, room := d.labelPlace()
	tall := d.tallAt(at)
	name := roomFor(d.piece.Name, nameSize, room, tall, nameTall)
	d.add(paint.Text{
		At: at, DY: 2, Text: d.piece.Name, Size: nameSize, Weight: paint.SemiBold, Halo: paint.Of(paint.Cloth),
		Colour: paint.Of(paint.Ink), Anchor: paint.Middle, Room: name, Least: d.box.W(),
	})
	line := d.piece.Cut.String()
	if cloth != nil {
		line = cloth.Name + " · " + line
	}
	d.add(paint.Text{
		At: at, DY: 19, Text: line, Size: lineSize,
		Colour: paint.Of(paint.Faint), Anchor: paint.Middle,
		Room: min(roomFor(line, lineSize, room, tall, bothTall), lineAfter*name*float64(len([]rune(line)))/float64(max(len([]rune(d.piece.Name)), 1))),
	})
}

// roomFor returns the width in mm to allow a text: what there is, or less where the
// height is what is wanting, so that the text is left out in time. Sizes on the
// screen and in mm change against one another with the zoom; widths and heights of
// a text do not.
func roomFor(text string, size, wide, tall, needs float64) float64 {
	textWide := float64(len([]rune(text))) * size * letterWide
	return min(wide, tall*textWide/needs)
}

// tallAt returns how much height the piece has about a place, in mm.
func (d *pieceDrawing) tallAt(at geom.Point) float64 {
	on := d.place.Apply(at)
	up, down := math.Inf(1), math.Inf(1)
	flat := d.stitch.Transform(d.place).Flatten(labelFlat)
	for i := 1; i < len(flat); i++ {
		a, b := flat[i-1], flat[i]
		if (a.X <= on.X) == (b.X <= on.X) {
			continue
		}
		y := a.Y + (b.Y-a.Y)*(on.X-a.X)/(b.X-a.X)
		if y >= on.Y {
			up = min(up, y-on.Y)
		} else {
			down = min(down, on.Y-y)
		}
	}
	return 2 * min(up, down)
}

// labelPlace returns where the label is centred and the width in mm that it has
// there: at the piece's own place or else across the widest level stretch near the
// middle, clear of the grain line.
func (d *pieceDrawing) labelPlace() (at geom.Point, room float64) {
	outline := d.stitch.Transform(d.place)
	flat := outline.Flatten(labelFlat)
	box := outline.Bounds()
	if own := d.piece.LabelAt; own != nil {
		at := d.place.Apply(*own)
		for _, s := range d.level(flat, at.Y) {
			if s.from <= at.X && at.X <= s.to {
				return *own, 2 * math.Min(at.X-s.from, s.to-at.X) * labelShare
			}
		}
		return *own, box.W()
	}
	best := box.Center()
	for _, share := range []float64{0.5, 0.58, 0.42, 0.66, 0.34} {
		y := box.Min.Y + share*box.H()
		for _, s := range d.level(flat, y) {
			// A place off the middle must be clearly roomier to be taken.
			if w := s.to - s.from; w*labelShare > room*1.1 {
				best, room = geom.Pt((s.from+s.to)/2, y), w*labelShare
			}
		}
	}
	return d.back.Apply(best), room
}

// labelShare is how much of a level stretch a label may take.
const labelShare = 0.84

type stretch struct{ from, to float64 }

// level returns the stretches of the level line at y, on the bench, that lie inside
// the piece, divided where the grain line crosses.
func (d *pieceDrawing) level(flat []geom.Point, y float64) []stretch {
	var xs []float64
	for i := 1; i < len(flat); i++ {
		a, b := flat[i-1], flat[i]
		if (a.Y <= y) != (b.Y <= y) {
			xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
		}
	}
	sort.Float64s(xs)
	var out []stretch
	for i := 1; i < len(xs); i += 2 {
		out = append(out, d.besideGrain(stretch{xs[i-1], xs[i]}, y)...)
	}
	return out
}

func (d *pieceDrawing) besideGrain(s stretch, y float64) []stretch {
	g := d.piece.Grain
	if g == nil {
		return []stretch{s}
	}
	a, b := d.place.Apply(g.From), d.place.Apply(g.To)
	if a.Y > b.Y {
		a, b = b, a
	}
	if y < a.Y || y > b.Y || a.Y == b.Y {
		return []stretch{s}
	}
	x := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
	if x <= s.from || x >= s.to {
		return []stretch{s}
	}
	return []stretch{{s.from, x}, {x, s.to}}
}
