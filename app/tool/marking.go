package tool

import "hemlet/draft"

// Marking lists the acts that mark what the sewing needs, in the order of a menu.
func Marking() []*Asked {
	return []*Asked{addStretch, addRow, addRowOnLine, addPlacement, addMark, addDimension, addDimensionAlong, addSpan, addSpanAlong, setPasses, setNotch, deleteMark, ToileNote}
}

// addStretch marks where an edge is gathered, eased or held.
var addStretch = &Asked{
	Act: draft.AddStretch, Icon: "gather", Word: "Gather, ease or hold a stretch",
	Also:   "gather ease stay stretch shirr mark fullness",
	Says:   "Mark from where to where an edge is gathered, eased, or held by a stay.",
	Steps:  []Step{{Param: "edge", Take: TakeEdge, Says: "Click the edge."}},
	Fields: []string{"kind", "from", "to"},
}

// addRow sets fastenings along an edge.
var addRow = &Asked{
	Act: draft.AddRow, Icon: "row", Word: "Fastenings along an edge",
	Also:   "buttons buttonholes hooks eyes snaps eyelets lacing drawstring exit closure",
	Says:   "Set buttons, buttonholes, hooks, eyes, snaps, eyelets or drawstring exits along an edge. Small parts come off: keep them from children who put things into their mouths.",
	Steps:  []Step{{Param: "edge", Take: TakeEdge, Says: "Click the edge that the row keeps its distance from."}},
	Fields: []string{"kind", "size", "count", "distance", "first", "last", "overlap", "across"},
}

// addRowOnLine sets fastenings along a line inside a piece.
var addRowOnLine = &Asked{
	Act: draft.AddRow, Icon: "row", Word: "Fastenings along a line",
	Also:   "buttons buttonholes hooks eyes snaps eyelets lacing drawstring exit closure",
	Says:   "Set buttons, buttonholes, hooks, eyes, snaps, eyelets or drawstring exits along a line inside a piece.",
	Steps:  []Step{{Param: "line", Take: TakeLine, Says: "Click the line inside a piece."}},
	Fields: []string{"kind", "size", "count", "first", "last", "overlap", "across"},
}

// addPlacement draws a line at one distance from an edge.
var addPlacement = &Asked{
	Act: draft.AddPlacement, Icon: "placement", Word: "Placement line along an edge",
	Also:   "trimming braid stitching topstitch ruffle row of stitches parallel",
	Says:   "Draw a line inside a piece that keeps its distance from an edge: for a trimming, a ruffle, a row of stitches.",
	Steps:  []Step{{Param: "edge", Take: TakeEdge, Says: "Click the edge that the line follows."}},
	Fields: []string{"distance", "kind", "from", "to", "name"},
	Labels: map[string]string{"distance": "Inside the edge"},
	Begin: func(g Given) map[string]string {
		return map[string]string{"distance": g.Round(max(2*g.Allowance(), g.Size()/12))}
	},
}

// addMark marks a point inside a piece.
var addMark = &Asked{
	Act: draft.AddMark, Icon: "drill", Word: "Drill or reinforcement point",
	Also:   "awl hole point reinforce mark slit end pocket",
	Says:   "Mark a point inside a piece: to drill through, or to sew over twice, as at the end of a slit.",
	Steps:  []Step{{Param: "piece,at", Take: TakeSpot, Says: "Click the place on the piece."}},
	Fields: []string{"kind", "name"},
	Again:  true,
}

// addDimension shows how far apart two points are.
var addDimension = &Asked{
	Act: draft.AddDimension, Icon: "dimension", Word: "Live length between two points",
	Also: "dimension measure line distance",
	Says: "Show how far apart two points are. The figure follows as the shape changes.",
	Steps: []Step{
		{Param: "from", Take: TakeNode, Says: "Click the first point."},
		{Param: "to", Take: TakeNode, Says: "Click the second point."},
	},
	Fields: []string{"name"},
}

// addDimensionAlong shows how long edges are.
var addDimensionAlong = &Asked{
	Act: draft.AddDimension, Icon: "dimension", Word: "Live length along edges",
	Also:   "dimension measure edge run girth",
	Says:   "Show how long one or more edges of a piece are together. The figure follows as the shape changes.",
	Steps:  []Step{{Param: "edges", Take: TakeEdge, Many: true, Says: "Click the edge."}},
	Fields: []string{"name"},
}

// setNotch changes notches.
var setNotch = &Asked{
	Act: draft.SetNotch, Icon: "notch", Word: "Cut notches another way",
	Also:   "notch slit V T single double",
	Says:   "Have notches cut as a slit, a V or a T, single as in front or double as behind.",
	Steps:  []Step{{Param: "notches", Take: TakeNotch, Many: true, Says: "Click the notch."}},
	Fields: []string{"shape", "double", "at"},
	Labels: map[string]string{"at": "Along the edge"},
}

// deleteMark takes marks away.
var deleteMark = &Asked{
	Act: draft.DeleteMark, Icon: "remove", Word: "Take marks away",
	Also:  "delete remove notch line stretch point fastening",
	Says:  "Take notches, stretches, lines, points and rows of fastenings off a piece.",
	Steps: []Step{{Param: "marks", Take: TakeMark, Many: true, Says: "Click the mark."}},
}
