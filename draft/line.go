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
)

var lineKindNames = names[LineKind]{"placement", "gathering", "pleat", "slit", "cutout", "drill", "dart"}

func (k LineKind) String() string               { return lineKindNames.text(k) }
func (k LineKind) MarshalText() ([]byte, error) { return lineKindNames.marshal(k) }

// UnmarshalText reads one of placement, gathering, pleat, slit, cutout, drill, dart.
func (k *LineKind) UnmarshalText(b []byte) error { return lineKindNames.unmarshal(k, b, "line kind") }

// Cut reports whether the line is cut through the cloth.
func (k LineKind) Cut() bool { return k == SlitLine || k == CutoutLine }

// Line is a line drawn inside a piece.
type Line struct {
	ID     ID
	Name   string
	Kind   LineKind
	Nodes  []Node
	Closed bool
}

// Path returns the line as a path; a drill point has none.
func (l Line) Path() geom.Path {
	p := pathOf(l.Nodes)
	if l.Closed && len(l.Nodes) > 1 {
		p = append(p, segment(l.Nodes[len(l.Nodes)-1], l.Nodes[0]))
	}
	return p
}
