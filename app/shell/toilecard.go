package shell

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// toileCard lies over the middle after a fitting: the notes that were taken of the toile,
// and the versions of the pattern with what has changed between them.
type toileCard struct {
	*rightCard
	which  *control.Pill
	rows   *fyne.Container
	scroll *container.Scroll
	foot   *fyne.Container
	// was is the version that is laid under the present pattern, and with the one that it is
	// held against, empty for the present pattern.
	was, with draft.ID
	// told holds what was found of two states, which a drag need not find anew.
	told toldChanges
}

// toldChanges are the changes from one state to another.
type toldChanges struct {
	was, now *draft.Project
	earlier  *draft.Version
	later    *draft.Version
	changes  []draft.PieceChange
}

// The card in screen units.
const (
	toileWide  = 296
	toileHigh  = 460
	toileInner = toileWide - 2*12 - 8
	// toileRow is what a row has inside.
	toileRow = toileInner - 2*9
)

// The sides of the card.
const (
	toileNotes = iota
	toileVersions
)

func newToileCard(s *Shell) *toileCard {
	c := &toileCard{rows: control.Stack(6), foot: control.Stack(6)}
	c.which = control.NewPill("The notes of the fitting, or the versions of the pattern (Left, Right)", []string{"notes", "versions"}, func(int) {
		c.update()
	})
	c.scroll = container.NewVScroll(control.Inset(12, 2, 12, 4, c.rows))
	c.rightCard = newRightCard(s, rightCardIs{
		icon: "notes", title: "Toile", close: "Close the card of the toile (F11)", beside: []fyne.CanvasObject{c.which}, wide: toileWide, high: c.high,
	}, c.scroll, control.Inset(12, 6, 12, 12, c.foot))
	c.fill, c.gone = c.update, c.overlay
	return c
}

// showToile shows the card on one of its sides, wherever we are.
func (s *Shell) showToile(side int) {
	s.toBench()
	c := s.toile
	if !c.visible() || c.which.On() != side {
		c.which.Put(side)
		c.open()
		return
	}
	c.toggle()
}

// update shows the notes and versions as they now stand.
func (c *toileCard) update() {
	if !c.visible() {
		return
	}
	c.rows.Objects, c.foot.Objects = nil, nil
	if c.which.On() == toileNotes {
		c.listNotes()
	} else {
		c.listVersions()
	}
	c.overlay()
	c.scroll.Refresh()
	c.foot.Refresh()
	c.object.Refresh()
}

func (c *toileCard) prose(text string) {
	c.rows.Add(control.NewProse(text, 12.5, false, look.Faint, toileInner))
}

// overlay lays the version in hand under the present pattern, or takes it away.
func (c *toileCard) overlay() {
	var was, with *draft.Project
	if c.visible() && c.which.On() == toileVersions {
		p := c.s.desk.Project()
		was, with = asLaid(p, p.Version(c.was)), asLaid(p, p.Version(c.with))
	}
	if was != nil || c.told.was != nil {
		c.s.bench.ShowBeside(was, with)
	}
	c.told.was = was
}

// asLaid returns the pattern as it was, its pieces laid where they now lie; nil without a
// version.
func asLaid(p *draft.Project, v *draft.Version) *draft.Project {
	if v == nil {
		return nil
	}
	q := p.AsOf(v)
	for i, was := range q.Pieces {
		if now := p.Piece(was.ID); now != nil {
			own := *was
			own.Place = now.Place
			q.Pieces[i] = &own
		}
	}
	return q
}

// changes returns what has changed from the version in hand to what it is held against.
func (c *toileCard) changes(p *draft.Project) []draft.PieceChange {
	earlier, later := p.Version(c.was), p.Version(c.with)
	if c.told.now == p && c.told.earlier == earlier && c.told.later == later {
		return c.told.changes
	}
	now := p
	if later != nil {
		now = p.AsOf(later)
	}
	c.told.now, c.told.earlier, c.told.later = p, earlier, later
	c.told.changes = draft.Changes(p.AsOf(earlier), now)
	return c.told.changes
}

// high returns how high the card asks to be.
func (c *toileCard) high() float32 {
	const head, least = 86, 180
	foot := float32(0)
	if c.foot.Visible() {
		foot = c.foot.MinSize().Height
	}
	return min(max(head+c.rows.MinSize().Height+foot, least), toileHigh)
}

// runOn does an act and says why it cannot be done.
func runOn[A any](s *Shell, act *draft.Act[A], args A) {
	out, err := desk.RunFolded(s.desk, act, args, "")
	if err != nil {
		s.Say(err.Error())
		return
	}
	if len(out.Says) > 0 {
		s.Say(wording.Sentence(out.Says[0]))
	}
}

// toileCommands are the ways to the card.
func (s *Shell) toileCommands() []*command {
	return []*command{
		{menu: menuMarks, name: "Notes of the toile", also: "fitting toile muslin test list do in out hem", says: "List what the fitting of the toile has shown, and change the pattern by it", key: fyne.KeyF11, gap: true, do: func() { s.showToile(toileNotes) }, can: s.hasPieces},
		{menu: menuMarks, name: "Versions", also: "keep before after compare difference changed pages revision print toile", says: "Keep the pattern as it is, and see what has changed since", do: func() { s.showToile(toileVersions) }, can: s.hasPieces},
	}
}

// gone reports whether the version is none of the project's.
func gone(p *draft.Project, id draft.ID) bool {
	return !slices.ContainsFunc(p.Versions, func(v *draft.Version) bool { return v.ID == id })
}
