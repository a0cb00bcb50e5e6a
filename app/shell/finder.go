package shell

import (
	"sort"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
)

// newFindBox returns the box in the top bar that opens the finder.
func newFindBox(s *Shell) fyne.CanvasObject {
	row := container.NewBorder(nil, nil, nil, control.Centred(control.NewText("Ctrl K", 11, false, look.Faint)),
		control.Centred(control.NewText("Find a piece, an edge, a command…", 13, false, look.Faint).AtLeast(40)))
	card := control.NewCard(control.Inset(14, 0, 14, 0, control.Tall(28, row)), "Find a piece, an edge or a command by its name (Ctrl+K)", func() { s.finder.open() })
	return card
}

// finder finds pieces, edges and commands by a few letters of their names.
type finder struct {
	s     *Shell
	found []found
	list  *control.List
	// none says that nothing was found.
	none *control.Text
	// says tells of the one that is chosen, in two lines.
	says *control.Prose
	pop  *question
	at   int
	// only lists what can be found, of everything or of the acts alone.
	only func() []found
}

// found is one thing that the finder offers.
type found struct {
	name, what, key, icon string
	// says is told of the one that is chosen.
	says string
	// more is by what other words it is found.
	more string
	// first are words by which it comes before what is called so.
	first string
	do    func()
	// head says that it is a heading and nothing to choose.
	head bool
}

func newFinder(s *Shell) *finder { return &finder{s: s} }

// finderWidth is in screen units.
const finderWidth = 500

func (f *finder) open() { f.openWith("Find", "a few letters of a name", f.all) }

// openActs lists the acts alone, by their headings.
func (f *finder) openActs() {
	f.openWith("Acts", "what you want to do: split, gather, dart, hem…", f.acts)
}

func (f *finder) openWith(title, prompt string, only func() []found) {
	if f.s.question != nil {
		return
	}
	f.only = only
	field := control.NewField("A few letters of the name; the arrow keys go through the list", nil)
	f.list = control.NewList(func() int { return len(f.found) },
		func() fyne.CanvasObject {
			return control.Inset(8, 2, 8, 2, control.Row(8, control.NewIcon("shape", look.Faint, 16),
				control.NewText("", 13, false, look.Ink).AtLeast(280), control.Spring(),
				control.NewText("", 11.5, false, look.Faint), control.NewText("", 11.5, true, look.Faint)))
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			row := o.(*fyne.Container).Objects[0].(*fyne.Container)
			x := f.found[i]
			icon, name := row.Objects[0].(*control.Icon), row.Objects[1].(*control.Text)
			if shown(icon, x.icon != ""); x.icon != "" {
				icon.Put(x.icon)
			}
			name.Set(x.name)
			if name.SetColour(look.Ink); x.head {
				name.SetColour(look.Chalk)
			}
			row.Objects[3].(*control.Text).Set(x.what)
			row.Objects[4].(*control.Text).Set(x.key)
			row.Refresh()
		}, func(i widget.ListItemID) {
			if f.found[i].head {
				f.list.Put(f.at)
			} else {
				f.at = i
				f.says.Put(f.found[i].says)
			}
			f.s.win.Canvas().Focus(field)
		})
	field.Arrows = f.step
	field.SetPlaceHolder(prompt)
	field.OnChanged = f.look
	field.OnSubmitted = func(string) { f.take() }
	f.none = control.NewText("", 13, false, look.Faint)
	f.says = control.NewProse("", 12, false, look.Faint, finderWidth)
	f.look("")
	body := container.NewVBox(control.Wide(finderWidth, field.Object()),
		control.Tall(330, container.NewStack(control.NewPlane(look.Card, look.Border, 8), control.Inset(2, 2, 2, 2, f.list), container.NewCenter(f.none))), control.Tall(34, f.says))
	f.pop = f.s.ask(title, body, field,
		answer{word: "Cancel", out: true},
		answer{word: "Go", main: true, do: func() bool { f.take(); return false }})
}

// step goes up or down the list.
func (f *finder) step(by int) {
	if len(f.found) == 0 {
		return
	}
	for range f.found {
		f.at = (f.at - by + len(f.found)) % len(f.found)
		if !f.found[f.at].head {
			break
		}
	}
	f.list.Put(f.at)
	f.says.Put(f.found[f.at].says)
}

func (f *finder) take() {
	if f.at < 0 || f.at >= len(f.found) || f.found[f.at].head {
		return
	}
	do := f.found[f.at].do
	f.pop.close()
	do()
}

// look lists what holds the letters: names that begin with them first, then other
// names, then what is described by them.
func (f *finder) look(text string) {
	text = strings.ToLower(strings.TrimSpace(text))
	f.found = f.found[:0]
	for _, x := range f.only() {
		if x.head && text == "" || !x.head && x.rank(text) < notFound {
			f.found = append(f.found, x)
		}
	}
	if text == "" {
		f.listed()
		return
	}
	sort.SliceStable(f.found, func(i, j int) bool { return f.found[i].rank(text) < f.found[j].rank(text) })
	f.listed()
}

// listed shows what was found.
func (f *finder) listed() {
	f.says.Put("")
	if f.none.Set(""); len(f.found) == 0 {
		f.none.Set("Nothing is called or described so.")
	}
	f.at = 0
	for f.at < len(f.found)-1 && f.found[f.at].head {
		f.at++
	}
	f.list.Refresh()
	if len(f.found) > 0 {
		f.list.Put(f.at)
		f.list.ScrollToTop()
		f.says.Put(f.found[f.at].says)
	}
}

// notFound is the rank of what does not hold the letters.
const notFound = 4

// rank says how well the letters, in lower case, fit: the lower the better.
func (x found) rank(text string) int {
	name := strings.ToLower(x.name)
	switch {
	case len(text) >= leastDescribed && strings.Contains(" "+x.first, " "+text):
		return -1
	case strings.HasPrefix(name, text):
		return 0
	case strings.Contains(name, text):
		return 1
	case len(text) < leastDescribed:
		return notFound
	case strings.Contains(" "+strings.ToLower(x.more), " "+text):
		return 2
	case strings.Contains(strings.ToLower(x.more), text):
		return 3
	}
	return notFound
}

// leastDescribed is from how many letters on descriptions are looked through too.
const leastDescribed = 3

// all lists everything that can be found.
func (f *finder) all() []found {
	var out []found
	for _, p := range f.s.desk.Project().Pieces {
		out = append(out, found{name: p.Name, what: "piece", do: func() { f.s.jump(desk.PieceRef(p.ID)) }})
	}
	for _, c := range f.s.commands {
		x := found{name: strings.TrimSuffix(c.name, "…"), what: c.menu, key: c.keyText(), says: c.says, more: c.says + " " + c.also, do: c.run}
		if c.can != nil && !c.can() {
			x.what = "not now"
			x.do = func() { f.s.Say(x.name + " is for something else than what is picked: " + c.says) }
		}
		out = append(out, x)
	}
	for _, t := range f.s.tools {
		info := t.Info()
		out = append(out, found{name: info.Name, what: "tool", key: info.Key, more: info.Hint, do: func() {
			f.s.enter(stationShape)
			f.s.takeTool(t)
			f.s.focusBench()
		}})
	}
	known := map[string]bool{}
	for _, x := range out {
		known[strings.ToLower(x.name)] = true
	}
	for _, x := range f.acts() {
		if !x.head && !known[strings.ToLower(x.name)] {
			out = append(out, x)
		}
	}
	out = append(out, f.s.pickable()...)
	for _, p := range f.s.desk.Project().Pieces {
		for _, e := range p.Edges {
			out = append(out, found{name: p.Name + " · " + e.Name, what: "edge", do: func() { f.s.jump(desk.EdgeRef(p.ID, e.ID)) }})
		}
	}
	return out
}

// acts lists every act that can be taken up, under its headings.
func (f *finder) acts() []found {
	var out []found
	for _, g := range f.s.acts {
		out = append(out, found{name: g.Name, head: true})
		for _, a := range g.Acts {
			x := found{name: a.Word, first: a.First, what: g.Name, key: a.Key, icon: a.Icon, says: a.Says, more: a.Says + " " + a.Also + " " + a.Act.Info().Title, do: func() { f.s.takeAct(a) }}
			out = append(out, x)
		}
	}
	return out
}
