package draft

import "hemlet/geom"

// Outline is a closed drawn line that is to become a piece: segments in either
// direction of travel, and where its corners are.
type Outline struct {
	Path geom.Path
	// Corner[i] says that segment i starts at a corner. At least one must be set
	// unless the outline is smooth all round, when the first node divides it.
	Corner []bool
	// Name is the piece's name; EdgeNames, where not nil, names the edge that
	// starts at each corner, in order.
	Name      string
	EdgeNames []string
}
