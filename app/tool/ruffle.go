package tool

import "hemlet/draft"

// ruffle makes a straight ruffle for an edge.
var ruffle = &Asked{
	Act: draft.MakeRuffle, Icon: "ruffle", Word: "Ruffle", Under: "Pleats, tucks and ruffles",
	First:  "frill",
	Also:   "frill flounce strip trimming tier gathered",
	Says:   "Make a straight ruffle for an edge: the strips it is pieced of, their joins and the gathered seam. It goes on over the other side of the body.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click the edge that bears the ruffle; with Shift, those along which it goes on."}},
	Fields: []string{"depth", "ratio", "cloth-width", "into", "allowance", "hem", "whole", "name"},
	Labels: map[string]string{
		"ratio": "Times as long", "cloth-width": "Width of the cloth", "into": "Sewn as",
		"hem": "Hem", "whole": "Both sides of the body",
	},
	Begin: func(g Given) map[string]string {
		const share = 1. / 6 // of the piece
		return map[string]string{"depth": g.Round(max(2*g.Allowance(), g.Size()*share))}
	},
}
