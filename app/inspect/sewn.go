package inspect

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// sewnGroup lists the seams in which the picked edges are sewn.
type sewnGroup struct {
	i     *Inspector
	all   *fyne.Container
	list  *fyne.Container
	none  *control.Prose
	shown []*seamPanel
}

func newSewnGroup(i *Inspector) *sewnGroup {
	g := &sewnGroup{i: i, list: control.Stack(8)}
	g.none = control.NewProse("Not sewn to anything yet. Pick the other edge too with Shift and click, then link them.", 11.5, false, theme.ColorNamePlaceHolder, inner)
	g.all = rows("Sewn to", g.none, g.list)
	return g
}

func (g *sewnGroup) object() fyne.CanvasObject { return g.all }

func (g *sewnGroup) update() bool {
	edges := g.i.desk.Picked().Of(desk.Edge)
	if len(edges) == 0 {
		return false
	}
	seams := g.i.desk.SeamsOf(edges)
	if !g.same(seams) {
		g.shown = nil
		g.list.RemoveAll()
		for _, s := range seams {
			p := newSeamPanel(g.i, s.ID)
			g.shown = append(g.shown, p)
			g.list.Add(p.all)
		}
	}
	for k, s := range seams {
		g.shown[k].update(s)
	}
	if len(seams) == 0 {
		g.none.Show()
		g.list.Hide()
	} else {
		g.none.Hide()
		g.list.Show()
	}
	g.all.Refresh()
	return true
}

func (g *sewnGroup) same(seams []*draft.Seam) bool {
	if len(seams) != len(g.shown) {
		return false
	}
	for k, s := range seams {
		if g.shown[k].seam != s.ID {
			return false
		}
	}
	return true
}

// seamPanel shows one seam: what it joins, what the sides measure, its fullness.
type seamPanel struct {
	i     *Inspector
	seam  draft.ID
	all   fyne.CanvasObject
	card  *control.Card
	title *control.Text
	says  *control.Text
	state *control.Prose
	mark  *control.Mark
	ratio *control.Field
	full  *control.Choice
	side  *control.Choice
	asIs  *control.Button
	// opens says whether it is sewn or opened for dressing, lap how far the sides of one
	// that opens lie over each other.
	opens  *control.Choice
	lap    *control.Field
	lapRow fyne.CanvasObject
}

func newSeamPanel(i *Inspector, id draft.ID) *seamPanel {
	p := &seamPanel{i: i, seam: id}
	const pad = 11
	p.title = control.NewText("", 12.5, true, theme.ColorNameForeground).AtLeast(inner - 2*pad - 24)
	p.says = control.NewText("", 11.5, false, theme.ColorNamePlaceHolder).AtLeast(inner - 2*pad - 24)
	p.state = control.NewProse("", 11.5, true, theme.ColorNameSuccess, inner-2*pad-24)
	p.mark = control.NewMark(control.Holds, 16)
	face := container.NewBorder(nil, nil, nil, container.NewVBox(p.mark), control.Stack(2, p.title, p.says, p.state))
	p.card = control.NewCard(control.Inset(pad, 8, pad, 9, face), "Show both edges of this seam", func() {
		if s := i.desk.Project().Seam(id); s != nil {
			i.Jump(desk.SeamRefs(s)...)
		}
	})
	p.ratio = i.field("How much longer the fuller side is meant to be: 1 plain, 1.03 eased, 1.5 gathered", p.setRatio)
	p.full = control.NewChoice("What becomes of the extra length of the fuller side", wordsOf(draft.Fullnesses()), p.setFullness)
	p.side = control.NewChoice("Which of the two sides is the longer one, of which the extra length is taken in", nil, p.setSide)
	p.opens = control.NewChoice("Whether the sides are sewn together for good, or closed with buttons, hooks or ties and opened for dressing", []string{"sewing", "buttons, hooks or ties"}, p.setOpens)
	p.lap = i.lengthField("By how much the two sides lie over each other when it is closed", func(mm draft.Length) error {
		return desk.Run(i.desk, draft.EditSeam, draft.EditSeamArgs{Seam: draft.SeamRef(id), Lap: &mm})
	})
	p.lapRow = control.Labelled("Laps by", p.lap.Object())
	p.asIs = control.NewButton(control.QuietShape, "", "Take these lengths as meant", "The longer side is the fuller one, by as much as it is now", p.meanAsItIs)
	apart := control.NewButton(control.QuietShape, "", "Take apart", "Take this seam apart; the edges stay as they are", func() {
		i.report(desk.Run(i.desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(id)}}))
	})
	walk := control.NewButton(control.QuietShape, "walk", "Walk it", "Let one side of the seam roll along the other, to see whether they fit and where notches meet", func() { i.Walk(id) })
	p.all = control.Stack(6, p.card,
		control.Labelled("Fuller side", p.side.Object()),
		control.Labelled("Fuller by", p.ratio.Object()),
		control.Labelled("Fullness", p.full.Object()),
		control.Labelled("Closed by", p.opens.Object()),
		p.lapRow,
		control.Row(8, control.Spring(), walk, apart),
		control.Row(8, control.Spring(), p.asIs))
	return p
}

func (p *seamPanel) update(s *draft.Seam) {
	project := p.i.desk.Project()
	unit := project.Unit
	p.title.Set(desk.Letter(project, s.ID) + "  " + otherSide(project, s, p.i.desk.Picked()))
	state, err := p.i.desk.Slots().SeamState(project, s)
	if err != nil {
		p.says.Set(err.Error())
		p.put(control.Problem, "cannot be sewn")
		return
	}
	p.says.Set(unit.FormatBare(state.A) + " to " + unit.Format(state.B) + fullnessWords(s))
	off := state.Off(project).Says(unit)
	switch {
	case state.Holds:
		p.put(control.Holds, "holds")
	case desk.SeamWaived(p.i.desk.Report(), s.ID):
		p.put(control.Note, off+", you live with it")
	default:
		p.put(control.Problem, off)
	}
	p.ratio.Put("× " + strconv.FormatFloat(s.Ratio, 'g', 5, 64))
	p.full.Put(int(s.Fullness))
	closed := 0
	if s.Opens {
		closed = 1
	}
	p.opens.Put(closed)
	p.lap.Put(unit.Format(s.Lap))
	showRow(p.lapRow, s.Opens)
	p.side.Offer([]string{draft.SideName(project, s.A), draft.SideName(project, s.B)}, int(s.Fuller))
	show(p.asIs, !state.Holds)
}

func (p *seamPanel) put(l control.Level, word string) {
	p.mark.Put(l)
	p.state.PutAs(word, l.Colour())
	p.card.Coloured(l.Ground(), l.Rim()).Refresh()
}

func fullnessWords(s *draft.Seam) string {
	if s.Fullness == draft.Plain {
		return ""
	}
	return fmt.Sprintf(", %s × %s", s.Fullness, strconv.FormatFloat(s.Ratio, 'g', 4, 64))
}

// otherSide names the edges to which the picked ones are sewn.
func otherSide(p *draft.Project, s *draft.Seam, picked desk.Picked) string {
	run := s.B
	for _, use := range s.B {
		if picked.Has(desk.EdgeRef(use.Piece, use.Edge)) {
			run = s.A
		}
	}
	var parts []string
	for _, use := range run {
		piece := p.Piece(use.Piece)
		if piece == nil {
			continue
		}
		e, _ := piece.Edge(use.Edge)
		if e == nil {
			continue
		}
		name := piece.Name + " · " + e.Name
		if use.Copy.Mirrored || use.Half == draft.Far {
			name += ", mirrored"
		}
		parts = append(parts, name)
	}
	return strings.Join(parts, " + ")
}

func (p *seamPanel) setRatio(text string) error {
	ratio, err := draft.ParseNumber(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "×")))
	if err != nil {
		return err
	}
	return desk.Run(p.i.desk, draft.EditSeam, draft.EditSeamArgs{Seam: draft.SeamRef(p.seam), Ratio: &ratio})
}

func (p *seamPanel) setSide(k int) {
	side := draft.Side(k)
	p.edit(draft.EditSeamArgs{Fuller: &side})
}

func (p *seamPanel) setOpens(k int) {
	opens := k == 1
	p.edit(draft.EditSeamArgs{Opens: &opens})
}

// meanAsItIs takes the lengths that there are for what is meant.
func (p *seamPanel) meanAsItIs() {
	p.i.report(desk.Run(p.i.desk, draft.RatioAsItIs, draft.RatioAsItIsArgs{Seam: draft.SeamRef(p.seam)}))
}

// edit changes the seam, and shows it as it is where that cannot be done.
func (p *seamPanel) edit(args draft.EditSeamArgs) {
	args.Seam = draft.SeamRef(p.seam)
	if err := desk.Run(p.i.desk, draft.EditSeam, args); err != nil {
		p.i.report(err)
		if s := p.i.desk.Project().Seam(p.seam); s != nil {
			p.update(s)
		}
	}
}

func (p *seamPanel) setFullness(k int) {
	f := draft.Fullness(k)
	args := draft.EditSeamArgs{Fullness: &f}
	if s := p.i.desk.Project().Seam(p.seam); s != nil {
		one, some := 1.0, usualRatio(f)
		switch {
		case f == draft.Plain:
			args.Ratio = &one
		case s.Ratio == 1:
			args.Ratio = &some
		}
	}
	p.edit(args)
}

// usualRatio is where a fullness starts from (common practice, no source).
func usualRatio(f draft.Fullness) float64 {
	switch f {
	case draft.Ease:
		return 1.02
	case draft.Gathers:
		return 1.5
	case draft.Pleats:
		return 3
	default:
		return 1
	}
}
