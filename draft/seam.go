package draft

// Half tells the two halves of a piece that is unfolded on its fold edge.
type Half int

const (
	Near Half = iota // as drawn
	Far              // the mirror image beyond the fold
)

var halfNames = names[Half]{"near", "far"}

func (h Half) String() string               { return halfNames.text(h) }
func (h Half) MarshalText() ([]byte, error) { return halfNames.marshal(h) }

// UnmarshalText reads near or far.
func (h *Half) UnmarshalText(b []byte) error { return halfNames.unmarshal(h, b, "half") }

// CopyRef tells the copies of a piece apart. A piece is drawn as its right copy;
// the mirror image is its left.
type CopyRef struct {
	// Number counts from 1.
	Number   int
	Mirrored bool
}

// EdgeUse is one edge of one half of one copy of a piece, run in one direction:
// what a seam really joins.
type EdgeUse struct {
	Piece ID
	Copy  CopyRef
	Half  Half
	Edge  ID
	// Reversed runs the edge from its end to its start.
	Reversed bool
}

// Run is a line of sewing along edge uses, in order, over any number of pieces.
// A ring ends where it began.
type Run []EdgeUse

// Side names one of the two sides of a seam.
type Side int

const (
	SideA Side = iota
	SideB
)

var sideNames = names[Side]{"a", "b"}

func (s Side) String() string               { return sideNames.text(s) }
func (s Side) MarshalText() ([]byte, error) { return sideNames.marshal(s) }

// UnmarshalText reads a or b.
func (s *Side) UnmarshalText(b []byte) error { return sideNames.unmarshal(s, b, "side") }

// Fullness is how the longer side of a seam is brought to the length of the other.
type Fullness int

const (
	Plain Fullness = iota
	Ease
	Gathers
	Pleats
)

var fullnessNames = names[Fullness]{"plain", "ease", "gathers", "pleats"}

func (f Fullness) String() string               { return fullnessNames.text(f) }
func (f Fullness) MarshalText() ([]byte, error) { return fullnessNames.marshal(f) }

// UnmarshalText reads one of plain, ease, gathers, pleats.
func (f *Fullness) UnmarshalText(b []byte) error { return fullnessNames.unmarshal(f, b, "fullness") }

// Fullnesses lists every kind in the order in which a person is offered them.
func Fullnesses() []Fullness { return fullnessNames.all() }

// Seam is two runs that are sewn together, A's start to B's start.
type Seam struct {
	ID   ID
	Name string
	A, B Run
	// Ratio is the intended length of the fuller run over the other: 1 plain,
	// 1.03 eased, 1.5 gathered.
	Ratio    float64
	Fuller   Side
	Fullness Fullness
	// From and To bound the stretch of the fuller run, as shares of its length,
	// in which the fullness lies; 0 and 1 spread it evenly.
	From, To float64
	// BothSides says that the seam stands for its mirror image as well.
	BothSides bool
	// Opens says that the two sides are not sewn but closed with buttons, hooks or
	// ties, and are opened for dressing.
	Opens bool
	// Lap is by how much in mm the sides of a seam that opens lie over each other when
	// it is closed.
	Lap float64
	// Marks are the notches that match on the two sides, in order along side A.
	Marks []SeamMark
}

// SeamMark is a place of a seam that is notched on both sides, so that they are pinned
// together there.
type SeamMark struct {
	ID ID
	// At is the place as a share of the length of side A, from 0 to 1; on side B the
	// notch lies at what is sewn to it.
	At     float64
	Shape  NotchShape
	Double bool
}
