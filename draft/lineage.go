package draft

// Heir is a stretch of a new edge that stands where a stretch of an old one stood.
// Places are shares of an edge's length from 0 to 1; where New0 > New1 the new
// edge runs the other way.
type Heir struct {
	Edge       ID
	Old0, Old1 float64
	New0, New1 float64
}

// Lineage says what became of edges: for each old edge its heirs in the order of
// the old edge. An edge that is not named is still itself; an edge with no heirs
// is gone.
type Lineage map[ID][]Heir
