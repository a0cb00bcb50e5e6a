package draft

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
}
