package draft

import "slices"

// keepSources writes into the sources of fits what an act has said of fitted pieces that
// belongs to the pattern: which stretches stand for which measures, for whom it was made,
// and how it is sewn. A span that is added to a fitted piece becomes a target by that, and
// one that is taken away is none any more. What has no place on the pattern as it was, such
// as a span from a point that was put in since, stays with the piece alone. easesSaid are
// the spans for which the act was given an ease.
func (p *Project) keepSources(before *Project, easesSaid []fitPart) *Project {
	next := p
	for i, d := range p.Derivations {
		if d.Kind != fitKind || d.Source == nil || before.Derivation(d.ID) == nil {
			continue
		}
		kept := p.withSource(before, d, easesSaid)
		if kept == d {
			continue
		}
		if next == p {
			next = p.shallow()
			next.Derivations = slices.Clone(p.Derivations)
		}
		next.Derivations[i] = kept
	}
	return next
}

// withSource returns the fit with its source as an act has left its pieces.
func (p *Project) withSource(before *Project, d *Derivation, easesSaid []fitPart) *Derivation {
	pieces := slices.Clone(d.Source.Pieces)
	changed := false
	settings := d.Settings
	for k, source := range pieces {
		now, was := p.Piece(source.ID), before.Piece(source.ID)
		if now == nil || was == nil || now == was || p.FitOf(now) != d || before.FitOf(was) == nil {
			continue
		}
		settings = easesAs(settings, was, now, easesSaid)
		if spans, other := source.spansAs(was, now); other {
			q := *source
			q.Spans = spans
			pieces[k], changed = &q, true
		}
	}
	source := &Source{Pieces: pieces, Seams: d.Source.Seams}
	if seams, other := p.seamsOfSource(before, source); other {
		source.Seams, changed = seams, true
	}
	inputs := p.fitInputs(d)
	if !changed && slices.Equal(inputs, d.Inputs) && slices.Equal(settings, d.Settings) {
		return d
	}
	kept := *d
	kept.Inputs, kept.Settings = inputs, settings
	if changed {
		kept.Source = source
	}
	return &kept
}

// spansAs returns the spans of a source piece after its fitted piece has become now, and
// false where an act has changed none.
func (p *Piece) spansAs(was, now *Piece) ([]Span, bool) {
	if slices.EqualFunc(was.Spans, now.Spans, func(a, b Span) bool { return a.ID == b.ID && equalSpans(a, b) }) {
		return nil, false
	}
	out := slices.Clone(p.Spans)
	changed := false
	for _, s := range now.Spans {
		old := was.Span(s.ID)
		if old != nil && sameButEase(*old, s) || p.measurable(s) != nil {
			continue
		}
		changed = true
		if k := slices.IndexFunc(out, func(x Span) bool { return x.ID == s.ID }); k >= 0 {
			s.Ease = out[k].Ease // that of the pattern as it was
			out[k] = s
		} else {
			out = append(out, s)
		}
	}
	for _, s := range was.Spans {
		if now.Span(s.ID) != nil {
			continue
		}
		if k := slices.IndexFunc(out, func(x Span) bool { return x.ID == s.ID }); k >= 0 {
			out, changed = slices.Delete(out, k, k+1), true
		}
	}
	return orNil(out), changed
}

// sameButEase reports whether two spans are the same, whatever their ease is.
func sameButEase(a, b Span) bool {
	a.Ease = b.Ease
	return equalSpans(a, b)
}

// easesAs returns the settings of a fit after a fitted piece has become now: an ease that
// was set on it is what is wanted there. So is that which was said with another measure, even
// where it is the same figure as before: it is all of the ease, and not that of the pattern.
// Where only another measure was said, the ease stays that which the pattern has on it.
func easesAs(list []Setting, was, now *Piece, said []fitPart) []Setting {
	for _, s := range now.Spans {
		old := was.Span(s.ID)
		if old == nil || s.Measure == "" || old.Ease == s.Ease && (old.Measure == s.Measure || !slices.Contains(said, fitPart{now.ID, s.ID})) {
			continue
		}
		rule := targetRule{by: TargetEase, value: s.Ease}
		if rule.check() == nil {
			list = withFitSetting(list, fitPart{now.ID, s.ID}.setting(fitTargetPrefix), rule.String())
		}
	}
	return list
}

// seamsOfSource returns the seams of a source as the project has them, and false where none
// is another than before. A seam of edges that the pattern did not have stays as it was.
func (p *Project) seamsOfSource(before *Project, source *Source) ([]*Seam, bool) {
	if slices.Equal(before.Seams, p.Seams) {
		return source.Seams, false
	}
	held := &Project{Pieces: source.Pieces}
	sews := func(s *Seam) bool {
		return !slices.ContainsFunc(slices.Concat(s.A, s.B), func(u EdgeUse) bool { return held.useExists(u) != nil })
	}
	var out []*Seam
	changed := false
	for _, s := range source.Seams {
		switch now, was := p.Seam(s.ID), before.Seam(s.ID); {
		case now == nil && was != nil:
			changed = true // taken apart
		case now == nil || now == was || !sews(now) || equalSeams(now.asSource(), s):
			out = append(out, s)
		default:
			out, changed = append(out, now.asSource()), true
		}
	}
	for _, s := range p.Seams {
		if before.Seam(s.ID) != s && sews(s) && !hasSeam(out, s) {
			out, changed = append(out, s.asSource()), true
		}
	}
	return out, changed
}

// asSource returns the seam as it is kept apart from the pattern: without the marks, whose
// notches may be gone by then.
func (s *Seam) asSource() *Seam {
	t := *s
	t.Marks = nil
	return &t
}

// seamsWithin lists the seams that sew nothing but the pieces, as they are kept with a
// source.
func (p *Project) seamsWithin(pieces []*Piece) []*Seam {
	within := make(map[ID]bool, len(pieces))
	for _, piece := range pieces {
		within[piece.ID] = true
	}
	var out []*Seam
	for _, s := range p.Seams {
		if s.A.within(within) && s.B.within(within) && p.checkRuns(s) == nil {
			out = append(out, s.asSource())
		}
	}
	return out
}

// fitInputs lists what a fit reads: its wearer, and the origins of its pieces.
func (p *Project) fitInputs(d *Derivation) []ID {
	var list []ID
	for _, in := range d.Inputs {
		if p.Origin(in) == nil {
			list = append(list, in)
		}
	}
	for _, piece := range d.Source.Pieces {
		if o := p.fitOrigin(d, piece.ID); o != nil && !slices.Contains(list, o.ID) {
			list = append(list, o.ID)
		}
	}
	return list
}

// fitsOther reports whether a fit is solved from something else after an act than before.
func (p *Project) fitsOther(after *Project, old, d *Derivation) bool {
	if old == d && p.WearerOf(old) == after.WearerOf(d) && p.sameOrigins(after, d) {
		return false
	}
	return !p.fitTaskOf(old).like(after.fitTaskOf(d))
}

func (p *Project) sameOrigins(after *Project, d *Derivation) bool {
	if d.Source == nil {
		return true
	}
	for _, piece := range d.Source.Pieces {
		if p.fitOrigin(d, piece.ID) != after.fitOrigin(d, piece.ID) {
			return false
		}
	}
	return true
}
