package draft

// EdgeKind says what happens to an edge when the garment is made up.
type EdgeKind int

const (
	SeamEdge   EdgeKind = iota // sewn to another edge
	HemEdge                    // turned up and hemmed
	FoldEdge                   // laid on the fold of the cloth; straight, never cut
	CasingEdge                 // turned over to hold a cord or elastic
	RawEdge                    // left as cut
)

var edgeKindNames = names[EdgeKind]{"seam", "hem", "fold", "casing", "raw"}

func (k EdgeKind) String() string               { return edgeKindNames.text(k) }
func (k EdgeKind) MarshalText() ([]byte, error) { return edgeKindNames.marshal(k) }

// UnmarshalText reads one of seam, hem, fold, casing, raw.
func (k *EdgeKind) UnmarshalText(b []byte) error { return edgeKindNames.unmarshal(k, b, "edge kind") }

// EdgeKinds lists every kind in the order in which a person is offered them.
func EdgeKinds() []EdgeKind { return edgeKindNames.all() }

// CornerRule says how the allowances of two edges meet at their corner.
type CornerRule int

const (
	// Mitre lets both cut lines run on until they meet, up to four times the
	// allowance from the corner; beyond that a bevel that touches the round.
	Mitre CornerRule = iota
	// Square ends the allowance square to the stitching line of the edge that
	// starts here.
	Square
	// TurnedBack mirrors the neighbour about the fold of the hem, so that the
	// turned hem lies flat on the piece.
	TurnedBack
	// SquareBefore is Square with the two edges changed round: the allowance of the
	// edge that starts here ends square to the stitching line of the one before.
	SquareBefore
)

var cornerRuleNames = names[CornerRule]{"mitre", "square", "turned back", "square before"}

func (r CornerRule) String() string               { return cornerRuleNames.text(r) }
func (r CornerRule) MarshalText() ([]byte, error) { return cornerRuleNames.marshal(r) }

// UnmarshalText reads one of mitre, square, turned back, square before.
func (r *CornerRule) UnmarshalText(b []byte) error {
	return cornerRuleNames.unmarshal(r, b, "corner rule")
}

// swapped returns the rule for a corner whose two edges change places, as they do when
// the outline is run the other way.
func (r CornerRule) swapped() CornerRule {
	switch r {
	case Square:
		return SquareBefore
	case SquareBefore:
		return Square
	}
	return r
}

// CornerRules lists every rule in the order in which a person is offered them.
func CornerRules() []CornerRule { return cornerRuleNames.all() }

// Allowance is the cloth that is left outside the stitching line of an edge.
type Allowance struct {
	// Start and End are the widths in mm, 0 or more, at which the edge is cut at
	// its two ends; between them the width tapers evenly with the length.
	Start, End float64
	// TrimTo is the width in mm that is left once the seam is sewn, 0 where
	// nothing is trimmed. Gathered edges are cut wide for two rows of stitches
	// and trimmed after.
	TrimTo float64
}

// Even returns the allowance of one width in mm along a whole edge.
func Even(width float64) Allowance { return Allowance{Start: width, End: width} }

// Widest returns the larger of the two widths.
func (a Allowance) Widest() float64 { return max(a.Start, a.End) }

// PassesNothing is said of an opening through which nothing has to go, such as the hem
// of a cape that is laid about the shoulders.
const PassesNothing = "nothing"

// Edge is the stretch of an outline from one corner to the next.
type Edge struct {
	ID        ID
	Name      string
	Kind      EdgeKind
	Allowance Allowance
	// Corner is the rule at the corner where the edge starts.
	Corner CornerRule
	// Passes is what has to go through the opening that this edge bounds: the name of a
	// measure (head_girth) or of a part of the wearer, PassesNothing, or empty where
	// the names of the pieces and edges tell.
	Passes string
	// Nodes begins with the corner at which the edge starts; the others lie
	// inside the edge. The edge ends at the first node of the next edge.
	Nodes []Node
}
