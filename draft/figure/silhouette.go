package figure

import "hemlet/geom"

// silhouetteCuts is into how many stretches a segment is cut to find which of them
// are seen. It only decides how far a line may reach into the part beside it.
const silhouetteCuts = 12

// Silhouette returns the lines that bound the figure: the outlines of the parts
// without what lies inside another part of the same layer or behind one of a later.
func (d *Drawing) Silhouette() []geom.Path {
	boxes := make([]geom.Rect, len(d.Parts))
	for i, p := range d.Parts {
		boxes[i] = p.Outline.Bounds()
	}
	covered := func(q geom.Point, by int) bool {
		for i, p := range d.Parts {
			if i != by && p.Layer >= d.Parts[by].Layer && boxes[i].Contains(q) && p.Outline.Contains(q) {
				return true
			}
		}
		return false
	}
	var out []geom.Path
	for i, p := range d.Parts {
		var run geom.Path
		for _, s := range p.Outline {
			for n := range silhouetteCuts {
				part := s.Between(float64(n)/silhouetteCuts, float64(n+1)/silhouetteCuts)
				if !covered(part.At(0.5), i) {
					run = append(run, part)
					continue
				}
				if len(run) > 0 {
					out, run = append(out, joined(run)), nil
				}
			}
		}
		if len(run) > 0 {
			out = append(out, joined(run))
		}
	}
	return out
}
