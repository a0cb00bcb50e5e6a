package tool

import "hemlet/draft"

// grow lets a hem, casing, extension or button stand grow on an edge.
var grow = &Asked{
	Act: draft.GrowEdge, Icon: "hem", Word: "Grown-on hem, casing or stand",
	Also:   "hem casing drawstring elastic extension button stand placket turn back fold grow",
	Says:   "Let a hem, a casing, an extension or a button stand grow on an edge, with ends that lie flat when turned back.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click the edge that it grows on."}},
	Fields: []string{"way", "depth", "turn", "facing", "fasten", "size", "count"},
	Labels: map[string]string{"way": "What grows", "turn": "Turned under", "facing": "Facing", "fasten": "Fastened by"},
	Begin: func(g Given) map[string]string {
		return map[string]string{"depth": g.Round(max(1.5*g.Allowance(), g.Size()/20))}
	},
}
