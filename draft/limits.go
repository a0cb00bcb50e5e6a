package draft

// Limits on what is read or made, so that a broken or hostile file costs an error
// and never the machine. They are promised to scripts.
const (
	// MaxCoordinate bounds every coordinate, in mm: 100 m.
	MaxCoordinate = 100_000
	// MaxNodes bounds the nodes of a project.
	MaxNodes = 100_000
	// MaxSeamMarks bounds the marks of one seam: each is held against the others.
	MaxSeamMarks = 1000
	// MaxTextBytes bounds a text file: 64 MiB.
	MaxTextBytes = 64 << 20
	// MaxDepth bounds the nesting of a file.
	MaxDepth = 64
)

// Grid is the step to which coordinates are rounded when an edit is committed,
// in mm: saving and loading then change nothing.
const Grid = 1e-6
