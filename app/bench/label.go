package bench

import (
	"math"
	"sort"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
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

// nameDrop is how far the baseline of the name lies below its middle, in screen units.
const nameDrop = 5

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
	drop := 2.0
	if tall < letterDepth {
		drop = nameDrop // alone in the middle
	}
	d.add(paint.Text{
		At: at, DY: drop, Text: d.piece.Name, Size: nameSize, Weight: paint.SemiBold, Halo: paint.Of(paint.Cloth),
		Colour: paint.Of(paint.Ink), Anchor: paint.Middle, Room: name, Least: d.box.W(),
	})
	line := d.piece.Cut.String()
	if cloth != nil {
		line = cloth.Name + " · " + line
	}
	d.add(paint.Text{
		At: at, DY: 19, Text: line, Size: lineSize,
		Colour: paint.Of(paint.Faint), Anchor: paint.Middle, Yield: wordYields,
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
// middle, clear of the grain line and the darts. A place that a block has proposed
// gives way to a much roomier one; one that the maker has chosen does not.
func (d *pieceDrawing) labelPlace() (at geom.Point, room float64) {
	outline := d.stitch.Transform(d.place)
	flat := outline.Flatten(labelFlat)
	box := outline.Bounds()
	best, band := box.Center(), d.labelBand()
	for _, b := range []labelBand{band, nameBand(box)} {
		for _, share := range labelHeights {
			y := box.Min.Y + share*box.H()
			for _, s := range d.level(flat, y, b) {
				// A place off the middle must be clearly roomier to be taken.
				if w := s.to - s.from; w*labelShare > room*1.1 {
					best, room, band = geom.Pt((s.from+s.to)/2, y), w*labelShare, b
				}
			}
		}
		if room > 0 {
			break // else there is room for the name alone, if for anything
		}
	}
	if own := d.piece.LabelAt; own != nil {
		has := d.roomAt(flat, d.place.Apply(*own), band)
		if !d.proposed(*own) {
			return *own, max(has, box.W()*labelLeast)
		}
		if has > room*labelMoves {
			return *own, has
		}
	}
	return d.back.Apply(best), room
}

// labelMoves is the share of the roomiest place's width below which a label leaves the
// place that a block has proposed, labelLeast the share of a piece's width that a label
// gets in any case where the maker has put it.
const (
	labelMoves = 0.6
	labelLeast = 0.5
)

// proposed reports whether a place for the label is the one that the piece's block has
// proposed.
func (d *pieceDrawing) proposed(at geom.Point) bool {
	made := d.piece.Derived
	return made != nil && made.Rest != nil && made.Rest.LabelAt != nil && *made.Rest.LabelAt == at
}

// roomAt returns the width that a label centred at a place of the bench has.
func (d *pieceDrawing) roomAt(flat []geom.Point, at geom.Point, band labelBand) float64 {
	for _, s := range d.level(flat, at.Y, band) {
		if s.from <= at.X && at.X <= s.to {
			return 2 * math.Min(at.X-s.from, s.to-at.X) * labelShare
		}
	}
	return 0
}

// labelShare is how much of a level stretch a label may take.
const labelShare = 0.84

type stretch struct{ from, to float64 }

// level returns the stretches of the level line at y, on the bench, that lie inside
// the piece, divided where the grain line and darts cross.
func (d *pieceDrawing) level(flat []geom.Point, y float64, band labelBand) []stretch {
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
		out = append(out, stretch{xs[i-1], xs[i]})
	}
	for _, gap := range d.inTheWay(y, band) {
		out = without(out, gap)
	}
	return out
}

// labelHeights are the heights at which a label is tried, as shares of the piece's height,
// those next to the middle first.
var labelHeights = []float64{0.5, 0.54, 0.46, 0.58, 0.42, 0.62, 0.38, 0.66, 0.34, 0.72, 0.28}

// labelBand is how far above and below the name, in mm, has to be free for a label.
type labelBand struct{ up, down float64 }

// The bands of the name alone and of the name with the line under it, as shares of the
// piece's height: about so much do they take of a piece that is seen whole.
const (
	nameShare = 0.04
	lineShare = 0.1
)

func nameBand(box geom.Rect) labelBand { return labelBand{nameShare * box.H(), nameShare * box.H()} }

func (d *pieceDrawing) labelBand() labelBand {
	return labelBand{max(nameShare*d.box.H(), 2*letterHalf), lineShare * d.box.H()}
}

// letterHalf is about half of how large a letter is, in mm, on a piece that is seen whole.
const letterHalf = 2.5

// inTheWay returns what of the level line at y lies under the grain line, the darts, the
// lines and the letters of seams.
func (d *pieceDrawing) inTheWay(y float64, band labelBand) []stretch {
	var out []stretch
	add := func(corners ...geom.Point) {
		if s, ok := inBand(corners, y-band.down, y+band.up); ok {
			out = append(out, s)
		}
	}
	if g := d.piece.Grain; g != nil {
		add(d.place.Apply(g.From), d.place.Apply(g.To))
	}
	for _, dart := range d.piece.Darts {
		from, _, _ := d.piece.Node(dart.From)
		to, _, _ := d.piece.Node(dart.To)
		if from != nil && to != nil {
			add(d.place.Apply(from.At), d.place.Apply(dart.Apex), d.place.Apply(to.At))
		}
	}
	for i := range d.parts {
		if x := &d.parts[i]; x.ref.Kind == desk.Line {
			for _, path := range x.paths {
				add(path.Transform(d.place).Flatten(labelFlat)...)
			}
		}
	}
	for _, at := range d.spots {
		add(at.Add(geom.Pt(-letterHalf, -letterHalf)), at.Add(geom.Pt(letterHalf, -letterHalf)), at.Add(geom.Pt(letterHalf, letterHalf)), at.Add(geom.Pt(-letterHalf, letterHalf)))
	}
	return out
}

// inBand returns how far a polygon reaches across between two heights.
func inBand(corners []geom.Point, low, high float64) (stretch, bool) {
	s := stretch{math.Inf(1), math.Inf(-1)}
	take := func(x float64) { s.from, s.to = min(s.from, x), max(s.to, x) }
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		if low <= a.Y && a.Y <= high {
			take(a.X)
		}
		for _, y := range []float64{low, high} {
			if (a.Y < y) != (b.Y < y) {
				take(a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
			}
		}
	}
	return s, s.from <= s.to
}

// without returns what of the stretches lies beside a gap.
func without(list []stretch, gap stretch) []stretch {
	var out []stretch
	for _, s := range list {
		if gap.to <= s.from || gap.from >= s.to {
			out = append(out, s)
			continue
		}
		if gap.from > s.from {
			out = append(out, stretch{s.from, gap.from})
		}
		if gap.to < s.to {
			out = append(out, stretch{gap.to, s.to})
		}
	}
	return out
}
