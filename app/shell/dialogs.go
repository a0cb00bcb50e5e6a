package shell

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/assets"
	"hemlet/draft"
)

// asking is a question for one line of text.
type asking struct {
	title, label, hint string
	// text is what stands in the field at first, says what is told under it, word
	// the answer that takes it.
	text, says, word string
	// take is given the text; after an error the question stays. out, if not nil, is
	// called where nothing is taken.
	take func(text string) error
	out  func()
}

// askText asks for one line of text.
func (s *Shell) askText(a asking) {
	field := control.NewField(a.hint, nil)
	field.SetText(a.text)
	said := control.NewProse(a.says, 12, false, look.Faint, askWidth)
	take := func() bool {
		err := a.take(strings.TrimSpace(field.Text))
		if err != nil {
			said.Put(wording.Sentence(err.Error()))
		}
		return err == nil
	}
	q := s.ask(a.title, control.Stack(10, control.Labelled(a.label, field.Object()), said), field,
		answer{word: "Cancel", out: true, do: func() bool {
			if a.out != nil {
				a.out()
			}
			return true
		}},
		answer{word: a.word, main: true, do: take})
	field.OnSubmitted = func(string) {
		if take() {
			q.close()
		}
	}
	field.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// askAllowance asks for one width and gives it to the picked edges, or to all edges
// of the picked pieces.
func (s *Shell) askAllowance() {
	edges := s.allowanceEdges()
	if len(edges) == 0 {
		s.Say("Pick the edges or pieces first.")
		return
	}
	unit := s.desk.Project().Unit
	text := ""
	if e, _ := s.desk.Project().Piece(edges[0].Piece).Edge(edges[0].Edge); e != nil {
		text = unit.Format(e.Allowance.Start)
	}
	s.askText(asking{
		title: "Set allowance", label: "Allowance", hint: "A length, or a sum such as 1/4in + 2mm", text: text, word: "Set",
		says: wording.Count(len(edges), "edge") + " will have this allowance, the same all along.",
		take: func(text string) error {
			mm, err := unit.Parse(text)
			if err != nil {
				return err
			}
			width := draft.Length(mm)
			return desk.Run(s.desk, draft.SetAllowance, draft.SetAllowanceArgs{Edges: edges, Width: &width})
		},
	})
}

// allowanceEdges returns the picked edges or, where none is, all edges of the picked
// pieces that have an allowance.
func (s *Shell) allowanceEdges() []draft.EdgeRef {
	picked := s.desk.Picked()
	edges := picked.Edges()
	if len(edges) > 0 {
		return edges
	}
	for _, id := range picked.Pieces() {
		if p := s.desk.Project().Piece(id); p != nil {
			edges = append(edges, p.CutEdges()...)
		}
	}
	return edges
}

// askCloth asks for the name of a new cloth.
func (s *Shell) askCloth(take func(name string) error, out func()) {
	s.askText(asking{
		title: "Another cloth", label: "Name", hint: "What the cloth is called", word: "Take it",
		says: "Its thickness and width can be added when the pieces are laid out.", take: take, out: out,
	})
}

// askReason asks why a finding may stay.
func (s *Shell) askReason(f draft.Finding, take func(reason string) error) {
	s.askText(asking{
		title: "Live with it?", label: "Reason", hint: "Why it may stay, for whoever meets it next", word: "Live with it",
		says: f.About + ": " + f.Says, take: take,
	})
}

// keysText says what the mouse and the keys do besides the commands.
var keysText = [][2]string{
	{"Click, Shift and click, Ctrl and click", "pick, add to what is picked, take out of it"},
	{"Drag", "move a piece or, once picked, its points, handles, edges; Shift: straight"},
	{"Drag on bare bench", "pick what lies in the box; Shift adds it, Ctrl takes it out; Q for a loop drawn by hand"},
	{"Ctrl+C, Ctrl+X, Ctrl+V", "copy and cut pieces, paste them where the pointer is, in any window"},
	{"Double click an edge", "put a point there"},
	{"Arrow keys", "nudge by 1 mm; with Shift 10 mm, with Ctrl 0.1 mm"},
	{"Page Down, Page Up", "the next piece, the one before"},
	{"P, E", "from a piece to its points, to its edges"},
	{". and ,", "the next point or edge, the one before"},
	{"Wheel", "zoom at the pointer; with Shift move across"},
	{"Up, Down, Page Up, Page Down", "in Draft, step by step: through the construction"},
	{"Arrow keys in Trace", "move the mark placed last by a pixel of the picture; with Shift ten, with Alt or Ctrl a tenth; Backspace takes it back"},
	{"[ and ] in Trace", "turn the picture in hand a quarter"},
	{"Two fingers on a pad", "move the view; with Ctrl zoom"},
	{"Middle button, or Space and drag", "move the view"},
	{"Ctrl while drawing or dragging", "nothing catches the pointer; C turns that off and on for good"},
	{"Drag from the left or lower border", "pull out a guide; back over the border takes it away"},
	{"Esc", "out of what is under way, then up to the piece, then nothing, then all pieces seen again, then the tool that picks"},
	{"Ctrl+F6", "from the bench to the tray, the panel at the right, and back"},
	{"F10, or Alt alone", "the menus; then the arrow keys, Return and Esc"},
	{"Tab", "through the fields; Return takes a value, Esc puts the old one back"},
}

// showKeys shows what the keys and the mouse do.
func (s *Shell) showKeys() {
	grid := control.Stack(5)
	add := func(a, b string) {
		grid.Add(container.NewBorder(nil, nil, container.NewVBox(control.NewProse(a, 12.5, true, look.Ink, 220)), nil, control.NewProse(b, 12.5, false, look.Ink, 410)))
	}
	for _, k := range keysText {
		add(k[0], k[1])
	}
	for _, t := range s.tools {
		add(t.Info().Key, t.Info().Name)
	}
	for _, c := range s.commands {
		if k := c.keyText(); k != "" {
			add(k, c.says)
		}
	}
	scroll := container.NewVScroll(control.Inset(2, 2, 12, 2, grid))
	q := s.ask("Keys and gestures", control.Wide(660, control.Tall(420, scroll)), nil, answer{word: "Good", main: true, out: true})
	q.scroll = scroll
}

// showAbout says what this is and whose work is inside.
func (s *Shell) showAbout() {
	licence := widget.NewLabel(assets.FontLicence())
	licence.Wrapping = fyne.TextWrapWord
	scroll := container.NewVScroll(licence)
	body := control.Stack(10,
		prose("Hemlet is a pattern workbench for people who sew for bodies that no bought pattern fits. It is free software under the MIT licence and comes without any warranty: check the 50 mm square before you cut."),
		control.NewText("The letters are set in these fonts:", 12.5, true, look.Ink),
		control.Tall(240, scroll))
	q := s.ask("Hemlet", control.Wide(560, body), nil, answer{word: "Good", main: true, out: true})
	q.scroll = scroll
}
