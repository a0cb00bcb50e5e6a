package tool

import "hemlet/draft"

// SeamActs lists the acts that mend seams, in the order of a menu.
func SeamActs() []*Asked {
	return []*Asked{matchSeam, matchSeams, takeUp, setFullness, ratioAsItIs, notchSeam, notchSeams, smoothJoint}
}

// theSeam asks for a seam.
var theSeam = Step{Param: "seam", Take: TakeSeam, Says: "Click an edge of the seam."}

// matchSeam makes the sides of a seam match.
var matchSeam = &Asked{
	Act: draft.MatchSeam, Icon: "true", Word: "Match the sides of a seam", Gap: true,
	Also:   "true equal lengths walk mend seam make one side fit the other",
	Says:   "Make one side of a seam as long as the other asks for, or let both meet between. Edges that are sewn elsewhere keep their length.",
	Steps:  []Step{theSeam},
	Fields: []string{"gives", "way", "end", "want", "from", "to"},
	Labels: map[string]string{"gives": "Side that changes", "way": "By", "end": "End that moves", "want": "Sides are to be", "from": "Spread from", "to": "Spread to"},
	Shares: []string{"from", "to"},
}

// matchSeams makes the sides of many seams match at once.
var matchSeams = &Asked{
	Act: draft.MatchSeams, Icon: "true", Word: "Match seams together",
	Also: "true all seams at once equal lengths mend solve least change",
	Says: "Let several seams match at once, with the least change of all their pieces. Points of pieces that must stay can be named.",
	Steps: []Step{
		{Param: "seams", Take: TakeSeam, Many: true, Optional: true, Says: "Click an edge of each seam, then Enter; Enter alone takes every seam that does not hold."},
		{Param: "pieces", Take: TakePiece, Many: true, Optional: true, Says: "Click pieces that are to stay as they are, then Enter."},
		{Param: "points", Take: TakeNode, Many: true, Optional: true, Says: "Click points that are to stay where they are, then Enter."},
	},
}

// takeUp takes up what a side of a seam is too long.
var takeUp = &Asked{
	Act: draft.TakeUp, Icon: "dart", Word: "Take up the difference of a seam",
	Also:   "dart ease gather excess too long one side longer",
	Says:   "Take up what one side of a seam is too long: as a dart in it, as ease or as gathers.",
	Steps:  []Step{theSeam},
	Fields: []string{"as", "at", "length", "from", "to"},
	Labels: map[string]string{"as": "Taken up as", "at": "Dart opens at", "length": "Dart is long", "from": "Fullness from", "to": "Fullness to"},
	Shares: []string{"from", "to"},
	Begin:  func(Given) map[string]string { return map[string]string{"as": draft.AsDart.String()} },
}

// ratioAsItIs has a seam mean what is there.
var ratioAsItIs = &Asked{
	Act: draft.RatioAsItIs, Icon: "gather", Word: "Mean a seam as it is",
	Also:   "ratio accept set intended gather ease as drawn",
	Says:   "Take the lengths of a seam's sides as they are for what is meant: the longer one is eased or gathered in.",
	Steps:  []Step{theSeam},
	Fields: []string{"fullness"},
	Labels: map[string]string{"fullness": "Longer side is"},
}
