package block

// Limits on what a block may hold, so that a broken or hostile file costs an error
// and never the machine. A large block of the house needs a tenth of each.
const (
	// MaxTextBytes bounds the file: 1 MiB.
	MaxTextBytes = 1 << 20
	maxMeasures  = 200
	maxChoices   = 100
	maxSteps     = 2000
	maxChecks    = 200
	maxPieces    = 40
	// maxEdges, maxMarks and maxItems bound the edges of a piece, its darts,
	// notches, lines and spans (of each kind), and the formulas of one path.
	maxEdges = 200
	maxMarks = 200
	maxItems = 400
	maxSeams = 400
	// maxUses bounds the edges in one run of a seam.
	maxUses = 100
	// maxFormulas bounds the formulas of a file: what compiling them costs.
	maxFormulas = 10_000
	// maxTables and maxKeys bound what is decoded before it is known to be a block.
	maxTables = 20_000
	maxKeys   = 100_000
	// maxAllStretches bounds the straight and curved stretches of the curves of all
	// steps together: joining a curve to itself doubles it at each step.
	maxAllStretches = 50_000
	// maxNodes bounds the points of all outlines and lines of a drafted block: a
	// tenth of what a project holds.
	maxNodes = 10_000
	maxCount = 999
	// maxEffort bounds the work of a draft, as formula.Effort counts it, in
	// microseconds: some tens of searches such as sweep_true, of which the largest
	// block of the house has a few, or a hundred thousand plain formulas.
	maxEffort = 1e6
	// markEffort is the effort of finding a notch on one stretch of its edge.
	markEffort = 5
	// maxWound bounds the stretches of an outline that runs the wrong way round and is
	// looked through for places where it crosses itself.
	maxWound = 200
	// Lengths of texts in bytes.
	maxName     = 60
	maxTitle    = 200
	maxSays     = 4_000
	maxExplains = 64_000
	// maxFiles bounds the files of a folder of blocks.
	maxFiles = 500
)

// What figures may be, in mm; the same as a project holds.
const (
	maxCoordinate = 100_000
	maxRatio      = 1000
	maxShare      = 1000
)
