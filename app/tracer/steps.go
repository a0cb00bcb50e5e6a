package tracer

// The names of the steps.
const (
	stepPictures = "Pictures"
	stepTrue     = "True to size"
	stepJoin     = "Join"
	stepClean    = "Clean"
	stepFollow   = "Follow"
	stepMadeFor  = "Made for"
	stepReview   = "Look over"
)

// allSteps makes the steps in their order.
func allSteps(r *Room) []step {
	f := newFinds(r)
	return []step{newPictures(r), newTrueStep(r), newJoinStep(r), newClean(f), newFollow(f), newMadeFor(f), newReview(f)}
}
