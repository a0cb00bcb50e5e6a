package draft

import "math"

// FullnessState is how the fuller side of a seam is drawn up: the stretch in which its
// fullness lies, flat and gathered, and what its cloth takes. All lengths are in mm.
type FullnessState struct {
	Seam *Seam
	// Fuller and Other are the lengths of the two runs.
	Fuller, Other float64
	// From and To bound the stretch on the fuller run, flat, from its start.
	From, To float64
	// Flat is the length of the stretch, Drawn what it is drawn up to on the other run;
	// 0 where that leaves no room for it.
	Flat, Drawn float64
	// Ratio is Flat over Drawn as the pieces are, Want the same as it is intended; both
	// are those within the stretch, +Inf where there is no room.
	Ratio, Want float64
	// Cloth is that of the first piece of the fuller run, nil where none is chosen.
	Cloth   *Cloth
	Weight  ClothWeight
	KnownBy KnownBy
	// Least and Most are the ratios between which that cloth gathers well.
	Least, Most float64
	// Bulk is how thick the allowances of the fuller side lie in the seam, 0 where the
	// thickness is not known, and Allowance how wide they are left there at the least.
	Bulk, Allowance float64
}

// bulkLayers is how many layers of a gathered side lie in its seam: the side and its
// allowance, pressed one way.
const bulkLayers = 2

// Fullnesses returns the state of every seam that is not plain, in order. Seams that
// sew what is gone are left out.
func (s *Slots) Fullnesses(p *Project) []FullnessState {
	var out []FullnessState
	for _, seam := range p.Seams {
		if seam.Fullness == Plain {
			continue
		}
		if st, err := s.SeamState(p, seam); err == nil {
			out = append(out, fullnessState(p, st))
		}
	}
	return out
}

func fullnessState(p *Project, st SeamState) FullnessState {
	f := FullnessState{Seam: st.Seam, Fuller: st.B, Other: st.A}
	if st.Seam.Fuller == SideA {
		f.Fuller, f.Other = st.A, st.B
	}
	f.From, f.To = st.Seam.From*f.Fuller, st.Seam.To*f.Fuller
	f.Flat = f.To - f.From
	f.Drawn = max(f.Other-(f.Fuller-f.Flat), 0)
	f.Ratio = drawnRatio(f.Flat, f.Drawn)
	f.Want = st.Seam.wantedLocal()
	run, _ := st.fullerRuns()
	f.Cloth = p.clothOf(run)
	f.Weight, f.KnownBy = WeightOf(f.Cloth)
	f.Least, f.Most = f.Weight.Gathering()
	f.Allowance = p.leftAllowance(run)
	if f.Cloth != nil && !math.IsInf(f.Want, 0) {
		f.Bulk = f.Cloth.Thickness * f.Want * bulkLayers
	}
	return f
}

// wantedLocal returns the intended ratio within the stretch of the fullness, which is
// higher than that of the whole where the rest lies flat.
func (s *Seam) wantedLocal() float64 {
	flat := s.Ratio * (s.To - s.From)
	return drawnRatio(flat, 1-(s.Ratio-flat))
}

func drawnRatio(flat, drawn float64) float64 {
	if drawn <= 0 {
		return math.Inf(1)
	}
	return flat / drawn
}

// clothOf returns the cloth of the first piece of a run that has one, or nil.
func (p *Project) clothOf(run Run) *Cloth {
	for _, u := range run {
		if piece := p.Piece(u.Piece); piece != nil {
			if c := p.Cloth(piece.Cloth); c != nil {
				return c
			}
		}
	}
	return nil
}

// leftAllowance returns the narrowest allowance in mm that is left on the edges of a
// run once the seam is sewn and trimmed.
func (p *Project) leftAllowance(run Run) float64 {
	least := math.Inf(1)
	for _, u := range run {
		if e := p.edgeOf(u); e != nil {
			left := min(e.Allowance.Start, e.Allowance.End)
			if e.Allowance.TrimTo > 0 {
				left = min(left, e.Allowance.TrimTo)
			}
			least = min(least, left)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// edgeOf returns the edge of a use, or nil.
func (p *Project) edgeOf(u EdgeUse) *Edge {
	if piece := p.Piece(u.Piece); piece != nil {
		e, _ := piece.Edge(u.Edge)
		return e
	}
	return nil
}
