package tool

import "hemlet/draft"

// leastIntake is the smallest intake, in mm, that a dart is worth sewing for (common
// practice, no source).
const leastIntake = 3

// addDart takes in a wedge at an edge.
var addDart = &Asked{
	Act: draft.AddDart, Icon: "dart", Word: "Add a dart", Under: "Darts",
	Also: "take in wedge shape bust waist intake tuck",
	Says: "Take in a wedge at an edge. Click where it opens, then where its point goes.",
	Steps: []Step{
		{Param: "edge,at", Take: TakePlace, Says: "Click the edge where the dart opens."},
		{Param: "apex", Take: TakePoint, Optional: true, Says: "Click where its point goes."},
	},
	Fields: []string{"intake", "length", "press", "name"},
	Labels: map[string]string{"press": "Pressed"},
	Begin: func(g Given) map[string]string {
		const share = 1. / 13 // of the piece, about what a waist dart takes in
		return map[string]string{"intake": g.Round(max(g.Size()*share, leastIntake))}
	},
}

// moveDart moves the point of a dart, or changes how wide and long it is.
var moveDart = &Asked{
	Act: draft.MoveDart, Icon: "dart-move", Word: "Move a dart", Under: "Darts",
	Also: "dart apex point tip intake wider narrower longer shorter",
	Says: "Move the point of a dart, or set how much it takes in and how long it is.",
	Steps: []Step{
		{Param: "dart", Take: TakeDart, Says: "Click the dart."},
		{Param: "apex", Take: TakePoint, Optional: true, Says: "Click where its point goes now."},
	},
	Fields: []string{"intake", "length", "at"},
	Labels: map[string]string{"at": "Along the edge"},
}

// setDart names a dart and says how it is folded.
var setDart = &Asked{
	Act: draft.SetDart, Icon: "dart", Word: "Press or fold a dart another way", Under: "Darts",
	Also:   "dart pleat tuck press direction name cap",
	Says:   "Say to which side a dart is pressed, or make a pleat or a tuck of it. The cut line across its mouth follows.",
	Steps:  []Step{{Param: "darts", Take: TakeDart, Many: true, Says: "Click the dart, pleat or tuck."}},
	Fields: []string{"press", "fold", "name"},
	Labels: map[string]string{"press": "Pressed", "fold": "Folded as"},
}

// deleteDart takes darts away.
var deleteDart = &Asked{
	Act: draft.DeleteDart, Icon: "remove", Word: "Take a dart out", Under: "Darts",
	Also:  "delete remove dart pleat tuck let out",
	Says:  "Take darts away. What they took in stays in the edge, which grows longer by it.",
	Steps: []Step{{Param: "darts", Take: TakeDart, Many: true, Says: "Click the dart, pleat or tuck to take out."}},
}
