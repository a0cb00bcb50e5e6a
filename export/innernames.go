package export

import (
	"math"
	"strings"

	"hemlet/geom"
)

// noteShare is the size of the names of inner lines as a share of the piece's signs,
// leastNote the least in mm.
const (
	noteShare = 0.5
	leastNote = 1.6
)

// lineClear is how far in mm the box of a name stands off the line that it names, and
// lineApart off any other, at least.
const (
	lineClear = 0.4
	lineApart = 0.3
)

// ownBy is by how much in mm the middle of a name is nearer to its own line than to any
// other that bears a name, at least: else it reads as the name of that one.
const ownBy = 0.5

// addNotes writes to darts, slits, cut-outs and marked lines their names, or what they
// are.
func (l *Laid) addNotes(sign float64) {
	largest := math.Max(leastNote, noteShare*sign)
	for i, m := range l.Marks {
		words := noteWords(m)
		if words == "" {
			continue
		}
		if t, ok := l.nameOf(i, largest, words); ok {
			l.Notes = append(l.Notes, t)
		}
	}
}

// noteWords returns what is written to a mark, empty for nothing.
func noteWords(m Mark) string {
	switch m.Role {
	case Cutout:
		return strings.TrimPrefix(m.Name+", cut out", ", ")
	case Slit:
		if m.Name == "" {
			return "slit"
		}
		return m.Name
	case InternalLine, DartLegs, PlacementMark:
		return m.Name
	default:
		return ""
	}
}

// nameOf sets the words of mark i where there is room and nobody takes them for those
// of another line. Where there is no such place they stand near the mark, off all other
// words, and if that cannot be, nowhere.
func (l *Laid) nameOf(i int, largest float64, words string) (Text, bool) {
	m := l.Marks[i]
	for _, size := range [...]float64{largest, leastNote} {
		for _, t := range namePlaces(m, size, words) {
			s := t.slab()
			if free(slab{s.turn, s.box.Grow(lineApart)}, l, nil) && l.nearestTo(i, s.centre()) {
				return t, true
			}
		}
	}
	places := besidePlaces(m.Bounds(), leastNote, words)
	for _, t := range places {
		if free(t.slab(), l, nil) {
			return t, true
		}
	}
	for _, t := range places {
		if !meetsWords(t.slab(), l.Words()) {
			return t, true
		}
	}
	return Text{}, false
}

// nearestTo reports whether a place is nearer to mark i than to any other that bears a
// name of its own.
func (l *Laid) nearestTo(i int, p geom.Point) bool {
	own := l.Marks[i].distance(p)
	for k, m := range l.Marks {
		if k != i && noteWords(m) != "" && m.distance(p) < own+ownBy {
			return false
		}
	}
	return true
}

// distance returns how far in mm a place lies from the nearest line of the mark.
func (m Mark) distance(p geom.Point) float64 {
	least := math.Inf(1)
	for _, c := range m.Chains {
		_, d := c.Nearest(p)
		least = math.Min(least, d)
	}
	return least
}

// namePlaces returns where the name of a mark may stand, the best first: along a line,
// in or along a dart, in or beside what is closed.
func namePlaces(m Mark, size float64, words string) []Text {
	switch {
	case len(m.Chains) != 1 || m.Role == Cutout:
		return besidePlaces(m.Bounds(), size, words)
	case m.Role == DartLegs:
		return dartPlaces(m.Chains[0], size, words)
	case m.Chains[0].Closed():
		return append(insidePlaces(m.Chains[0], size, words), besidePlaces(m.Bounds(), size, words)...)
	default:
		return append(linePlaces(m.Chains[0], size, words, 1), linePlaces(m.Chains[0], size, words, -1)...)
	}
}

// mostBend is how far in sizes of the letters a line may bend away below words that
// stand along it.
const mostBend = 1.5

// linePlaces returns places along a line for words that are read from below or from
// the right: above the line for a side of 1, below it for -1.
func linePlaces(line geom.Path, size float64, words string, side float64) []Text {
	tape, width := line.Tape(), textWidth(words, size, false)
	length := tape.Length()
	at := func(d float64) geom.Point { return line.At(tape.At(math.Max(0, math.Min(length, d)))) }
	var out []Text
	for _, share := range letterPlaces {
		from, to := share*length-width/2, share*length+width/2
		if (from < 0 || to > length) && share != letterPlaces[0] {
			continue
		}
		a, b := at(from), at(to)
		turn := readable(b.Sub(a))
		along := geom.Rotation(turn, geom.Point{}).ApplyVector(geom.Pt(1, 0))
		middle := a.Lerp(b, 0.5)
		// How far the line reaches to either side of its chord under the words.
		low, high := 0.0, 0.0
		const looks = 12
		for k := 1; k < looks; k++ {
			off := at(from + (to-from)*float64(k)/looks).Sub(middle).Dot(along.Left())
			low, high = math.Min(low, off), math.Max(high, off)
		}
		if high-low > mostBend*size {
			continue
		}
		base := high + lineClear + textDepth*size
		if side < 0 {
			base = low - lineClear - textHeight*size
		}
		out = append(out, Text{At: middle.Add(along.Left().Mul(base)), Size: size, Turn: turn, Anchor: Middle, Words: words})
	}
	return out
}

// dartDepths are how deep in a dart its name may stand, as shares of the way from the
// mouth to the point.
var dartDepths = [...]float64{0.2, 0.3, 0.4, 0.15, 0.5, 0.1, 0.6}

// dartPlaces returns places for the name of a dart: between its legs, outside along
// one of them, before its point.
func dartPlaces(legs geom.Path, size float64, words string) []Text {
	from, point, to := legs.Start(), legs[0].P3, legs.End()
	mouth := from.Lerp(to, 0.5)
	axis := point.Sub(mouth)
	var out []Text
	for _, turn := range [...]float64{0, readable(axis)} {
		for _, depth := range dartDepths {
			out = append(out, centred(mouth.Add(axis.Mul(depth)), turn, size, words))
		}
	}
	first, second := geom.Path{geom.Line(from, point)}, geom.Path{geom.Line(to, point)}
	outer := func(leg geom.Path, other geom.Point) []Text {
		up := geom.Rotation(readable(point.Sub(leg.Start())), geom.Point{}).ApplyVector(geom.Pt(0, 1))
		return linePlaces(leg, size, words, math.Copysign(1, up.Dot(leg.Start().Sub(other))))
	}
	out = append(append(out, outer(first, to)...), outer(second, from)...)
	ahead := axis.Unit()
	reach := lineClear + math.Abs(ahead.X)*textWidth(words, size, false)/2 + math.Abs(ahead.Y)*size/2
	return append(out, centred(point.Add(ahead.Mul(reach)), 0, size, words))
}

// insidePlaces returns the middle of what is closed, for words across it and along it.
func insidePlaces(shape geom.Path, size float64, words string) []Text {
	middle, ok := shape.Centroid()
	if !ok {
		return nil
	}
	return []Text{centred(middle, 0, size, words), centred(middle, math.Pi/2, size, words)}
}

// centred sets words in a turn about the middle of their letters.
func centred(middle geom.Point, turn, size float64, words string) Text {
	up := geom.Rotation(turn, geom.Point{}).ApplyVector(geom.Pt(0, 1))
	return Text{At: middle.Sub(up.Mul((textHeight - textDepth) / 2 * size)), Size: size, Turn: turn, Anchor: Middle, Words: words}
}

// besidePlaces returns places below the box round a mark, above, in and beside it.
func besidePlaces(mark geom.Rect, size float64, words string) []Text {
	at, aside := mark.Center(), mark.W()/2+textWidth(words, size, false)/2+size/2
	middle := at.Y - (textHeight-textDepth)/2*size
	var out []Text
	for _, place := range [...]geom.Point{
		{X: at.X, Y: mark.Min.Y - size*1.2}, {X: at.X, Y: mark.Max.Y + size*0.5}, {X: at.X, Y: middle},
		{X: at.X + aside, Y: middle}, {X: at.X - aside, Y: middle},
	} {
		out = append(out, Text{At: place, Size: size, Anchor: Middle, Words: words})
	}
	return out
}
