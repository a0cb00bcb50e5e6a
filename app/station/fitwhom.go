package station

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/body"
)

// fitWhom is the step in which is said whom the pattern is to fit, what becomes of its ease
// and what of it gives least.
type fitWhom struct {
	f        *Fitting
	whole    *fyne.Container
	whom     *control.Choice
	row      fyne.CanvasObject
	none     *fyne.Container
	others   fyne.CanvasObject
	body     *control.Prose
	measures *control.Button
	ease     *control.Pill
	eases    *control.Prose
	keep     *control.Pill
	keeps    *control.Prose
	free     *control.Check
	frees    *fyne.Container
	told     *control.Prose
	button   *control.Button

	wearers []draft.ID
	// picked is the wearer that was chosen, empty for the first; the rest is what was
	// chosen for a pattern that is not fitted yet.
	picked  draft.ID
	easeAs  draft.FitEase
	keepAs  draft.FitKeep
	freeOf  bool
	working bool
	// done is the share of the work under way that is done, stop breaks it off.
	done float64
	stop context.CancelFunc
}

var easeSays = map[draft.FitEase]string{
	draft.EaseScaled: "Ease grows and shrinks with the body: on a puppet a quarter the size, a quarter of the ease.",
	draft.EaseKept:   "As many millimetres of ease as the pattern had. Right between bodies of about one size.",
}

var keepSays = map[draft.FitKeep]string{
	draft.KeepStyle:   "Between the stretches, lines keep their shape as far as can be.",
	draft.KeepWidths:  "Between the stretches, widths keep, and lengths give.",
	draft.KeepLengths: "Between the stretches, lengths keep, and widths give.",
}

func newFitWhom(f *Fitting) *fitWhom {
	w := &fitWhom{f: f}
	w.whom = control.NewChoice("Whom the pattern is to fit", nil, func(i int) {
		if i >= 0 && i < len(w.wearers) {
			w.setWearer(w.wearers[i])
		}
	})
	w.row = control.LabelledBy(52, "Wearer", w.whom.Object())
	button := control.NewButton
	const addHint, readHint = "Note the measures of another body at Measure, from where a button leads back", "Add the wearer that a file of measures describes"
	read, add := func() { f.ways.Read() }, func() { f.ways.NewWearer() }
	w.none = control.Stack(8,
		control.NewProse("There is no wearer yet: note a few measures of the body that it is to fit, or read them from a file.", 12, false, look.Faint, fitRoom),
		control.Row(0, button(control.QuietShape, "add", "Add a wearer", addHint, add)),
		control.Row(0, button(control.QuietShape, "open", "Read from a file…", readHint, read)),
		samplesRow(f.ways.Samples))
	w.body = control.NewProse("", 12, false, look.Ink, fitRoom)
	w.measures = control.NewButton(control.SmallShape, "measure", "Its measures", "Go to the measures of this wearer", func() { f.ways.Wearer(w.chosen()) })
	w.others = control.Row(6, button(control.SmallShape, "add", "Another", addHint, add), button(control.SmallShape, "open", "From a file…", readHint, read))
	w.ease = control.NewPill("What becomes of the ease of the pattern", []string{"with the body", "the same"}, func(i int) { w.setEase(draft.FitEases()[i]) })
	w.eases = control.NewProse("", 11.5, false, look.Faint, fitRoom)
	w.keep = control.NewPill("What of the pattern gives least between the stretches", []string{"style", "widths", "lengths"}, func(i int) { w.setKeep(draft.FitKeeps()[i]) })
	w.keeps = control.NewProse("", 11.5, false, look.Faint, fitRoom)
	w.free = control.NewCheck("Leave the block", func(on bool) {
		w.freeOf = on
		f.Update()
	})
	w.frees = control.Stack(2, w.free, control.NewProse("These pieces come from a block, which can be drafted for the wearer instead. Leave it to go by the stretches alone.", 11.5, false, look.Faint, fitRoom))
	w.told = control.NewProse("", 12, false, look.OchreText, fitRoom)
	group := func(word string, o ...fyne.CanvasObject) fyne.CanvasObject {
		return control.Inset(0, 4, 0, 0, control.Stack(5, append([]fyne.CanvasObject{control.NewText(word, 12.5, true, look.Ink)}, o...)...))
	}
	w.whole = control.Stack(8, w.row, w.none, w.body, control.Row(0, w.measures), w.others,
		group("Ease", control.Row(0, w.ease), w.eases),
		group("Keeps its", control.Row(0, w.keep), w.keeps),
		w.frees, w.told)
	w.button = control.NewButton(control.WordShape, "fit", "Fit it", "Re-shape the pattern to the wearer; it is one step to undo", w.doIt)
	return w
}

func (w *fitWhom) object() fyne.CanvasObject { return w.whole }

func (w *fitWhom) foot() []fyne.CanvasObject { return []fyne.CanvasObject{w.button} }

// chosen returns whom the pattern is to fit: of one that is fitted whom it fits, else who
// was chosen, else the first wearer who is not the one it was drafted for.
func (w *fitWhom) chosen() draft.ID {
	p := w.f.desk.Project()
	if fit := w.f.fit(); fit != nil && fit.Wearer != nil {
		return fit.Wearer.ID
	}
	if p.Wearer(w.picked) != nil {
		return w.picked
	}
	for _, x := range p.Wearers {
		if !slices.ContainsFunc(w.f.scope.pieces(), func(q *draft.Piece) bool { return w.f.draftedFor(q) == x }) {
			return x.ID
		}
	}
	if len(p.Wearers) > 0 {
		return p.Wearers[0].ID
	}
	return ""
}

// For makes the wearer the one that the pattern is to fit next. A pattern that is fitted
// already stays fitted to whom it is.
func (f *Fitting) For(id draft.ID) {
	f.whom.picked = id
	if f.seen {
		f.Update()
	}
}

// stands implements fitPanel.
func (w *fitWhom) stands() (string, bool) {
	x := w.f.wearer()
	if x == nil {
		return "nobody yet", false
	}
	if fit := w.f.fit(); fit != nil {
		return x.Name, true
	}
	return x.Name + ", not fitted yet", false
}

func (w *fitWhom) update() {
	p := w.f.desk.Project()
	w.wearers = nil
	var names []string
	at := -1
	for i, x := range p.Wearers {
		w.wearers, names = append(w.wearers, x.ID), append(names, x.Name)
		if x.ID == w.chosen() {
			at = i
		}
	}
	if !slices.Equal(names, w.whom.Options) {
		w.whom.Offer(names, at)
	}
	w.whom.Put(at)
	show(w.row, len(names) > 0)
	show(w.none, len(names) == 0)
	show(w.measures, len(names) > 0)
	show(w.others, len(names) > 0)
	fit := w.f.fit()
	ease, keep := w.easeAs, w.keepAs
	if fit != nil {
		ease, keep = fit.Ease, fit.Keep
	}
	w.ease.Put(int(ease))
	w.eases.Put(easeSays[ease])
	w.keep.Put(int(keep))
	w.keeps.Put(keepSays[keep])
	show(w.frees, fit == nil && w.f.made.draftedOnly())
	w.free.Put(w.freeOf)
	w.compare()
	w.button.SetOff(len(w.f.scope.pieces()) == 0 || w.f.wearer() == nil)
	switch {
	case w.working:
		w.button.SetWord(fmt.Sprintf("Fitting, %.0f %%. Press to stop", w.done*100))
	case fit != nil:
		w.button.SetWord("Go on: see it")
	default:
		w.button.SetWord("Fit it")
	}
}

// compare says by how much the two bodies differ: first in the measures that are asked for
// first of a body, then in the others that stretches stand for.
func (w *fitWhom) compare() {
	rows := w.f.spanRows()
	byMeasure := map[string]fitRow{}
	known := false
	for _, r := range rows {
		if r.span.Measure != "" {
			byMeasure[r.span.Measure] = r
			known = known || r.then > 0
		}
	}
	var says []string
	u := w.f.desk.Project().Unit
	for _, m := range append(body.Asked(), body.Catalogue()...) {
		r, ok := byMeasure[m.Name]
		if !ok || r.then <= 0 || r.now <= 0 || len(says) == mostCompared {
			continue
		}
		delete(byMeasure, m.Name)
		says = append(says, fmt.Sprintf("%s %s → %s (× %s)", sentence(body.Words(m.Name)), u.FormatBare(r.then), u.Format(r.now), strconv.FormatFloat(r.now/r.then, 'f', 2, 64)))
	}
	w.body.Put(strings.Join(says, "\n"))
	show(w.body, len(says) > 0)
	told := w.wanting(len(byMeasure)+len(says) > 0, known, len(says) > 0)
	w.told.Put(told)
	show(w.told, told != "")
}

// wanting says what is missing to fit by: stretches that stand for something, the body that
// the pattern was made for, or that of the wearer. It says nothing of what was said above.
func (w *fitWhom) wanting(said, known, compared bool) string {
	switch x := w.f.wearer(); {
	case !said:
		return "Nothing is said yet of what the stretches of the pattern stand for: there is nothing to fit by. See Made for."
	case !known:
		return "Nothing is known yet of the body that the pattern was made for. See Made for."
	case x != nil && !compared:
		return "Nothing is known yet of " + x.Name + " that the stretches stand for: note a few measures."
	}
	return ""
}

// mostCompared is how many measures of the two bodies are laid beside one another at the
// left; the table has them all.
const mostCompared = 3

// set changes a choice of a pattern that is fitted.
func (w *fitWhom) set(name, value string) bool {
	fit := w.f.fit()
	if fit == nil {
		return false
	}
	w.do(draft.Mend{Act: "set-fit", Args: map[string]string{"fit": `"` + string(fit.Derivation.ID) + `"`, name: value}}, func() {})
	return true
}

func (w *fitWhom) setWearer(id draft.ID) {
	if w.picked = id; !w.set("wearer", `"`+string(id)+`"`) {
		w.f.Update()
	}
}

func (w *fitWhom) setEase(e draft.FitEase) {
	if w.easeAs = e; !w.set("ease", e.String()) {
		w.f.Update()
	}
}

func (w *fitWhom) setKeep(k draft.FitKeep) {
	if w.keepAs = k; !w.set("keep", k.String()) {
		w.f.Update()
	}
}

// doIt has the pattern fitted, or shows what became of it.
func (w *fitWhom) doIt() {
	if w.working {
		w.stop()
		return
	}
	if w.f.fit() != nil {
		w.f.Open(stepSee)
		return
	}
	x := w.f.wearer()
	if x == nil {
		return
	}
	args := map[string]string{
		"pieces": pieceList(w.f.scope.ids()), "wearer": `"` + string(x.ID) + `"`, "ease": w.easeAs.String(), "keep": w.keepAs.String(),
	}
	if w.frees.Visible() && w.freeOf {
		args["free"] = "yes"
	}
	w.do(draft.Mend{Act: "fit-pattern", Args: args}, func() {
		w.f.Open(stepSee)
		w.f.ways.Fit()
		w.f.tellFitted()
	})
}

// tellFitted says in the foot line what became of a fit that was just made.
func (f *Fitting) tellFitted() {
	if fit := f.fit(); fit != nil && fit.Err == nil {
		says, _, _ := f.see.sumOf(fit)
		f.ways.Say(sizeWords(fit) + " " + says + ".")
	}
}

// do does an act aside, with progress at the button that stops it, and then what is to
// follow.
func (w *fitWhom) do(m draft.Mend, then func()) {
	f := w.f
	if w.working {
		return
	}
	f.drop()
	act, err := draft.ActNamed(m.Act)
	if err != nil {
		f.report(err)
		return
	}
	start := f.desk.Project()
	ctx, stop := context.WithCancel(context.Background())
	w.working, w.done, w.stop = true, 0, stop
	w.update()
	f.ways.Aside(func() func() {
		out, err := draft.FitTrial(ctx, start, act, m.Args, w.progress(ctx))
		stopped := ctx.Err() != nil
		stop()
		return func() {
			w.working = false
			switch {
			case stopped, f.desk.Project() != start: // nobody waits for it any more
				err = nil
			case err == nil:
				f.desk.Take(out, "")
				then()
			}
			f.Update()
			f.report(err)
			if err != nil {
				w.told.Put(sentence(err.Error()))
				show(w.told, true)
			}
		}
	})
}

// progressStep is the share of the work after which the button tells of it anew.
const progressStep = 0.05

// progress returns what tells of the work at the button.
func (w *fitWhom) progress(ctx context.Context) func(share float64) {
	told := 0.0
	return func(share float64) {
		if share < told+progressStep {
			return
		}
		told = share
		control.OnMain(func() {
			if ctx.Err() == nil && w.working {
				w.done = share
				w.update()
			}
		})
	}
}

// fit returns the state of the fit that the pieces in hand follow, nil where they are as
// they came.
func (f *Fitting) fit() *draft.FitState {
	p := f.desk.Project()
	for _, piece := range f.scope.pieces() {
		if d := derivationOf(p, piece); d != nil && d.Kind == "fit" {
			return f.desk.Slots().Fit(p, d.ID)
		}
	}
	return nil
}
