package draft

import (
	"strings"
	"unicode"
)

// The rules of scale for notches, in mm (common practice, no source).
const (
	// NotchClear is how far a cut notch stays away from the stitching line.
	NotchClear = 1
	// NotchBears is the widest allowance that is too narrow to be cut into.
	NotchBears = 4
	// NotchSpacing is how far the two ticks of a double notch lie apart, at most.
	NotchSpacing = 3
)

// NotchDepth returns how deep a notch reaches into an allowance of width mm: half of
// it, and no nearer than NotchClear to the stitching; and whether it may be cut. Where
// no depth of NotchClear is left the depth is 0, and the notch is drawn inside the
// stitching line.
func NotchDepth(width float64) (depth float64, cut bool) {
	depth = min(width/2, width-NotchClear)
	if depth < NotchClear {
		return 0, false
	}
	return depth, width > NotchBears+Grid
}

// behind are the words by which a name says that something is at the back of the
// garment, and before those for its front.
var (
	behind = []string{"back", "rear", "behind"}
	before = []string{"front", "fore"}
)

// isBehind reports whether the edge lies at the back of the garment, as the name of the
// edge, else the role or the name of the piece tells. Front is marked with one tick and
// back with two, so that a sleeve is not set in the wrong way round (common practice,
// no source).
func (p *Piece) isBehind(e *Edge) bool { return p.tells(e) > 0 }

// tells returns 1 where the names tell that the edge lies at the back of the garment, -1
// where they tell that it lies at its front, and 0 where they do not tell.
func (p *Piece) tells(e *Edge) int {
	names := []string{e.Name, p.Name, p.Garment}
	if p.Derived != nil {
		names = []string{e.Name, p.Derived.Role, p.Name, p.Garment}
	}
	for _, name := range names {
		back, front := saysAny(name, behind), saysAny(name, before)
		switch {
		case back && !front:
			return 1
		case front && !back:
			return -1
		}
	}
	return 0
}

// saysAny reports whether one of the words stands in the name.
func saysAny(name string, words []string) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) }) {
		for _, word := range words {
			if w == word {
				return true
			}
		}
	}
	return false
}
