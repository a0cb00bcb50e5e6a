package station

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
)

// Widths in screen units: of the side, of what its rows have, of a field, and of the
// column of the wearer that is compared with.
const (
	measureWide = 348
	measureRoom = measureWide - 2*16 - 4
	fieldWide   = 112
	otherWide   = 92
)

// measureForm is the side of the station: the wearer's name and build, and the fields.
type measureForm struct {
	m      *Measure
	object fyne.CanvasObject
	empty  fyne.CanvasObject
	wide   *fyne.Container
	scroll *container.Scroll
	rows   *fyne.Container

	name    *control.Field
	build   *control.Pill
	taken   *control.Text
	versus  *fyne.Container
	against *control.Text
	draft   *control.Button

	fields   map[string]*bodyField
	order    []*bodyField // in which Return goes through them
	base     []*bodyField // those of the catalogue's rows
	sections []*section
	fresh    bool // rows were made since the panel was shown
	levels   *levelTable
	parts    *partTable
	worn     *wornTable
	others   *otherTable
}

// animalGroup is the group of the catalogue that upright bodies have no use for.
const animalGroup = "Muzzle, ears and tail"

// section is a group of measures that folds away.
type section struct {
	title  string
	head   *control.Card
	sign   *control.Text
	count  *control.Text
	mark   *control.Mark
	body   *fyne.Container
	room   *fyne.Container // that the body lies in, with room under it
	whole  *fyne.Container
	fields func() []*bodyField
	open   bool
}

func newMeasureForm(m *Measure) *measureForm {
	f := &measureForm{m: m, fields: map[string]*bodyField{}}
	f.rows = control.Stack(6)
	f.rows.Add(f.buildHead())
	f.buildAsked()
	f.buildGroups()
	f.levels = newLevelTable(f)
	f.addSection("Levels", f.levels.object, f.levels.list)
	f.others = newOtherTable(f)
	f.addSection("Measures of your own", f.others.object, func() []*bodyField { return f.others.fields })
	f.parts = newPartTable(f)
	f.addSection("Parts that come off", f.parts.object, nil)
	f.worn = newWornTable(f)
	f.addSection("Worn underneath", f.worn.object, nil)
	f.scroll = container.NewVScroll(control.Inset(16, 12, 16, 16, f.rows))
	f.wide = control.Wide(measureWide, control.Compact(f.scroll))
	f.object = f.wide
	f.empty = control.Wide(measureWide, control.Inset(16, 14, 16, 16, container.NewVBox(control.Stack(8,
		control.NewText("Measures", control.TitleSize, true, look.Ink), control.Rule(),
		control.NewProse("Ten measures are asked for first: height, round the bust, the waist, the belly and the hips, and a few lengths. Those you have not taken are estimated from the others, and marked.", 12.5, false, look.Faint, measureRoom),
		control.NewProse("Measure in any unit: write 3 1/2in, 8.9cm or 89, which is then in the unit at the top of the window.", 12.5, false, look.Faint, measureRoom)))))
	return f
}

// buildHead makes what stands above the measures.
func (f *measureForm) buildHead() fyne.CanvasObject {
	f.name = control.NewField("Whom the garment is for", func(text string) error {
		return f.act(draft.RenameWearer.Do(f.m.desk.Project(), draft.RenameWearerArgs{Wearer: f.ref(), Name: text}))
	})
	f.name.Done = func() { f.step(-1, 1) }
	builds := figure.Builds()
	var words []string
	for _, b := range builds {
		words = append(words, b.String())
	}
	f.build = control.NewPill("What the figure is drawn as; the pattern does not depend on it", words, func(i int) {
		run(f.m, draft.SetBuild, draft.SetBuildArgs{Wearer: f.ref(), Build: builds[i]})
	})
	f.against = control.NewText("", 11.5, true, look.Ink).AtLeast(20).Aligned(fyne.TextAlignTrailing)
	f.versus = container.NewBorder(nil, nil, nil, control.Wide(otherWide, f.against))
	return control.Stack(8,
		labelled("Name", f.name.Object()),
		labelled("Build", control.Row(0, f.build)),
		f.versus)
}

func (f *measureForm) ref() draft.WearerRef { return draft.WearerRef(f.m.Wearer().ID) }

// act takes in what an act has made.
func (f *measureForm) act(out draft.Outcome, err error) error {
	if err != nil {
		return err
	}
	f.m.desk.Take(out, "")
	return nil
}

// buildAsked makes the ten measures that are asked for first.
func (f *measureForm) buildAsked() {
	f.taken = control.NewText("", 12, false, look.Faint)
	f.rows.Add(control.Rule())
	f.rows.Add(container.NewBorder(nil, nil, nil, container.NewCenter(f.taken), control.NewText("Asked for first", 13, true, look.Ink)))
	for _, m := range body.Asked() {
		f.rows.Add(f.addField(m.Name).object)
	}
	f.draft = control.NewButton(control.WordShape, "draft", "Draft a block", "Go on and have a block drafted for this wearer", func() {
		if f.m.ways.Draft != nil {
			f.m.ways.Draft(f.m.Wearer().ID)
		}
	})
	show(f.draft, f.m.ways.Draft != nil)
	f.rows.Add(control.Inset(0, 4, 0, 2, f.draft))
}

// buildGroups makes the other measures of the catalogue, in their groups.
func (f *measureForm) buildGroups() {
	var groups []string
	members := map[string][]*bodyField{}
	for _, m := range body.Catalogue() {
		if m.Ask > 0 || ofBodyLevel(m.Name) {
			continue
		}
		group := m.Group
		if m.Name == "neck_height" { // the only height that is not in the table of levels
			group = "Head and neck"
		}
		if members[group] == nil {
			groups = append(groups, group)
		}
		members[group] = append(members[group], f.addField(m.Name))
	}
	f.base = f.base[:len(body.Asked())]
	for _, g := range groups {
		list := members[g]
		f.base = append(f.base, list...)
		rows := control.Stack(6)
		for _, x := range list {
			rows.Add(x.object)
		}
		f.addSection(g, rows, func() []*bodyField { return list })
	}
	f.reorder()
}

// ofBodyLevel reports whether a measure stands in the table of levels.
func ofBodyLevel(name string) bool {
	for _, l := range body.Levels {
		if name == body.HeightOf(l) || name == body.ArcFrontOf(l) || name == body.ArcBackOf(l) {
			return true
		}
	}
	return false
}

func isBodyLevel(name string) bool { return slices.Contains(body.Levels[:], name) }

// addField makes the row of a measure.
func (f *measureForm) addField(name string) *bodyField {
	x := newBodyField(f, name)
	f.fields[name] = x
	f.base = append(f.base, x)
	f.reorder()
	return x
}

// reorder puts the fields in the order in which they stand.
func (f *measureForm) reorder() {
	f.fresh = true
	f.order = slices.Clone(f.base)
	if f.levels != nil {
		f.order = append(f.order, f.levels.fields...)
	}
	if f.others != nil {
		f.order = append(f.order, f.others.fields...)
	}
}

// addSection adds a group that folds away; fields are what counts as taken in it.
func (f *measureForm) addSection(title string, body *fyne.Container, fields func() []*bodyField) {
	s := &section{title: title, body: body, fields: fields}
	s.sign, s.count = control.NewText("▸", 12, false, look.Faint), control.Faint("")
	s.mark = control.NewMark(control.Holds, 14)
	s.mark.Hide()
	row := container.NewBorder(nil, nil, nil, control.Row(6, s.mark, s.count, s.sign), control.NewText(title, 13, true, look.Ink).AtLeast(10))
	s.head = control.NewCard(control.Inset(6, 5, 6, 5, row), "Fold this group out, or away again", func() { f.fold(s, !s.open) })
	s.head.Coloured(look.Paper, look.Paper)
	s.room = control.Inset(0, 0, 0, 8, body)
	s.room.Hide()
	f.sections = append(f.sections, s)
	s.whole = control.Stack(4, control.Tall(1, control.NewPlane(look.Border, "", 0)), s.head, s.room)
	f.rows.Add(s.whole)
}

// fold opens a group or folds it away.
func (f *measureForm) fold(s *section, open bool) {
	s.open = open
	s.sign.Set("▸")
	if open {
		s.sign.Set("▾")
	}
	show(s.room, open)
	f.rows.Refresh()
	f.scroll.Refresh()
	f.m.Update()
}

// begin gives the keys to the name, all of it marked.
func (f *measureForm) begin() {
	f.scroll.ScrollToTop()
	f.m.ways.Focus(f.name)
	f.name.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// goTo gives the keys to the field of a measure, folding its group out.
func (f *measureForm) goTo(name string) {
	x := f.fields[name]
	if x == nil {
		if level, ok := strings.CutSuffix(name, "_girth"); ok {
			x = f.fields[body.ArcFrontOf(level)]
		}
	}
	if x == nil {
		return
	}
	for _, s := range f.sections {
		if s.fields != nil && slices.Contains(s.fields(), x) && !s.open {
			f.fold(s, true)
		}
	}
	f.m.ways.Focus(x.field)
}

// step gives the keys to the field that comes after the one at the place, or before
// it: those that are folded away are passed by. After the last of the measures that
// are asked for, where nothing more is folded out, it is the button that goes on; after
// the levels it is the field that adds one.
func (f *measureForm) step(from, by int) {
	for i := from + by; i >= 0 && i < len(f.order); i += by {
		if f.visible(f.order[i]) {
			f.m.ways.Focus(f.order[i].field)
			return
		}
	}
	switch {
	case by > 0 && from >= 0 && slices.Contains(f.levels.fields, f.order[from]):
		f.m.ways.Focus(f.levels.add)
		return
	case by > 0 && f.draft.Visible() && (from < 0 || from < len(body.Asked())):
		f.m.ways.Focus(f.draft)
		f.reveal(f.draft)
		return
	}
	f.m.ways.Focus(nil)
}

func (f *measureForm) visible(x *bodyField) bool {
	for _, s := range f.sections {
		if s.fields != nil && slices.Contains(s.fields(), x) {
			return s.open
		}
	}
	return true
}

// reveal scrolls until an object is seen.
func (f *measureForm) reveal(o fyne.CanvasObject) {
	const margin = 14
	place, ok := placeIn(f.scroll.Content, o)
	if !ok { // inside a control; the driver knows only what was painted
		d := fyne.CurrentApp().Driver()
		place = d.AbsolutePositionForObject(o).Subtract(d.AbsolutePositionForObject(f.scroll.Content))
	}
	top := place.Y - margin
	bottom := top + o.Size().Height + 2*margin
	at := f.scroll.Offset
	if bottom > at.Y+f.scroll.Size().Height {
		at.Y = bottom - f.scroll.Size().Height
	}
	at.Y = max(min(at.Y, top), 0)
	if at != f.scroll.Offset {
		f.scroll.ScrollToOffset(at)
	}
}

// placeIn returns where an object lies in a container that holds it, at any depth.
func placeIn(root, o fyne.CanvasObject) (fyne.Position, bool) {
	if root == o {
		return fyne.Position{}, true
	}
	if c, ok := root.(*fyne.Container); ok {
		for _, child := range c.Objects {
			if at, ok := placeIn(child, o); ok {
				return at.Add(child.Position()), true
			}
		}
	}
	return fyne.Position{}, false
}

// update shows a wearer.
func (f *measureForm) update(w *draft.Wearer, resolved *body.Body) {
	f.name.Put(w.Name)
	f.build.Put(int(w.Build))
	f.updateCompare()
	f.levels.update(w)
	f.others.update(w)
	f.parts.update(w)
	f.worn.update(w)
	slips := slipsOf(w, f.m.desk.Project().Unit)
	var other *body.Body
	if o := f.m.compared(); o != nil {
		other = body.Resolve(o.Given())
	}
	f.levels.updateSlips(slips)
	for _, x := range f.order {
		x.update(w, resolved, other, slipsAbout(slips, x.name))
	}
	asked := body.Asked()
	n := 0
	for _, m := range asked {
		if f.fields[m.Name].taken {
			n++
		}
	}
	f.taken.Set(fmt.Sprintf("%d of %d taken", n, len(asked)))
	for _, s := range f.sections {
		f.updateSection(s, w, slips)
	}
	f.rows.Refresh()
	if f.fresh { // rows that are new have not got the small letters of the panel yet
		f.fresh = false
		f.wide.Objects[0].Refresh()
	}
}

// updateCompare makes room for the wearer that is compared with.
func (f *measureForm) updateCompare() {
	other := f.m.compared()
	show(f.versus, other != nil)
	wide := float32(measureWide)
	if other != nil {
		f.against.Set(other.Name)
		wide += otherWide + rowGap
	}
	if f.wide.MinSize().Width != wide {
		f.wide = control.Wide(wide, f.wide.Objects[0])
		f.object = f.wide
		put(f.m.side, f.object)
	}
}

func (f *measureForm) updateSection(s *section, w *draft.Wearer, slips []body.Slip) {
	if s.title == animalGroup {
		animal := w.Build != figure.Upright
		for _, x := range s.fields() {
			animal = animal || x.taken
		}
		show(s.whole, animal)
	}
	if s.fields == nil {
		n := len(w.Parts)
		if s.body == f.worn.object {
			n = len(w.Under)
		}
		s.count.Set("")
		if n > 0 {
			s.count.Set(fmt.Sprint(n))
		}
		return
	}
	n := 0
	var mine []body.Slip
	for _, x := range s.fields() {
		if x.taken {
			n++
		}
		mine = append(mine, slipsAbout(slips, x.name)...)
	}
	s.count.Set(fmt.Sprintf("%d of %d", n, len(s.fields())))
	if len(s.fields()) == 0 {
		s.count.Set("")
	}
	show(s.mark, len(mine) > 0)
	s.mark.Put(worst(mine))
}
