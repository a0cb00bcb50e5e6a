package tool

import "hemlet/draft"

// line makes the lining of a piece.
var line = &Asked{
	Act: draft.LinePiece, Icon: "lining", Word: "Lining", Under: "Lining",
	Also: "line inside copy lining shell neck armhole hem reduce",
	Says: "Make the lining of a piece: seams equal, neck and armhole a little inside, the hem shorter. It follows the piece.",
	Steps: []Step{
		{Param: "piece", Take: TakePiece, Says: "Click the piece to line."},
		{Param: "equal", Take: TakeEdge, Many: true, Optional: true, Says: "Click edges that stay as they are."},
	},
	Fields: []string{"inside", "hem", "sew", "name"},
	Labels: map[string]string{"inside": "Inside by", "hem": "Hem shorter", "sew": "Record seams"},
}

// setLining says how far edges of a lining lie inside those of its shell.
var setLining = &Asked{
	Act: draft.SetLining, Icon: "lining", Word: "Set how far a lining lies inside", Under: "Lining",
	Also:   "lining reduce edge per smaller",
	Says:   "Say edge by edge how far a lining lies inside the piece that it lines.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click an edge of the lining."}},
	Fields: []string{"inside"},
	Labels: map[string]string{"inside": "Inside by"},
	Begin: func(g Given) map[string]string {
		const share = 1. / 8 // of the allowance, which comes to 0.5 to 1 mm
		return map[string]string{"inside": g.Round(max(g.Allowance()*share, 0.5))}
	},
}
