package draft

// PiecePart is the part of the body that a piece of a garment covers.
type PiecePart int

const (
	PartUnknown   PiecePart = iota
	PartTrunk               // the trunk or a part of it, with whatever hangs on below
	PartSleeve              // an arm
	PartSkirt               // what hangs from the waist, round both legs
	PartLeg                 // one leg and its half of the seat
	PartNeckBand            // a band or collar that is sewn to the neck
	PartCuff                // a band that is sewn to the end of a sleeve
	PartWaistBand           // a band that is sewn to the waist
)

var piecePartNames = names[PiecePart]{"unknown", "trunk", "sleeve", "skirt", "leg", "neck band", "cuff", "waistband"}

func (p PiecePart) String() string               { return piecePartNames.text(p) }
func (p PiecePart) MarshalText() ([]byte, error) { return piecePartNames.marshal(p) }

// UnmarshalText reads one of unknown, trunk, sleeve, skirt, leg, neck band, cuff, waistband.
func (p *PiecePart) UnmarshalText(b []byte) error {
	return piecePartNames.unmarshal(p, b, "part of the body")
}

// Aspect is whether a piece covers the front of the body or the back.
type Aspect int

const (
	AspectUnknown Aspect = iota // it covers both, or nothing tells
	AspectFront
	AspectBack
)

var aspectNames = names[Aspect]{"unknown", "front", "back"}

func (a Aspect) String() string               { return aspectNames.text(a) }
func (a Aspect) MarshalText() ([]byte, error) { return aspectNames.marshal(a) }

// UnmarshalText reads one of unknown, front, back.
func (a *Aspect) UnmarshalText(b []byte) error { return aspectNames.unmarshal(a, b, "aspect") }

// EdgePart is what an edge of a piece is on the garment.
type EdgePart int

const (
	EdgeUnknown EdgePart = iota
	AtNeck
	AtShoulder // from the neck to the tip of the shoulder, or on along the arm
	AtArmhole
	AtCap // of a sleeve, which is sewn into the armhole
	AtSide
	AtUnderarm // the seam along a sleeve
	AtWaist
	AtHem
	AtWrist // the end of a sleeve, wherever on the arm it lies
	AtCentreFront
	AtCentreBack
	AtCentre // the middle, where nothing tells front and back apart
	AtCrotch
	AtInsideLeg
	AtAnkle // the end of a leg, wherever it lies
	AtEnd   // the short end of a band
	AtOuter // the free long side of a band
	AtDart  // the leg of a dart that is drawn as edges
)

var edgePartNames = names[EdgePart]{
	"unknown", "neck", "shoulder", "armhole", "cap", "side", "sleeve seam", "waist", "hem", "wrist",
	"centre front", "centre back", "centre", "crotch", "inside leg", "ankle", "end", "outer edge", "dart",
}

func (e EdgePart) String() string               { return edgePartNames.text(e) }
func (e EdgePart) MarshalText() ([]byte, error) { return edgePartNames.marshal(e) }

// UnmarshalText reads the name of a part.
func (e *EdgePart) UnmarshalText(b []byte) error {
	return edgePartNames.unmarshal(e, b, "part of a garment")
}

// Middle reports whether the edge lies in the middle of the body.
func (e EdgePart) Middle() bool { return e == AtCentre || e == AtCentreFront || e == AtCentreBack }
