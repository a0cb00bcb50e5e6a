package draft

import (
	"fmt"
	"math"
	"slices"
)

// distortedLimit is the share by which cloth may be stretched or shrunk at a place beyond
// what the whole pattern is, before it is to be looked at: at a quarter a style line is
// seen to have another course. (Common practice, no source.)
const distortedLimit = 0.25

// wildLimit is from which share on the piece is no longer the one that was drawn, so that
// its cloth would be lost: twice as long as the rest of the pattern, or half as long. A smock
// for a grown person on a hedgehog of a puppet comes to 0.7 at its neck and is well worn.
// (Measured on our own scenario, no source.)
const wildLimit = 1

// checkFits tells what fits could not reach, where they distort the pattern, and which
// pieces have not followed.
func (s *Slots) checkFits(p *Project) []Finding {
	var out []Finding
	for _, d := range p.Derivations {
		if d.Kind != fitKind {
			continue
		}
		st := s.Fit(p, d.ID)
		out = append(out, st.findings(p.Unit)...)
		for _, piece := range st.Pieces {
			if f := s.checkLag(p, d, st.made, piece, st.Label); f != nil {
				out = append(out, *f)
			}
		}
	}
	return out
}

// FitFindings returns what is to be looked at of a fitted pattern as a whole: all that
// checks tell of it but targets that are missed, which the fit itself tells of, and but
// what somebody lives with.
func (s *Slots) FitFindings(p *Project, fit ID) []Finding {
	st := s.Fit(p, fit)
	if st == nil {
		return nil
	}
	return slices.DeleteFunc(st.findings(p.Unit), func(f Finding) bool {
		return f.Limit == TargetReached || slices.ContainsFunc(p.Waivers, func(w Waiver) bool { return w.Finding == f.Key })
	})
}

func (st *FitState) findings(unit Unit) []Finding {
	about := Finding{About: st.Label, Derivation: st.Derivation.ID}
	if st.Wearer != nil {
		about.Wearer = st.Wearer.ID
	}
	key := "fit/" + string(st.Derivation.ID) + "/"
	if st.Err != nil {
		f := about
		f.Key, f.Level = key+"made", Problem
		f.Says = fmt.Sprintf("It cannot be worked out, and its pieces stay as they were: %s", sentence(st.Err))
		return []Finding{f}
	}
	var out []Finding
	if n := st.takenBare(); n > 0 {
		f := about
		// All of it is a guess, of which cloth is not to be cut.
		f.Key, f.Level = key+"made for", Problem
		f.Says = fmt.Sprintf("Nothing is known of the body that the pattern was made for: %s taken as if the pattern lay on that body without any ease, so that it becomes too tight, or out of shape. Say a measure of that body, such as round the bust, or how tall it was; or what ease a stretch has.", bareWords(n))
		out = append(out, f)
	}
	if f := st.unsewn(key); f != nil {
		out = append(out, *f)
	}
	clashes := st.made.clashes(st.Targets)
	for _, m := range st.made.missed(st.Targets) {
		out = append(out, st.missed(unit, key, m, clashes))
	}
	if st.made.result.Held {
		f := about
		f.Key, f.Level = key+"held", Problem
		f.Says = "The pattern could follow only part of the way, for further on an outline would cross itself. Look at what its stretches are to become."
		out = append(out, f)
	}
	if f := st.bellyForgotten(unit, key); f != nil {
		out = append(out, *f)
	}
	if at := st.Largest; at.Piece != "" && at.Most() > distortedLimit {
		out = append(out, st.distorted(key))
	}
	return out
}

// unsewn tells that nothing says what is sewn to what, nil where something does: the fit
// keeps true only the seams that it knows.
func (st *FitState) unsewn(key string) *Finding {
	source := st.Derivation.Source
	if len(source.Pieces) < 2 || len(source.Seams) > 0 {
		return nil
	}
	return &Finding{
		Key: key + "unsewn", Level: LookAgain, About: st.Label, Derivation: st.Derivation.ID,
		Says: "Nothing says which edges of its pieces are sewn to each other, and edges that are may have become of different lengths. Link its seams; the fit keeps them true from then on.",
	}
}

// missed tells of a target that the fit cannot reach, one of those that it cannot.
func (st *FitState) missed(unit Unit, key string, t missedTarget, clashes []fitClash) Finding {
	f := Finding{
		Key: key + string(t.Piece.ID) + "/" + string(t.Span.ID), Level: LookAgain, About: t.label(), Piece: t.Piece.ID,
		Derivation: st.Derivation.ID, Value: math.Abs(t.off), Limit: TargetReached,
	}
	if t.Span.Measure != "" {
		f.Measures = []string{t.Span.Measure}
	}
	word := "more"
	if t.off < 0 {
		word = "less"
	}
	f.Says = fmt.Sprintf("It becomes %s, %s %s than it is to be: %s", unit.Format(t.Wants+t.off), unit.FormatSmall(math.Abs(t.off)), word, t.against(clashes))
	f.Mends = append(f.Mends, t.freed())
	if m := t.weighed(); m != nil {
		f.Mends = append(f.Mends, *m)
	}
	return f
}

// freed returns the mend that wants no length of the stretch any more.
func (t *FitTarget) freed() Mend {
	return newMend("Let it become what the others make of it", "set-fit-target", "span", partText(t.Piece.ID, t.Span.ID), "by", TargetFree.String())
}

// weighed returns the mend that has the stretch count more, nil where it counts most already.
func (t *FitTarget) weighed() *Mend {
	if t.Weight*10 > largestFitWeight {
		return nil
	}
	m := newMend("Let it count ten times as much", "set-fit-target", "span", partText(t.Piece.ID, t.Span.ID), "by", t.ruleWord(), "weight", exactFigure(t.Weight*10))
	if t.ruleValued() {
		m.Args["value"] = mmText(t.Value)
	}
	return &m
}

// ruleWord is the rule as it was chosen for the stretch itself.
func (t *FitTarget) ruleWord() string {
	if !t.Given {
		return TargetAsFit.String()
	}
	return t.By.String()
}

func (t *FitTarget) ruleValued() bool { return t.Given && t.By.valued() }

// against says what stands against a target.
func (m missedTarget) against(clashes []fitClash) string {
	var others []string
	for _, o := range m.with(clashes) {
		others = append(others, o.label())
	}
	if len(others) == 0 {
		return "the seams, folds and straight edges as they are let it come no nearer."
	}
	return fmt.Sprintf("it cannot be had together with %s.", list(others, mostToldMissed))
}

// distorted tells of the place where the cloth is distorted most.
func (st *FitState) distorted(key string) Finding {
	at := st.Largest
	f := Finding{Key: key + "distorted", Level: LookAgain, Piece: at.Piece, Derivation: st.Derivation.ID, Value: at.Most(), Limit: distortedLimit}
	if at.Most() > wildLimit {
		f.Level, f.Limit = Problem, wildLimit
	}
	for _, q := range st.Source {
		if q.ID == at.Piece {
			f.About = q.label()
		}
	}
	if on, ok := st.Map(at.Piece, at.At); ok {
		f.At = &on
	}
	f.Says = fmt.Sprintf("%s is %s along the grain and %s across it than it would be by scale alone. Look whether its stretches stand for the right measures.",
		f.About, offWords(at.Along), offWords(at.Across))
	if t, by := st.pullsMost(at.Piece); t != nil {
		f.Says += fmt.Sprintf(" Most of it comes of the stretch %s, which is wanted %s beyond the whole.", t.Span.Name, offWords(by))
		if t.Span.Measure != "" {
			f.Measures = []string{t.Span.Measure}
		}
	}
	return f
}

// pullsMost returns the target on a piece of which most is wanted beyond what the whole pattern
// becomes, with its factor; nil where none is wanted so far from it that it tells.
func (st *FitState) pullsMost(piece ID) (most *FitTarget, by float64) {
	by = 1
	for i := range st.Targets {
		t := &st.Targets[i]
		if t.Piece.ID != piece || !t.Known || !(t.Was > 0 && st.Scale > 0) {
			continue
		}
		if k := t.Wants / t.Was / st.Scale; offOne(k) > offOne(by) {
			most, by = t, k
		}
	}
	if offOne(by) < distortedLimit/2 {
		return nil, 1
	}
	return most, by
}

// takenBare returns how many stretches were taken for bare measures of the old body, since
// nothing is known of that: 0 where anything is, be it a measure or the ease of a stretch.
func (st *FitState) takenBare() int {
	n := 0
	for i := range st.Targets {
		t := &st.Targets[i]
		switch {
		case t.Span.Measure == "" || t.By != TargetScaled && t.By != TargetKept:
		case t.Span.Ease != 0 || t.Old > 0 && !t.oldFromSpan:
			return 0
		case t.oldFromSpan:
			n++
		}
	}
	return n
}

// OldUnknown reports whether nothing at all is known of the body that the pattern was made
// for, so that all that is wanted of it is a guess.
func (st *FitState) OldUnknown() bool { return st.Err == nil && st.takenBare() > 0 }

func bareWords(n int) string {
	if n == 1 {
		return "one stretch is"
	}
	return fmt.Sprintf("%d stretches are", n)
}

// offWords says of a factor by how much it makes longer or shorter: "12 % longer".
func offWords(k float64) string {
	percent := math.Round((k - 1) * 100)
	switch {
	case percent > 0:
		return fmt.Sprintf("%.0f %% longer", percent)
	case percent < 0:
		return fmt.Sprintf("%.0f %% shorter", -percent)
	}
	return "no longer"
}
