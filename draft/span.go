package draft

import (
	"math"

	"hemlet/geom"
)

// Span says which stretch of a piece stands for which measure of the wearer.
type Span struct {
	ID   ID
	Name string
	// Measure is the name of the measure, empty for a dimension line, of which only the
	// length is shown; Share the part of it that the stretch
	// stands for: a quarter of the bust is 0.25. Ease, in mm, is what is meant to
	// be added to that part; it is below 0 where cloth is to stretch.
	Measure string
	Share   float64
	Ease    float64
	// Edges, along the stitching line, or Lines inside the piece are measured end
	// to end. Where there are neither, the span runs straight from node From to
	// node To.
	Edges    []ID
	Lines    []ID
	From, To ID
	// Way says how the distance between the nodes is measured.
	Way SpanWay
}

// SpanWay says how the distance between the two nodes of a span is measured.
type SpanWay int

const (
	Straight    SpanWay = iota
	AlongGrain          // only its part along the grain line, as a depth or a height is
	AcrossGrain         // only its part across the grain line
)

var spanWayNames = names[SpanWay]{"straight", "along grain", "across grain"}

func (w SpanWay) String() string               { return spanWayNames.text(w) }
func (w SpanWay) MarshalText() ([]byte, error) { return spanWayNames.marshal(w) }

// UnmarshalText reads one of straight, along grain, across grain.
func (w *SpanWay) UnmarshalText(b []byte) error {
	return spanWayNames.unmarshal(w, b, "way to measure")
}

// SpanWays lists every way in the order in which a person is offered them.
func SpanWays() []SpanWay { return spanWayNames.all() }

// between returns the distance in mm from a to b as the span's way measures it. On a piece
// without a grain line, the grain runs along y.
func (w SpanWay) between(p *Piece, a, b geom.Point) float64 {
	d := b.Sub(a)
	switch up := p.GrainWay(); w {
	case AlongGrain:
		return math.Abs(d.Dot(up))
	case AcrossGrain:
		return math.Abs(d.Cross(up))
	default:
		return d.Len()
	}
}

// GrainWay returns the direction of the lengthwise threads, of length 1: along y where
// the piece has no grain line.
func (p *Piece) GrainWay() geom.Point {
	if p.Grain == nil {
		return geom.Pt(0, 1)
	}
	return p.Grain.To.Sub(p.Grain.From).Unit()
}
