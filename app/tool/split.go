package tool

import "hemlet/draft"

// split cuts a piece in two with a stroke across it.
var split = &Asked{
	Act: draft.SplitPiece, Icon: "split", Word: "Split", Under: "Split", Gap: true,
	Also:   "cut apart divide yoke style line panel princess separate two scissors",
	Says:   "Draw across a piece to cut it in two. The cut is recorded as a seam, and every mark stays on its side.",
	Steps:  []Step{{Param: "from,to", Take: TakeStroke, Says: "Draw across the piece, or click the two places."}},
	Fields: []string{"allowance", "notches", "seam", "name"},
	Labels: map[string]string{"seam": "Seam is called", "notches": "Pairs of notches", "name": "New piece"},
}

// splitLine cuts a piece in two along a line inside it.
var splitLine = &Asked{
	Act: draft.SplitPiece, Icon: "split", Word: "Split along a line", Under: "Split",
	Also:   "cut apart divide yoke style line panel princess curve separate two",
	Says:   "Cut a piece in two along a line that is drawn on it, curved or straight. The cut is recorded as a seam.",
	Steps:  []Step{{Param: "line", Take: TakeLine, Says: "Click the line inside the piece."}},
	Fields: split.Fields,
	Labels: split.Labels,
}
