package tool

import "hemlet/draft"

// stiffen makes the stiffener of a piece.
var stiffen = &Asked{
	Act: draft.StiffenPiece, Icon: "stiffener", Word: "Stiffener, cut net",
	Also:   "buckram interlining interfacing card pelmet brim net no allowance stiff",
	Says:   "Make the stiffener of a piece, cut net at the stitching line or inside it. It follows the piece.",
	Steps:  []Step{{Param: "piece", Take: TakePiece, Says: "Click the piece to stiffen."}},
	Fields: []string{"inside", "name"},
	Labels: map[string]string{"inside": "Inside by"},
}
