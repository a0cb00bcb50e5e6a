package tool

import "hemlet/draft"

// foldHalf makes a half of a whole piece.
var foldHalf = &Asked{
	Act: draft.FoldPiece, Icon: "halve", Word: "Fold in half", Under: "Fold",
	Also:   "half fold symmetric centre on the fold cut",
	Says:   "Make a half of a piece that is the same on both sides of its upright middle, to be cut on the fold.",
	Steps:  []Step{{Param: "piece", Take: TakePiece, Says: "Click the piece to fold."}},
	Fields: []string{"keep", "apart"},
	Labels: map[string]string{"keep": "Half that stays", "apart": "May differ by"},
}

// foldOn makes a half of a whole piece on a line that is drawn across it.
var foldOn = &Asked{
	Act: draft.FoldPiece, Icon: "halve", Word: "Fold in half on a line", Under: "Fold",
	Also:   "half fold symmetric centre slanted on the fold cut",
	Says:   "Make a half of a piece that is the same on both sides of a line, which you draw across it.",
	Steps:  []Step{{Param: "from,to", Take: TakeStroke, Says: "Draw the fold across the piece."}},
	Fields: foldHalf.Fields,
	Labels: foldHalf.Labels,
}

// unfold draws a piece whole that is cut on the fold.
var unfold = &Asked{
	Act: draft.UnfoldPiece, Icon: "unfold", Word: "Unfold", Under: "Fold",
	Also:  "whole open fold both halves full asymmetric",
	Says:  "Draw a piece whole that is cut on the fold, so that its two halves can be made different.",
	Steps: []Step{{Param: "piece", Take: TakePiece, Says: "Click a piece that is cut on the fold."}},
}
