package shell

import (
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// clipboardCommands are cut, copy and paste. What lies on the clipboard is the text of a
// project, so that pieces go from one window to another, into a file or into a letter.
func (s *Shell) clipboardCommands() []*command {
	return []*command{
		{menu: menuEdit, name: "Cut", also: "clipboard take away", says: "Copy the picked pieces and take them away", key: fyne.KeyX, mod: ctrl, gap: true, do: s.cutPicked, can: s.picksPiece},
		{menu: menuEdit, name: "Copy", also: "clipboard", says: "Copy the pieces in hand with the seams among them, to paste them here or in another project", key: fyne.KeyC, mod: ctrl, do: func() { s.copyPicked() }, can: s.hasPicked},
		{menu: menuEdit, name: "Paste", also: "clipboard insert", says: "Put what was copied where the pointer is, or in the middle of what is seen", key: fyne.KeyV, mod: ctrl, do: s.paste},
	}
}

func (s *Shell) picksPiece() bool { return len(s.desk.Picked().Of(desk.Piece)) > 0 }

// copyPicked puts the pieces of which anything is picked on the clipboard, and reports
// whether there were any.
func (s *Shell) copyPicked() bool {
	clip := s.desk.Project().Clip(s.desk.Picked().Pieces())
	if len(clip.Pieces) == 0 {
		s.Say("Pick the pieces to copy first.")
		return false
	}
	s.app.Clipboard().SetContent(string(store.Encode(clip)))
	says := "Copied " + pieceNames(clip.Pieces)
	if n := len(clip.Seams); n > 0 {
		says += " with " + wording.Count(n, "seam")
	}
	s.Say(says + ".")
	return true
}

// mostNamed is how many pieces are named; of more it is said how many they are.
const mostNamed = 3

func pieceNames(pieces []*draft.Piece) string {
	if len(pieces) > mostNamed {
		return wording.Count(len(pieces), "piece")
	}
	names := make([]string, len(pieces))
	for i, p := range pieces {
		names[i] = p.Name
	}
	return wording.List(names)
}

func (s *Shell) cutPicked() {
	refs := s.pickedPieces()
	if len(refs) == 0 || !s.copyPicked() {
		return
	}
	if err := desk.Run(s.desk, draft.DeletePiece, draft.DeletePieceArgs{Pieces: refs}); err != nil {
		s.Say(err.Error())
	}
}

// pickedPieces returns the picked pieces as acts take them.
func (s *Shell) pickedPieces() []draft.PieceRef {
	var refs []draft.PieceRef
	for _, r := range s.desk.Picked().Of(desk.Piece) {
		refs = append(refs, draft.PieceRef(r.Piece))
	}
	return refs
}

// paste puts the pieces of the clipboard where the pointer is, or in the middle of what
// is seen.
func (s *Shell) paste() { s.pasteAt(s.bench.PastePlace()) }

func (s *Shell) pasteAt(at geom.Point) {
	text := strings.TrimSpace(s.app.Clipboard().Content())
	if text == "" {
		s.Say("There is nothing to paste: copy pieces first.")
		return
	}
	if !strings.HasPrefix(text, "format") {
		s.Say("What lies on the clipboard is no pattern: copy pieces first, here or in another window.")
		return
	}
	from, err := store.Decode([]byte(text))
	if err != nil {
		s.Say("What lies on the clipboard cannot be read as a pattern: " + err.Error())
		return
	}
	before, where := s.desk.Project(), draft.Vector(at)
	out, err := desk.RunFolded(s.desk, draft.PastePieces, draft.PastePiecesArgs{From: draft.PatternFile{Project: from}, At: &where}, "")
	if err != nil {
		s.Say(err.Error())
		return
	}
	s.enter(stationShape)
	made := desk.NewPieces(before, out.Project)
	if len(before.Pieces) == 0 {
		s.bench.Fit()
	}
	s.bench.Reveal(made...)
	pieces := make([]*draft.Piece, len(made))
	for i, r := range made {
		pieces[i] = out.Project.Piece(r.Piece)
	}
	s.Say(strings.Join(append([]string{"Pasted " + pieceNames(pieces) + "."}, out.Says...), " "))
}
