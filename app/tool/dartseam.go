package tool

import "hemlet/draft"

// dartSeam cuts a piece in two along a dart.
var dartSeam = &Asked{
	Act: draft.DartToSeam, Icon: "dart-seam", Word: "Dart into a seam", Under: "Darts",
	Also: "princess panel style line split through apex",
	Says: "Cut a piece in two along a dart and on from its point, so that the dart becomes a part of a seam.",
	Steps: []Step{
		{Param: "dart", Take: TakeDart, Says: "Click the dart."},
		{Param: "to", Take: TakePlace, Says: "Click the edge where the seam ends."},
	},
	Fields: []string{"seam", "name"},
	Labels: map[string]string{"seam": "Seam is called", "name": "New piece"},
}

// dartsSeam cuts a piece in two along two darts.
var dartsSeam = &Asked{
	Act: draft.DartToSeam, Icon: "dart-seam", Word: "Two darts into one seam", Under: "Darts",
	Also: "princess panel style line split through apex",
	Says: "Cut a piece in two along one dart and on into another, so that both become a part of one seam.",
	Steps: []Step{
		{Param: "dart", Take: TakeDart, Says: "Click the first dart."},
		{Param: "into", Take: TakeDart, Says: "Click the dart into which the seam runs on."},
	},
	Fields: dartSeam.Fields,
	Labels: dartSeam.Labels,
}
