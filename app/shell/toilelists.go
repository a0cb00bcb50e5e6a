package shell

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/tool"
	"hemlet/app/wording"
	"hemlet/draft"
)

// listNotes lists the notes, those still to do first, and what can be done with them.
func (c *toileCard) listNotes() {
	p := c.s.desk.Settled()
	toDo := 0
	for _, done := range []bool{false, true} {
		for i, n := range p.Notes {
			if n.Done != done {
				continue
			}
			if n.Asks() {
				toDo++
			}
			c.rows.Add(c.noteRow(p, i, n))
		}
	}
	if len(p.Notes) == 0 {
		c.prose("Sew the toile, put it on, and note where it does not sit: click the edge, say how far in or out. What you note here changes the pattern when you do it.")
	}
	note := control.NewButton(control.QuietShape, "add", "Note…", "Note at a place of an edge what the toile shows", func() { c.s.takeAct(tool.ToileNote) })
	do := control.NewButton(control.WordShape, "", "Do all "+fmt.Sprint(toDo), "Change the pattern by all notes that are still to do; what is sewn to it follows", func() {
		runOn(c.s, draft.DoNotes, draft.DoNotesArgs{})
	})
	if toDo < 2 {
		do.SetWord("Do it")
	}
	do.SetOff(toDo == 0)
	c.foot.Add(control.Row(10, note, control.Spring(), do))
}

// noteRow is one note: what it says and where, whether it is done, and its bin.
func (c *toileCard) noteRow(p *draft.Project, i int, n *draft.ToileNote) fyne.CanvasObject {
	level, colour := control.LookAgain, look.Ink
	says := p.NoteSays(n)
	if n.Done {
		level, colour = control.Holds, look.Faint
		says += " · done"
	} else if n.Kind == draft.OnlyWords {
		level = control.Note
	}
	text := control.Stack(1,
		control.NewProse(fmt.Sprintf("%d  %s", i+1, p.NotePlace(n)), 12.5, true, colour, toileRow-24-30),
		control.NewProse(says, 12.5, false, colour, toileRow-24-30))
	ref := draft.ToileNoteRef(n.ID)
	bin := control.NewButton(control.TinyShape, "remove", "", "Take this note away", func() {
		runOn(c.s, draft.DeleteToileNote, draft.DeleteToileNoteArgs{Notes: []draft.ToileNoteRef{ref}})
	})
	row := container.NewBorder(nil, nil, control.Inset(0, 1, 8, 0, container.NewVBox(control.NewMark(level, 15))), container.NewVBox(bin), text)
	return control.NewCard(control.Inset(9, 6, 7, 6, row), "Show the place on the bench", func() {
		if n.Edge != "" {
			c.s.showOnBench(desk.EdgeRef(n.Piece, n.Edge))
		}
	})
}

// listVersions lists the versions, and of the one in hand what has changed since.
func (c *toileCard) listVersions() {
	p := c.s.desk.Project()
	if gone(p, c.was) {
		c.was = ""
		if v := p.LastVersion(); v != nil {
			c.was = v.ID
		}
	}
	if gone(p, c.with) || c.with == c.was {
		c.with = ""
	}
	if len(p.Versions) == 0 {
		c.prose("Keep the pattern when you print it for a toile. Later you see what has changed since, and print only the pages that show it.")
	}
	for i := len(p.Versions) - 1; i >= 0; i-- {
		c.rows.Add(c.versionRow(p, p.Versions[i]))
	}
	if c.was != "" {
		c.listChanges(p)
	}
	keep := control.NewButton(control.WordShape, "save", "Keep this version…", "Keep the pattern as it is now, for instance when it is printed for a toile", c.askKeep)
	c.foot.Add(control.Row(10, control.Spring(), keep))
}

func (c *toileCard) versionRow(p *draft.Project, v *draft.Version) fyne.CanvasObject {
	says := wording.Count(len(v.Pieces), "piece")
	if before := p.Version(v.Follows); before != nil {
		says += ", printed with pages of " + before.Name
	}
	name := control.NewButton(control.TinyShape, "draw", "", "Rename this version", func() { c.askRename(v) })
	bin := control.NewButton(control.TinyShape, "remove", "", "Keep this version no longer; the pattern stays", func() {
		runOn(c.s, draft.DeleteVersion, draft.DeleteVersionArgs{Version: draft.VersionRef(v.ID)})
	})
	text := control.Stack(1, control.NewProse(v.Name, 12.5, true, look.Ink, toileRow-56), control.NewProse(says, 12, false, look.Faint, toileRow-56))
	row := container.NewBorder(nil, nil, nil, control.Row(4, container.NewVBox(name), container.NewVBox(bin)), text)
	card := control.NewCard(control.Inset(9, 6, 7, 6, row), "See what has changed since this version", func() {
		c.was = v.ID
		c.update()
	})
	card.SetChosen(v.ID == c.was)
	return card
}

// listChanges lists what has changed since the version in hand, piece by piece.
func (c *toileCard) listChanges(p *draft.Project) {
	words, ids, at := []string{"the present pattern"}, []draft.ID{""}, 0
	for _, v := range p.Versions {
		if v.ID == c.was {
			continue
		}
		if v.ID == c.with {
			at = len(ids)
		}
		words, ids = append(words, v.Name), append(ids, v.ID)
	}
	if len(ids) > 1 {
		with := control.NewChoice("What the version is held against: its outlines are dashed on the bench, those of another version in dots", words, func(i int) {
			c.with = ids[i]
			c.update()
		})
		with.Put(at)
		c.rows.Add(control.LabelledBy(84, "Held against", with.Object()))
	}
	changes := c.changes(p)
	if len(changes) == 0 {
		c.prose("Nothing has changed.")
		return
	}
	c.rows.Add(control.NewProse("Changed: "+wording.Count(len(changes), "piece")+". Dashed on the bench as it was.", 12, true, look.Ink, toileInner))
	for _, x := range changes {
		c.rows.Add(c.changeRow(x))
	}
	if c.with == "" {
		print := control.NewButton(control.QuietShape, "print", "Print what has changed", "See the pages that show something else than with this version; the others hold as they were printed", func() {
			c.s.enter(stationMake)
			c.s.make.SetSince(c.was)
		})
		c.foot.Add(control.Row(10, control.Spring(), print))
	}
}

func (c *toileCard) changeRow(x draft.PieceChange) fyne.CanvasObject {
	rows := control.Stack(1, control.NewProse(x.Name, 12.5, true, look.Ink, toileRow))
	line := func(text string) { rows.Add(control.NewProse(text, 12, false, look.Ink, toileRow)) }
	switch x.Way {
	case draft.PieceAdded:
		line("New")
	case draft.PieceGone:
		line("Gone")
	}
	for _, e := range x.Edges {
		line(e.Name + ": " + e.Says)
	}
	for _, says := range x.Says {
		line(wording.Sentence(says))
	}
	return control.NewCard(control.Inset(9, 6, 7, 6, rows), "Show the piece on the bench", func() {
		if x.Way != draft.PieceGone {
			c.s.showOnBench(desk.PieceRef(x.Piece))
		}
	})
}

// askKeep asks for the name of a version and keeps it.
func (c *toileCard) askKeep() {
	p := c.s.desk.Project()
	follows := c.s.make.Options().Since
	says := "The pattern is kept with the project as it is now."
	if v := p.Version(follows); v != nil {
		says = "At Make only the pages are chosen that have changed since " + v.Name + ". The version is kept as printed with the others of that."
	}
	c.s.askText(asking{
		title: "Keep this version", label: "Name", hint: "Such as: first toile", word: "Keep", says: says,
		text: fmt.Sprintf("Toile %d", len(p.Versions)+1),
		take: func(name string) error {
			err := desk.Run(c.s.desk, draft.KeepVersion, draft.KeepVersionArgs{Name: name, Follows: draft.VersionRef(follows)})
			if v := c.s.desk.Project().LastVersion(); err == nil && v != nil {
				c.was, c.with = v.ID, ""
				c.update()
			}
			return err
		},
	})
}

func (c *toileCard) askRename(v *draft.Version) {
	c.s.askText(asking{
		title: "Rename the version", label: "Name", hint: "What the version is called", word: "Rename", text: v.Name,
		take: func(name string) error {
			return desk.Run(c.s.desk, draft.RenameVersion, draft.RenameVersionArgs{Version: draft.VersionRef(v.ID), Name: name})
		},
	})
}
