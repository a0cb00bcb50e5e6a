package draft

// RowKind says what is set along a line that closes a garment.
type RowKind int

const (
	Buttons RowKind = iota
	Buttonholes
	Hooks
	HookEyes // what hooks catch in
	Snaps
	Eyelets // holes for lacing
	Exits   // where a drawstring comes out of its casing
)

var rowKindNames = names[RowKind]{"buttons", "buttonholes", "hooks", "eyes", "snaps", "eyelets", "exits"}

func (k RowKind) String() string               { return rowKindNames.text(k) }
func (k RowKind) MarshalText() ([]byte, error) { return rowKindNames.marshal(k) }

// UnmarshalText reads one of buttons, buttonholes, hooks, eyes, snaps, eyelets, exits.
func (k *RowKind) UnmarshalText(b []byte) error { return rowKindNames.unmarshal(k, b, "fastening") }

// RowKinds lists every kind in the order in which a person is offered them.
func RowKinds() []RowKind { return rowKindNames.all() }

// Row is a number of like fastenings spread evenly along a line.
type Row struct {
	Kind RowKind
	// Count is how many there are, from 1 to MaxCount.
	Count int
	// Size in mm is the diameter of a button, snap or eyelet, and the length of a
	// buttonhole, hook or exit.
	Size float64
	// First and Last, in mm, are how far the first and the last lie from the ends of
	// the line.
	First, Last float64
	// Across turns buttonholes, hooks and exits square to the line.
	Across bool
}
