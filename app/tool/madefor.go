package tool

import "hemlet/draft"

// addSpan says between which two points a measure of the body is found on a piece.
var addSpan = &Asked{
	Act: draft.AddSpan, Icon: "measure", Word: "Measure of the body between two points", Under: "Measure of the body",
	Also: "span stretch stands for girth share ease fit bust waist belly hip",
	Says: "Say that the straight way between two points stands for a measure of the body, or for a part of it, so that the piece can be fitted to another body.",
	Steps: []Step{
		{Param: "from", Take: TakeNode, Says: "Click the first point."},
		{Param: "to", Take: TakeNode, Says: "Click the second point."},
	},
	Fields: spanFields, Labels: spanLabels, Shares: []string{"share"},
}

// addSpanAlong says along which edges a measure of the body is found.
var addSpanAlong = &Asked{
	Act: draft.AddSpan, Icon: "measure", Word: "Measure of the body along edges", Under: "Measure of the body",
	Also:   addSpan.Also,
	Says:   "Say that edges of a piece together stand for a measure of the body, or for a part of it, so that the piece can be fitted to another body.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click the edge."}},
	Fields: spanFields, Labels: spanLabels, Shares: []string{"share"},
}

var (
	spanFields = []string{"measure", "share", "ease", "name"}
	spanLabels = map[string]string{"measure": "Stands for", "share": "This part of it", "ease": "Ease in it"}
)

// setOrigin says what pieces were made for.
var setOrigin = &Asked{
	Act: draft.SetOrigin, Icon: "trace", Word: "Say what a pattern was made for",
	Also:   "traced size states origin source made for body",
	Says:   "Say of pieces where they came from, which size they state, what their drawn lines were, and for which body they were made.",
	Steps:  []Step{{Param: "pieces", Take: TakePiece, Many: true, Says: "Click the pieces."}},
	Fields: []string{"name", "size", "line", "allowance", "measures", "under"},
	Labels: map[string]string{
		"name": "The pattern is called", "size": "Size that it states", "line": "Its lines were", "allowance": "Allowance inside them", "measures": "Measures of the body", "under": "Worn under it",
	},
}
