package tool

import (
	"strconv"

	"hemlet/draft"
)

// foldCount is how many pleats or tucks are laid at first, and foldShare how deep one is
// of the length of the edge.
const (
	foldCount = 3
	foldShare = 1. / 16
)

// folds begins with a few folds as deep as suits the edge.
func folds(g Given) map[string]string {
	return map[string]string{"count": strconv.Itoa(foldCount), "depth": g.Round(g.EdgeLength() * foldShare)}
}

// pleats lays pleats at an edge.
var pleats = &Asked{
	Act: draft.AddPleats, Icon: "pleat", Word: "Pleats", Under: "Pleats, tucks and ruffles", Gap: true,
	Also: "knife box inverted fold kilt plait fullness",
	Says: "Lay knife, box or inverted pleats at an edge. The piece gets wider by what they take up, or the edge shorter.",
	Steps: []Step{
		{Param: "edge", Take: TakeEdge, Says: "Click the edge that is pleated."},
		{Param: "across", Take: TakeEdge, Optional: true, Says: "Click the edge across, if another one is meant."},
	},
	Fields: []string{"count", "depth", "kind", "press", "cloth", "from", "to", "face", "length", "name"},
	Labels: map[string]string{"count": "Pleats", "kind": "Laid as", "press": "Pressed", "cloth": "Cloth is", "face": "Face of a box", "length": "Folds marked"},
	Begin:  folds,
}

// tucks sews tucks into a piece.
var tucks = &Asked{
	Act: draft.AddTucks, Icon: "tuck", Word: "Tucks", Under: "Pleats, tucks and ruffles",
	Also: "pin tuck fold released stitched take up",
	Says: "Sew tucks into a piece from an edge on, or all the way across. The piece gets wider, or the edge shorter.",
	Steps: []Step{
		{Param: "edge", Take: TakeEdge, Says: "Click the edge at which the tucks begin."},
		{Param: "across", Take: TakeEdge, Optional: true, Says: "Click the edge across, if another one is meant."},
	},
	Fields: []string{"count", "depth", "spacing", "length", "press", "cloth", "from", "to", "name"},
	Labels: map[string]string{"count": "Tucks", "press": "Pressed", "cloth": "Cloth is", "length": "Sewn for"},
	Begin:  folds,
}
