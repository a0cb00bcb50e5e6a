package tracer

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// reviewPanel is the panel of the step.
type reviewPanel struct {
	v      *review
	object fyne.CanvasObject

	which  *control.Pill
	choice *fyne.Container
	big    *control.Text
	means  *control.Prose
	legend *offLegend
	worst  *control.Button
	next   *control.Button
	place  *control.Prose
	seen   *fyne.Container
	offers *offerList
	fault  *control.Prose
}

func newReviewPanel(v *review) *reviewPanel {
	p := &reviewPanel{v: v}
	p.which = control.NewPill("What is held against the ink", []string{"traced lines", "pieces on the bench"}, func(i int) {
		v.take(i == 1)
	})
	p.choice = control.Stack(0, control.Row(0, p.which))
	p.big = control.NewText("", 17, true, look.Ink).AtLeast(leastText)
	p.means = control.NewProse("", 12.5, false, look.Faint, inner)
	p.legend = newOffLegend()
	p.worst = control.NewButton(control.QuietShape, "", "Worst place", "Go to where a line lies farthest off the ink", func() { v.goToPlace(0) })
	p.next = control.NewButton(control.QuietShape, "", "Next worst", "Go on to the next place (N)", func() { v.goToPlace(v.at + 1) })
	p.place = control.NewProse("", 12, false, look.Ink, inner)
	p.seen = control.Stack(8, p.big, p.means, p.legend.object, control.Row(8, p.worst, p.next), p.place)
	p.offers = newOfferList(v)
	p.fault = control.NewProse("", 12, false, look.PinText, inner)
	p.object = control.Stack(8, p.choice, p.seen, p.fault, p.offers.object)
	return p
}

func (p *reviewPanel) update() {
	v := p.v
	show(p.choice, len(v.finds.onBench()) > 0 && len(v.finds.taken()) > 0)
	p.which.Put(index(v.bench))
	by, at, median := v.worst()
	show(p.seen, at >= 0)
	var faults []string
	for _, x := range v.all {
		if x.fault != "" {
			faults = append(faults, x.name+": "+x.fault+".")
		}
	}
	if len(v.all) == 0 && !v.bench {
		faults = append(faults, "There is nothing to look over yet: follow the ink first.")
	}
	p.fault.Put(strings.Join(faults, " "))
	show(p.fault, len(faults) > 0)
	if at >= 0 {
		p.big.Set(fmt.Sprintf("Off the ink by at most %.2f mm", by))
		where := ""
		if len(v.all) > 1 {
			where = "On " + v.all[at].name + ". "
		}
		p.means.Put(where + wording.Sentence(offMeans(by, v.finds.tol())) + fmt.Sprintf(". Half of every line lies within %.2f mm.", max(median, 0.01)))
		p.legend.update(v.finds.tol())
		p.putPlace()
	}
	p.offers.update()
	p.object.Refresh()
}

func (p *reviewPanel) putPlace() {
	v := p.v
	none := len(v.places) == 0
	p.worst.SetOff(none)
	p.next.SetOff(none || v.at >= 0 && len(v.places) < 2)
	if v.at < 0 || v.at >= len(v.places) {
		p.place.Put("")
		p.place.Hide()
		return
	}
	x := v.places[v.at]
	says := fmt.Sprintf("Place %d of %d: %s off on %s.", v.at+1, len(v.places), fineLength(x.by, v.unit()), v.all[x.line].name)
	if x.by > v.finds.tol() {
		says += " Is the ink right here, or the line? A line is corrected on the bench."
	}
	p.place.Put(says)
	p.place.Show()
}

// offLegend says what the colours and widths mean.
type offLegend struct {
	object *fyne.Container
	words  []*control.Text
}

// Sizes of the legend in screen units.
const legendHigh, barHigh = 22, 12

func newOffLegend() *offLegend {
	l := &offLegend{}
	bars, words := container.NewGridWithColumns(int(grades)), container.NewGridWithColumns(int(grades))
	for g := grade(0); g < grades; g++ {
		bar := canvas.NewRectangle(g.colour())
		bar.CornerRadius = float32(g.width()) / 2
		bars.Add(container.New(&barAcross{float32(g.width())}, bar))
		w := control.NewText("", 11, false, look.Faint).Aligned(fyne.TextAlignCenter)
		l.words = append(l.words, w)
		words.Add(w)
	}
	paper := canvas.NewRectangle(byDay(look.Card))
	paper.CornerRadius = 5
	paper.StrokeWidth, paper.StrokeColor = 1, color.NRGBA{A: 30}
	l.object = control.Stack(2, control.Tall(legendHigh, container.NewStack(paper, bars)), words)
	return l
}

// barAcross lays a bar of a height along the middle.
type barAcross struct{ high float32 }

func (b *barAcross) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(20, b.high) }

func (b *barAcross) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Resize(fyne.NewSize(size.Width-6, b.high))
	o[0].Move(fyne.NewPos(3, (size.Height-b.high)/2))
}

func (l *offLegend) update(tol float64) {
	for i, w := range l.words {
		if i < len(gradeLimits) {
			w.Set(fmt.Sprintf("to %.3g", gradeLimits[i]*tol))
		} else {
			w.Set("more mm")
		}
	}
}

// offerList lists the suggestions of one line.
type offerList struct {
	v      *review
	object *fyne.Container
	whose  *control.Choice
	line   *fyne.Container
	head   *control.Text
	rows   *fyne.Container
	all    *control.Button
	none   *control.Button
	state  *control.Prose
	told   *control.Prose

	ids   []int
	of    *line
	made  int
	ticks []*control.Check
	says  []*control.Text
	cards []*control.Card
	unit  draft.Unit
}

// mostOffers bounds the suggestions that are listed; they come the surest first.
const mostOffers = 30

func newOfferList(v *review) *offerList {
	l := &offerList{v: v, rows: control.Stack(4)}
	l.whose = control.NewChoice("Whose suggestions are listed; a click on an outline chooses it too", nil, func(i int) {
		if i >= 0 && i < len(l.ids) {
			v.of, v.shown, v.refused = l.ids[i], -1, ""
			v.Room.update()
			if x := v.suggested(); x != nil {
				v.finds.bringInSight(x)
			}
		}
	})
	l.line = control.LabelledBy(labelWide+16, "Nearly regular on", l.whose.Object())
	l.head = control.Heading("Nearly regular")
	l.all = control.NewButton(control.SmallShape, "", "Take all", "Make all of it exactly so, as far as it goes together", func() { v.acceptAll(v.suggested(), true) })
	l.none = control.NewButton(control.SmallShape, "", "Take none", "Take back all that was taken: the line is as it was followed", func() { v.acceptAll(v.suggested(), false) })
	l.state = faintly("")
	l.told = control.NewProse("", 12, false, look.OchreText, inner)
	l.object = control.Stack(6, control.Rule(), l.head, l.line,
		faintly("Tick what is to be exactly so; point at it to see it."),
		l.state, l.rows, l.told, control.Row(8, l.all, l.none))
	return l
}

func (l *offerList) update() {
	v := l.v
	s := v.suggested()
	show(l.object, !v.bench && s != nil)
	if s == nil || v.bench {
		return
	}
	l.putWhose(s)
	if l.of != s || l.made != len(s.offers) || l.unit != v.unit() {
		l.rebuild(s)
	}
	for i, t := range l.ticks {
		t.Put(slices.Contains(s.took, i))
		l.cards[i].SetChosen(i == v.shown)
	}
	l.told.Put(v.refused)
	show(l.told, v.refused != "")
	show(l.all, len(s.offers) > 0)
	show(l.none, len(s.offers) > 0)
	l.all.SetOff(len(s.took) == len(s.offers))
	l.none.SetOff(len(s.took) == 0)
	switch {
	case !s.offered:
		l.state.Put("Looking for it …")
	case len(s.offers) == 0:
		l.state.Put("Nothing about this outline is nearly regular and not quite.")
	case len(s.took) > 0:
		l.state.Put(fmt.Sprintf("%d taken: the line now lies off the ink by at most %.2f mm, %.2f mm before.", len(s.took), s.Off.Largest, s.as.Off.Largest))
	case len(s.offers) > mostOffers:
		l.state.Put(fmt.Sprintf("The surest %d of %d.", mostOffers, len(s.offers)))
	default:
		l.state.Put("")
	}
	show(l.state, !s.offered || len(s.offers) == 0 || len(s.took) > 0 || len(s.offers) > mostOffers)
}

func (l *offerList) putWhose(s *line) {
	var words []string
	at := -1
	l.ids = nil
	for i, x := range l.v.finds.taken() {
		l.ids = append(l.ids, x.id)
		words = append(words, x.called())
		if x == s {
			at = i
		}
	}
	show(l.line, len(words) > 1)
	show(l.head, len(words) < 2)
	if strings.Join(words, "\n") != strings.Join(l.whose.Options, "\n") {
		l.whose.Offer(words, at)
	}
	l.whose.Put(at)
}

func (l *offerList) rebuild(s *line) {
	l.of, l.made, l.unit = s, len(s.offers), l.v.unit()
	l.rows.RemoveAll()
	l.ticks, l.cards, l.says = nil, nil, nil
	for i, o := range s.offers[:min(len(s.offers), mostOffers)] {
		tick := control.NewCheck("", func(on bool) { l.v.accept(s, i, on) })
		text := control.Stack(0,
			control.NewText(wording.Sentence(offerTitle(o.Kind)), 12.5, false, theme.ColorNameForeground).AtLeast(leastText),
			control.NewText(offerSays(o, l.unit), 11, false, look.Faint).AtLeast(leastText))
		card := control.NewCard(control.Inset(2, 3, 8, 4, container.NewBorder(nil, nil, tick, nil, text)), "See what this would change", func() {
			l.v.preview(i)
			l.v.Room.update()
		})
		card.Coloured(look.Paper, look.Paper)
		card.OnPoint = func(on bool) {
			if on {
				l.v.preview(i)
			} else {
				l.v.preview(-1)
			}
		}
		l.ticks, l.cards = append(l.ticks, tick), append(l.cards, card)
		l.rows.Add(card)
	}
}
