package tool

import "hemlet/draft"

// Sewing says that edges are sewn together: a click for each side, as with the tool for it;
// Shift gathers several on one side.
func Sewing() *Asked {
	a := ByKinds(draft.LinkSeam)
	a.Steps = []Step{
		{Param: "a", Take: TakeEdge, Many: true, Says: "Click an edge; the next click is on the edge it is sewn to."},
		{Param: "b", Take: TakeEdge, Many: true, Says: "Now click the edge that is sewn to it, or the same one again for its mirror image."},
	}
	a.Paired = true
	return a
}
