package inspect

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// toldGroup lists what the checks say: of the pieces that are picked, or of all.
type toldGroup struct {
	i     *Inspector
	all   *fyne.Container
	list  *fyne.Container
	well  fyne.CanvasObject
	shown []draft.Finding
	fresh bool
}

func newToldGroup(i *Inspector) *toldGroup {
	g := &toldGroup{i: i, list: control.Stack(8)}
	g.well = control.Row(8, control.NewMark(control.Holds, 16), control.NewText("Nothing to mend.", 12.5, false, theme.ColorNameForeground))
	g.all = rows("Checks", g.well, g.list)
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
	for _, f := range findings {
		refs := g.i.desk.Place(f)
		g.list.Add(control.Told(LevelOf(f.Level), f.About, f.Says, inner, "Show this place", func() { g.i.Jump(refs...) }))
	}
	if len(findings) == 0 {
		g.well.Show()
		g.list.Hide()
	} else {
		g.well.Hide()
		g.list.Show()
	}
	g.all.Refresh()
	return true
}

// about returns the open findings of what is picked, or all of them.
func (g *toldGroup) about() []draft.Finding {
	picked := g.i.desk.Picked()
	if len(picked) == 0 {
		return g.i.desk.Findings()
	}
	var out []draft.Finding
	for _, f := range g.i.desk.Findings() {
		for _, r := range picked {
			if g.i.desk.Concerns(f, r.Piece) {
				out = append(out, f)
				break
			}
		}
	}
	return out
}

func sameFindings(a, b []draft.Finding) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Key != b[i].Key || a[i].Says != b[i].Says {
			return false
		}
	}
	return true
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
