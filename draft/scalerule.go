package draft

// personStature is the height in mm of a person, against whom scales are told.
const personStature = 1700

// asPerson is the share of that from which a body is sewn for as people are.
const asPerson = 0.7

// scaleRule is what bodies up to a share of a person's height are sewn with, in mm.
type scaleRule struct {
	upTo float64
	// least and most are the allowances of seams.
	least, most float64
}

// scaleRules are the rules of scale for allowances: 1:12 2 to 3 mm, 1:6 3 to 4, 1:4 to
// 1:3 5 to 6, large puppets 6 to 10, people 10 to 15. One changes to the next half way
// between them by ratio. (Common practice, no source.)
var scaleRules = []scaleRule{
	{1. / 8.5, 2, 3},
	{1. / 4.9, 3, 4},
	{0.45, 5, 6},
	{asPerson, 6, 10},
}

// personRule is that for people.
var personRule = scaleRule{1, 10, 15}

func scaleRuleOf(stature float64) scaleRule {
	for _, r := range scaleRules {
		if stature <= r.upTo*personStature {
			return r
		}
	}
	return personRule
}

// The smallest that can well be made, in mm (common practice, no source). Others lie with
// what they belong to: leastGusset, leastDoubleHem and leastCasing, turnWidth and machineRadius,
// gatherAllowance and gatherTrim, and the sizes of fastenings in rowRules.
const (
	// leastDart is what a dart takes in that can still be sewn to a point: 2 to 3 mm.
	leastDart = 2.5
)
