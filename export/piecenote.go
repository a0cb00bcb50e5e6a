package export

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemlet/geom"
)

// The sizes in mm of a piece's note that stands apart from its label, and into lines
// of how many letters it is broken to find room, the best first.
const (
	largestNote  = 2.6
	smallestNote = 1.6
)

var noteLetters = [...]int{lineLetters, 48, 20, 12, math.MaxInt}

// apart sets the note of a piece where there is room beside the lines of its label, as
// near to them as it can be; nil where there is none.
func (r *room) apart(label []Text, note string) []Text {
	rest := *r
	rest.chords = slices.Clip(r.chords)
	box := geom.EmptyRect()
	for _, t := range label {
		rest.add(rectPath(t.Bounds().Grow(textApart)), noteFlat)
		box = box.Union(t.Bounds())
	}
	middle := box.Center()
	rest.spots = slices.Clone(r.spots)
	slices.SortStableFunc(rest.spots, func(a, b geom.Point) int {
		return cmp.Compare(a.Dist(middle), b.Dist(middle))
	})
	for size := largestNote; size >= smallestNote; size *= letterStep {
		for _, letters := range noteLetters {
			var lines []wording
			for _, words := range wrap(note, letters) {
				lines = append(lines, wording{words, 1, false})
			}
			if set, _ := rest.largest(blockOf(lines), size, size); set != nil {
				return set
			}
		}
	}
	return nil
}

// noteFlat is the tolerance in mm to which lines of text are taken as chords; their
// boxes are straight.
const noteFlat = 0.02

// leftOut tells the notes of pieces that have no room to be printed.
func (r *Report) leftOut(pieces []*Laid) {
	for _, l := range pieces {
		if l.Label.NoteLeftOut {
			r.Notices = append(r.Notices, fmt.Sprintf("%s has no room for its note, which is not printed: %s", l.title(), strings.Join(strings.Fields(l.Piece.Note), " ")))
		}
	}
}
