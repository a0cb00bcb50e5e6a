package tool

import "hemlet/draft"

// nameEdges names the edges that nobody has named after what they are.
var nameEdges = &Asked{
	Act: draft.NameEdges, Icon: "measure", Word: "Name edges by what they are", Also: "label traced neck shoulder armhole side hem unnamed number",
	Says:  "Name the edges of pieces that nobody has named after what they are on the garment: neck, shoulder, armhole, side, hem.",
	Steps: []Step{{Param: "pieces", Take: TakePiece, Many: true, Says: "Click the pieces, then press Enter."}},
}
