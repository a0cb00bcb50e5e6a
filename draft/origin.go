package draft

import "slices"

// Origin says where pieces came from that somebody else drew, and for whom they were
// made, so that they can be fitted to another body.
type Origin struct {
	ID ID
	// Name is what the pattern is called, Size the size that it states, in its own words.
	Name, Size string
	// Line is what the drawn outlines were, and Allowance the mm of it that lay inside
	// them: 0 for stitching lines.
	Line      DrawnLine
	Allowance float64
	// Measures are those of the body for which it was made, as far as it states them.
	Measures []OriginMeasure
}

// OriginMeasure is one measure of the body for which a pattern was made, in mm.
type OriginMeasure struct {
	Name  string
	Value float64
}

// Measure returns the named measure in mm, or false.
func (o *Origin) Measure(name string) (float64, bool) {
	for _, m := range o.Measures {
		if m.Name == name {
			return m.Value, true
		}
	}
	return 0, false
}

// says reports whether o and n say the same.
func (o *Origin) says(n *Origin) bool {
	return o.Name == n.Name && o.Size == n.Size && o.Line == n.Line && o.Allowance == n.Allowance && slices.Equal(o.Measures, n.Measures)
}

// withoutIdleOrigins returns the project without origins from which no piece comes.
func (p *Project) withoutIdleOrigins() *Project {
	used := make(map[ID]bool)
	for _, piece := range p.Pieces {
		used[piece.Origin] = true
	}
	for _, d := range p.Derivations {
		for _, in := range d.Inputs {
			used[in] = true
		}
	}
	var kept []*Origin
	for _, o := range p.Origins {
		if used[o.ID] {
			kept = append(kept, o)
		}
	}
	if len(kept) == len(p.Origins) {
		return p
	}
	next := p.shallow()
	next.Origins = kept
	return next
}
