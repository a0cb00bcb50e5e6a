package tool

import "hemlet/draft"

// face makes a facing along edges.
var face = &Asked{
	Act: draft.FaceEdge, Icon: "facing", Word: "Facing", Gap: true,
	Also:   "face finish neck armhole inside turn interfacing undercollar",
	Says:   "Make a facing along one or more edges of a piece, with darts closed. It follows the piece and is sewn to it.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click the edge that is faced."}},
	Fields: []string{"width", "interface", "sew", "name"},
	Labels: map[string]string{"interface": "Interfacing too", "sew": "Record seams"},
	Begin: func(g Given) map[string]string {
		const share = 1. / 8 // of the piece
		return map[string]string{"width": g.Round(max(3*g.Allowance(), g.Size()*share))}
	},
}
