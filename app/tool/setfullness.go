package tool

import "hemlet/draft"

// setFullness makes a seam as full as wanted.
var setFullness = &Asked{
	Act: draft.SetFullness, Icon: "gather", Word: "Make a seam as full as wanted",
	Also:   "ratio gathers fuller less full ruffle strip wrong length",
	Says:   "Make the fuller side of a seam so many times as long as the other: straight strips get longer or shorter, other pieces are spread.",
	Steps:  []Step{theSeam},
	Fields: []string{"ratio"},
	Labels: map[string]string{"ratio": "Times as long"},
	Begin:  func(Given) map[string]string { return map[string]string{"ratio": "1.5"} },
}
