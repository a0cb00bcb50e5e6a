package shell

import (
	"math"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
)

// allCommands lists everything that can be asked for, in the order of the menus.
func (s *Shell) allCommands() []*command {
	list := s.fileCommands()
	list = append(list, s.editCommands()...)
	list = append(list, s.cuttingCommands()...)
	list = append(list, s.toileCommands()...)
	list = append(list, s.pieceCommands()...)
	list = append(list, s.arrangeCommands()...)
	list = append(list, s.pointCommands()...)
	list = append(list, s.seamCommands()...)
	list = append(list, s.viewCommands()...)
	list = append(list, s.helpCommands()...)
	for _, c := range list {
		c.open = func() bool {
			if s.question != nil || !c.typing && !s.settleField() {
				return false
			}
			if !c.looks() { // what is only tried is no part of what is saved or changed
				s.desk.DropTrial()
			}
			return true
		}
	}
	return list
}

// settleField takes what is typed into the field with the keys, and reports whether
// that could be done: a value that is typed and not yet taken belongs to what is
// saved or shown next.
func (s *Shell) settleField() bool {
	f, ok := s.win.Canvas().Focused().(interface{ Settle() bool })
	return !ok || f.Settle()
}

func (s *Shell) fileCommands() []*command {
	f := s.files
	open := &command{menu: menuFile, name: "Open…", says: "Open a project", key: fyne.KeyO, mod: ctrl, do: f.open}
	f.recentAfter = open
	return []*command{
		{menu: menuFile, name: "New", says: "Begin an empty project", key: fyne.KeyN, mod: ctrl, do: f.new},
		open,
		{menu: menuFile, name: "Bring in a drawing…", also: "import read svg dxf", says: "Make pieces of the closed lines of an SVG or DXF", key: fyne.KeyI, mod: ctrl, do: f.askDrawing},
		{menu: menuFile, name: "Trace a picture…", also: "scan photo image digitise pdf vector outline sheet", says: "Make pieces at true size of scans or photographs of a pattern", key: fyne.KeyT, mod: ctrl, do: s.trace},
		{menu: menuFile, name: "Lay a picture under…", also: "reference layer scan photo image trace background underlay", says: "Lay a scan or photograph under the pieces, to draw by", do: f.askPicture},
		{menu: menuFile, name: "Read a wearer…", also: "import body measures toml", says: "Add the wearer that a file describes", do: func() { s.readWearer(s.showWearer) }},
		{menu: menuFile, name: "Measuring sheet…", also: "blank card print form measures", says: "Write a blank sheet to note measures on by hand", do: func() { s.askSheet(s.sheetBuild()) }},
		{menu: menuFile, name: "Show the sample", also: "example demo lamplighter", says: "Open the lamplighter's pattern to try things on", do: f.sample},
		{menu: menuFile, name: "Save", says: "Save the project", key: fyne.KeyS, mod: ctrl, gap: true, do: func() { f.save(nil) }},
		{menu: menuFile, name: "Save as…", says: "Save the project under another name", key: fyne.KeyS, mod: ctrl | fyne.KeyModifierShift, do: func() { f.saveAs(nil) }},
		{menu: menuFile, name: "Export…", also: "print pdf svg dxf png cut write page", says: "Write the pattern true to size as PDF, SVG, DXF or PNG", key: fyne.KeyE, mod: ctrl, gap: true, do: s.askExport, can: s.hasPieces},
		{menu: menuFile, name: "Close window", says: "Close the window", key: fyne.KeyQ, mod: ctrl, gap: true, do: f.close},
	}
}

func (s *Shell) editCommands() []*command {
	list := []*command{
		{menu: menuEdit, name: "Undo", says: "Take back the last step", typing: true, key: fyne.KeyZ, mod: ctrl, do: s.undo, can: func() bool { _, ok := s.undoes(); return ok || s.desk.Trying() }},
		{menu: menuEdit, name: "Redo", says: "Do again what was taken back", typing: true, key: fyne.KeyZ, mod: ctrl | fyne.KeyModifierShift, do: s.redo, can: func() bool { _, ok := s.desk.History().CanRedo(); return ok }},
		{menu: menuEdit, name: "History", also: "steps undo past journal back list", says: "List what was done, and go back to any step", key: fyne.KeyF9, do: s.showHistory},
	}
	list = append(list, s.clipboardCommands()...)
	list = append(list,
		&command{menu: menuEdit, name: "Find…", says: "Find a piece, an edge or a command by its name", key: fyne.KeyK, mod: ctrl, gap: true, do: func() { s.finder.open() }},
		&command{menu: menuEdit, name: "Acts…", also: "list everything can do cutting table", says: "Find any act by the words of the trade", short: "Acts", icon: "acts", strip: true, rune: '/', do: func() { s.finder.openActs() }},
		&command{menu: menuEdit, name: "Pick all", says: "Pick all pieces, or all points or edges of the piece in hand", key: fyne.KeyA, mod: ctrl, do: s.bench.PickAll, can: s.hasPieces},
	)
	list = append(list, s.pickingCommands()...)
	return append(list,
		&command{menu: menuEdit, name: "Set allowance…", also: "margin hem seam width", says: "Type the allowance of the picked edges, or of all edges of the picked pieces", rune: 'a', gap: true, do: s.askAllowance, can: s.hasPicked},
	)
}

func (s *Shell) pieceCommands() []*command {
	pieces := func() bool { return len(s.desk.Picked().Of(desk.Piece)) > 0 }
	turned := func() bool { return pieces() || s.picksPicture() }
	const quarter = math.Pi / 2
	return []*command{
		{menu: menuPiece, name: "Duplicate", also: "copy double twin", says: "Make a second piece like the one in hand", key: fyne.KeyD, mod: ctrl, do: s.hand.Duplicate, can: pieces},
		{menu: menuPiece, name: "Draft the block in hand", also: "bodice sloper make pieces", says: "Make the pieces of the block that is chosen in Draft", key: fyne.KeyReturn, mod: ctrl, do: s.draft.DraftIt, can: func() bool { return s.station == stationDraft }},
		{menu: menuPiece, name: "Trace this picture", also: "scan outline vector", says: "Make pieces of the picked picture", do: s.tracePicked, can: s.picksPicture},
		{menu: menuPiece, name: "Turn to the left", also: "rotate", says: "Turn the picked pieces a quarter to the left", rune: '[', gap: true, do: func() { s.hand.Turn(quarter) }, can: turned},
		{menu: menuPiece, name: "Turn to the right", also: "rotate", says: "Turn the picked pieces a quarter to the right", rune: ']', do: func() { s.hand.Turn(-quarter) }, can: turned},
		{menu: menuPiece, name: "Turn a little to the left", also: "rotate", says: "Turn the picked pieces by 5 degrees to the left", rune: '{', do: func() { s.hand.Turn(quarter / 18) }, can: turned},
		{menu: menuPiece, name: "Turn a little to the right", also: "rotate", says: "Turn the picked pieces by 5 degrees to the right", rune: '}', do: func() { s.hand.Turn(-quarter / 18) }, can: turned},
		{menu: menuPiece, name: "Turn by the grain", also: "straighten rotate askew level scan grainline", says: "Turn the picked pieces, or all, the little that it takes for their grain to run straight up or across", do: s.hand.TurnToGrain, can: s.hasPieces},
		{menu: menuPiece, name: "Grain straight up", also: "grainline upright thread", says: "Lay the grain of the picked pieces straight up the bench", rune: 'g', gap: true, do: s.hand.GrainUpright, can: pieces},
		{menu: menuPiece, name: "Cut in mirrored pairs", says: "Have the picked pieces cut as right and left", also: "mirror both sides flip reflect", gap: true, do: s.cutInPairs, can: pieces},
	}
}

func (s *Shell) pointCommands() []*command {
	nodes := func() bool { return len(s.desk.Picked().Of(desk.Node)) > 0 || s.desk.Picked().Last().AtNode() }
	return []*command{
		{menu: menuPoint, name: "Halve the edge", also: "split divide add insert point middle", says: "Put a point in the middle of the picked edge", key: fyne.KeyInsert, do: s.hand.InsertMiddle, can: s.picksEdge},
		{menu: menuPoint, name: "Delete", also: "remove erase drop", says: "Delete the picked points, of which the lines beside join, or the picked pieces, lines and marks", key: fyne.KeyDelete, do: s.hand.Delete, can: func() bool {
			return nodes() || len(s.desk.Picked().Of(desk.Piece)) > 0 || tool.PicksMark(s.desk) || s.picksPicture()
		}},
		{menu: menuPoint, name: "Corner or smooth", also: "point node curve round sharp", says: "Make the picked points corners, or smooth if they are", rune: 's', do: s.hand.ToggleSmooth, can: nodes},
		{menu: menuPoint, name: "Give the edge handles", also: "curve round bend bow", says: "Give the picked straight edges handles to bend them by", do: s.hand.Bend, can: s.picksEdge},
	}
}

func (s *Shell) seamCommands() []*command {
	return []*command{
		{menu: menuSeam, name: "Link the two picked edges", also: "join sew seam connect pair", says: "Sew the two picked edges together", rune: 'j', do: s.hand.LinkPicked, can: func() bool { return len(s.desk.Picked().Of(desk.Edge)) == 2 }},
		{menu: menuSeam, name: "Walk the seam", also: "roll true match notch along", says: "Let one side of the picked edge's seam roll along the other", rune: 'w', do: s.walkPicked, can: s.picksSewn},
		{menu: menuSeam, name: "See the joins of the seam", also: "corner kink hem neck smooth laid together ends", says: "Lay the pieces together at an end of the picked edge's seam, and see how hem or neck run on across it", do: s.seePickedJoins, can: s.picksSewn},
		{menu: menuSeam, name: "Take apart", also: "unlink unpick separate seam", says: "Take apart the seams of the picked edges", rune: 'u', do: s.hand.Unlink, can: s.picksEdge},
		{menu: menuSeam, name: "Show the other edge", says: "Pick the edges to which the picked ones are sewn", rune: 'o', do: s.hand.PickOtherSide, can: s.picksEdge},
		{menu: menuSeam, name: "Next check that fails", says: "Go to the next thing that the checks have to say", also: "finding problem warning note mend wrong error", key: fyne.KeyF8, gap: true, do: s.nextFinding},
		{menu: menuSeam, name: "Live with a check…", says: "Say why what a check found may stay, so that it counts no more", also: "waive ignore accept finding problem allow", do: s.liveWith, can: func() bool { return len(s.desk.Findings()) > 0 }},
	}
}

func (s *Shell) viewCommands() []*command {
	list := []*command{
		{menu: menuView, name: "First screen", also: "start welcome begin home recent", says: "Show the ways to begin and the projects used last", do: func() { s.enter(stationStart) }},
		{menu: menuView, name: "Guide: make a pattern fit", also: "lead through steps next help fit", says: "Tell step by step what comes next until the pattern fits", do: func() { s.guide.begin() }},
		{menu: menuView, name: "Measure", also: "body wearer size girth tape card figure", says: "Note the measures of the wearers", key: fyne.KeyF2, do: func() { s.enter(stationMeasure) }},
		{menu: menuView, name: "Draft", also: "block sloper bodice construct", says: "Have a pattern drafted for a wearer from a block", key: fyne.KeyF3, do: func() { s.enter(stationDraft) }},
		{menu: menuView, name: "Shape", also: "bench edit", says: "Correct the pieces", key: fyne.KeyF4, do: func() { s.enter(stationShape) }},
		{menu: menuView, name: "Fit", also: "re-shape body wearer size scale grade made for span stretch", says: "Re-shape a pattern that was made for one body to another", key: fyne.KeyF5, do: func() { s.enter(stationFit) }},
		{menu: menuView, name: "True", also: "check seams walk match notch prove findings mend", says: "See whether everything that is sewn together fits, and mend what does not", key: fyne.KeyF6, do: func() { s.enter(stationTrue) }},
		{menu: menuView, name: "Make", also: "print pages cut export paper", says: "See the pages and write the files", key: fyne.KeyF7, do: func() { s.enter(stationMake) }},
		{menu: menuView, name: "Show all", also: "fit zoom whole", says: "Show all pieces", rune: '0', gap: true, do: s.bench.Fit},
		{menu: menuView, name: "Show what is picked", also: "fit zoom", says: "Bring what is picked into the middle", rune: 'f', do: s.bench.FitPicked},
		{menu: menuView, name: "Pictures faint or plain", also: "scan photo underlay hide show fade", says: "Show the pictures under the pieces plainly, or only hint at them at True, and put them away once the pattern is fitted", do: func() { s.scans.toggle() }, can: func() bool { return s.scans.any() }},
		{menu: menuView, name: "Catch on and off", also: "snap grid points guides hold", says: "Let points, edges, levels, guides and the squared paper catch what is drawn and dragged, or not; Ctrl holds it off for a moment", rune: 'c', do: s.toggleCatching},
		{menu: menuView, under: "Guides", name: "Guide along the edge", also: "line help ruler", says: "Lay a guide along each picked edge; others are pulled out from the left and lower border of the bench, and pushed back over it", do: s.guideAlong, can: s.picksEdge},
		{menu: menuView, under: "Guides", name: "Take the guides away", also: "remove clear help lines", says: "Take all guides off the bench", do: s.bench.ClearGuides, can: func() bool { return len(s.bench.Guides()) > 0 }},
		{menu: menuView, under: "Scale", name: "True size", says: "Show a millimetre as a millimetre on a screen of 96 dots an inch", rune: '1', do: s.bench.TrueSize},
		{menu: menuView, under: "Scale", name: "Closer", also: "zoom in larger", says: "Zoom in", rune: '+', do: func() { s.bench.ZoomBy(1.2) }},
		{menu: menuView, under: "Scale", name: "Farther", also: "zoom out smaller", says: "Zoom out", rune: '-', do: func() { s.bench.ZoomBy(1 / 1.2) }},
	}
	for i, u := range draft.Units() {
		list = append(list, &command{
			menu: menuView, under: "Units", name: "Lengths in " + unitNames[i], says: "Show and type lengths in " + unitNames[i], gap: i == 0,
			do: func() { s.setUnit(u) },
		})
	}
	return append(list, &command{menu: menuView, name: "Light or dark", also: "theme look night", says: "Change between the light and the dark look", key: fyne.KeyL, mod: ctrl, gap: true, do: func() { s.SetDark(!s.dark()) }})
}

// unitNames are the units in words, in the order of draft.Units.
var unitNames = []string{"millimetres", "centimetres", "decimal inches", "inches with fractions"}

func (s *Shell) helpCommands() []*command {
	return []*command{
		{menu: menuHelp, name: "Keys to the next part", says: "Give the keys to the bench, the tray or the panel at the right, in turn", key: fyne.KeyF6, mod: ctrl, do: s.nextPlace},
		{menu: menuHelp, name: "Keys to the menus", says: "Open the menus with the keys", key: fyne.KeyF10, do: s.openMenus},
		{menu: menuHelp, name: "Keys and gestures", also: "help shortcuts keyboard", says: "What the keys and the mouse do", key: fyne.KeyF1, do: s.showKeys},
		{menu: menuHelp, name: "About and licences", says: "What this is, and whose work is inside", do: s.showAbout},
	}
}

// toggleCatching lets things on the bench catch the pointer, or not.
func (s *Shell) toggleCatching() {
	s.bench.SetCatching(!s.bench.Catching())
	if s.bench.Catching() {
		s.Say("Points, edges and what else lies on the bench catch the pointer; Ctrl holds it off.")
		return
	}
	s.Say("Nothing catches the pointer.")
}

// guideAlong lays a guide along each picked edge.
func (s *Shell) guideAlong() { s.bench.GuideAlongPicked() }

func (s *Shell) hasPieces() bool { return len(s.desk.Project().Pieces) > 0 }
func (s *Shell) hasPicked() bool { return len(s.desk.Picked()) > 0 }
func (s *Shell) picksEdge() bool { return len(s.desk.Picked().Of(desk.Edge)) > 0 }

// cutInPairs has the picked pieces cut as right and left.
func (s *Shell) cutInPairs() {
	var args draft.SetCutArgs
	args.Way, args.Count = draft.CutPairs, 1
	for _, id := range s.desk.Picked().Pieces() {
		args.Pieces = append(args.Pieces, draft.PieceRef(id))
	}
	if err := desk.Run(s.desk, draft.SetCut, args); err != nil {
		s.Say(err.Error())
	}
}

// liveWith asks why the check may stay that was gone to last, or the first one of what
// is picked, or the first of all.
func (s *Shell) liveWith() {
	open := s.desk.Findings()
	if len(open) == 0 {
		return
	}
	at := 0
	for i, f := range open {
		if s.about(f) {
			at = i
			break
		}
	}
	if s.status.at >= 0 && s.status.at < len(open) && s.about(open[s.status.at]) {
		at = s.status.at
	}
	f := open[at]
	s.askReason(f, func(reason string) error {
		return desk.Run(s.desk, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: reason})
	})
}

// about reports whether the finding is about a picked piece.
func (s *Shell) about(f draft.Finding) bool {
	for _, id := range s.desk.Picked().Pieces() {
		if s.desk.Concerns(f, id) {
			return true
		}
	}
	return false
}

// undo takes back what is typed into a field, or else the last step.
func (s *Shell) undo() {
	if f, ok := s.win.Canvas().Focused().(interface {
		Typing() bool
		Undo()
	}); ok && f.Typing() {
		f.Undo()
		return
	}
	s.takeBack()
}

// undoes returns what undo takes back now: what was done last in the station itself, or
// the last step of the document.
func (s *Shell) undoes() (string, bool) {
	if what, back := s.ownUndo(); back != nil {
		return what, true
	}
	return s.desk.History().CanUndo()
}

// ownUndo returns what was done last in the station that is seen, of which the document
// knows nothing, and what takes it back; nil where there is no such thing.
func (s *Shell) ownUndo() (what string, back func()) {
	if s.seat == nil || s.seat.undoes == nil {
		return "", nil
	}
	return s.seat.undoes()
}

// takeBack takes back what is only tried, or else the last step, and says which, for it may
// lie out of sight.
func (s *Shell) takeBack() {
	if s.desk.Trying() {
		s.desk.DropTrial()
		s.Say("What was only shown is taken back.")
		return
	}
	step, ok := s.undoes()
	if !ok {
		return
	}
	if _, back := s.ownUndo(); back != nil {
		back()
	} else {
		s.desk.Undo()
	}
	s.Say("Undone: " + step)
}

// redo does again what was taken back last and says what.
func (s *Shell) redo() {
	step, ok := s.desk.History().CanRedo()
	if !ok {
		return
	}
	s.desk.Redo()
	s.Say("Redone: " + step)
}
