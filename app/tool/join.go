package tool

import "hemlet/draft"

// joinSeam makes one piece of two that are sewn together.
var joinSeam = &Asked{
	Act: draft.JoinPieces, Icon: "join", Word: "Join along a seam", Under: "Join",
	Also:   "merge unite put together close one piece tape",
	Says:   "Lay two pieces together along the seam that sews them, and make them one piece.",
	Steps:  []Step{{Param: "seam", Take: TakeSeam, Says: "Click an edge of the seam that goes."}},
	Fields: []string{"name"},
}

// joinEdges makes one piece of two, edge against edge.
var joinEdges = &Asked{
	Act: draft.JoinPieces, Icon: "join", Word: "Join two edges", Under: "Join",
	Also: "merge unite put together close one piece tape",
	Says: "Lay two pieces together edge against edge, and make them one piece. The first one stays where it is.",
	Steps: []Step{
		{Param: "a", Take: TakeEdge, Says: "Click an edge of the piece that stays."},
		{Param: "b", Take: TakeEdge, Says: "Click the edge of the other piece that is laid against it."},
	},
	Fields: []string{"name", "gap"},
}
