package station

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/body"
)

// fitMadeFor is the step in which is said for which body the pattern was made, and which
// stretches of it stand for which measures.
type fitMadeFor struct {
	f      *Fitting
	whole  *fyne.Container
	told   *control.Prose
	name   *control.Field
	size   *control.Field
	rows   *fyne.Container
	more   *control.Choice
	under  *layerRows
	thick  *control.Prose
	spans  *fitSpans
	next   *control.Button
	begins *fyne.Container
	fields map[string]*control.Field

	// listed are the measures that the rows are of, offered those that more offers, begun
	// those that have no figure yet.
	listed, offered, begun []string
	paper                  *fyne.Container
	// brief says in short what is known; whole says that all of it is shown to be changed.
	brief    *fyne.Container
	briefly  *control.Prose
	unfolded bool
	// worn is what that body wore; wornOpen says that it is shown while the rest is folded.
	worn       *fyne.Container
	wornButton *control.Button
	wornOpen   bool
}

// originLabel and originField are widths in the panel, in screen units.
const (
	originLabel = 56
	originSize  = 78
	originGap   = 6
	originField = 92
)

func newFitMadeFor(f *Fitting) *fitMadeFor {
	m := &fitMadeFor{f: f, fields: map[string]*control.Field{}}
	m.told = control.NewProse("", 12, false, look.Faint, fitRoom)
	m.name = control.NewField("What the pattern is called", func(text string) error {
		return m.set(func(a *draft.SetOriginArgs) { a.Name = strings.TrimSpace(text) })
	})
	m.size = control.NewField("The size that it states, in its own words, such as 14, M, or for a 30 cm doll", func(text string) error {
		return m.set(func(a *draft.SetOriginArgs) { a.Size = strings.TrimSpace(text) })
	})
	m.name.SetPlaceHolder("called")
	m.size.SetPlaceHolder("size")
	m.rows = control.Stack(5)
	m.more = control.NewChoice("A measure of the body that the pattern was made for", nil, func(i int) {
		if i >= 0 && i < len(m.offered) {
			m.begin(m.offered[i])
		}
	})
	m.more.PlaceHolder = "Add a measure…"
	m.under, m.thick = m.newUnder(), control.NewProse("", 11.5, false, look.Faint, fitRoom)
	m.spans = newFitSpans(f)
	m.paper = control.Stack(7,
		control.LabelledBy(originLabel, "Pattern", control.Row(originGap, control.Wide(fitRoom-originLabel-originSize-originGap, m.name.Object()), control.Wide(originSize, m.size.Object()))),
		control.Inset(0, 2, 0, 0, control.NewText("The body it was made for", 12.5, true, look.Ink)),
		m.rows, m.more.Object())
	m.worn = control.Stack(6, control.Inset(0, 2, 0, 0, control.NewText("Worn under it", 12.5, true, look.Ink)), m.thick, m.under.object)
	m.briefly = control.NewProse("", 12, false, look.Ink, fitRoom)
	change := control.NewButton(control.SmallShape, "", "Change", "Change what is said of the pattern and of the body that it was made for", func() {
		m.unfolded = true
		f.Update()
	})
	m.wornButton = control.NewButton(control.SmallShape, "", "Worn under it…", "Say what that body wore under the pattern, and how thick that was", func() {
		m.wornOpen = !m.wornOpen
		f.Update()
		if m.wornOpen {
			f.ways.Focus(m.under.name)
		}
	})
	m.brief = control.Stack(6, m.briefly, control.Row(6, change, m.wornButton))
	m.begins = control.Stack(8, control.Row(0, control.NewButton(control.WordShape, "trace", "Trace a paper pattern…", "Make pieces at true size of scans or photographs of a pattern", func() { f.ways.Trace() })))
	m.whole = control.Stack(8, m.told, m.begins, m.brief, m.paper, m.worn, control.Rule(), m.spans.object)
	m.next = control.NewButton(control.WordShape, "", "Go on: for whom", "", m.goOn)
	return m
}

// takesFirst reports whether nothing is said of any stretch though something suggests itself:
// who went on would have nothing to fit by.
func (m *fitMadeFor) takesFirst() bool { return m.spans.count().spans == 0 && len(m.spans.list) > 0 }

// goOn takes what is suggested where nothing is said yet, else goes on to whom it is to fit.
func (m *fitMadeFor) goOn() {
	if m.takesFirst() {
		m.spans.takeAll()
		return
	}
	m.f.Open(stepWhom)
}

func (m *fitMadeFor) object() fyne.CanvasObject { return m.whole }

func (m *fitMadeFor) foot() []fyne.CanvasObject { return []fyne.CanvasObject{m.next} }

// stands implements fitPanel.
func (m *fitMadeFor) stands() (string, bool) {
	if len(m.f.scope.pieces()) == 0 {
		return "there are no pieces yet", false
	}
	n := m.spans.count()
	return stretchCount(n.spans), m.enough()
}

// stretchCount says how many stretches stand for something.
func stretchCount(n int) string {
	switch n {
	case 0:
		return "no stretches yet"
	case 1:
		return "1 stretch"
	}
	return count(n) + " stretches"
}

// enough reports whether what is said is enough to fit by.
func (m *fitMadeFor) enough() bool {
	n := m.spans.count()
	return n.spans > 0 && n.known > 0 && len(n.without) == 0
}

// set says of the pieces in hand again what they were made for, with a change.
func (m *fitMadeFor) set(change func(*draft.SetOriginArgs)) error {
	f := m.f
	a := draft.SetOriginArgs{Line: draft.StitchDrawn}
	if o, _ := f.origin(); o != nil {
		a = o.Args()
	}
	for _, id := range f.scope.ids() {
		a.Pieces = append(a.Pieces, draft.PieceRef(id))
	}
	change(&a)
	f.drop()
	out, err := draft.SetOrigin.Do(f.desk.Project(), a)
	if err != nil {
		return err
	}
	f.desk.Take(out, "say what a pattern was made for")
	return nil
}

// update shows what is said.
func (m *fitMadeFor) update() {
	f := m.f
	o, several := f.origin()
	drafted := m.draftedOnly()
	none := len(f.scope.pieces()) == 0
	known := o != nil && len(o.Measures) > 0
	folded := known && !several && !m.unfolded && len(m.begun) == 0
	show(m.paper, !drafted && !none && !folded)
	show(m.brief, !drafted && !none && folded)
	show(m.worn, !drafted && !none && (!folded || m.wornOpen))
	show(m.told, drafted || none || !folded)
	if folded {
		m.briefly.Put(m.inBrief(o))
	}
	show(m.begins, none)
	show(m.spans.object, !none)
	switch {
	case len(f.scope.pieces()) == 0:
		m.told.Put("Nothing lies on the bench yet. Trace a paper pattern, bring in a drawing or draft a block first.")
	case drafted:
		w := f.draftedFor(f.scope.pieces()[0])
		m.told.Put("These pieces were drafted from a block for " + w.Name + ", whose measures they were made for.")
	case several:
		m.told.Put("These pieces come from several patterns. What you change here is said of all of them; choose one garment above to keep them apart.")
	default:
		m.told.Put("What the pattern says of the body that it fits. A few measures are enough; the rest is estimated.")
	}
	name, size := "", ""
	if o != nil {
		name, size = o.Name, o.Size
	}
	m.name.Put(name)
	m.size.Put(size)
	m.putMeasures(o)
	m.putUnder(o)
	m.spans.update()
	m.next.SetWord("Go on: for whom")
	m.next.Hint = "Go on to say whom the pattern is to fit"
	if m.takesFirst() {
		m.next.SetWord(m.spans.all.Word)
		m.next.Hint = "Nothing is said yet of what the stretches stand for; take what suggests itself, as one step to undo, then go on"
	}
	m.next.SetOff(len(f.scope.pieces()) == 0)
}

// toldInBrief is how many measures of the body are told where the rest is folded.
const toldInBrief = 3

// inBrief says in a sentence or two what the pattern was made for: the measures that are
// asked for first of all before others.
func (m *fitMadeFor) inBrief(o *draft.Origin) string {
	name := strings.TrimSpace(o.Name + ", " + o.Size)
	name = strings.Trim(name, ", ")
	if name == "" {
		name = "The pattern"
	}
	u := m.f.desk.Project().Unit
	var told []string
	for _, x := range append(body.Asked(), body.Catalogue()...) {
		v, ok := o.Measure(x.Name)
		text := measureShort(x.Name) + " " + u.Format(v)
		if ok && len(told) < toldInBrief && x.Kind != body.Height && !slices.Contains(told, text) {
			told = append(told, text)
		}
	}
	if rest := len(o.Measures) - len(told); rest > 0 && len(told) > 0 {
		told = append(told, wording.Count(rest, "more measure"))
	}
	says := name + ": made for " + wording.List(told) + "."
	if mm := o.WornUnder(); mm > 0 {
		says += " Worn over " + u.Format(mm) + "."
	}
	return says
}

// draftedOnly reports whether every piece comes from a block.
func (m *fitMadeFor) draftedOnly() bool {
	pieces := m.f.scope.pieces()
	for _, p := range pieces {
		if m.f.draftedFor(p) == nil {
			return false
		}
	}
	return len(pieces) > 0
}

// putMeasures shows the measures that were given, those that stretches stand for and that
// were not given with their estimates, and offers the rest.
func (m *fitMadeFor) putMeasures(o *draft.Origin) {
	listed := m.wanted(o)
	if !slices.Equal(listed, m.listed) || m.offered == nil {
		m.listed = listed
		m.rebuild()
	}
	u := m.f.desk.Project().Unit
	known := m.f.bodies.of(o)
	for _, name := range listed {
		text, hold := "", ""
		if o != nil {
			if v, ok := o.Measure(name); ok {
				text = u.Format(v)
			} else if v, _ := measureOf(known, name); v > 0 {
				hold = "≈ " + u.Format(v)
			}
		}
		x := m.fields[name]
		if x.PlaceHolder != hold {
			x.SetPlaceHolder(hold)
		}
		x.Put(text)
	}
}

// wanted returns the measures that are listed: those that were given and those that were
// begun, each in the place that it has already.
func (m *fitMadeFor) wanted(o *draft.Origin) []string {
	wants := map[string]bool{}
	var order []string
	want := func(name string) {
		if !wants[name] {
			wants[name] = true
			order = append(order, name)
		}
	}
	if o != nil {
		for _, x := range o.Measures {
			want(x.Name)
		}
	}
	if len(order)+len(m.begun) == 0 {
		m.begun = slices.Clone(firstAsked)
	}
	for _, name := range m.begun {
		want(name)
	}
	var listed []string
	for _, name := range append(slices.Clone(m.listed), order...) {
		if wants[name] {
			delete(wants, name)
			listed = append(listed, name)
		}
	}
	return listed
}

// firstAsked are the measures that are asked for where none was given: those that most
// patterns state.
var firstAsked = []string{"bust_girth", "waist_girth", "back_waist_length"}

func (m *fitMadeFor) rebuild() {
	m.rows.RemoveAll()
	clear(m.fields)
	for _, name := range m.listed {
		m.rows.Add(m.newRow(name))
	}
	m.offered = []string{}
	var words []string
	used := map[string]bool{}
	for _, x := range append(body.Asked(), body.Catalogue()...) {
		if !used[x.Name] && !slices.Contains(m.listed, x.Name) {
			m.offered = append(m.offered, x.Name)
			words = append(words, sentence(body.Words(x.Name)))
		}
		used[x.Name] = true
	}
	m.more.Offer(words, -1)
}

func (m *fitMadeFor) newRow(name string) fyne.CanvasObject {
	field := control.NewField(sentence(body.Words(name))+" of the body that the pattern was made for", func(text string) error {
		if strings.TrimSpace(text) == "" {
			return m.without(name)
		}
		u := m.f.desk.Project().Unit
		mm, err := u.Parse(text)
		if err != nil {
			return err
		}
		if !(mm > 0 && mm <= draft.MaxCoordinate) {
			return fmt.Errorf("no body measures %s there", u.Format(mm))
		}
		return m.set(func(a *draft.SetOriginArgs) { a.Measures = withMeasure(a.Measures, name, mm) })
	})
	field.Done = func() { m.nextField(name) }
	m.fields[name] = field
	away := control.NewButton(control.TinyShape, "remove", "", "Leave this measure out", func() { m.f.report(m.without(name)) })
	words := control.NewProse(sentence(body.Words(name)), 12, false, look.Ink, fitRoom-originField-32)
	return m.fieldRow(control.Centred(words), field.Object(), away)
}

// nextField gives the keys to the field under that of a measure.
func (m *fitMadeFor) nextField(name string) {
	if i := slices.Index(m.listed, name); i >= 0 && i+1 < len(m.listed) {
		m.f.ways.Focus(m.fields[m.listed[i+1]])
	}
}

// withMeasure returns the measures with one changed or added.
func withMeasure(list []draft.OriginMeasure, name string, mm float64) []draft.OriginMeasure {
	for i := range list {
		if list[i].Name == name {
			list[i].Value = mm
			return list
		}
	}
	return append(list, draft.OriginMeasure{Name: name, Value: mm})
}

// begin adds a row for a measure that has no figure yet.
func (m *fitMadeFor) begin(name string) {
	m.begun = append(m.begun, name)
	m.f.Update()
	m.f.ways.Focus(m.fields[name])
}

// without leaves a measure out.
func (m *fitMadeFor) without(name string) error {
	m.begun = slices.DeleteFunc(m.begun, func(n string) bool { return n == name })
	o, _ := m.f.origin()
	if o == nil {
		m.f.Update()
		return nil
	}
	if _, given := o.Measure(name); !given {
		m.f.Update()
		return nil
	}
	return m.set(func(a *draft.SetOriginArgs) {
		a.Measures = slices.DeleteFunc(a.Measures, func(x draft.OriginMeasure) bool { return x.Name == name })
	})
}

// newUnder returns the list of what the body wore for which the pattern was made.
func (m *fitMadeFor) newUnder() *layerRows {
	return newLayerRows("What that body wore under the pattern, such as shirt; it can be left empty", layerWays{
		unit:  func() draft.Unit { return m.f.desk.Project().Unit },
		focus: func(x fyne.Focusable) { m.f.ways.Focus(x) },
		what:  func(alone bool) string { return map[bool]string{true: "All of it", false: "Another layer"}[alone] },
		set: func(i int, u draft.Worn) error {
			return m.set(func(a *draft.SetOriginArgs) {
				if i < len(a.Under) {
					a.Under[i] = u
				} else {
					a.Under = append(a.Under, u)
				}
			})
		},
		forget: func(i int) {
			m.f.report(m.set(func(a *draft.SetOriginArgs) {
				if i < len(a.Under) {
					a.Under = slices.Delete(a.Under, i, i+1)
				}
			}))
		},
		row: func(name string, thick, gone fyne.CanvasObject) fyne.CanvasObject {
			return m.fieldRow(control.Centred(control.NewText(name, 12, false, look.Ink).AtLeast(10)), thick, gone)
		},
		add: func(name, thick fyne.CanvasObject) fyne.CanvasObject {
			return m.fieldRow(name, thick, control.Wide(control.TinyShape.Size.Width, blank()))
		},
		goneShape: control.TinyShape, goneIcon: "remove",
	})
}

// fieldRow lays a figure out beside what it is of, with what takes it away behind it.
func (m *fitMadeFor) fieldRow(what, figure, away fyne.CanvasObject) fyne.CanvasObject {
	return container.NewBorder(nil, nil, nil, control.Row(4, control.Wide(originField, figure), away), what)
}

// putUnder shows what the body wore.
func (m *fitMadeFor) putUnder(o *draft.Origin) {
	if o == nil {
		o = &draft.Origin{}
	}
	m.under.update(o.Under)
	m.thick.Put("Only where it was made to go over other clothes.")
	if mm := o.WornUnder(); mm > 0 {
		m.thick.Put("Together " + m.f.desk.Project().Unit.Format(mm) + " thick: neither body nor ease.")
	}
}
