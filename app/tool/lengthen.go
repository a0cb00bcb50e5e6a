package tool

import "hemlet/draft"

// lengthenShare is by how much a piece gets longer at first, as a share of its size.
const lengthenShare = 1. / 20

// lengthen makes a piece longer or shorter at a line across it.
var lengthen = &Asked{
	Act: draft.LengthenPiece, Icon: "lengthen", Word: "Lengthen or shorten", Gap: true,
	Also:   "longer shorter grow height body sleeve torso adjust line across",
	Says:   "Draw a line across a piece, and say by how much it gets longer there; below 0 it gets shorter.",
	Steps:  []Step{{Param: "from,to", Take: TakeStroke, Says: "Draw across the piece where it gets longer."}},
	Fields: []string{"by", "second", "sides"},
	Labels: map[string]string{"by": "Longer by", "second": "Evenly as far as", "sides": "Edges across"},
	Begin: func(g Given) map[string]string {
		return map[string]string{"by": g.Round(g.Size() * lengthenShare)}
	},
}
