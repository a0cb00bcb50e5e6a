// Package inspect shows what is picked in figures and words, and lets them be
// changed: the edge, the seams that it is sewn in, the point, the piece, and what
// the checks have to say.
package inspect

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/app/wording"
	"hemlet/draft"
)

// Width is how wide the inspector is, in screen units; inner is what its rows have.
const (
	Width = 286
	inner = Width - 2*16 - 4
)

// Inspector is the panel at the right.
type Inspector struct {
	// Jump shows a place on the bench.
	Jump func(refs ...desk.Ref)
	// Walk walks a seam.
	Walk func(seam draft.ID)
	// Say shows a line of text.
	Say func(text string)
	// AskCloth asks for the name of a new cloth, and calls out if there is to be
	// none.
	AskCloth func(take func(name string) error, out func())
	// ScalePicture takes up what makes the picked picture true to size.
	ScalePicture func()
	// TracePicture goes to where the picked picture is traced.
	TracePicture func()
	// AskReason asks why a finding may stay.
	AskReason func(f draft.Finding, take func(reason string) error)
	// Mend shows a finding where its mends are tried before they are taken.
	Mend func(f draft.Finding)

	desk   *desk.Desk
	hand   *tool.Hand
	object fyne.CanvasObject
	scroll *container.Scroll

	title, subtitle *control.Text
	groups          []group
	resting         desk.Resting
}

// group is one part of the inspector. update fills it in and reports whether it has
// anything to show.
type group interface {
	object() fyne.CanvasObject
	update() bool
}

// New returns an inspector for the desk.
func New(d *desk.Desk, h *tool.Hand) *Inspector {
	i := &Inspector{desk: d, hand: h, Jump: func(...desk.Ref) {}, Walk: func(draft.ID) {}, Say: func(string) {}, ScalePicture: func() {}, TracePicture: func() {}}
	i.title = control.NewText("", control.TitleSize, true, "foreground").AtLeast(inner)
	i.subtitle = control.Faint("").AtLeast(inner)
	i.groups = []group{
		newEdgeGroup(i), newDartGroup(i), newLineGroup(i), newRowGroup(i), newNotchGroup(i), newStretchGroup(i), newSewnGroup(i), newPointGroup(i),
		newPictureGroup(i), newPieceGroup(i), newLinkGroup(i), newDimensionGroup(i), newProjectGroup(i), newToldGroup(i),
	}
	rows := control.Stack(0, i.title, i.subtitle)
	for _, g := range i.groups {
		rows.Add(g.object())
	}
	i.scroll = container.NewVScroll(control.Inset(16, 12, 16, 16, rows))
	i.object = control.Wide(Width, control.Compact(i.scroll))
	d.Listen(func(desk.Change) { i.Update() })
	i.Update()
	return i
}

// Object returns the panel.
func (i *Inspector) Object() fyne.CanvasObject { return i.object }

// Rows returns the groups that are shown, in order.
func (i *Inspector) Rows() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, g := range i.groups {
		if g.object().Visible() {
			out = append(out, g.object())
		}
	}
	return out
}

// SetSeen tells whether anybody sees the inspector; unseen it does no work.
func (i *Inspector) SetSeen(on bool) {
	if i.resting.Seen(on) {
		i.Update()
	}
}

// Update shows the document as it now stands.
func (i *Inspector) Update() {
	if i.resting.Rests() {
		return
	}
	title, subtitle := i.heading()
	i.title.Set(title)
	i.subtitle.Set(subtitle)
	changed := false
	for _, g := range i.groups {
		o := g.object()
		on := g.update()
		if on != o.Visible() {
			changed = true
			if on {
				o.Show()
			} else {
				o.Hide()
			}
		}
	}
	if changed {
		i.scroll.Refresh()
	}
}

// heading says what is picked.
func (i *Inspector) heading() (title, subtitle string) {
	project, picked := i.desk.Project(), i.desk.Picked()
	last := picked.Last()
	if pic := project.Picture(last.Thing); pic != nil && last.Kind == desk.Picture {
		return pic.Name, "picture under the pieces"
	}
	piece := project.Piece(last.Piece)
	if piece == nil {
		return project.Name, wording.Count(len(project.Pieces), "piece") + ", " + wording.Count(len(project.Seams), "seam")
	}
	if kind := kindWord(last.Kind); len(picked) > 1 && !onePiece(picked) {
		return wording.Count(len(picked), kind), "picked last on " + piece.Name
	}
	switch last.Kind {
	case desk.Piece:
		return piece.Name, piece.Cut.String()
	case desk.Edge:
		e, _ := piece.Edge(last.Edge)
		if len(picked) > 1 {
			return piece.Name, wording.Count(len(picked), "edge") + ", picked last: " + e.Name
		}
		return piece.Name, edgeTitle(e.Name)
	default:
		if len(picked) > 1 {
			return piece.Name, wording.Count(len(picked), kindWord(last.Kind))
		}
		return piece.Name, partTitle(piece, last)
	}
}

func onePiece(picked desk.Picked) bool {
	for _, r := range picked {
		if r.Piece != picked[0].Piece {
			return false
		}
	}
	return true
}

// edgeTitle names an edge, and says that it is one unless its name does.
func edgeTitle(name string) string {
	if strings.HasPrefix(strings.ToLower(name), "edge") {
		return name
	}
	return "edge " + name
}

// report shows the error, if there is one.
func (i *Inspector) report(err error) {
	if err != nil {
		i.Say(err.Error())
	}
}

// unit returns the unit in which lengths are shown.
func (i *Inspector) unit() draft.Unit { return i.desk.Project().Unit }

// rows puts a group together: a heading and its rows.
func rows(heading string, objects ...fyne.CanvasObject) *fyne.Container {
	s := control.Stack(6, control.Rule())
	if heading != "" {
		s.Add(control.Inset(0, 2, 0, 2, control.Heading(heading)))
	}
	for _, o := range objects {
		s.Add(o)
	}
	return s
}
