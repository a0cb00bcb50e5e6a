package draft

import "hemlet/geom"

// LineKind says what a line inside a piece is for.
type LineKind int

const (
	PlacementLine LineKind = iota // where something is laid, sewn on or folded
	GatheringLine
	PleatLine
	SlitLine   // cut open
	CutoutLine // closed, and cut out
	DrillPoint // a single marked point
	DartLine   // closed: a dart pointed at both ends, sewn shut along its legs
	StyleLine  // drawn to shape by: the piece may be split along it
	// FastenLine is a line along which something closes the garment; its Row says what.
	FastenLine
	ReinforcePoint // a single marked point that is sewn over twice, as at the end of a slit
)

var lineKindNames = names[LineKind]{"placement", "gathering", "pleat", "slit", "cutout", "drill", "dart", "style", "fasten", "reinforce"}

func (k LineKind) String() string               { return lineKindNames.text(k) }
func (k LineKind) MarshalText() ([]byte, error) { return lineKindNames.marshal(k) }

// UnmarshalText reads one of placement, gathering, pleat, slit, cutout, drill, dart,
// style, fasten, reinforce.
func (k *LineKind) UnmarshalText(b []byte) error { return lineKindNames.unmarshal(k, b, "line kind") }

// Cut reports whether the line is cut through the cloth.
func (k LineKind) Cut() bool { return k == SlitLine || k == CutoutLine }

// Point reports whether it is a single marked point and no line.
func (k LineKind) Point() bool { return k == DrillPoint || k == ReinforcePoint }

// Line is a line drawn inside a piece.
type Line struct {
	ID     ID
	Name   string
	Kind   LineKind
	Nodes  []Node
	Closed bool
	// Row is what is set along a line of kind fasten, nil for other kinds.
	Row *Row
}

// Path returns the line as a path; a single point has none.
func (l Line) Path() geom.Path {
	p := pathOf(l.Nodes)
	if l.Closed && len(l.Nodes) > 1 {
		p = append(p, segment(l.Nodes[len(l.Nodes)-1], l.Nodes[0]))
	}
	return p
}
