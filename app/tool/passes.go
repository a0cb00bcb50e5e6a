package tool

import "hemlet/draft"

// setPasses says what has to go through an opening.
var setPasses = &Asked{
	Act: draft.SetPasses, Icon: "measure", Word: "Say what goes through the opening",
	Also:   "neck wrist ankle head hand foot heel hips dressing put on pass",
	Says:   "Say what has to go through the opening that edges bound when the garment is put on: the head, a hand, a heel, a part of the wearer, or nothing.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click an edge of the opening."}},
	Fields: []string{"what"},
	Labels: map[string]string{"what": "Goes through"},
	Unset:  map[string]string{"what": "what its name tells"},
	Hints:  map[string]string{"what": "What has to go through: a part of the wearer, what a girth goes round, or nothing"},
}
