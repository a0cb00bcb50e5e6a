package tool

import "hemlet/draft"

// trace traces a copy off a piece.
var trace = &Asked{
	Act: draft.TraceCopy, Icon: "trace", Word: "Trace off a copy", Under: "Trace off",
	Also:   "copy duplicate lining twin tracing wheel linked follow",
	Says:   "Trace a copy off a piece, turned over or not. A linked copy follows the piece whenever that changes.",
	Steps:  []Step{{Param: "piece", Take: TakePiece, Says: "Click the piece to trace."}},
	Fields: []string{"linked", "mirrored", "name"},
	Labels: map[string]string{"linked": "Follows it", "mirrored": "Turned over"},
}

// tracePart traces the part of a piece off that lies on one side of a stroke across it.
var tracePart = &Asked{
	Act: draft.TraceCopy, Icon: "trace", Word: "Trace off a part", Under: "Trace off",
	Also:   "copy part yoke panel tracing wheel linked follow",
	Says:   "Draw across a piece and trace off what lies on one side of the stroke. A linked part follows the piece.",
	Steps:  []Step{{Param: "from,to", Take: TakeStroke, Says: "Draw across the piece, or click the two places."}},
	Fields: append([]string{"side"}, trace.Fields...),
	Labels: map[string]string{"side": "Side of the stroke", "linked": "Follows it", "mirrored": "Turned over"},
}

// traceLine traces the part of a piece off that lies on one side of a line inside it.
var traceLine = &Asked{
	Act: draft.TraceCopy, Icon: "trace", Word: "Trace off a part along a line", Under: "Trace off",
	Also:   tracePart.Also,
	Says:   "Trace off what lies on one side of a line that is drawn on a piece. A linked part follows the piece.",
	Steps:  []Step{{Param: "line", Take: TakeLine, Says: "Click the line inside the piece."}},
	Fields: tracePart.Fields,
	Labels: map[string]string{"side": "Side of the line", "linked": "Follows it", "mirrored": "Turned over"},
}
