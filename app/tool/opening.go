package tool

import "hemlet/draft"

// slitShare is how deep a slit is at first, as a share of the piece.
const slitShare = 1. / 4

// openSeam leaves a seam open for dressing.
var openSeam = &Asked{
	Act: draft.OpenSeam, Icon: "seam", Word: "Open a seam for dressing", Under: "Openings",
	Also:   "placket opening buttons hooks ties head neck pass centre back",
	Says:   "Leave a seam open from one of its ends, as far as dressing takes, and sew the rest.",
	Steps:  []Step{{Param: "seam", Take: TakeSeam, Says: "Click the seam, on one of its edges."}},
	Fields: []string{"from", "length", "lap", "name"},
	Labels: map[string]string{"from": "Opens from its", "length": "How far", "lap": "Lies over by"},
}

// cutSlit slits a piece from an edge.
var cutSlit = &Asked{
	Act: draft.CutSlit, Icon: "cutout", Word: "Slit", Under: "Openings",
	Also:   "placket opening neck wrist vent slash keyhole",
	Says:   "Slit a piece from an edge, so that an opening becomes larger by both sides of the slit.",
	Steps:  []Step{{Param: "at", Take: TakePlace, Says: "Click the edge where it is slit."}},
	Fields: []string{"depth", "allowance"},
	Begin: func(g Given) map[string]string {
		return map[string]string{"depth": g.Round(g.Size() * slitShare)}
	},
}
