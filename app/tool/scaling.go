package tool

import "hemlet/draft"

// ScalePicture returns how a picture is made true to size by hand.
func ScalePicture() *Asked { return scalePicture }

// scalePicture and scalePiece make things true to size by two places whose distance is
// known, such as the marks of a ruler that was scanned with the pattern.
var (
	scalePicture = &Asked{
		Act: draft.ScalePicture, Icon: "tape", Word: "Scale a picture by two places", Also: "reference scan photo ruler calibrate size true",
		Says: "Click two places in a picture whose distance you know, such as two marks of a ruler, and type that distance.",
		Steps: []Step{
			{Param: "picture", Take: TakePicture, Says: "Click the picture."},
			{Param: "from", Take: TakePoint, Says: "Click a place in the picture; it stays where it is."},
			{Param: "to", Take: TakePoint, Says: "Click a second place, whose distance from the first you know."},
		},
		Fields: []string{"distance"}, Labels: map[string]string{"distance": "True distance"},
		Begin: func(g Given) map[string]string { return map[string]string{"distance": "100mm"} },
	}
	scalePiece = &Asked{
		Act: draft.ScalePiece, Icon: "tape", Word: "Scale pieces by two places", Also: "enlarge reduce resize size true",
		Says: "Click two places whose distance you know, and type that distance; the pieces become as large as that says.",
		Steps: []Step{
			{Param: "pieces", Take: TakePiece, Many: true, Says: "Click the pieces, then press Enter."},
			{Param: "from", Take: TakePoint, Says: "Click a place; it stays where it is."},
			{Param: "to", Take: TakePoint, Says: "Click a second place, whose distance from the first you know."},
		},
		Fields: []string{"distance"}, Labels: map[string]string{"distance": "True distance"},
		Begin: func(g Given) map[string]string { return map[string]string{"distance": "100mm"} },
	}
)
