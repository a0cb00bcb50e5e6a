package tool

import "hemlet/draft"

// notchSeam notches both sides of a seam.
var notchSeam = &Asked{
	Act: draft.NotchSeam, Icon: "notch", Word: "Notch both sides of a seam",
	Also:   "notches by rule match balance marks evenly quarters cap pair",
	Says:   "Mark matching places on both sides of a seam: by the rules of the trade, or so many evenly. The two notches of a pair stay together.",
	Steps:  []Step{theSeam},
	Fields: []string{"even", "shape", "keep"},
	Labels: map[string]string{"even": "How many, evenly", "keep": "Keep those that are there"},
}

// notchSeams notches both sides of many seams.
var notchSeams = &Asked{
	Act: draft.NotchSeams, Icon: "notch", Word: "Notch seams",
	Also: "notches all seams at once balance marks cap",
	Says: "Mark matching places on both sides of all seams that have none yet, by the rules of the trade.",
	Steps: []Step{
		{Param: "seams", Take: TakeSeam, Many: true, Optional: true, Says: "Click an edge of each seam, then Enter; Enter alone takes every seam that has no notches."},
	},
}

// smoothJoint draws a line into one where a seam crosses it.
var smoothJoint = &Asked{
	Act: draft.SmoothJoint, Icon: "smooth", Word: "Smooth a line across a seam",
	Also:   "true kink hem neck armhole waist corner joined together blend",
	Says:   "Draw a hem, a neck, an armhole or a waist into one smooth line where a seam crosses it. Points stay where they are.",
	Steps:  []Step{theSeam},
	Fields: []string{"end"},
	Labels: map[string]string{"end": "At the seam's"},
	Begin:  func(Given) map[string]string { return map[string]string{"end": "start"} },
}
