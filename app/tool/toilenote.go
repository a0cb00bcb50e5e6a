package tool

import "hemlet/draft"

// noteShare is what is taken in at first, as a share of the piece.
const noteShare = 1. / 40

// ToileNote notes at a place of an edge what a fitting of the toile shows.
var ToileNote = &Asked{
	Act: draft.AddToileNote, Icon: "notes", Word: "Note on the toile",
	Also:   "fitting toile muslin mock-up test pin take in let out hem up down too tight too long alter remark comment",
	Says:   "Note what the toile shows at a place: so much in or out there, a hem up or down, or only words. The notes change the pattern when you do them.",
	Steps:  []Step{{Param: "edge,at", Take: TakePlace, Says: "Click the edge where the toile does not sit."}},
	Fields: []string{"kind", "amount", "reach", "both", "words"},
	Labels: map[string]string{"kind": "The edge goes", "reach": "How far along", "both": "What it meets too"},
	Hints: map[string]string{
		"kind":   "take in: into the piece; let out: out of it; a hem goes up or down; words: nothing moves",
		"amount": "By how much at that place, square to the edge",
		"reach":  "whole: the whole edge by as much; tapers: less and less to its ends; as usual: hems whole, seams tapering",
		"both":   "Note the same for the edge that is sewn there, as a seam is pinned through both layers; of a whole hem, for the hems that go on from it; as usual: hems yes, seams no",
		"words":  "What else to remember",
	},
	Calls: func(g Given) map[string][]string {
		edge, ok := g.Edge()
		if !ok {
			return nil
		}
		hem, whole := g.Project.NotedAs(edge)
		called := map[string][]string{}
		if hem {
			called["kind"] = []string{"up", "down", "only words"}
		}
		usual := "as usual: tapers"
		if whole {
			usual = "as usual: whole"
		}
		called["reach"] = []string{usual, "whole", "tapers"}
		return called
	},
	Begin: func(g Given) map[string]string {
		return map[string]string{"amount": g.Round(g.Size() * noteShare)}
	},
}
