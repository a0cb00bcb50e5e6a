package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// FitEase says what becomes of the ease of a pattern that is fitted to another body.
type FitEase int

const (
	// EaseScaled has a stretch grow and shrink with the measure that it stands for, its
	// ease included: on a body a third the size, a third of the ease.
	EaseScaled FitEase = iota
	// EaseKept leaves as many mm of ease as the pattern had.
	EaseKept
)

var fitEaseNames = names[FitEase]{"scaled", "kept"}

func (e FitEase) String() string               { return fitEaseNames.text(e) }
func (e FitEase) MarshalText() ([]byte, error) { return fitEaseNames.marshal(e) }

// UnmarshalText reads scaled or kept.
func (e *FitEase) UnmarshalText(b []byte) error { return fitEaseNames.unmarshal(e, b, "ease") }

// FitEases lists both in the order in which a person is offered them.
func FitEases() []FitEase { return fitEaseNames.all() }

// FitKeep says what of a pattern gives least between the stretches that are wanted.
type FitKeep int

const (
	KeepStyle   FitKeep = iota // the shapes: lengths and widths give alike
	KeepWidths                 // across the grain it gives less than along it
	KeepLengths                // along the grain it gives less than across it
)

var fitKeepNames = names[FitKeep]{"style", "widths", "lengths"}

func (k FitKeep) String() string               { return fitKeepNames.text(k) }
func (k FitKeep) MarshalText() ([]byte, error) { return fitKeepNames.marshal(k) }

// UnmarshalText reads style, widths or lengths.
func (k *FitKeep) UnmarshalText(b []byte) error {
	return fitKeepNames.unmarshal(k, b, "what is kept")
}

// FitKeeps lists every one in the order in which a person is offered them.
func FitKeeps() []FitKeep { return fitKeepNames.all() }

// TargetBy says by what rule a stretch of a fitted pattern gets the length that is wanted.
type TargetBy int

const (
	TargetAsFit  TargetBy = iota // as the ease of the fit says
	TargetScaled                 // with its measure, ease included
	TargetKept                   // the measure's share with the ease that it had, in mm
	TargetEase                   // the measure's share with an ease that is given
	TargetLength                 // a length that is given
	TargetFree                   // nothing: it becomes what the others make of it
)

var targetByNames = names[TargetBy]{"as the fit", "scaled", "kept", "ease", "length", "free"}

func (b TargetBy) String() string               { return targetByNames.text(b) }
func (b TargetBy) MarshalText() ([]byte, error) { return targetByNames.marshal(b) }

// UnmarshalText reads as the fit, scaled, kept, ease, length or free.
func (b *TargetBy) UnmarshalText(text []byte) error {
	return targetByNames.unmarshal(b, text, "rule of a target")
}

// TargetBys lists every rule in the order in which a person is offered them.
func TargetBys() []TargetBy { return targetByNames.all() }

// valued reports whether the rule needs a length.
func (b TargetBy) valued() bool { return b == TargetEase || b == TargetLength }

// Names of the settings of a fit. Those of single stretches and darts have the ids of the
// piece and of the thing after them, with a slash between.
const (
	fitEaseSetting  = "ease"
	fitKeepSetting  = "keep"
	fitTargetPrefix = "target "
	fitWeightPrefix = "weight "
	fitIntakePrefix = "intake "
	fitIntakeWidth  = "width"
	fitIntakeScaled = "scaled"

	leastFitWeight   = 1e-3 // a thousandth of what a stretch counts else
	largestFitWeight = 1e3
)

// fitPart names a span or a dart of a piece.
type fitPart struct{ piece, part ID }

// setting returns the name of the setting of a part.
func (k fitPart) setting(prefix string) string {
	return prefix + string(k.piece) + "/" + string(k.part)
}

// fitPartOf reads the name of such a setting.
func fitPartOf(name, prefix string) (fitPart, bool) {
	rest, ok := strings.CutPrefix(name, prefix)
	if !ok {
		return fitPart{}, false
	}
	piece, part, ok := strings.Cut(rest, "/")
	return fitPart{ID(piece), ID(part)}, ok
}

// targetRule is the rule of one target; Value in mm where it has one.
type targetRule struct {
	by    TargetBy
	value float64
}

// String returns the rule as it is kept: "scaled", "ease 6mm".
func (r targetRule) String() string {
	if r.by.valued() {
		return r.by.String() + " " + mmText(r.value)
	}
	return r.by.String()
}

func readTargetRule(text string) (targetRule, error) {
	var r targetRule
	word, value, valued := strings.Cut(text, " ")
	if err := r.by.UnmarshalText([]byte(word)); err != nil {
		return r, err
	}
	if valued != r.by.valued() {
		return r, fmt.Errorf("%q is no rule of a target", text)
	}
	if !valued {
		return r, nil
	}
	var err error
	r.value, err = ParseLength(value)
	if err == nil {
		err = r.check()
	}
	return r, err
}

// check refuses values that no stretch can have.
func (r targetRule) check() error {
	switch {
	case r.by == TargetLength && !(r.value >= shortestStretch && r.value <= MaxCoordinate):
		return fmt.Errorf("a stretch cannot be %g mm long", r.value)
	case r.by == TargetEase && !(math.Abs(r.value) <= MaxCoordinate):
		return fmt.Errorf("%g mm are no ease", r.value)
	}
	return nil
}

// fitPlan is what the settings of a fit say.
type fitPlan struct {
	ease    FitEase
	keep    FitKeep
	targets map[fitPart]targetRule
	weights map[fitPart]float64
	// intakes are the widths in mm that the mouths of darts are to have.
	intakes map[fitPart]float64
	// scaledDarts are those that follow the scale of the whole, whatever they lie at.
	scaledDarts map[fitPart]bool
}

// readFitPlan reads the settings of a fit. A setting that it does not know is an error: a
// project of another program could mean anything by it.
func readFitPlan(list []Setting) (fitPlan, error) {
	plan := fitPlan{
		targets: make(map[fitPart]targetRule), weights: make(map[fitPart]float64),
		intakes: make(map[fitPart]float64), scaledDarts: make(map[fitPart]bool),
	}
	for _, s := range list {
		if err := plan.read(s); err != nil {
			return plan, fmt.Errorf("the setting %q of the fit: %w", s.Name, err)
		}
	}
	return plan, nil
}

func (f *fitPlan) read(s Setting) error {
	switch s.Name {
	case fitEaseSetting:
		return f.ease.UnmarshalText([]byte(s.Value))
	case fitKeepSetting:
		return f.keep.UnmarshalText([]byte(s.Value))
	}
	if k, ok := fitPartOf(s.Name, fitTargetPrefix); ok {
		r, err := readTargetRule(s.Value)
		f.targets[k] = r
		return err
	}
	if k, ok := fitPartOf(s.Name, fitWeightPrefix); ok {
		w, err := ParseNumber(s.Value)
		if err == nil && !(w >= leastFitWeight && w <= largestFitWeight) {
			err = errFitWeight
		}
		f.weights[k] = w
		return err
	}
	if k, ok := fitPartOf(s.Name, fitIntakePrefix); ok {
		if s.Value == fitIntakeScaled {
			f.scaledDarts[k] = true
			return nil
		}
		text, ok := strings.CutPrefix(s.Value, fitIntakeWidth+" ")
		if !ok {
			return fmt.Errorf("%q is no intake", s.Value)
		}
		width, err := ParseLength(text)
		if err == nil && !(width >= leastIntake && width <= MaxCoordinate) {
			err = errIntake
		}
		f.intakes[k] = width
		return err
	}
	return fmt.Errorf("it is not known")
}

var (
	errFitWeight = fmt.Errorf("a weight lies from %g to %g", leastFitWeight, largestFitWeight)
	errIntake    = fmt.Errorf("a dart takes in at least %g mm; take it out where it is to go", leastIntake)
)

// leastIntake is the narrowest mouth in mm that a dart of a fitted pattern gets: closed
// altogether its legs would lie on each other, and the outline would meet itself.
const leastIntake = 0.1

// weight returns what a span counts against others, 1 where nobody said.
func (f *fitPlan) weight(k fitPart) float64 {
	if w, ok := f.weights[k]; ok {
		return w
	}
	return 1
}

// withFitSetting returns the settings with one of them set, or without it where the value
// is empty.
func withFitSetting(list []Setting, name, value string) []Setting {
	k := slices.IndexFunc(list, func(s Setting) bool { return s.Name == name })
	switch {
	case value == "":
		return withoutSetting(list, name)
	case k < 0:
		return append(slices.Clip(list), Setting{name, value})
	}
	next := slices.Clone(list)
	next[k].Value = value
	return next
}
