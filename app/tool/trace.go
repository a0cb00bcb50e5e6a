package tool

import "hemlet/draft"

// trace traces a copy off a piece.
var trace = &Asked{
	Act: draft.TraceCopy, Icon: "trace", Word: "Trace off a copy",
	Also:   "copy duplicate lining twin tracing wheel linked follow",
	Says:   "Trace a copy off a piece, turned over or not. A linked copy follows the piece whenever that changes.",
	Steps:  []Step{{Param: "piece", Take: TakePiece, Says: "Click the piece to trace."}},
	Fields: []string{"linked", "mirrored", "name"},
	Labels: map[string]string{"linked": "Follows it", "mirrored": "Turned over"},
}
