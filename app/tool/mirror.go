package tool

import "hemlet/draft"

// mirror turns pieces over.
var mirror = &Asked{
	Act: draft.MirrorPiece, Icon: "mirror", Word: "Mirror",
	Also:   "turn over flip reflect reverse other side",
	Says:   "Turn pieces over where they lie, as their mirror images. What is sewn stays sewn.",
	Steps:  []Step{{Param: "pieces", Take: TakePiece, Many: true, Says: "Click the piece to turn over."}},
	Fields: []string{"way"},
}
