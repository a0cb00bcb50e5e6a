package draft

// NotchShape is how a notch is drawn and, where the allowance bears it, cut.
type NotchShape int

const (
	NotchSlit NotchShape = iota
	NotchV
	NotchT
)

var notchShapeNames = names[NotchShape]{"slit", "v", "t"}

func (s NotchShape) String() string               { return notchShapeNames.text(s) }
func (s NotchShape) MarshalText() ([]byte, error) { return notchShapeNames.marshal(s) }

// UnmarshalText reads one of slit, v, t.
func (s *NotchShape) UnmarshalText(b []byte) error {
	return notchShapeNames.unmarshal(s, b, "notch shape")
}

// Notch is a mark on an edge that meets its partner on the other side of a seam.
type Notch struct {
	ID   ID
	Edge ID
	// FromEnd measures the place from the end of the edge instead of its start.
	FromEnd bool
	// At is the place: a distance in mm along the stitching line or, with
	// Share, a share of the edge's length from 0 to 1.
	At    float64
	Share bool
	Shape NotchShape
	// Double draws two ticks: the back of a garment, by common practice.
	Double bool
	// Mark is the place of a seam that the notch stands for; see SeamMark. It is empty
	// for a notch that was set by itself.
	Mark ID
}
