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
)

// Widths in the tables, in screen units: of the name, and of the button that removes.
const (
	tableName   = 66
	tableRemove = 22
	tableGap    = 5
)

// removeShape is that of the small buttons that take a row away.
var removeShape = control.Shape{Size: fyne.NewSize(tableRemove, 24), Icon: 12, Radius: 6}

// cells lays a name, fields of one width, and a button beside one another.
type cells struct{}

func (cells) MinSize(o []fyne.CanvasObject) fyne.Size {
	high := float32(0)
	for _, x := range o {
		high = max(high, x.MinSize().Height)
	}
	return fyne.NewSize(0, high)
}

func (cells) Layout(o []fyne.CanvasObject, size fyne.Size) {
	last := len(o) - 1
	n := float32(last - 1)
	each := (size.Width - tableName - tableRemove - (n+1)*tableGap) / n
	x := float32(0)
	for i, c := range o {
		w := each
		if i == 0 {
			w = tableName
		} else if i == last {
			w = tableRemove
		}
		h := c.MinSize().Height
		y := float32(0)
		if i == 0 || i == last {
			y = max((min(size.Height, 28)-h)/2, 0) // in the middle of the fields' height
		}
		c.Move(fyne.NewPos(x, y))
		c.Resize(fyne.NewSize(w, h))
		x += w + tableGap
	}
}

// blank stands where a row has no button.
func blank() fyne.CanvasObject { return control.NewText("", 12, false, look.Faint) }

// nameField is a field into which a name is typed to add something.
func nameField(hint, hold string, add func(name string) error) *control.Field {
	f := control.NewField(hint, nil)
	f.SetPlaceHolder(hold)
	f.Take = func(text string) error {
		if text = strings.TrimSpace(text); text == "" {
			return nil
		}
		if err := add(text); err != nil {
			return err
		}
		f.Put("")
		return nil
	}
	return f
}

// levelTable shows the levels of the body with their heights and arcs.
type levelTable struct {
	f      *measureForm
	object *fyne.Container
	grid   *fyne.Container
	add    *control.Field
	names  []string
	// begun are levels that have a name and no figure yet.
	begun  []string
	wearer draft.ID
	unit   draft.Unit
	fields []*bodyField
	marks  *fyne.Container
}

func newLevelTable(f *measureForm) *levelTable {
	t := &levelTable{f: f, grid: control.Stack(5), marks: control.Stack(4)}
	t.add = nameField("A level of your own at which the body is measured round, such as ribcage", "another level …", t.begin)
	t.object = control.Stack(6,
		control.NewProse("How high above the ground each lies, and how its front and its back share the girth, from side to side.", 11.5, false, look.Faint, measureRoom),
		t.grid, control.LabelledBy(tableName, "Add", t.add.Object()), t.marks)
	return t
}

func (t *levelTable) list() []*bodyField { return t.fields }

// begin adds an empty row for a level.
func (t *levelTable) begin(text string) error {
	name, err := draft.MeasureName(text)
	if err != nil {
		return err
	}
	if slices.Contains(t.names, name) {
		return fmt.Errorf("there is a level %s already", name)
	}
	t.begun = append(t.begun, name)
	t.f.m.Update()
	t.f.m.ways.Focus(t.f.fields[body.HeightOf(name)].field)
	return nil
}

func (t *levelTable) update(w *draft.Wearer) {
	if t.wearer != w.ID {
		t.wearer, t.begun = w.ID, nil
	}
	names := append(append([]string{}, body.Levels[:]...), ownLevels(w)...)
	for _, n := range t.begun {
		if !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	unit := t.f.m.desk.Project().Unit
	if slices.Equal(names, t.names) && unit == t.unit {
		return
	}
	t.rebuild(names, unit)
}

func (t *levelTable) rebuild(names []string, unit draft.Unit) {
	for _, x := range t.fields {
		delete(t.f.fields, x.name)
	}
	t.names, t.unit, t.fields = names, unit, nil
	t.grid.RemoveAll()
	head := func(text string) fyne.CanvasObject { return control.NewText(text, 11, false, look.Faint).AtLeast(10) }
	in := ", " + unit.Symbol()
	t.grid.Add(container.New(cells{}, blank(), head("height"+in), head("front"+in), head("back"+in), blank()))
	for _, n := range names {
		t.grid.Add(t.row(n))
	}
	t.f.reorder()
}

func (t *levelTable) row(level string) fyne.CanvasObject {
	cell := func(name string, set func(a *draft.SetLevelArgs, mm *draft.Length)) *bodyField {
		x := newBareField(t.f, name)
		x.bare = true
		x.put = func(mm float64) error {
			v := draft.Length(mm)
			a := draft.SetLevelArgs{Wearer: t.f.ref(), Name: level}
			set(&a, &v)
			return t.f.act(draft.SetLevel.Do(t.f.m.desk.Project(), a))
		}
		t.fields = append(t.fields, x)
		t.f.fields[name] = x
		return x
	}
	h := cell(body.HeightOf(level), func(a *draft.SetLevelArgs, mm *draft.Length) { a.Height = mm })
	f := cell(body.ArcFrontOf(level), func(a *draft.SetLevelArgs, mm *draft.Length) { a.Front = mm })
	b := cell(body.ArcBackOf(level), func(a *draft.SetLevelArgs, mm *draft.Length) { a.Back = mm })
	last := blank()
	if !isBodyLevel(level) {
		last = control.NewButton(removeShape, "close", "", "Forget the level "+level, func() { t.remove(level) })
	}
	name := control.NewProse(strings.ReplaceAll(level, "_", " "), 12.5, false, look.Ink, tableName).Flowing()
	return container.New(cells{}, name, h.field.Object(), f.field.Object(), b.field.Object(), last)
}

func (t *levelTable) remove(level string) {
	t.begun = slices.DeleteFunc(t.begun, func(n string) bool { return n == level })
	if t.f.m.Wearer().Level(level) != nil {
		run(t.f.m, draft.RemoveLevel, draft.RemoveLevelArgs{Wearer: t.f.ref(), Name: level})
		return
	}
	t.f.m.Update()
}

// updateSlips shows under the table what is wrong with a level.
func (t *levelTable) updateSlips(slips []body.Slip) {
	t.marks.RemoveAll()
	for _, s := range slips {
		if x := t.f.fields[s.Measures[0]]; x != nil && slices.Contains(t.fields, x) {
			t.marks.Add(t.f.slipCard(s))
		}
	}
}

// otherTable shows the measures that the catalogue does not know.
type otherTable struct {
	f      *measureForm
	object *fyne.Container
	rows   *fyne.Container
	names  []string
	begun  []string
	wearer draft.ID
	fields []*bodyField
}

func newOtherTable(f *measureForm) *otherTable {
	t := &otherTable{f: f, rows: control.Stack(6)}
	add := nameField("The name of a measure of your own, such as lantern_pole_girth: small letters and underscores", "another measure …", t.begin)
	t.object = control.Stack(6,
		control.NewProse("Blocks read them by their names. A measure without a value is forgotten.", 11.5, false, look.Faint, measureRoom),
		t.rows, control.LabelledBy(tableName, "Add", add.Object()))
	return t
}

func (t *otherTable) begin(text string) error {
	name, err := draft.MeasureName(text)
	if err != nil {
		return err
	}
	if t.f.fields[name] == nil {
		t.begun = append(t.begun, name)
		t.f.m.Update()
	}
	t.f.goTo(name)
	return nil
}

func (t *otherTable) update(w *draft.Wearer) {
	if t.wearer != w.ID {
		t.wearer, t.begun = w.ID, nil
	}
	var names []string
	for name := range w.Given() {
		if _, ok := body.Find(name); !ok && !ofLevel(w, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, n := range t.begun {
		if !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	// A row keeps its place while it is typed into.
	if same := slices.Sorted(slices.Values(names)); slices.Equal(same, slices.Sorted(slices.Values(t.names))) {
		return
	}
	for _, x := range t.fields {
		delete(t.f.fields, x.name)
	}
	t.names, t.fields = names, nil
	t.rows.RemoveAll()
	for _, n := range names {
		x := newBodyField(t.f, n)
		t.fields = append(t.fields, x)
		t.f.fields[n] = x
		t.rows.Add(x.object)
	}
	t.f.reorder()
}

// ofLevel reports whether a name is a figure of one of the wearer's own levels.
func ofLevel(w *draft.Wearer, name string) bool {
	for _, l := range ownLevels(w) {
		if name == body.HeightOf(l) || name == body.ArcFrontOf(l) || name == body.ArcBackOf(l) {
			return true
		}
	}
	return false
}

// partTable shows the parts that a garment must pass over, or that come off.
type partTable struct {
	f      *measureForm
	object *fyne.Container
	rows   *fyne.Container
	// quick are the buttons that add a part of common names, girths the fields of the
	// parts that are there.
	quick  map[string]*control.Button
	girths map[string]*control.Field
	added  string // last, until its girth has had the keys
	shows  []draft.BodyPart
	unit   draft.Unit
	wearer draft.ID
}

func newPartTable(f *measureForm) *partTable {
	t := &partTable{f: f, rows: control.Stack(5), quick: map[string]*control.Button{}, girths: map[string]*control.Field{}}
	add := nameField("A part that comes off, or that an opening must let pass: lantern hand", "another part …", t.add)
	add.Done = t.goOn
	quick := control.Row(6)
	for _, name := range []string{"head", "tail", "ears"} {
		t.quick[name] = control.NewButton(control.SmallShape, "add", name, "Add the "+name, func() {
			if err := t.add(name); err != nil {
				f.m.ways.Say(err.Error())
				return
			}
			t.goOn()
		})
		quick.Add(t.quick[name])
	}
	t.object = control.Stack(6,
		control.NewProse("What an opening must let pass when the garment is put on, or what is taken off before. The girth is the largest of the part.", 11.5, false, look.Faint, measureRoom),
		t.rows, quick, control.LabelledBy(tableName, "Add", add.Object()))
	return t
}

func (t *partTable) add(name string) error {
	w := t.f.m.Wearer()
	if slices.ContainsFunc(w.Parts, func(p draft.BodyPart) bool { return p.Name == name }) {
		return fmt.Errorf("%s has the part %s already", w.Name, name)
	}
	off := true
	a := draft.SetPartArgs{Wearer: t.f.ref(), Name: name, ComesOff: &off}
	if mm, ok := w.Given()[name+"_girth"]; ok {
		v := draft.Length(mm)
		a.Girth = &v
	}
	t.added = name
	return t.f.act(draft.SetPart.Do(t.f.m.desk.Project(), a))
}

// goOn gives the keys to the girth of the part that was added last, which is what is
// wanted of it next.
func (t *partTable) goOn() {
	if girth := t.girths[t.added]; girth != nil {
		t.f.m.ways.Focus(girth)
	}
	t.added = ""
}

func (t *partTable) update(w *draft.Wearer) {
	unit := t.f.m.desk.Project().Unit
	if slices.Equal(t.shows, w.Parts) && t.unit == unit && t.wearer == w.ID {
		return
	}
	t.shows, t.unit, t.wearer = w.Parts, unit, w.ID
	for name, b := range t.quick {
		show(b, !slices.ContainsFunc(w.Parts, func(p draft.BodyPart) bool { return p.Name == name }))
	}
	t.rows.RemoveAll()
	clear(t.girths)
	for _, p := range w.Parts {
		t.rows.Add(t.row(p, unit))
	}
	t.f.fresh = true
}

func (t *partTable) row(p draft.BodyPart, unit draft.Unit) fyne.CanvasObject {
	f := t.f
	girth := control.NewField("The largest girth of the part", func(text string) error {
		mm, err := unit.Parse(text)
		if err != nil {
			return err
		}
		v := draft.Length(mm)
		return f.act(draft.SetPart.Do(f.m.desk.Project(), draft.SetPartArgs{Wearer: f.ref(), Name: p.Name, Girth: &v}))
	})
	girth.SetPlaceHolder("girth")
	t.girths[p.Name] = girth
	if p.Girth > 0 {
		girth.Put(unit.Format(p.Girth))
	}
	off := control.NewCheck("comes off", func(on bool) {
		run(f.m, draft.SetPart, draft.SetPartArgs{Wearer: f.ref(), Name: p.Name, ComesOff: &on})
	})
	off.Put(p.ComesOff)
	gone := control.NewButton(removeShape, "close", "", "Forget the part "+p.Name, func() {
		run(f.m, draft.RemovePart, draft.RemovePartArgs{Wearer: f.ref(), Name: p.Name})
	})
	return container.New(cells{}, control.NewText(p.Name, 12.5, false, look.Ink).AtLeast(10), girth.Object(), off, gone)
}

// wornTable shows what is worn under the garment.
type wornTable struct {
	*layerRows
	f      *measureForm
	object *fyne.Container
	sum    *control.Prose
	wearer draft.ID
}

func newWornTable(f *measureForm) *wornTable {
	t := &wornTable{f: f}
	t.layerRows = newLayerRows("What is worn under the garment, such as quilted vest", layerWays{
		unit:  func() draft.Unit { return f.m.desk.Project().Unit },
		focus: func(x fyne.Focusable) { f.m.ways.Focus(x) },
		named: true,
		set: func(_ int, u draft.Worn) error {
			return f.act(draft.SetWorn.Do(f.m.desk.Project(), draft.SetWornArgs{Wearer: f.ref(), Name: u.Name, Thickness: draft.Length(u.Thickness)}))
		},
		forget: func(i int) {
			run(f.m, draft.RemoveWorn, draft.RemoveWornArgs{Wearer: f.ref(), Name: t.shows[i].Name})
		},
		row: func(name string, thick, gone fyne.CanvasObject) fyne.CanvasObject {
			return container.NewBorder(nil, nil, nil, container.NewHBox(control.Wide(fieldWide, thick), control.Wide(tableRemove, gone)), control.Centred(control.NewText(name, 12.5, false, look.Ink).AtLeast(10)))
		},
		add: func(name, thick fyne.CanvasObject) fyne.CanvasObject {
			return container.New(cells{}, control.NewText("Add", 12.5, false, look.Faint), name, thick, blank())
		},
		goneShape: removeShape, goneIcon: "close",
	})
	t.sum = control.NewProse("", 11.5, false, look.Faint, measureRoom)
	t.object = control.Stack(6, t.sum, t.layerRows.object)
	return t
}

func (t *wornTable) update(w *draft.Wearer) {
	if t.wearer != w.ID {
		t.made, t.wearer = false, w.ID
	}
	if !t.layerRows.update(w.Under) {
		return
	}
	t.f.fresh = true
	t.sum.Put("What lies between the body and the garment makes it larger all round.")
	if mm := w.WornUnder(); mm > 0 {
		t.sum.Put("Together " + t.unit.Format(mm) + " thick: blocks add it all round.")
	}
}
