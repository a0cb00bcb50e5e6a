package inspect

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// toldGroup lists what the checks say: of the pieces that are picked, or of all.
// What the maker has decided to live with comes last, and quietly.
type toldGroup struct {
	i      *Inspector
	all    *fyne.Container
	list   *fyne.Container
	well   fyne.CanvasObject
	waived *fyne.Container
	shown  []draft.Finding
	fresh  bool
}

func newToldGroup(i *Inspector) *toldGroup {
	g := &toldGroup{i: i, list: control.Stack(8), waived: control.Stack(8)}
	g.well = control.Row(8, control.NewMark(control.Holds, 16), control.NewText("Nothing to mend.", 12.5, false, theme.ColorNameForeground))
	g.all = rows("Checks", g.well, g.list, g.waived)
	return g
}

func (g *toldGroup) object() fyne.CanvasObject { return g.all }

// LevelOf returns the mark of a finding's level.
func LevelOf(l draft.Gravity) control.Level {
	switch l {
	case draft.Problem:
		return control.Problem
	case draft.LookAgain:
		return control.LookAgain
	default:
		return control.Note
	}
}

func (g *toldGroup) update() bool {
	findings := g.about()
	if g.fresh && sameFindings(findings, g.shown) {
		return true
	}
	g.shown, g.fresh = findings, true
	g.list.RemoveAll()
	g.waived.RemoveAll()
	for _, f := range findings {
		if f.Open() {
			g.list.Add(g.openCard(f))
			continue
		}
		if len(g.waived.Objects) == 0 {
			g.waived.Add(control.Faint("You live with"))
		}
		g.waived.Add(g.waivedRow(f))
	}
	show(g.well, len(g.list.Objects) == 0)
	show(g.list, len(g.list.Objects) > 0)
	show(g.waived, len(g.waived.Objects) > 0)
	g.all.Refresh()
	return true
}

func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// openCard tells a finding; it leads to the place, and the maker can decide to live
// with it.
func (g *toldGroup) openCard(f draft.Finding) fyne.CanvasObject {
	refs := g.i.desk.Place(f)
	live := control.NewButton(control.SmallShape, "", "Live with it…", "Keep this as it is and say why; the checks no longer count it", func() {
		g.i.AskReason(f, func(reason string) error {
			return desk.Run(g.i.desk, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: reason})
		})
	})
	return control.Told(LevelOf(f.Level), f.About, f.Says, inner, "Show this place", func() { g.i.Jump(refs...) }, live)
}

// waivedRow says what the maker lives with and why, and can take that back.
func (g *toldGroup) waivedRow(f draft.Finding) fyne.CanvasObject {
	again := control.NewButton(control.SmallShape, "", "Tell again", "Let the checks count this again: "+f.Says, func() {
		g.i.report(desk.Run(g.i.desk, draft.Unwaive, draft.UnwaiveArgs{Finding: f.Key}))
	})
	return control.Stack(2,
		control.NewProse(f.About+": "+f.Waived, 11.5, false, theme.ColorNamePlaceHolder, inner),
		control.Row(6, control.Spring(), again))
}

// about returns the findings of what is picked, or all of them.
func (g *toldGroup) about() []draft.Finding {
	all := g.i.desk.Report().Findings
	pieces := g.i.desk.Picked().Pieces()
	if len(pieces) == 0 {
		return all
	}
	var out []draft.Finding
	for _, f := range all {
		for _, id := range pieces {
			if g.i.desk.Concerns(f, id) {
				out = append(out, f)
				break
			}
		}
	}
	return out
}

func sameFindings(a, b []draft.Finding) bool {
	return slices.EqualFunc(a, b, func(f, g draft.Finding) bool {
		return f.Key == g.Key && f.Says == g.Says && f.Waived == g.Waived
	})
}

// projectGroup speaks of the whole project while nothing is picked.
type projectGroup struct {
	i    *Inspector
	all  *fyne.Container
	name *control.Field
}

func newProjectGroup(i *Inspector) *projectGroup {
	g := &projectGroup{i: i}
	g.name = i.field("What the whole piece of work is called", func(name string) error {
		return desk.Run(i.desk, draft.RenameProject, draft.RenameProjectArgs{Name: name})
	})
	g.all = rows("", control.Labelled("Name", g.name.Object()))
	return g
}

func (g *projectGroup) object() fyne.CanvasObject { return g.all }

func (g *projectGroup) update() bool {
	if len(g.i.desk.Picked()) > 0 {
		return false
	}
	g.name.Put(g.i.desk.Project().Name)
	return true
}
