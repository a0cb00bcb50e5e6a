package draft

// StretchKind says what is done along a stretch of an edge.
type StretchKind int

const (
	GatherStretch StretchKind = iota
	EaseStretch
	StayStretch // held by a tape or a line of stitches so that it does not grow
	ClipStretch // its allowance is clipped so that it turns; see ClipMarks
)

var stretchKindNames = names[StretchKind]{"gather", "ease", "stay", "clip"}

func (k StretchKind) String() string               { return stretchKindNames.text(k) }
func (k StretchKind) MarshalText() ([]byte, error) { return stretchKindNames.marshal(k) }

// UnmarshalText reads one of gather, ease, stay, clip.
func (k *StretchKind) UnmarshalText(b []byte) error {
	return stretchKindNames.unmarshal(k, b, "way to treat an edge")
}

// StretchKinds lists every kind in the order in which a person is offered them.
func StretchKinds() []StretchKind { return stretchKindNames.all() }

// Stretch marks a part of an edge along which the cloth is gathered, eased, held or clipped.
type Stretch struct {
	ID   ID
	Edge ID
	Kind StretchKind
	// From and To bound it, as shares of the edge's length from 0 to 1.
	From, To float64
}
