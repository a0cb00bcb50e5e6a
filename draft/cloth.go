package draft

// Layer says on which layer of a garment a piece lies.
type Layer int

const (
	Shell Layer = iota
	Lining
	Interlining
)

var layerNames = names[Layer]{"shell", "lining", "interlining"}

func (l Layer) String() string               { return layerNames.text(l) }
func (l Layer) MarshalText() ([]byte, error) { return layerNames.marshal(l) }

// UnmarshalText reads one of shell, lining, interlining.
func (l *Layer) UnmarshalText(b []byte) error { return layerNames.unmarshal(l, b, "layer") }

// Cloth is a material that pieces are cut from: a length off the bolt, or a
// scrap with an outline of its own.
type Cloth struct {
	ID   ID
	Name string
	// Thickness and Width are in mm, 0 where not known.
	Thickness, Width float64
	// Nap says that every copy must lie the same way up.
	Nap bool
	// Printed says that the cloth has a right side.
	Printed bool
	// Colour is "#rrggbb", or empty.
	Colour string
	// Scrap is the closed outline of a scrap, empty for a bolt. The lengthwise
	// grain runs along y.
	Scrap []Node
}
