package tool

import "hemlet/draft"

// openingShare is how wide an opening is at first, as a share of the piece.
const openingShare = 1. / 6

// opening begins an opening as large as suits the piece.
func opening(g Given) map[string]string {
	size := g.Round(g.Size() * openingShare)
	return map[string]string{"width": size, "height": size}
}

// bite begins an opening at an edge, which is wider than deep so that its allowance can
// be turned.
func bite(g Given) map[string]string {
	const deep = 0.6 // of its width
	width := g.Size() * openingShare
	return map[string]string{"width": g.Round(width), "height": g.Round(width * deep)}
}

// cutOut cuts an opening into a piece.
var cutOut = &Asked{
	Act: draft.CutOut, Icon: "cutout", Word: "Cut-out", Under: "Cut-out",
	Also:   "opening hole tail ear rod slot window keyhole",
	Says:   "Cut an opening for a tail, an ear or a rod into a piece, with its facing.",
	Steps:  []Step{{Param: "piece,at", Take: TakeSpot, Says: "Click the middle of the opening."}},
	Fields: []string{"shape", "width", "height", "turn", "facing", "name"},
	Labels: map[string]string{"facing": "Facing"},
	Begin:  opening,
}

// cutOutEdge cuts an opening out of an edge.
var cutOutEdge = &Asked{
	Act: draft.CutOut, Icon: "cutout", Word: "Cut-out at an edge", Under: "Cut-out",
	Also:   "opening bite tail ear notch scoop keyhole placket",
	Says:   "Cut an opening for a tail, an ear or a rod out of an edge, with its facing.",
	Steps:  []Step{{Param: "edge", Take: TakePlace, Says: "Click the edge out of which it is cut."}},
	Fields: []string{"shape", "width", "height", "facing", "name"},
	Labels: map[string]string{"height": "Depth"},
	Begin:  bite,
}

// cutOutLine makes an opening of a closed line.
var cutOutLine = &Asked{
	Act: draft.CutOut, Icon: "cutout", Word: "Cut-out along a closed line", Under: "Cut-out",
	Also:   "opening hole tail ear rod drawn shape",
	Says:   "Make an opening of a closed line that is drawn on a piece, with its facing.",
	Steps:  []Step{{Param: "line", Take: TakeLine, Says: "Click a closed line inside the piece."}},
	Fields: []string{"facing", "name"},
}
