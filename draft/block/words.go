package block

// Format is the number of the file format that this program reads.
const Format = 1

// Section is one table of the block file and the keys that may stand in it.
type Section struct {
	// Heading is how the table is opened: "[[steps]]", empty for the keys at the
	// top of the file.
	Heading string
	Says    string
	Keys    []Key
}

// Key is one key of a table.
type Key struct {
	Name string
	// Takes is what may stand there: "text", "formula: length".
	Takes string
	// Needed says that the table is refused without the key.
	Needed bool
	// Says is one line for people who write a block.
	Says string
}

// Vocabulary lists everything that may stand in a block file, table by table, with
// one line each. The guide for people who write blocks is made of it.
func Vocabulary() []Section { return sections }

var (
	topKeys = Section{"", "At the top of the file, before any table.", []Key{
		{"format", "1", true, "The number of the file format."},
		{"name", "small letters, digits, -", true, "The block's name for commands and files, unlike every other block's."},
		{"title", "text", true, "The name that people read."},
		{"garment", "text", false, "The garment that the pieces are listed under; the title, if it is left out."},
		{"says", "text", true, "One sentence: what is drafted."},
		{"explains", "text", false, "A few paragraphs for whoever drafts with it: what to measure, what to choose, how to sew it."},
		{"source", "text", false, "Where the draft comes from, if it was published."},
		{"measures", "[[measures]]", false, "The measures that matter to the block."},
		{"choices", "[[choices]]", false, "What the maker may choose."},
		{"steps", "[[steps]]", false, "The construction, from top to bottom."},
		{"checks", "[[checks]]", false, "What has to hold for the result to be wearable."},
		{"pieces", "[[pieces]]", false, "The pattern pieces. Without any, only the construction is shown."},
		{"seams", "[[seams]]", false, "Which edges are sewn together."},
	}}
	measureKeys = Section{"[[measures]]", "One measure. Formulas may read every measure that Hemlet knows; it is listed here when the block cannot do without it, when the block has something to say about it, or when it is the block's own.", []Key{
		{"name", "a name", true, "The name that formulas read."},
		{"needed", "true or false", false, "true: nothing is drafted until it is taken."},
		{"says", "text", false, "What the block does with it."},
		{"estimate", "formula: length", false, "How it is estimated when it was not taken. A measure of the block's own that is not needed must have one."},
		{"words", "text", false, "For a measure of the block's own: its name in plain words."},
		{"how", "text", false, "For a measure of the block's own: how it is taken, in a sentence or two."},
	}}
	choiceKeys = Section{"[[choices]]", "One choice that the maker has: a length such as the ease, or a number.", []Key{
		{"name", "a name", true, "The name that formulas read."},
		{"title", "text", false, "The name that people read; the name, if it is left out."},
		{"says", "text", false, "What it changes."},
		{"default", "formula: length or number", true, "What it is unless the maker sets it. May read measures, worn_under and the choices above."},
		{"least", "formula: like the default", false, "It is never less."},
		{"most", "formula: like the default", false, "It is never more."},
	}}
	stepKeys = Section{"[[steps]]", "One step of the construction. A step may read measures, worn_under, choices and the steps above it. A line such as `# --- Sleeve ---` before a step begins a part of that title in the list of the steps.", []Key{
		{"name", "a name", true, "The name that later formulas read."},
		{"is", "formula: anything", true, "What it is: a point, a curve, a length, an area, an angle, a number, a yes or no."},
		{"says", "text", false, "The step in plain words. It is shown beside the drawing."},
	}}
	checkKeys = Section{"[[checks]]", "Something that has to hold. A check that does not hold is told beside the pattern.", []Key{
		{"name", "text", true, "Its name, in a few words."},
		{"holds", "formula: yes or no", true, "What has to hold: “neck_width < shoulder_width”."},
		{"level", "problem, look again or note", false, "How bad it is when it does not hold; problem, if it is left out."},
		{"says", "text", true, "What is wrong then, and what to do."},
		{"measures", "list of measures", false, "The measures to look at."},
		{"guard", "true or false", false, "true: looked at as soon as the steps that it reads are there; if it is a problem and does not hold, nothing is drafted."},
	}}
	pieceKeys = Section{"[[pieces]]", "One pattern piece.", []Key{
		{"role", "a name", true, "The block's name for the piece; seams use it. With front or back in it, the piece can lie on the wearer in the station Draft."},
		{"title", "text", false, "The name that people read; the role, if it is left out."},
		{"cut", "single, pairs or on fold", false, "How it is cut: as drawn, as left and right, or unfolded on its fold edge; single, if it is left out. Of pairs the right one is drawn, as it is worn, seen from outside."},
		{"count", "a whole number", false, "How many times; 1, if it is left out."},
		{"layer", "shell, lining or interlining", false, "The layer that it belongs to; shell, if it is left out."},
		{"note", "text", false, "Printed on the piece under its name."},
		{"grain", "list of two formulas: points", false, "The ends of the grain line."},
		{"label", "formula: point", false, "The middle of the label; it finds a place of its own if this is left out."},
		{"clockwise", "true or false", false, "true: the edges are listed clockwise. Without it they run counter-clockwise: the cloth lies to the left as you go along."},
		{"edges", "[[pieces.edges]]", true, "The outline, edge by edge."},
		{"darts", "[[pieces.darts]]", false, "Its darts."},
		{"notches", "[[pieces.notches]]", false, "Its notches."},
		{"lines", "[[pieces.lines]]", false, "Lines drawn inside it."},
		{"spans", "[[pieces.spans]]", false, "Which stretch stands for which measure."},
	}}
	edgeKeys = Section{"[[pieces.edges]]", "One edge of the piece above, from corner to corner. It ends where the next edge starts, and the last one where the first starts.", []Key{
		{"name", "a name", true, "Its name; seams and marks use it."},
		{"kind", "seam, hem, fold, casing or raw", false, "What happens to it; seam, if it is left out."},
		{"corner", "mitre, square or turned back", false, "How the allowances meet at the corner where the edge starts; mitre, if it is left out."},
		{"path", "list of formulas: points or curves", true, "The line of the edge in order. What does not touch is joined by a straight line."},
		{"allowance", "formula: length, or a list of two", false, "The cloth outside the line, or its widths at the start and at the end. If it is left out: the choice called allowance, if the block has one, but nothing on fold and raw edges."},
		{"trim_to", "formula: length", false, "The width that is left after sewing."},
	}}
	dartKeys = Section{"[[pieces.darts]]", "One dart of the piece above. Its mouth lies on an edge; a dart whose mouth is closed for a body is not there.", []Key{
		{"name", "a name", true, "Its name."},
		{"edge", "an edge of the piece", true, "The edge on which its mouth lies."},
		{"from", "formula: point", true, "One end of the mouth. Both ends must stand in the path of the edge, one after the other."},
		{"to", "formula: point", true, "The other end."},
		{"apex", "formula: point", true, "Its tip."},
		{"press", "to start, to end or open", false, "Which way it is pressed: to the start of its edge, to its end, or cut open; to start, if it is left out."},
		{"when", "formula: yes or no", false, "It is there only for bodies for which this holds; always, if it is left out."},
	}}
	notchKeys = Section{"[[pieces.notches]]", "One notch of the piece above.", []Key{
		{"name", "a name", false, "Its name; “notch 1” and so on, if it is left out."},
		{"edge", "an edge of the piece", true, "The edge on which it lies."},
		{"at", "formula: length, number or point", true, "A length along the edge, darts left out; or a share of the edge, 0.5 for its middle; or a point on it."},
		{"from_end", "true or false", false, "true: measured from the end of the edge."},
		{"double", "true or false", false, "true: two ticks, as at the back of a garment."},
		{"when", "formula: yes or no", false, "It is there only for bodies for which this holds; always, if it is left out."},
	}}
	lineKeys = Section{"[[pieces.lines]]", "One line inside the piece above. A line that has no length for a body is not there.", []Key{
		{"name", "a name", true, "Its name, unlike those of the edges."},
		{"kind", "placement, gathering, pleat, slit, cutout, drill or dart", false, "What it is for; placement, if it is left out. A drill mark is a single point; a dart is one that is pointed at both ends, and closed."},
		{"path", "list of formulas: points or curves", true, "The line in order."},
		{"closed", "true or false", false, "true: it ends where it starts. A cutout is always closed."},
		{"when", "formula: yes or no", false, "It is there only for bodies for which this holds; always, if it is left out."},
	}}
	spanKeys = Section{"[[pieces.spans]]", "Which stretch of the piece above stands for which measure; fit and girth are worked out from it.", []Key{
		{"name", "a name", true, "Its name."},
		{"measure", "a measure", true, "The measure."},
		{"share", "formula: number", false, "The part of the measure that the stretch stands for: 0.25 for a quarter of a girth; 1, if it is left out. The garment's girth is told only where the shares of all pieces, as often as each is cut, go the whole way round."},
		{"ease", "formula: length", false, "What is meant to be added to that part; none, if it is left out."},
		{"edges", "list of edges", false, "The edges that are measured, end to end."},
		{"lines", "list of lines", false, "Or the lines."},
		{"from", "formula: point", false, "Or straight from this point, which must stand in the path of an edge or a line of the piece ..."},
		{"to", "formula: point", false, "... to this one, which must stand in one too."},
		{"way", "straight, along grain or across grain", false, "From point to point: whether the distance is measured, or only how far it goes along or across the grain; straight, if it is left out."},
		{"when", "formula: yes or no", false, "It is there only for bodies for which this holds; always, if it is left out."},
	}}
	seamKeys = Section{"[[seams]]", "One seam: two runs of edges, sewn together from start to start. An edge is “piece.edge”: with “-” before it, it runs from its end to its start; with “:left” after it, it is the left copy of a pair, with “:far” the other half of a piece on the fold, with “:2” the second copy.", []Key{
		{"name", "a name", true, "Its name."},
		{"a", "list of edges", true, "One run, in the order of sewing."},
		{"b", "list of edges", true, "The other run."},
		{"ratio", "formula: number", false, "How much longer the fuller run is meant to be: 1.5 for gathers; 1, if it is left out."},
		{"fuller", "a or b", false, "Which run is the fuller; a, if it is left out."},
		{"fullness", "plain, ease, gathers or pleats", false, "How the fuller run is brought to the other's length; plain, if it is left out."},
		{"full_from", "formula: number", false, "The share of the fuller run at which the fullness starts; 0, if it is left out."},
		{"full_to", "formula: number", false, "The share at which it ends; 1, if it is left out."},
		{"both_sides", "true or false", false, "true: the seam stands for its mirror image as well."},
		{"opens", "true or false", false, "true: it is closed with buttons, hooks or ties and opened for dressing."},
	}}
	sections = []Section{
		topKeys, measureKeys, choiceKeys, stepKeys, checkKeys, pieceKeys, edgeKeys,
		dartKeys, notchKeys, lineKeys, spanKeys, seamKeys,
	}
)

// The words that may stand for each kind of choice; the first is meant where none
// is given.
var (
	levels     = []string{"problem", "look again", "note"}
	cutWays    = []string{"single", "pairs", "on fold"}
	layers     = []string{"shell", "lining", "interlining"}
	edgeKinds  = []string{"seam", "hem", "fold", "casing", "raw"}
	corners    = []string{"mitre", "square", "turned back"}
	spanWays   = []string{"straight", "along grain", "across grain"}
	presses    = []string{"to start", "to end", "open"}
	lineKinds  = []string{"placement", "gathering", "pleat", "slit", "cutout", "drill", "dart"}
	sides      = []string{"a", "b"}
	fullnesses = []string{"plain", "ease", "gathers", "pleats"}
)
