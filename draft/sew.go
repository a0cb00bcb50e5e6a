package draft

import "slices"

// sew records that run a is sewn to run b, a's start to b's start as they are given, and
// returns the seam. p is the project that an act is making: the seam is put into it. The
// seam gets the name, or that of the edges where none is given, with a number where it is
// taken. A ratio of 0 means 1. It stands for both sides of the body wherever there are
// two and it is not its own mirror image: a cut through a piece that is cut in pairs sews
// right to right and stands for left to left. The longer side is the fuller one.
func (p *Project) sew(ids *idSource, a, b Run, name string, ratio float64, fullness Fullness) *Seam {
	s := &Seam{ID: ids.make(kindSeam), A: slices.Clone(a), B: slices.Clone(b), Ratio: ratio, Fullness: fullness, To: 1}
	if s.Ratio == 0 {
		s.Ratio = 1
	}
	s.Fuller = p.longer(s)
	taken := func(n string) bool {
		return slices.ContainsFunc(p.Seams, func(o *Seam) bool { return o.Name == n })
	}
	if s.Name = name; name == "" || taken(name) {
		stem := name
		if stem == "" {
			if stem = p.edgeName(a[0]); stem != p.edgeName(b[0]) {
				stem += " to " + p.edgeName(b[0])
			}
		}
		s.Name = unusedName(stem, taken)
	}
	// Without a wish it cannot be refused.
	_ = p.setBothSides(s, nil, &Outcome{})
	p.Seams = append(slices.Clip(p.Seams), s)
	return s
}

// drawnRun returns the run along an edge as it is drawn: of the right copy, the near half.
func drawnRun(piece, edge ID) Run {
	return Run{{Piece: piece, Copy: CopyRef{Number: 1}, Edge: edge}}
}
