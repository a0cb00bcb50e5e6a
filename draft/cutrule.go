package draft

import "fmt"

// CutWay is how the copies of a piece are laid out of the cloth.
type CutWay int

const (
	CutSingle CutWay = iota // as drawn
	CutPairs                // right and left, mirror images
	CutOnFold               // the half is drawn and unfolded on its fold edge
)

var cutWayNames = names[CutWay]{"single", "pairs", "on fold"}

func (w CutWay) String() string               { return cutWayNames.text(w) }
func (w CutWay) MarshalText() ([]byte, error) { return cutWayNames.marshal(w) }

// UnmarshalText reads one of single, pairs, on fold.
func (w *CutWay) UnmarshalText(b []byte) error { return cutWayNames.unmarshal(w, b, "way to cut") }

// CutWays lists every way in the order in which a person is offered them.
func CutWays() []CutWay { return cutWayNames.all() }

// MaxCount bounds how often one piece is cut.
const MaxCount = 999

// CutRule says how often and how a piece is cut.
type CutRule struct {
	Way CutWay
	// Count is how many times, from 1 to MaxCount: copies, pairs, or folded copies.
	Count int
}

// Copies returns how many bits of cloth the rule makes.
func (r CutRule) Copies() int {
	if r.Way == CutPairs {
		return 2 * r.Count
	}
	return r.Count
}

// String returns the rule as a pattern states it: "cut 2", "cut 1 on fold".
func (r CutRule) String() string {
	switch r.Way {
	case CutOnFold:
		return fmt.Sprintf("cut %d on fold", r.Count)
	case CutPairs:
		return fmt.Sprintf("cut %d, mirrored", 2*r.Count)
	default:
		return fmt.Sprintf("cut %d", r.Count)
	}
}
