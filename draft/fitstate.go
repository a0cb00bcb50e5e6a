package draft

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/warp"
)

// FitState is everything that is to be seen of a fit.
type FitState struct {
	Derivation *Derivation
	Label      string
	Wearer     *Wearer
	Ease       FitEase
	Keep       FitKeep
	Targets    []FitTarget
	// Source are the pieces as they were before, Pieces those of the project that follow the
	// fit, with what was changed by hand since.
	Source, Pieces []*Piece
	// Scale is the factor by which the whole pattern became larger or smaller first.
	Scale float64
	// Largest is where the cloth is distorted most beyond that.
	Largest StrainAt
	// Contradicts says which targets could not be reached, and together with which.
	Contradicts []Contradiction
	// Err is why the pattern cannot be fitted; then only what was and what is wanted is told.
	Err error

	made   *fitMade
	bodies fitBodies
}

// StrainAt is how a place of a piece was stretched.
type StrainAt struct {
	// Piece is empty where nothing was.
	Piece ID
	// At is in the millimetres of the source piece.
	At geom.Point
	// Along and Across are the factors along and across the grain; 1 is a piece that has only
	// become larger or smaller with the whole pattern.
	Along, Across float64
}

// Most returns how far the larger of the two factors is from 1, as a share: 0.1 for a tenth
// longer and for a tenth shorter.
func (s StrainAt) Most() float64 { return max(offOne(s.Along), offOne(s.Across)) }

// offOne returns how far a factor is from 1, the same for a factor and its inverse.
func offOne(k float64) float64 {
	if !(k > 0) {
		return math.Inf(1)
	}
	return max(k, 1/k) - 1
}

// Fit returns the state of a fit, nil where the project has none with the id.
func (s *Slots) Fit(p *Project, id ID) *FitState {
	d := p.Derivation(id)
	if d == nil || d.Kind != fitKind {
		return nil
	}
	made := s.fitted(p, d)
	task := p.fitTaskOf(d)
	st := &FitState{
		Derivation: d, Label: p.derivationLabel(d), Wearer: p.WearerOf(d), Ease: task.plan.ease, Keep: task.plan.keep,
		Pieces: p.PiecesOf(d), Scale: 1, Err: made.err, made: made, bodies: task.bodies, Targets: task.targets,
	}
	if d.Source != nil {
		st.Source = d.Source.Pieces
	}
	for i := range st.Targets {
		s.reached(p, made, &st.Targets[i])
	}
	if made.err == nil {
		st.Scale = made.result.Scale
		st.Largest = slotOf(s, "fit strain", d.ID, slotInputs{made}, made.largest)
		st.Contradicts = made.contradicts(p.Unit, st.Targets)
	}
	return st
}

// Same reports whether two states tell of the same fit of the same pieces, so that Map and
// Strain say the same of them.
func (st *FitState) Same(other *FitState) bool {
	return st != nil && other != nil && st.made == other.made && slices.Equal(st.Pieces, other.Pieces)
}

// Fits returns the states of all fits of a project.
func (s *Slots) Fits(p *Project) []*FitState {
	var list []*FitState
	for _, d := range p.Derivations {
		if d.Kind == fitKind {
			list = append(list, s.Fit(p, d.ID))
		}
	}
	return list
}

// fitted is Project.fittedOf, kept for as long as the project is the same.
func (s *Slots) fitted(p *Project, d *Derivation) *fitMade {
	return slotOf(s, "fitted", d.ID, slotInputs{p, d}, func() *fitMade { return p.fittedOf(d) })
}

// reached measures a stretch as it is now: on the piece of the project or, where that no
// longer has it, on what the fit makes.
func (s *Slots) reached(p *Project, made *fitMade, t *FitTarget) {
	fitted := made.pieces[t.Piece.ID]
	piece := p.Piece(t.Piece.ID)
	if piece == nil || piece.measurable(t.Span) != nil {
		piece = fitted
	}
	if piece == nil {
		return
	}
	t.Piece = piece
	t.Reached = s.SpanLength(piece, t.Span)
	if !t.Known {
		return
	}
	t.Off = t.Reached - t.Wants
	if fitted != nil && math.Abs(t.Off) > TargetReached {
		t.ByHand = math.Abs(s.SpanLength(fitted, t.Span)-t.Wants) <= TargetReached
	}
}

// Strain returns how the cloth was stretched at a place of a source piece, in the piece's
// own millimetres, beyond what the whole pattern became larger or smaller; false where the
// place is of no piece of the fit.
func (st *FitState) Strain(piece ID, at geom.Point) (along, across float64, ok bool) {
	k := st.shape(piece)
	if k < 0 {
		return 0, 0, false
	}
	x := st.made.strain(k, at)
	return x.Along, x.Across, true
}

// Map returns where a place of a source piece lies on the fitted piece as the fit makes it,
// each in the piece's own millimetres.
func (st *FitState) Map(piece ID, at geom.Point) (geom.Point, bool) {
	k := st.shape(piece)
	if k < 0 {
		return at, false
	}
	return st.made.place(k, at), true
}

// shape returns which shape a piece is, -1 for none.
func (st *FitState) shape(piece ID) int {
	if st.made == nil || st.made.err != nil {
		return -1
	}
	for k, q := range st.Source {
		if q.ID == piece {
			return k
		}
	}
	return -1
}

// strain is warp.Result.Strain beyond the scale of the whole.
func (f *fitMade) strain(shape int, at geom.Point) warp.Strain {
	x := f.result.Strain(shape, at)
	x.Along, x.Across = x.Along/f.result.Scale, x.Across/f.result.Scale
	return x
}

// strainGrid is into how many parts the box of a piece is divided, each way, to find where
// it is distorted most.
const strainGrid = 12

// largest finds where the cloth is distorted most: on a grid inside each piece, and along
// its outline.
func (f *fitMade) largest() StrainAt {
	var best StrainAt
	for k, piece := range f.task.source.Pieces {
		path := piece.DrawnPath()
		look := func(at geom.Point) {
			x := f.strain(k, at)
			if s := (StrainAt{piece.ID, at, x.Along, x.Across}); best.Piece == "" || s.Most() > best.Most() {
				best = s
			}
		}
		for _, s := range path {
			look(s.P0)
			look(s.At(0.5))
		}
		box := path.Bounds()
		for i := range strainGrid {
			for j := range strainGrid {
				at := geom.Pt(box.Min.X+box.W()*(float64(i)+0.5)/strainGrid, box.Min.Y+box.H()*(float64(j)+0.5)/strainGrid)
				if path.Contains(at) {
					look(at)
				}
			}
		}
	}
	return best
}

// TargetReached is how far in mm a stretch may be from what is wanted and still have
// reached it: a hundredth is what nobody can cut, and another is left to the outline.
const TargetReached = 0.02

// missed lists the targets that the fit could not reach, the worst first: by the share of
// what is wanted. What was changed by hand since does not count.
func (f *fitMade) missed(targets []FitTarget) []missedTarget {
	if f.result == nil {
		return nil
	}
	var list []missedTarget
	for i, k := range f.spanGoal {
		if off := f.result.SpanOff[i]; math.Abs(off) > TargetReached {
			list = append(list, missedTarget{&targets[k], off})
		}
	}
	slices.SortStableFunc(list, func(a, b missedTarget) int { return cmp.Compare(b.share(), a.share()) })
	return list
}

// missedTarget is a target that is off by so many mm.
type missedTarget struct {
	*FitTarget
	off float64
}

func (m missedTarget) share() float64 { return math.Abs(m.off) / m.Wants }

// mostToldMissed is how many targets that were missed are told by name.
const mostToldMissed = 3

// label names a target: "Front, bust quarter".
func (t *FitTarget) label() string {
	return t.Piece.label() + ", " + labelOf(t.Span.Name, t.Span.ID)
}
