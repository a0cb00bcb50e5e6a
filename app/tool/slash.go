package tool

import (
	"strconv"

	"hemlet/draft"
)

// slashCount is into how many slashes an edge is spread at first.
const slashCount = 3

// slash slashes a piece from an edge and spreads it.
var slash = &Asked{
	Act: draft.SlashSpread, Icon: "spread", Word: "Slash and spread", Under: "Slash and spread",
	Also: "cut open hinge parallel flare lap widen slashes strips gores",
	Says: "Slash a piece from an edge to the one across and open each slash, about its far end or parallel.",
	Steps: []Step{
		{Param: "edge", Take: TakeEdge, Says: "Click the edge that is slashed."},
		{Param: "across", Take: TakeEdge, Optional: true, Says: "Click the edge across, if another one is meant."},
	},
	Fields:  []string{"count", "amount", "way", "far", "blend", "into"},
	Labels:  map[string]string{"count": "Slashes", "amount": "Each opens by", "far": "Far end by", "blend": "Drawn smooth", "into": "Sewn as"},
	Instead: map[string][]string{"far": {"way"}, "way": {"far"}},
	Begin: func(g Given) map[string]string {
		return map[string]string{
			"count":  strconv.Itoa(slashCount),
			"amount": g.Round(g.EdgeLength() * fullnessShare / slashCount),
		}
	},
}

// slashLines slashes a piece along lines that are drawn on it and spreads it.
var slashLines = &Asked{
	Act: draft.SlashSpread, Icon: "spread", Word: "Slash and spread along lines", Under: "Slash and spread",
	Also: "cut open hinge parallel flare lap widen slashes strips drawn",
	Says: "Slash a piece along lines that are drawn on it and open each, about its far end or parallel.",
	Steps: []Step{
		{Param: "lines", Take: TakeLine, Many: true, Says: "Click the line along which it is slashed."},
		{Param: "edge", Take: TakeEdge, Says: "Click the edge from which it is slashed."},
	},
	Fields:  []string{"amount", "way", "far", "blend", "into"},
	Labels:  map[string]string{"amount": "Each opens by", "far": "Far end by", "blend": "Drawn smooth", "into": "Sewn as"},
	Instead: slash.Instead,
	Begin: func(g Given) map[string]string {
		return map[string]string{"amount": g.Round(g.EdgeLength() * fullnessShare / slashCount)}
	},
}
