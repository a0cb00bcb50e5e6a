package draft

import "hemlet/geom"

// Press says to which side a sewn dart is pressed; it shapes the cap, the bit of
// cut line across the mouth.
type Press int

const (
	PressToStart Press = iota // towards the part of the edge before the dart
	PressToEnd                // towards the part after it
	PressOpen                 // slashed and pressed open
)

var pressNames = names[Press]{"to start", "to end", "open"}

func (p Press) String() string               { return pressNames.text(p) }
func (p Press) MarshalText() ([]byte, error) { return pressNames.marshal(p) }

// UnmarshalText reads one of to start, to end, open.
func (p *Press) UnmarshalText(b []byte) error { return pressNames.unmarshal(p, b, "way to press") }

// Dart is a wedge that is sewn shut. It lies on the outline: its two mouth nodes
// are neighbours inside one edge, and the stretch between them is a gap that
// counts for no length.
type Dart struct {
	ID   ID
	Name string
	Edge ID
	// From and To are the mouth nodes in the direction of the edge.
	From, To ID
	Apex     geom.Point
	Press    Press
}
