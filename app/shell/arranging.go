package shell

import (
	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/wording"
	"hemlet/draft"
)

// pickingCommands pick by what things have in common.
func (s *Shell) pickingCommands() []*command {
	return []*command{
		{menu: menuEdit, name: "Pick the others", also: "invert selection reverse", says: "Pick what is not picked, and let go of what is", key: fyne.KeyI, mod: ctrl | fyne.KeyModifierShift, do: s.bench.PickOthers, can: s.hasPieces},
		{menu: menuEdit, name: "Pick the whole garment", also: "same select", says: "Pick all pieces of the garments in hand", do: func() { s.pickLike(func(p *draft.Piece) any { return p.Garment }) }, can: s.hasPicked},
		{menu: menuEdit, name: "Pick the same cloth", also: "fabric material select", says: "Pick all pieces that are cut from the cloths in hand", do: func() { s.pickLike(func(p *draft.Piece) any { return p.Cloth }) }, can: s.hasPicked},
		{menu: menuEdit, name: "Pick the same layer", also: "shell lining interlining select", says: "Pick all pieces of the shell, the lining or the interlining, as those in hand", do: func() { s.pickLike(func(p *draft.Piece) any { return p.Layer }) }, can: s.hasPicked},
		{menu: menuEdit, name: "Pick the same kind of edge", also: "hem seam fold raw casing select", says: "Pick all edges of the kinds in hand, such as every hem", do: s.pickLikeEdges, can: s.picksEdge},
	}
}

// pickLike picks the pieces that are alike in something to one in hand.
func (s *Shell) pickLike(what func(*draft.Piece) any) {
	project := s.desk.Project()
	want := make(map[any]bool)
	for _, id := range s.desk.Picked().Pieces() {
		if p := project.Piece(id); p != nil {
			want[what(p)] = true
		}
	}
	s.pickPieces(func(p *draft.Piece) bool { return want[what(p)] })
}

// pickPieces picks the pieces that are to be seen and fit, and says how many they are.
func (s *Shell) pickPieces(fits func(*draft.Piece) bool) {
	var refs []desk.Ref
	for _, p := range s.desk.Project().Pieces {
		if s.desk.Seen(p) && !p.Locked && fits(p) {
			refs = append(refs, desk.PieceRef(p.ID))
		}
	}
	s.desk.Pick(refs...)
	s.Say(wording.Count(len(refs), "piece") + " picked.")
}

func (s *Shell) pickLikeEdges() {
	project := s.desk.Project()
	want := make(map[draft.EdgeKind]bool)
	for _, r := range s.desk.Picked().Edges() {
		if e, _ := project.Piece(r.Piece).Edge(r.Edge); e != nil {
			want[e.Kind] = true
		}
	}
	s.pickEdges(func(e *draft.Edge) bool { return want[e.Kind] })
}

func (s *Shell) pickEdges(fits func(*draft.Edge) bool) {
	var refs []desk.Ref
	for _, p := range s.desk.Project().Pieces {
		if !s.desk.Seen(p) || p.Locked {
			continue
		}
		for i := range p.Edges {
			if fits(&p.Edges[i]) {
				refs = append(refs, desk.EdgeRef(p.ID, p.Edges[i].ID))
			}
		}
	}
	s.desk.Pick(refs...)
	s.Say(wording.Count(len(refs), "edge") + " picked.")
}

// pickable lists what can be picked at once by its name: garments, cloths, layers and
// kinds of edges.
func (s *Shell) pickable() []found {
	project := s.desk.Project()
	var list []found
	offer := func(name string, count int, what string, do func()) {
		if count > 0 {
			list = append(list, found{name: name, what: wording.Count(count, what), more: "pick select all", do: do})
		}
	}
	pieces := func(name string, fits func(*draft.Piece) bool) {
		n := 0
		for _, p := range project.Pieces {
			if fits(p) {
				n++
			}
		}
		offer(name, n, "piece", func() { s.enter(stationShape); s.pickPieces(fits) })
	}
	had := map[string]bool{"": true}
	for _, p := range project.Pieces {
		if g := p.Garment; !had[g] {
			had[g] = true
			pieces("Pick garment "+g, func(p *draft.Piece) bool { return p.Garment == g })
		}
	}
	for _, c := range project.Cloths {
		pieces("Pick cloth "+c.Name, func(p *draft.Piece) bool { return p.Cloth == c.ID })
	}
	for _, l := range []draft.Layer{draft.Shell, draft.Lining, draft.Interlining} {
		pieces("Pick the "+l.String(), func(p *draft.Piece) bool { return p.Layer == l })
	}
	for _, pic := range project.Pictures {
		list = append(list, found{name: pic.Name, what: "picture", more: "reference scan photo", do: func() {
			s.enter(stationShape)
			s.desk.Pick(desk.PictureRef(pic.ID))
		}})
	}
	for _, k := range draft.EdgeKinds() {
		n := 0
		for _, p := range project.Pieces {
			for i := range p.Edges {
				if p.Edges[i].Kind == k {
					n++
				}
			}
		}
		offer("Pick every "+k.String()+" edge", n, "edge", func() {
			s.enter(stationShape)
			s.pickEdges(func(e *draft.Edge) bool { return e.Kind == k })
		})
	}
	return list
}

// arrangeCommands lay pieces out on the bench and say what is seen of them.
func (s *Shell) arrangeCommands() []*command {
	some := func(n int) func() bool {
		return func() bool { return len(s.desk.Picked().Of(desk.Piece)) >= n }
	}
	var list []*command
	for _, a := range []struct {
		by                draft.Alignment
		name, says, words string
	}{
		{draft.AlignLeft, "Align at the left", "Let the picked pieces begin at one upright line", "edge flush"},
		{draft.AlignUpright, "Align on an upright line", "Let the picked pieces have their middles on one upright line", "centre middle vertical"},
		{draft.AlignRight, "Align at the right", "Let the picked pieces end at one upright line", "edge flush"},
		{draft.AlignTop, "Align at the top", "Let the picked pieces end at one level line", "edge flush"},
		{draft.AlignLevel, "Align on a level line", "Let the picked pieces have their middles on one level line", "centre middle horizontal"},
		{draft.AlignBottom, "Align at the bottom", "Let the picked pieces stand on one level line", "edge flush"},
	} {
		list = append(list, &command{
			menu: menuArrange, name: a.name, says: a.says, also: a.words, can: some(2),
			do: func() { arrange(s, draft.AlignPieces, draft.AlignPiecesArgs{Pieces: s.pickedPieces(), By: a.by}) },
		})
	}
	spread := func(along draft.Direction) func() {
		return func() {
			arrange(s, draft.DistributePieces, draft.DistributePiecesArgs{Pieces: s.pickedPieces(), Along: along})
		}
	}
	return append(list, []*command{
		{menu: menuArrange, name: "Spread evenly across", also: "distribute space gap", says: "Leave the same room between the picked pieces from left to right", gap: true, do: spread(draft.Across), can: some(3)},
		{menu: menuArrange, name: "Spread evenly upward", also: "distribute space gap", says: "Leave the same room between the picked pieces from top to bottom", do: spread(draft.Upward), can: some(3)},
		{menu: menuArrange, name: "Group as a garment…", also: "together", says: "List the picked pieces together as one garment", key: fyne.KeyG, mod: ctrl, gap: true, do: s.askGarment, can: some(1)},
		{menu: menuArrange, name: "Rename in the tray", also: "name call title", says: "Type another name for the piece in hand", key: fyne.KeyR, mod: ctrl, do: func() { s.tray.Rename(s.desk.Picked().Last().Piece) }, can: func() bool { return s.hasPicked() && s.left.Visible() }},
		{menu: menuArrange, name: "Find in the tray", also: "filter list search piece", says: "List only the pieces whose name, garment or cloth holds some letters", key: fyne.KeyF, mod: ctrl, do: s.tray.Find, can: s.hasPieces},
		{menu: menuArrange, name: "Hide", also: "invisible out of sight", says: "Take the picked pieces out of sight; they are still checked, printed and cut", key: fyne.KeyH, mod: ctrl, gap: true, do: s.hidePicked, can: some(1)},
		{menu: menuArrange, name: "Show all that is hidden", also: "unhide visible", says: "Bring all hidden pieces back into sight", key: fyne.KeyH, mod: ctrl | fyne.KeyModifierShift, do: s.showHidden, can: s.anyHidden},
		{menu: menuArrange, name: "Show only these", also: "isolate alone solo", says: "Put all other pieces aside until Esc", key: fyne.KeyPeriod, mod: ctrl, do: s.isolate, can: s.hasPicked},
		{menu: menuArrange, name: "Show the others again", also: "isolate leave back", says: "Bring back the pieces that were put aside", do: func() { s.desk.Rejoin() }, can: s.desk.Isolated},
		{menu: menuArrange, name: "Lock", also: "hold freeze protect", says: "Hold the picked pieces as they are, so that nothing on the bench touches them", gap: true, do: s.lockPicked, can: func() bool { return some(1)() || s.picksPicture() }},
		{menu: menuArrange, name: "Unlock all", also: "release free", says: "Let all locked pieces be changed again", do: s.unlockAll, can: s.anyLocked},
		{menu: menuArrange, name: "Make a ghost, or a piece again", also: "reference underlay template trace", says: "Let the picked pieces only be looked at, neither checked nor sewn nor cut, or be pieces of the pattern again", do: s.toggleGhost, can: some(1)},
	}...)
}

// arrange does an act of the bench and tells what went wrong.
func arrange[A any](s *Shell, act *draft.Act[A], args A) bool {
	if err := desk.Run(s.desk, act, args); err != nil {
		s.Say(err.Error())
		return false
	}
	return true
}

func (s *Shell) askGarment() {
	pieces := s.pickedPieces()
	s.askText(asking{
		title: "Group as a garment", label: "Name", hint: "What the garment is called", word: "Group",
		says: "Its pieces are listed and picked together. Without a name it gets a number.",
		take: func(name string) error {
			return desk.Run(s.desk, draft.GroupPieces, draft.GroupPiecesArgs{Pieces: pieces, Name: name})
		},
	})
}

func (s *Shell) hidePicked() {
	refs := s.pickedPieces()
	if !arrange(s, draft.HidePieces, draft.ShowPiecesArgs{Pieces: refs}) {
		return
	}
	s.desk.Pick()
	s.Say(wording.Count(len(refs), "piece") + " hidden on the bench; still checked, printed and cut. The eye in the tray brings a piece back.")
}

// those returns the pieces that fit, as acts take them.
func (s *Shell) those(fits func(*draft.Piece) bool) []draft.PieceRef {
	var refs []draft.PieceRef
	for _, p := range s.desk.Project().Pieces {
		if fits(p) {
			refs = append(refs, draft.PieceRef(p.ID))
		}
	}
	return refs
}

func isHidden(p *draft.Piece) bool { return p.Hidden }
func isLocked(p *draft.Piece) bool { return p.Locked }

func (s *Shell) anyHidden() bool { return len(s.those(isHidden)) > 0 }
func (s *Shell) anyLocked() bool { return len(s.those(isLocked))+len(s.lockedPictures()) > 0 }

func (s *Shell) lockedPictures() []draft.PictureRef {
	var refs []draft.PictureRef
	for _, pic := range s.desk.Project().Pictures {
		if pic.Locked {
			refs = append(refs, draft.PictureRef(pic.ID))
		}
	}
	return refs
}

func (s *Shell) showHidden() {
	arrange(s, draft.ShowPieces, draft.ShowPiecesArgs{Pieces: s.those(isHidden)})
}

func (s *Shell) picksPicture() bool { return len(s.desk.Picked().Of(desk.Picture)) > 0 }

// lockPicked locks the picked pieces or pictures.
func (s *Shell) lockPicked() {
	if !s.picksPicture() {
		arrange(s, draft.LockPieces, draft.ShowPiecesArgs{Pieces: s.pickedPieces()})
		return
	}
	on := true
	var refs []draft.PictureRef
	for _, r := range s.desk.Picked().Of(desk.Picture) {
		refs = append(refs, draft.PictureRef(r.Thing))
	}
	arrange(s, draft.SetPicture, draft.SetPictureArgs{Pictures: refs, Locked: &on})
}

func (s *Shell) unlockAll() {
	if refs := s.those(isLocked); len(refs) > 0 {
		arrange(s, draft.UnlockPieces, draft.ShowPiecesArgs{Pieces: refs})
	}
	if refs := s.lockedPictures(); len(refs) > 0 {
		off := false
		arrange(s, draft.SetPicture, draft.SetPictureArgs{Pictures: refs, Locked: &off})
	}
}

// isolate puts all pieces aside but those of which something is picked.
func (s *Shell) isolate() {
	s.desk.Isolate(s.desk.Picked().Pieces()...)
	s.bench.FitPicked()
}

// usualGhost is how strongly a ghost is seen.
const usualGhost = 0.35

// toggleGhost makes the picked pieces ghosts, or pieces of the pattern again if the last
// of them is one.
func (s *Shell) toggleGhost() {
	refs := s.pickedPieces()
	args := draft.SetGhostArgs{Pieces: refs, Opacity: usualGhost}
	if s.desk.Project().Piece(draft.ID(refs[len(refs)-1])).Ghost > 0 {
		args.Opacity = 0
	}
	arrange(s, draft.SetGhost, args)
}
