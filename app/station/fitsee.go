package station

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
)

// fitSee is the step in which is seen what became of the pattern.
type fitSee struct {
	f        *Fitting
	whole    *fyne.Container
	none     *control.Prose
	body     *fyne.Container
	mark     *control.Mark
	sum      *control.Prose
	said     *control.Prose
	against  *fyne.Container
	slider   *control.Slider
	as       *control.Pill
	strain   *control.Pill
	legend   *strainLegend
	figures  *control.Check
	compare  *foldHead
	compared *fyne.Container
	largest  *control.Card
	most     *control.Prose
	buttons  []fyne.CanvasObject
	back     *control.Button
	onTrue   *control.Button
	first    *control.Button
	after    fyne.CanvasObject

	sections []*sectionView
	listed   *fyne.Container

	// share is where between before and after the outlines are drawn: 1 after.
	share float64
	// beside is how the pattern as it was is laid beside it.
	beside besideAs
	// picture is which stretch is shown as a picture.
	picture strainOf
	strains *strainPictures
	bare    bool
	told    string
}

// besideAs is how the pattern as it was is drawn beside what became of it.
type besideAs int

const (
	besideNot besideAs = iota
	besideThisSize
	besideItsSize
)

// strainOf says which stretch of the cloth is shown as a picture.
type strainOf int

const (
	strainNot strainOf = iota
	strainAlong
	strainAcross
)

// sliderSteps is in how many steps the slider goes from before to after.
const sliderSteps = 100

func newFitSee(f *Fitting) *fitSee {
	s := &fitSee{f: f, share: 1, strains: &strainPictures{f: f}}
	s.none = control.NewProse("The pattern is not fitted yet. Say whom it is to fit, and press Fit it.", 12, false, look.Faint, fitRoom)
	s.mark = control.NewMark(control.Holds, 16)
	s.sum = control.NewProse("", 12.5, true, look.Ink, fitRoom-32)
	s.said = control.NewProse("", 12, false, look.Faint, fitRoom-32)
	s.against = control.Stack(6)
	s.buildCompared()
	s.listed = control.Stack(4)
	s.body = control.Stack(8,
		container.NewBorder(nil, nil, container.NewVBox(control.Inset(0, 1, 10, 0, s.mark)), nil, control.Stack(2, s.sum, s.said)),
		s.against, control.Stack(2, s.compare.card, s.compared))
	s.whole = control.Stack(8, s.none, s.body, s.listed)
	s.back = control.NewButton(control.QuietShape, "undo", "As it came", "Take the fit back: the pieces are as they were before it", s.undo)
	s.onTrue = control.NewButton(control.WordShape, "true", "On to True", "See whether everything that is sewn together still fits", func() { f.ways.True() })
	s.first = control.NewButton(control.WordShape, "", "First: for whom", "Say whom the pattern is to fit", func() { f.Open(stepWhom) })
	s.after = control.Row(8, s.back, control.Spring(), s.onTrue)
	s.buttons = []fyne.CanvasObject{s.first, s.after}
	return s
}

// buildCompared makes what shows the pattern before the fit and after it.
func (s *fitSee) buildCompared() {
	f := s.f
	s.slider = control.NewSlider(func(at int) {
		s.share = float64(at) / sliderSteps
		f.drawOver()
	})
	s.slider.Put(sliderSteps, sliderSteps)
	s.as = control.NewPill("Lay the pattern as it was over it, brought to the same size or as large as it was", []string{"off", "same size", "its own size"}, func(i int) {
		s.beside = besideAs(i)
		f.drawOver()
	})
	s.strain = control.NewPill("Show as a picture how much longer or shorter the cloth has become, beside what all of it has", []string{"off", "along", "across"}, func(i int) {
		s.picture = strainOf(i)
		s.legend.update(s.picture, s.f.fit())
		f.drawOver()
		f.scroll.Refresh()
	})
	s.legend = newStrainLegend()
	s.figures = control.NewCheck("Figures on the stretches", func(on bool) {
		s.bare = !on
		f.drawOver()
	})
	s.figures.Put(true)
	s.most = control.NewProse("", 12, false, look.Ink, fitRoom-2*10-34)
	glass := control.NewIcon("search", look.Chalk, 16)
	s.largest = control.NewCard(control.Inset(10, 6, 10, 7, control.Row(8, glass, s.most)), "Bring the place that has changed most into the middle", s.showLargest)
	caption := func(word string) fyne.CanvasObject { return control.NewText(word, 12.5, true, look.Ink) }
	ends := control.Row(0, control.Faint("before"), control.Spring(), control.Faint("after"))
	s.compared = control.Stack(8,
		control.Inset(0, 2, 0, 0, control.Stack(0, s.slider.Object(), ends)),
		control.Stack(5, caption("As it was, laid over it"), control.Row(0, s.as)),
		control.Stack(5, caption("How the cloth has changed"), control.Row(0, s.strain), s.legend.object),
		s.largest, s.figures)
	s.compare = newFoldHead("Before and after", true, func() {
		show(s.compared, s.compare.open)
		f.toTop(s.compare.card, s.compare.open)
	})
	show(s.compared, s.compare.open)
}

func (s *fitSee) object() fyne.CanvasObject { return s.whole }

func (s *fitSee) foot() []fyne.CanvasObject { return s.buttons }

func (s *fitSee) forget() {
	s.share, s.beside, s.picture, s.told = 1, besideNot, strainNot, ""
	s.strains.forget()
	s.slider.Put(sliderSteps, sliderSteps)
	s.as.Put(0)
	s.strain.Put(0)
	s.legend.update(strainNot, nil)
}

// listSections lists the parts that others have added.
func (s *fitSee) listSections() {
	s.listed.Objects = nil
	for _, v := range s.sections {
		s.listed.Add(v.object)
	}
	s.listed.Refresh()
}

// stands implements fitPanel.
func (s *fitSee) stands() (string, bool) {
	fit := s.f.fit()
	switch {
	case fit == nil:
		return "once it is fitted", false
	case fit.Err != nil:
		return "it cannot be fitted so", false
	}
	_, says, level := s.sumOf(fit)
	return says, level == control.Holds
}

// sumOf says in a few words what became of the targets, and in fewer for a head, which has
// room for some 24 letters.
func (s *fitSee) sumOf(fit *draft.FitState) (says, short string, level control.Level) {
	reached, missed, unknown, byHand := 0, 0, 0, 0
	for _, r := range s.f.targetRows(fit) {
		switch {
		case r.target.ByHand:
			byHand++
		case r.contradictory:
			missed++
		case r.level == control.Holds:
			reached++
		case r.level == control.LookAgain:
			unknown++
		}
	}
	switch all := reached + missed + byHand; {
	case missed > 0:
		return fmt.Sprintf("%d of %d stretches not reached", missed, all), fmt.Sprintf("%d of %d not reached", missed, all), control.Problem
	case unknown > 0:
		says := fmt.Sprintf("%d reached, %d not known", reached, unknown)
		return says, says, control.LookAgain
	case byHand > 0:
		return fmt.Sprintf("%d reached, %d changed by hand", reached, byHand), fmt.Sprintf("%d reached, %d by hand", reached, byHand), control.Note
	case reached == 1:
		return "The one stretch is reached", "reached", control.Holds
	default:
		return fmt.Sprintf("All %d stretches reached", reached), fmt.Sprintf("all %d reached", reached), control.Holds
	}
}

func (s *fitSee) update() {
	fit := s.f.fit()
	show(s.none, fit == nil)
	show(s.body, fit != nil)
	show(s.first, fit == nil)
	show(s.after, fit != nil)
	for _, v := range s.sections {
		v.update()
	}
	if fit == nil {
		return
	}
	s.legend.update(s.picture, fit)
	s.tell(fit)
}

// tell says what became of the pattern.
func (s *fitSee) tell(fit *draft.FitState) {
	if fit.Err != nil {
		s.mark.Put(control.Problem)
		s.sum.PutAs("It cannot be fitted so", look.PinText)
		s.said.Put(sentence(fit.Err.Error()))
	} else {
		says, _, level := s.sumOf(fit)
		s.mark.Put(level)
		s.sum.PutAs(says, level.Colour())
		s.said.Put(sizeWords(fit))
	}
	if key := clashKey(fit.Contradicts); key != s.told {
		s.told = key
		s.against.Objects = nil
		for _, c := range fit.Contradicts {
			s.against.Add(s.clashCard(c))
		}
		s.against.Refresh()
	}
	show(s.against, len(fit.Contradicts) > 0)
	says := s.mostWords(fit)
	show(s.largest, says != "")
	s.most.Put(says)
	show(s.slider, fit.Err == nil)
}

// mostSaid is how many letters of what contradicts are told at the left; the table marks
// every stretch that is not reached.
const mostSaid = 220

// inShort returns the text, or its beginning up to a blank.
func inShort(text string, most int) string {
	if len(text) <= most {
		return text
	}
	cut := strings.LastIndexByte(text[:most], ' ')
	return strings.TrimRight(text[:max(cut, 0)], " ,;(") + " … The table marks all of them."
}

// tellTrial shows while a figure is dragged how the targets stand, and nothing that would
// move what lies under it.
func (s *fitSee) tellTrial() {
	if fit := s.f.fit(); fit != nil && s.f.trial.live() && fit.Err == nil {
		says, _, level := s.sumOf(fit)
		s.mark.Put(level)
		s.sum.PutAs(says, level.Colour())
	}
}

// sizeWords says whom the pattern fits and how large it has become.
func sizeWords(fit *draft.FitState) string {
	whom := "nobody"
	if fit.Wearer != nil {
		whom = fit.Wearer.Name
	}
	pct := fit.Scale * 100
	switch {
	case math.Abs(pct-100) < 0.5:
		return "Fits " + whom + ", about as large as it was."
	case pct < 100:
		return fmt.Sprintf("Fits %s, at about %.0f %% of its size.", whom, pct)
	default:
		return fmt.Sprintf("Fits %s, at about %.2g times its size.", whom, fit.Scale)
	}
}

// leastTold is how much longer or shorter the cloth has become, as a share, where that is
// told.
const leastTold = 0.005

// mostWords says where the cloth has changed most.
func (s *fitSee) mostWords(fit *draft.FitState) string {
	if fit.Err != nil || fit.Largest.Piece == "" || fit.Largest.Most() < leastTold {
		return ""
	}
	p := s.f.desk.Project().Piece(fit.Largest.Piece)
	if p == nil {
		return ""
	}
	k, way := mostStrain(fit.Largest)
	word := map[strainOf]string{strainAlong: "along", strainAcross: "across"}[way]
	return fmt.Sprintf("Most changed: %s, %s %s the grain than the whole", p.Name, strainWords(k), word)
}

// strainWords says a factor as people do: 12 % longer.
func strainWords(k float64) string {
	pct := (k - 1) * 100
	if pct < 0 {
		return fmt.Sprintf("%.0f %% shorter", -pct)
	}
	return fmt.Sprintf("%.0f %% longer", pct)
}

func (s *fitSee) showLargest() {
	fit := s.f.fit()
	if fit == nil || fit.Err != nil {
		return
	}
	at, _ := fit.Map(fit.Largest.Piece, fit.Largest.At)
	if _, way := mostStrain(fit.Largest); s.picture != way {
		s.picture = way
		s.strain.Put(int(s.picture))
		s.legend.update(s.picture, s.f.fit())
		s.f.scroll.Refresh()
	}
	s.f.ways.Place(fit.Largest.Piece, at)
	s.f.drawOver()
}

// offOne returns how far a factor is from 1, the same for it and its inverse.
func offOne(k float64) float64 { return math.Abs(math.Log(k)) }

// undo takes the fit back.
func (s *fitSee) undo() {
	fit := s.f.fit()
	if fit == nil {
		return
	}
	if _, err := s.f.run("end-fit", map[string]string{"fit": `"` + string(fit.Derivation.ID) + `"`}); err != nil {
		s.f.report(err)
		return
	}
	s.f.Open(stepWhom)
	s.f.ways.Fit()
}
