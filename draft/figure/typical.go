package figure

// shares are measures as shares of the stature.
type shares map[string]float64

// typical are the proportions that a build is drawn with where a measure is not
// known. Those of the upright build are near the means of an adult human and come
// from memory; the others are our own invention.
var typical = map[Build]shares{
	Upright: {
		"stature": 1, "head_girth": 0.34, "neck_height": 0.862, "neck_base_girth": 0.235,
		"shoulder_length": 0.082, "shoulder_drop": 0.027, "front_width": 0.205, "back_width": 0.222,
		"bust_girth": 0.57, "waist_girth": 0.485, "belly_girth": 0.535, "hip_girth": 0.6,
		"back_waist_length": 0.255, "front_waist_length": 0.225, "armscye_depth": 0.118,
		"armscye_girth": 0.24, "body_rise": 0.15,
		"upper_arm_girth": 0.183, "elbow_girth": 0.15, "wrist_girth": 0.096, "hand_girth": 0.115, "arm_length": 0.345,
		"thigh_girth": 0.355, "knee_girth": 0.225, "ankle_girth": 0.13, "heel_girth": 0.19,
		"inside_leg": 0.46, "foot_length": 0.152, "bust_point_distance": 0.115,
		"muzzle_girth": 0.2, "muzzle_length": 0.07, "ear_height": 0.04, "ear_girth": 0.06,
		"tail_girth": 0.1, "tail_length": 0.3,
	},
	Muzzled: {
		"stature": 1, "head_girth": 0.68, "neck_height": 0.76, "neck_base_girth": 0.36,
		"shoulder_length": 0.075, "shoulder_drop": 0.035, "front_width": 0.2, "back_width": 0.22,
		"bust_girth": 0.66, "waist_girth": 0.6, "belly_girth": 0.68, "hip_girth": 0.72,
		"back_waist_length": 0.24, "front_waist_length": 0.21, "armscye_depth": 0.105,
		"armscye_girth": 0.27, "body_rise": 0.14,
		"upper_arm_girth": 0.2, "elbow_girth": 0.165, "wrist_girth": 0.125, "hand_girth": 0.15, "arm_length": 0.3,
		"thigh_girth": 0.36, "knee_girth": 0.24, "ankle_girth": 0.17, "heel_girth": 0.28,
		"inside_leg": 0.3, "foot_length": 0.2, "bust_point_distance": 0.13,
		"muzzle_girth": 0.32, "muzzle_length": 0.13, "ear_height": 0.24, "ear_girth": 0.22,
		"tail_girth": 0.17, "tail_length": 0.48,
	},
	Wide: {
		"stature": 1, "head_girth": 0.78, "neck_height": 0.73, "neck_base_girth": 0.4,
		"shoulder_length": 0.07, "shoulder_drop": 0.045, "front_width": 0.21, "back_width": 0.24,
		"bust_girth": 0.85, "waist_girth": 0.98, "belly_girth": 1.12, "hip_girth": 0.94,
		"back_waist_length": 0.24, "front_waist_length": 0.24, "armscye_depth": 0.11,
		"armscye_girth": 0.27, "body_rise": 0.12,
		"upper_arm_girth": 0.2, "elbow_girth": 0.17, "wrist_girth": 0.14, "hand_girth": 0.17, "arm_length": 0.28,
		"thigh_girth": 0.38, "knee_girth": 0.27, "ankle_girth": 0.2, "heel_girth": 0.36,
		"inside_leg": 0.16, "foot_length": 0.27, "bust_point_distance": 0.17,
		"muzzle_girth": 0.3, "muzzle_length": 0.11, "ear_height": 0.07, "ear_girth": 0.13,
		"tail_girth": 0.12, "tail_length": 0.1,
	},
}

// depthShares says how deep a build is at a level as a share of how wide it is there.
type depthShares struct{ head, neck, bust, waist, belly, hip float64 }

var depths = map[Build]depthShares{
	Upright: {head: 1.24, neck: 1.02, bust: 0.76, waist: 0.74, belly: 0.78, hip: 0.7},
	Muzzled: {head: 0.98, neck: 1, bust: 0.88, waist: 0.88, belly: 0.92, hip: 0.86},
	Wide:    {head: 1, neck: 1, bust: 0.92, waist: 0.94, belly: 0.96, hip: 0.9},
}

// ownShape are the measures for which the proportions of the build come before an
// estimate, as estimates are made for human bodies.
var ownShape = map[string]bool{
	"head_girth": true, "neck_height": true, "neck_base_girth": true, "shoulder_length": true, "shoulder_drop": true,
	"armscye_girth": true, "upper_arm_girth": true, "elbow_girth": true, "wrist_girth": true, "hand_girth": true, "arm_length": true,
	"thigh_girth": true, "knee_girth": true, "ankle_girth": true, "heel_girth": true, "inside_leg": true, "foot_length": true,
	"muzzle_girth": true, "muzzle_length": true, "ear_height": true, "ear_girth": true, "tail_girth": true, "tail_length": true,
}
