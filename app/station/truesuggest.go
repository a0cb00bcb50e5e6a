package station

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// suggestedList lists the seams that the edges without a partner ask for, to be taken one
// by one or all together.
type suggestedList struct {
	t      *Truing
	object fyne.CanvasObject
	rows   *fyne.Container
	scroll *container.Scroll
	none   *control.Prose
	// hint says that names would tell more; name leads to the field of the first name.
	hint    *control.Prose
	name    *control.Button
	hinting fyne.CanvasObject
	untold  []*draft.Piece
	all     *control.Button
	shown   []draft.SeamSuggestion
	names   string
}

func newSuggestedList(t *Truing) *suggestedList {
	l := &suggestedList{t: t, rows: control.Stack(6)}
	l.none = control.NewProse("Nothing is suggested. Sew two edges yourself with the button at the right.", 12.5, false, look.Faint, 300)
	l.hint = control.NewProse("", 12.5, false, look.OchreText, 300).Flowing()
	l.name = control.NewButton(control.SmallShape, "draw", "", "Type a name for this piece", func() {
		if len(l.untold) > 0 {
			t.ways.Name(l.untold[0].ID)
		}
	})
	l.hinting = control.Inset(0, 2, 8, 8, container.NewBorder(nil, nil, nil, control.Inset(8, 0, 0, 0, container.NewCenter(l.name)), l.hint))
	l.all = control.NewButton(control.SmallShape, "", "Sew all", "Sew all that are suggested, as one step", func() { t.sew(l.shown) })
	head := control.Inset(seamRowPad, 4, seamRowPad, 8, control.Row(8, control.NewText("Suggested seams", 12.5, true, look.Ink), control.Spring(), l.all))
	l.scroll = container.NewVScroll(control.Inset(seamRowPad, 0, seamRowEnd, 10, control.Stack(0, l.hinting, l.none, l.rows)))
	l.object = container.NewBorder(head, nil, nil, nil, l.scroll)
	return l
}

// update shows what is suggested now.
func (l *suggestedList) update() {
	p := l.t.desk.Project()
	l.shown = l.t.desk.Slots().SuggestSeams(p)
	names := make([]string, len(l.shown))
	for i, s := range l.shown {
		names[i] = suggestionTitle(p, s) + "\n" + l.why(s) + fmt.Sprint(s.A, s.B)
	}
	show(l.none, len(l.shown) == 0)
	l.none.Put("Nothing is suggested. Sew two edges yourself with the button at the right.")
	if len(l.t.unsewn.edges) == 0 {
		l.none.Put("Nothing is left to be sewn.")
	}
	l.untold = untoldOf(l.t.desk.Slots().Untold(p), l.t.unsewn.edges)
	show(l.hinting, len(l.untold) > 0)
	if len(l.untold) > 0 {
		l.hint.Put(untoldWords(l.untold))
		l.name.SetWord("Name " + l.untold[0].Name)
	}
	l.all.SetWord("Sew all " + count(len(l.shown)))
	show(l.all, len(l.shown) > 1)
	if key := strings.Join(names, "\n"); key != l.names || len(l.shown) == 0 {
		l.names = key
		l.rows.Objects = nil
		for _, s := range l.shown {
			l.rows.Objects = append(l.rows.Objects, l.card(p, s))
		}
		l.scroll.Refresh()
	}
}

// untoldOf returns those of the pieces of which an edge is among the edges.
func untoldOf(list []*draft.Piece, edges []desk.Ref) []*draft.Piece {
	var out []*draft.Piece
	for _, p := range list {
		if slices.ContainsFunc(edges, func(r desk.Ref) bool { return r.Piece == p.ID }) {
			out = append(out, p)
		}
	}
	return out
}

// untoldWords says that names would tell more.
func untoldWords(list []*draft.Piece) string {
	names := make([]string, len(list))
	for i, p := range list {
		names[i] = p.Name
	}
	is := "is"
	if len(list) > 1 {
		is = "are"
	}
	return fmt.Sprintf("Nothing tells what %s %s. Name the pieces (Front, Back, Sleeve, Neck band, Cuff) and more is found.", wording.List(quoted(names, 3)), is)
}

// suggestionTitle names both sides of a suggested seam.
func suggestionTitle(p *draft.Project, s draft.SeamSuggestion) string {
	return draft.SideName(p, s.A) + " to " + draft.SideName(p, s.B)
}

// why says what speaks for a suggestion and how full it is.
func (l *suggestedList) why(s draft.SeamSuggestion) string {
	says := s.Why
	if s.Ratio != 1 {
		says += fmt.Sprintf("; %s, %.2f to 1", s.Fullness, s.Ratio)
	}
	if s.BothSides {
		says += "; on both sides of the body"
	}
	return says
}

// card tells one suggestion; pressed, it shows both sides.
func (l *suggestedList) card(p *draft.Project, s draft.SeamSuggestion) fyne.CanvasObject {
	sew := control.NewButton(control.SmallShape, "", "Sew", "Sew these together", func() { l.t.sew([]draft.SeamSuggestion{s}) })
	const usual = 380 // until it is laid out
	lines := control.Stack(1,
		control.NewProse(suggestionTitle(p, s), 12.5, true, look.Ink, usual).Flowing(),
		control.NewProse(l.why(s), 12, false, look.Faint, usual).Flowing())
	row := container.NewBorder(nil, nil, nil, control.Inset(8, 0, 0, 0, container.NewCenter(sew)), lines)
	return control.NewCard(control.Inset(10, 5, 8, 6, row), "Show both sides on the bench: "+suggestionTitle(p, s)+", "+l.why(s), func() {
		l.t.ways.Show(desk.SeamRefs(&draft.Seam{A: s.A, B: s.B})...)
	})
}

// sew takes the suggestions, as one step to undo.
func (t *Truing) sew(list []draft.SeamSuggestion) {
	if t.trial.early() {
		return
	}
	t.trial.drop()
	defer func() { t.trial.took = control.Now() }()
	const fold = "sew what is suggested"
	made := ""
	for _, s := range list {
		fuller, fullness, both := s.Fuller, s.Fullness, s.BothSides
		args := draft.LinkSeamArgs{A: s.A, B: s.B, Ends: draft.EndsAsGiven, Ratio: s.Ratio, Fuller: &fuller, Fullness: &fullness, To: 1, BothSides: &both}
		out, err := desk.RunFolded(t.desk, draft.LinkSeam, args, fold)
		if err != nil {
			t.report(err)
			break
		}
		made = string(out.Made)
	}
	if seam := t.desk.Project().Seam(draft.ID(made)); seam != nil && len(list) == 1 {
		t.ways.Say("Seam " + desk.Letter(t.desk.Project(), seam.ID) + " is sewn: " + seam.Name + ".")
	} else if seam != nil {
		t.ways.Say(count(len(list)) + " seams are sewn, as one step.")
	}
}

// sewnHalves lays two objects beside one another with a line between, the first a little
// wider.
type sewnHalves struct{}

func (sewnHalves) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(400, 120) }

func (sewnHalves) Layout(o []fyne.CanvasObject, size fyne.Size) {
	const share = 0.56
	left := size.Width * share
	o[0].Move(fyne.Position{})
	o[0].Resize(fyne.NewSize(left, size.Height))
	o[1].Move(fyne.NewPos(left, 0))
	o[1].Resize(fyne.NewSize(1, size.Height))
	o[2].Move(fyne.NewPos(left+1, 0))
	o[2].Resize(fyne.NewSize(size.Width-left-1, size.Height))
}
