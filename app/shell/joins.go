package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/tool"
	"hemlet/draft"
)

// SeeJoins shows the pieces laid together at one end of a seam.
func (s *Shell) SeeJoins(seam draft.ID, end draft.EdgeEnd) {
	s.toBench()
	j := tool.NewJoined(s.hand, seam, end)
	if !j.Has(end) {
		s.Say("No line runs on across that end of the seam.")
		return
	}
	s.takeTool(j) // which lays back what was laid together before
	s.joins.show(j, s.bench.Sight())
}

// seePickedJoins shows the joins of the first seam of the picked edges, the greatest kink
// first.
func (s *Shell) seePickedJoins() {
	seams := s.pickedSeams()
	if len(seams) == 0 {
		return
	}
	joints := s.desk.Slots().SeamJoints(s.desk.Project(), seams[0].ID)
	if len(joints) == 0 {
		s.Say("No line runs on across either end of this seam.")
		return
	}
	s.SeeJoins(seams[0].ID, joints[0].End)
	s.focusBench()
}

// layBack ends what lies on the bench in the place of its pieces.
func (s *Shell) layBack() {
	switch s.bench.Tool().(type) {
	case *tool.Joined, *tool.Walk:
		s.takeTool(s.tools[0])
	}
}

// joinsCard lies at the foot of the bench while the pieces are laid together at a seam:
// which seam that is, at which of its ends, and how the line runs on.
type joinsCard struct {
	s      *Shell
	object *fyne.Container
	joined *tool.Joined
	// before is what was seen of the bench before.
	before bench.Sight

	title *control.Text
	ends  *control.Pill
	one   *control.Text
	mark  *control.Mark
	says  *control.Prose
}

// jointEnds are the ends in the order of the pill.
var jointEnds = [...]draft.EdgeEnd{draft.EdgeStart, draft.EdgeFinish}

func newJoinsCard(s *Shell) *joinsCard {
	c := &joinsCard{s: s}
	c.title = control.NewText("", 14, true, look.Ink).AtLeast(90)
	c.ends = control.NewPill("Which end of the seam is shown (Left, Right)", []string{"at its start", "at its end"}, func(i int) {
		c.joined.Go(jointEnds[i])
		s.focusBench()
	})
	c.one = control.Faint("")
	away := control.NewButton(control.QuietShape, "", "Lay back", "Lay all pieces where they were (Esc)", s.putAway)
	head := container.NewBorder(nil, nil, control.Inset(0, 4, 8, 4, control.NewIcon("smooth", look.Chalk, 20)), control.Row(8, c.ends, control.Centred(c.one), away), control.Inset(0, 5, 8, 0, c.title))
	c.mark = control.NewMark(control.Holds, 15)
	c.says = control.NewProse("", 12.5, false, look.Ink, walkCardInner-24)
	says := container.NewBorder(nil, nil, control.Inset(0, 1, 8, 0, container.NewVBox(c.mark)), nil, c.says)
	card := container.NewStack(control.NewGround(look.Paper, look.Border, 12), control.Inset(walkCardPad, 8, walkCardPad, 9, control.Stack(3, head, says)))
	c.object = container.New(walkPlace{}, card)
	c.object.Hide()
	return c
}

// show puts the card up, and brings the joint into sight.
func (c *joinsCard) show(j *tool.Joined, before bench.Sight) {
	c.joined, c.before = j, before
	j.OnChange, j.OnEnd = c.update, c.fit
	c.s.cover(c.object)
	c.update()
	c.fit()
}

// fit shows the joint as large as there is room.
func (c *joinsCard) fit() {
	if m := c.joined.Marks().Joint; m != nil {
		c.s.bench.ShowBox(m.Box(), float64(c.object.Objects[0].MinSize().Height)+walkCardClear)
	}
}

// hide takes the card away and shows what was seen before.
func (c *joinsCard) hide() {
	if c.joined == nil {
		return
	}
	c.joined.OnChange, c.joined.OnEnd = nil, nil
	c.joined = nil
	c.object.Hide()
	c.s.bench.SetSight(c.before)
}

// changed tells of a change of the document.
func (c *joinsCard) changed(d desk.Change) {
	switch {
	case c.joined == nil:
	case d.Has(desk.Opened):
		c.before = c.s.bench.Sight() // what was seen before was of another document
		c.end()
	case d.Has(desk.Document):
		c.joined.Changed()
	}
}

// end lays everything back once the present event is over.
func (c *joinsCard) end() {
	j := c.joined
	c.s.later(func() {
		if c.joined == j {
			c.s.putAway()
		}
	})
}

// update says what is seen.
func (c *joinsCard) update() {
	if c.joined == nil {
		return
	}
	told, ok := c.joined.Tells()
	if !ok { // the seam was taken apart, or its end is no joint any more
		c.end()
		return
	}
	c.title.Set("Seam " + told.Title + ", laid together")
	other := draft.EdgeStart
	if c.joined.End() == draft.EdgeStart {
		other = draft.EdgeFinish
	}
	if c.joined.Has(other) {
		c.ends.Show()
		c.one.Hide()
	} else {
		c.ends.Hide()
		c.one.Set("at its " + c.joined.End().String())
		c.one.Show()
	}
	c.ends.Put(int(c.joined.End()))
	level, colour := jointLevel(told.Stands)
	c.mark.Put(level)
	c.says.PutAs(told.Says, colour)
	c.object.Refresh()
	c.s.bench.Redraw()
}

func jointLevel(stands tool.JointStands) (control.Level, fyne.ThemeColorName) {
	switch stands {
	case tool.JointSmooth:
		return control.Holds, look.MossText
	case tool.JointKinked:
		return control.LookAgain, look.OchreText
	}
	return control.Note, look.Ink
}
