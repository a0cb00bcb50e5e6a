package tool

import "hemlet/draft"

// gussetShare and godetShare are how deep a slit is at first, as shares of the piece.
const (
	gussetShare = 1. / 7
	godetShare  = 1. / 3
)

// depth begins a slit as deep as a share of the piece, unless its point was given.
func depth(share float64) func(Given) map[string]string {
	return func(g Given) map[string]string {
		if g.Has("to") {
			return nil
		}
		const least = 3 // times the allowance, which has to taper to nothing along the slit
		return map[string]string{"depth": g.Round(max(g.Size()*share, least*g.Allowance()))}
	}
}

// gusset lets a triangle or diamond into a slit.
var gusset = &Asked{
	Act: draft.InsertGusset, Icon: "gusset", Word: "Let in a gusset", Under: "Let in", Gap: true,
	Also: "underarm crotch diamond triangle slit room to move insert",
	Says: "Slit a piece, and its partner across the seam, and let in a triangle or a diamond that gives room to move.",
	Steps: []Step{
		{Param: "at", Take: TakePlace, Says: "Click the edge where it is slit."},
		{Param: "to", Take: TakePoint, Optional: true, Says: "Click where the slit ends."},
	},
	Fields: []string{"depth", "width", "both", "allowance", "name"},
	Labels: map[string]string{"both": "Partner too"},
	Begin:  depth(gussetShare),
}

// godet lets a wedge or a part of a circle into a slit at a hem.
var godet = &Asked{
	Act: draft.InsertGodet, Icon: "godet", Word: "Let in a godet", Under: "Let in",
	Also: "flare skirt hem wedge circle slit insert gore seam centre back",
	Says: "Let a wedge or a part of a circle that widens the hem into a slit, or into a seam that ends there.",
	Steps: []Step{
		{Param: "at", Take: TakePlace, Says: "Click the hem where it is slit, or a seam where the point of the godet will be."},
		{Param: "to", Take: TakePoint, Optional: true, Says: "Click where the slit ends."},
	},
	Fields:  []string{"depth", "shape", "width", "angle", "allowance", "name"},
	Labels:  map[string]string{"shape": "Ends", "angle": "Angle at point", "width": "Width"},
	Instead: map[string][]string{"width": {"angle"}, "angle": {"width"}, "depth": {"to"}, "to": {"depth"}},
	Begin:   godetDepth,
}

// godetDepth is depth for a slit; on a seam the place that was clicked is the point of the
// godet.
func godetDepth(g Given) map[string]string {
	if g.Sewn() {
		return nil
	}
	return depth(godetShare)(g)
}
