package inspect

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/wording"
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
	// cards are those of the findings that have one of their own, by their place in shown.
	cards []*toldCard
	fresh bool
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
	if g.fresh && g.retell(findings) {
		g.shown = findings
		return true
	}
	g.shown, g.fresh = findings, true
	g.list.RemoveAll()
	g.waived.RemoveAll()
	g.cards = make([]*toldCard, len(findings))
	folded := alike(findings)
	told := map[string]bool{}
	for i, f := range findings {
		if f.Open() {
			switch same := folded[kindOf(f)]; {
			case len(same) < fewToFold:
				g.cards[i] = g.openCard(f)
				g.list.Add(g.cards[i].card)
			case !told[kindOf(f)]:
				told[kindOf(f)] = true
				g.list.Add(g.foldedCard(same))
			}
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

// toldCard tells a finding of its own.
type toldCard struct {
	card    *control.Card
	finding draft.Finding
}

// retell has the cards say what the findings say now, where these are the same but for
// their words, as at every step of a drag; false where there have to be other cards.
func (g *toldGroup) retell(findings []draft.Finding) bool {
	if !slices.EqualFunc(findings, g.shown, sameButWords) {
		return false
	}
	for i, f := range findings {
		was := g.shown[i]
		// The buttons of a drafted piece go by what it follows.
		if c := g.cards[i]; (f.About != was.About || f.Says != was.Says) && (c == nil || f.Derivation != "") {
			return false
		}
	}
	resized := false
	for i, f := range findings {
		if c := g.cards[i]; c != nil {
			c.finding = f
			resized = c.card.Retell(f.About, f.Says) || resized
		}
	}
	if resized {
		g.all.Refresh()
	}
	return true
}

// sameButWords reports whether the cards of two findings differ in no more than what they say.
func sameButWords(f, g draft.Finding) bool {
	return f.Key == g.Key && f.Level == g.Level && f.Waived == g.Waived && f.Derivation == g.Derivation &&
		(f.Says == "") == (g.Says == "") && (len(f.Mends) == 0) == (len(g.Mends) == 0)
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
func (g *toldGroup) openCard(f draft.Finding) *toldCard {
	c := &toldCard{finding: f}
	live := control.NewButton(control.SmallShape, "", "Live with it…", "Keep this as it is and say why; the checks no longer count it", func() {
		g.i.AskReason(c.finding, func(reason string) error {
			return desk.Run(g.i.desk, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: reason})
		})
	})
	deeds := []fyne.CanvasObject{live}
	if len(f.Mends) > 0 && g.i.Mend != nil && len(g.mends(f)) == 0 {
		mend := control.NewButton(control.SmallShape, "", "Mend…", "See what mends it, and what each would do", func() { g.i.Mend(c.finding) })
		deeds = []fyne.CanvasObject{mend, live}
	}
	if mends := g.mends(f); len(mends) > 0 {
		deeds = append(mends, live)
	}
	c.card = control.Told(LevelOf(f.Level), f.About, f.Says, inner, "Show this place", func() { g.i.Jump(g.i.desk.Place(c.finding)...) }, deeds...)
	return c
}

// mends are what can be done about a drafted piece that is other than its block makes it
// now.
func (g *toldGroup) mends(f draft.Finding) []fyne.CanvasObject {
	piece := g.i.desk.Project().Piece(f.Piece)
	if f.Derivation == "" || piece == nil || piece.Derived == nil {
		return nil
	}
	refs := []draft.PieceRef{draft.PieceRef(piece.ID)}
	of, parent := "the block", g.i.desk.Project().ParentOf(piece)
	switch {
	case parent != nil:
		of = parent.Name
	case g.i.desk.Project().FitOf(piece) != nil:
		of = "its fit"
	}
	follow := control.NewButton(control.SmallShape, "", "Let it follow", "Draw it as "+of+" makes it now; what was changed by hand goes with it", func() {
		if parent != nil {
			g.i.report(desk.Run(g.i.desk, draft.FollowPiece, draft.FollowPieceArgs{Pieces: refs}))
			return
		}
		g.i.report(desk.Run(g.i.desk, draft.FollowBlock, draft.FollowBlockArgs{Derivation: draft.DerivationRef(f.Derivation)}))
	})
	redraw := control.NewButton(control.SmallShape, "", "Redraw from "+of, "Draw it as "+of+" makes it now; what was changed by hand is gone, and can be undone", func() {
		g.i.report(desk.Run(g.i.desk, draft.RedrawPiece, draft.RedrawPieceArgs{Pieces: refs}))
	})
	keep := control.NewButton(control.SmallShape, "", "Keep as it is", "Let it stay as it is: it no longer follows "+of, func() {
		g.i.report(desk.Run(g.i.desk, draft.KeepPiece, draft.KeepPieceArgs{Pieces: refs}))
	})
	switch lastWord(f) {
	case behind:
		return []fyne.CanvasObject{redraw, keep}
	case older:
		return []fyne.CanvasObject{follow, keep}
	}
	return nil
}

// The last words of the keys of what is told of a drafted piece: that it could not
// follow its block, or that nothing but its age makes it another.
const (
	behind = "behind"
	older  = "older"
)

// lastWord returns the last word of a finding's key.
func lastWord(f draft.Finding) string { return f.Key[strings.LastIndexByte(f.Key, '/')+1:] }

// fewToFold is from how many notes of one kind on they share a card.
const fewToFold = 3

// noteTitles are the titles of the cards that several notes of one kind share, by the
// last word of their keys.
var noteTitles = map[string]string{
	"cloth": "Cloth not chosen", "narrow": "Narrow allowances", "partners": "Edges sewn to nothing",
}

// kindOf returns the kind of a note that has one; else empty text.
func kindOf(f draft.Finding) string {
	kind := lastWord(f)
	if f.Level != draft.Remark || noteTitles[kind] == "" {
		return ""
	}
	return kind
}

// alike returns the open notes by kind.
func alike(findings []draft.Finding) map[string][]draft.Finding {
	out := map[string][]draft.Finding{}
	for _, f := range findings {
		if kind := kindOf(f); kind != "" && f.Open() {
			out[kind] = append(out[kind], f)
		}
	}
	return out
}

// foldedCard tells several notes of one kind; pressed, it picks all that they are about,
// so that one choice in the panel mends them all.
func (g *toldGroup) foldedCard(same []draft.Finding) fyne.CanvasObject {
	var names []string
	says := same[0].Says
	for _, f := range same {
		names = append(names, f.About)
		if f.Says != same[0].Says {
			says = ""
		}
	}
	const most = 8
	if len(names) > most {
		names = append(names[:most], fmt.Sprintf("and %d more", len(names)-most))
	}
	live := control.NewButton(control.SmallShape, "", "Live with all…", "Keep these as they are and say why; the checks no longer count them", func() {
		g.i.AskReason(same[0], func(reason string) error { return g.waiveAll(same, reason) })
	})
	var refs []desk.Ref
	for _, f := range same {
		refs = append(refs, g.i.desk.Place(f)...)
	}
	title := noteTitles[kindOf(same[0])] + ": " + wording.Count(len(same), "piece")
	return control.Told(control.Note, title, strings.TrimSpace(strings.Join(names, ", ")+". "+says), inner, "Pick all of these, so that they can be changed together; F8 goes from one to the next", func() { g.i.Jump(refs...) }, live)
}

// waiveAll has the maker live with all of the findings, as one step to undo.
func (g *toldGroup) waiveAll(findings []draft.Finding, reason string) error {
	for _, f := range findings {
		if _, err := desk.RunFolded(g.i.desk, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: reason}, "live with "+kindOf(f)); err != nil {
			return err
		}
	}
	return nil
}

// waivedRow says what the maker lives with and why, and can take that back.
func (g *toldGroup) waivedRow(f draft.Finding) fyne.CanvasObject {
	again := control.NewButton(control.SmallShape, "", "Count it again", "Let the checks count this again: "+f.Says, func() {
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
