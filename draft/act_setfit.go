package draft

import (
	"errors"
	"fmt"
	"slices"
)

// SetFitArgs are the arguments of SetFit.
type SetFitArgs struct {
	Fit    *FitRef    `arg:"fit" says:"the fitted pattern; without it, the only one there is"`
	Wearer *WearerRef `arg:"wearer" says:"the wearer to whom it is fitted"`
	Ease   *FitEase   `arg:"ease" says:"scaled: ease grows and shrinks with the body; kept: it stays as many mm as it was"`
	Keep   *FitKeep   `arg:"keep" says:"what gives least between the measured stretches"`
	Under  *Length    `arg:"under" says:"how thick all is that the body wore underneath for which the pattern was made"`
}

// SetFit changes for whom a pattern is fitted, and how.
var SetFit = register(Info{
	Name: "set-fit", Title: "Set how a pattern is fitted", Group: groupFit,
	Says: "Changes the wearer to whom a pattern is fitted, what becomes of its ease, and what of it gives least; what was changed by hand is carried over.",
}, func(p *Project, a SetFitArgs) (Outcome, error) {
	return p.onFit(a.Fit, func(next *Project, d *Derivation) error {
		if a.Wearer != nil {
			if p.Wearer(ID(*a.Wearer)) == nil {
				return fmt.Errorf("wearer %s %w", *a.Wearer, errGone)
			}
			d.Inputs = withWearer(p, d.Inputs, ID(*a.Wearer))
		}
		if a.Ease != nil {
			d.Settings = withFitSetting(d.Settings, fitEaseSetting, a.Ease.String())
		}
		if a.Keep != nil {
			d.Settings = withFitSetting(d.Settings, fitKeepSetting, a.Keep.String())
		}
		if a.Under != nil {
			return next.setUnder(d, *a.Under)
		}
		return nil
	})
})

// setUnder notes how thick what was worn underneath is by those for whom the pieces of a fit
// were made. It writes to p, whose list of origins nobody else may hold.
func (p *Project) setUnder(d *Derivation, thick Length) error {
	var under []Worn
	if thick != 0 {
		layer, err := Worn{Thickness: float64(thick)}.kept()
		if err != nil {
			return err
		}
		under = []Worn{layer}
	}
	said := false
	p.Origins = slices.Clone(p.Origins)
	for i, o := range p.Origins {
		if !slices.Contains(d.Inputs, o.ID) {
			continue
		}
		said = true
		if o.WornUnder() != thickness(under) {
			n := o.clone()
			n.Under = under
			p.Origins[i] = n
		}
	}
	if !said {
		return errors.New("nothing says for whom the pattern was made; say that first")
	}
	return nil
}

// fitRef returns the fit that is meant: the one that is named, or the only one there is.
func (p *Project) fitRef(ref *FitRef) (*Derivation, error) {
	if ref != nil {
		if d := p.Derivation(ID(*ref)); d != nil && d.Kind == fitKind {
			return d, nil
		}
		return nil, fmt.Errorf("the fitted pattern %s %w", *ref, errGone)
	}
	var only *Derivation
	for _, d := range p.Derivations {
		if d.Kind != fitKind {
			continue
		}
		if only != nil {
			return nil, errors.New("more than one pattern is fitted; say which is meant")
		}
		only = d
	}
	if only == nil {
		return nil, errors.New("no pattern is fitted yet")
	}
	return only, nil
}

// onFit changes a copy of a fit, whose pieces are made anew in the commit, in a copy of the
// project. What leaves nothing to fit by is refused.
func (p *Project) onFit(ref *FitRef, f func(next *Project, d *Derivation) error) (Outcome, error) {
	old, err := p.fitRef(ref)
	if err != nil {
		return Outcome{}, err
	}
	d, next := *old, p.shallow()
	if err := f(next, &d); err != nil {
		return Outcome{}, err
	}
	if slices.Equal(d.Inputs, old.Inputs) && slices.Equal(d.Settings, old.Settings) && slices.Equal(next.Origins, p.Origins) {
		return Outcome{}, errors.New("it is so already")
	}
	next = next.withDerivation(&d)
	if err := next.fitTaskOf(&d).err; err != nil && p.fitTaskOf(old).err == nil {
		return Outcome{}, err
	}
	return Outcome{Project: next, Made: d.ID, unit: p.Unit, subject: next.derivationLabel(&d)}, nil
}

// SetFitTargetArgs are the arguments of SetFitTarget.
type SetFitTargetArgs struct {
	Span   SpanRef  `arg:"span" says:"the measured stretch of a fitted piece"`
	By     TargetBy `arg:"by" says:"scaled: with its measure; kept: with the ease in mm that it had; ease: with an ease that is given; length: as long as is given; free: as it comes" default:"as the fit"`
	Value  *Length  `arg:"value" says:"the ease, or the length"`
	Weight *float64 `arg:"weight" says:"how much a miss of it counts against those of others, where not all can be had; 1 is as much as any"`
}

// SetFitTarget says by what rule one stretch of a fitted pattern gets its length.
var SetFitTarget = register(Info{
	Name: "set-fit-target", Title: "Set what a stretch is to become", Group: groupFit,
	Says: "Says by what rule one measured stretch of a fitted pattern gets its length, and how much it counts.",
}, func(p *Project, a SetFitTargetArgs) (Outcome, error) {
	d, piece, err := p.fitOfPart(a.Span.Piece)
	if err != nil {
		return Outcome{}, err
	}
	source := d.Source.Piece(piece.ID)
	if source == nil || source.Span(a.Span.Span) == nil {
		return Outcome{}, errors.New("this stretch is measured from points that were put in after the fit; the pattern that is fitted has no place for it")
	}
	rule := targetRule{by: a.By}
	if rule.by.valued() {
		if a.Value == nil {
			return Outcome{}, fmt.Errorf("the rule %s needs a value", a.By)
		}
		rule.value = toGrid(float64(*a.Value))
	} else if a.Value != nil {
		return Outcome{}, fmt.Errorf("the rule %s takes no value", a.By)
	}
	if err := rule.check(); err != nil {
		return Outcome{}, err
	}
	if a.Weight != nil && !(*a.Weight >= leastFitWeight && *a.Weight <= largestFitWeight) {
		return Outcome{}, errFitWeight
	}
	ref := FitRef(d.ID)
	return p.onFit(&ref, func(_ *Project, d *Derivation) error {
		key := fitPart{piece.ID, a.Span.Span}
		text := rule.String()
		if rule.by == TargetAsFit {
			text = ""
		}
		d.Settings = withFitSetting(d.Settings, key.setting(fitTargetPrefix), text)
		if a.Weight != nil {
			text := exactFigure(*a.Weight)
			if *a.Weight == 1 {
				text = ""
			}
			d.Settings = withFitSetting(d.Settings, key.setting(fitWeightPrefix), text)
		}
		return nil
	})
})

// fitOfPart returns the fit that a piece follows.
func (p *Project) fitOfPart(id ID) (*Derivation, *Piece, error) {
	piece := p.Piece(id)
	if piece == nil {
		return nil, nil, fmt.Errorf("piece %s %w", id, errGone)
	}
	d := p.FitOf(piece)
	if d == nil {
		return nil, nil, fmt.Errorf("%s is not fitted to anybody", piece.label())
	}
	return d, piece, nil
}

// SetFitIntakeArgs are the arguments of SetFitIntake.
type SetFitIntakeArgs struct {
	Dart   DartRef `arg:"dart" says:"the dart of a fitted piece"`
	Width  *Length `arg:"width" says:"how much it is to take in; without it, what its rule says"`
	Scaled bool    `arg:"scaled" says:"a dart at the waist follows the scale of the whole, and not what the waist is smaller than the bust" default:"no"`
}

// SetFitIntake says what a dart of a fitted pattern takes in.
var SetFitIntake = register(Info{
	Name: "set-fit-intake", Title: "Set what a dart is to take in", Group: groupFit,
	Says: "Says what a dart of a fitted pattern takes in; by itself a dart at the waist follows what the waist is smaller than the bust, and any other the scale of the whole.",
}, func(p *Project, a SetFitIntakeArgs) (Outcome, error) {
	d, piece, err := p.fitOfPart(a.Dart.Piece)
	if err != nil {
		return Outcome{}, err
	}
	source := d.Source.Piece(piece.ID)
	if source == nil || !slices.ContainsFunc(source.Darts, func(x Dart) bool { return x.ID == a.Dart.Dart }) {
		return Outcome{}, errors.New("this dart was put in after the fit; set what it takes in with move-dart")
	}
	if a.Width != nil && a.Scaled {
		return Outcome{}, errors.New("a width is given, or that it follows the scale, not both")
	}
	text := ""
	switch {
	case a.Width != nil && !(*a.Width >= leastIntake && *a.Width <= MaxCoordinate):
		return Outcome{}, errIntake
	case a.Width != nil:
		text = fitIntakeWidth + " " + mmText(toGrid(float64(*a.Width)))
	case a.Scaled:
		text = fitIntakeScaled
	}
	ref := FitRef(d.ID)
	return p.onFit(&ref, func(_ *Project, d *Derivation) error {
		d.Settings = withFitSetting(d.Settings, fitPart{piece.ID, a.Dart.Dart}.setting(fitIntakePrefix), text)
		return nil
	})
})
