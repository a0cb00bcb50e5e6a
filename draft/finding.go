package draft

import "hemlet/geom"

// Gravity says how much a finding matters.
type Gravity int

const (
	// Problem: cloth would be lost.
	Problem Gravity = iota
	// LookAgain: probably not meant.
	LookAgain
	// Remark: worth knowing.
	Remark
)

var gravityNames = names[Gravity]{"problem", "look again", "note"}

func (l Gravity) String() string               { return gravityNames.text(l) }
func (l Gravity) MarshalText() ([]byte, error) { return gravityNames.marshal(l) }

// UnmarshalText reads one of problem, look again, note.
func (l *Gravity) UnmarshalText(b []byte) error { return gravityNames.unmarshal(l, b, "gravity") }

// Finding is one thing that a check has to say.
type Finding struct {
	// Key is stable from one check to the next as long as the same thing is wrong
	// at the same place; a waiver points at it.
	Key   string
	Level Gravity
	// About names what it is about ("seam side", "Front, edge neck"); Says is what
	// is wrong, by how much, why it matters and what would mend it.
	About, Says string
	// Value and Limit are in mm, both 0 where the finding is no matter of size.
	Value, Limit float64
	// Piece, Edge and Seam say where, as far as they apply; At is the place in
	// the piece's own millimetres, nil where it is no single place.
	Piece, Edge, Seam ID
	At                *geom.Point
	// Wearer and Derivation say whose measures or which drafted block it is about,
	// Measures which measures to look at.
	Wearer, Derivation ID
	Measures           []string
	// Mends are what would put it right, the likeliest first. What a mend moves is not
	// known before it is done; see Movement.
	Mends []Mend
	// Waived is the reason for which the maker lives with it, or empty.
	Waived string
}

// Open reports whether the finding has not been waived.
func (f Finding) Open() bool { return f.Waived == "" }

// Worst returns the level of the gravest open finding, or false if there is none.
func Worst(findings []Finding) (Gravity, bool) {
	worst, any := Remark, false
	for _, f := range findings {
		if f.Open() {
			worst, any = min(worst, f.Level), true
		}
	}
	return worst, any
}
