package tool

import "hemlet/draft"

// pivot closes a dart and opens it elsewhere.
var pivot = &Asked{
	Act: draft.PivotDart, Icon: "dart-pivot", Word: "Pivot a dart", Under: "Darts", Gap: true,
	Also: "move rotate transfer swing dart close open elsewhere",
	Says: "Close a dart, or a share of it, and let it open at another place. Seam lengths and the area stay.",
	Steps: []Step{
		{Param: "dart", Take: TakeDart, Says: "Click the dart that closes."},
		{Param: "to", Take: TakePlace, Says: "Click the edge where it opens instead."},
	},
	Fields: []string{"share", "name"},
	Labels: map[string]string{"share": "How much"},
	Shares: []string{"share"},
}

// absorb makes gathers or ease of a dart.
var absorb = &Asked{
	Act: draft.AbsorbDart, Icon: "dart-gather", Word: "Dart into gathers or ease", Under: "Darts",
	Also:   "dart gather ease shirr pouf soften",
	Says:   "Let the edge gather or ease in what a dart took in. Its seam is told of it.",
	Steps:  []Step{{Param: "darts", Take: TakeDart, Many: true, Says: "Click the dart."}},
	Fields: []string{"into", "over"},
	Labels: map[string]string{"over": "Spread over"},
}
