package draft

// Span says which stretch of a piece stands for which measure of the wearer.
type Span struct {
	ID   ID
	Name string
	// Measure is the name of the measure, Share the part of it that the stretch
	// stands for: a quarter of the bust is 0.25.
	Measure string
	Share   float64
	// Edges are measured end to end along the stitching line. Where there are
	// none, the span runs straight from node From to node To.
	Edges    []ID
	From, To ID
}
