package tool

import "hemlet/draft"

// fullnessShare is by how much of its length an edge gets longer at first: a little less
// than the least that reads as gathers.
const fullnessShare = 0.25

// fullness lets an edge get longer.
var fullness = &Asked{
	Act: draft.AddFullness, Icon: "fullness", Word: "Add fullness",
	First: "gather smock",
	Also:  "gather smock flare widen spread puff ease cut wider circular",
	Says:  "Let an edge, or a stretch of it, get longer. The edge across keeps its length, or gets as much.",
	Steps: []Step{
		{Param: "edge", Take: TakeEdge, Says: "Click the edge that gets fuller."},
		{Param: "across", Take: TakeEdge, Optional: true, Says: "Click the edge across, if another one is meant."},
	},
	Fields:  []string{"amount", "ratio", "way", "from", "to", "into"},
	Labels:  map[string]string{"amount": "Longer by", "ratio": "Times as long", "into": "Sewn as"},
	Instead: map[string][]string{"amount": {"ratio"}, "ratio": {"amount"}},
	Begin: func(g Given) map[string]string {
		if g.Has("ratio") {
			return nil
		}
		return map[string]string{"amount": g.Round(g.EdgeLength() * fullnessShare)}
	},
}
