package station

import (
	"errors"
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/body"
)

// blockList is the list of blocks at the left: ours, and those of the user's folder.
type blockList struct {
	s      *Draft
	object fyne.CanvasObject
	rows   *fyne.Container
	scroll *container.Scroll
	// open leads to the user's folder, whose path is under it.
	open    *control.Button
	folder  *control.Prose
	thumbs  *sheet.Painter
	palette paint.Palette
	// images are the small pictures by the texts of their blocks.
	images map[string]*canvas.Image
	// shown is what the list was made from.
	shown string
	// textWide is how wide the text of a card is.
	textWide float32
	cards    map[string]*control.Card
}

// Sizes of the list in screen units.
const (
	listLeast  = 168
	thumbSide  = 46
	cardAround = 96 // of a card's width, what is not its text
)

func newBlockList(s *Draft, thumbs *sheet.Painter) *blockList {
	l := &blockList{s: s, thumbs: thumbs, rows: control.Stack(8), images: map[string]*canvas.Image{}, cards: map[string]*control.Card{}, textWide: 132}
	l.setColours(s.palette)
	l.scroll = container.NewVScroll(control.Inset(12, 12, 12, 12, l.rows))
	l.folder = control.NewProse("", 10.5, false, look.Faint, l.textWide)
	l.open = control.NewButton(control.QuietShape, "open", "Open the folder", "", s.openFolder)
	foot := control.Stack(8,
		control.NewButton(control.QuietShape, "new", "New from this…", "Copy the chosen block into your folder under a new name, to change it there", s.newBlock),
		l.open, l.folder,
		control.NewButton(control.QuietShape, "trace", "Trace a picture…", "Make pieces of a scan or photograph of a pattern instead (Ctrl+T)", func() { s.host.Trace() }))
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	l.object = container.New(listWide{l}, container.NewBorder(nil, control.Stack(0, line, control.Inset(12, 9, 12, 9, foot)), nil, nil, l.scroll))
	return l
}

// listWide lets the list be as narrow as it says, and has it made anew for the width
// that it gets.
type listWide struct{ l *blockList }

func (listWide) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(listLeast, o[0].MinSize().Height)
}

func (w listWide) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	if text := size.Width - cardAround; text != w.l.textWide {
		w.l.textWide, w.l.shown = text, ""
		w.l.update()
	}
	o[0].Resize(size)
}

// setColours takes the colours in; the pictures lie on cards and not on the bench.
func (l *blockList) setColours(p paint.Palette) {
	l.palette = p
	l.palette[paint.Bench] = color.NRGBAModel.Convert(theme.Color(look.Card)).(color.NRGBA)
}

func (l *blockList) setPalette(p paint.Palette) {
	l.setColours(p)
	clear(l.images)
	l.shown = ""
	l.update()
}

// update lists the blocks as they now stand.
func (l *blockList) update() {
	given := body.Given{}
	if w := l.s.desk.Project().Wearer(l.s.wearer); w != nil {
		given = w.Given()
	}
	if key := l.signature(given); key != l.shown {
		l.shown = key
		l.rebuild(given)
	}
	for name, c := range l.cards {
		c.SetChosen(name == l.s.chosen)
	}
}

// signature names all that the list shows.
func (l *blockList) signature(g body.Given) string {
	var b strings.Builder
	for _, e := range l.s.library.entries {
		fmt.Fprintln(&b, e.File, e.Users, e.Says(), l.wants(e, g), l.drafted(e))
		if e.Err == nil {
			fmt.Fprintln(&b, e.Block.Title, e.Block.Says, len(e.Block.Text()))
		}
	}
	if l.s.library.err != nil {
		b.WriteString(l.s.library.err.Error())
	}
	return b.String()
}

func (l *blockList) rebuild(g body.Given) {
	l.rows.RemoveAll()
	clear(l.cards)
	l.rows.Add(control.Inset(2, 0, 0, 2, control.NewText("Blocks", control.TitleSize, true, look.Ink)))
	users := 0
	for _, e := range l.s.library.entries {
		if e.Users {
			users++
			continue
		}
		l.rows.Add(l.card(e, g))
	}
	l.rows.Add(control.Inset(2, 8, 0, 0, control.NewText("Yours", 13, true, look.Ink)))
	if l.s.library.err != nil {
		l.rows.Add(control.NewProse(wording.Sentence(l.s.library.err.Error()), 11.5, false, look.PinText, l.textWide+thumbSide+18))
	}
	if users == 0 {
		l.rows.Add(control.NewProse("None yet. A block is a text file; begin with a copy of one of ours, change it in any text editor, and see it here whenever you save it.", 11.5, false, look.Faint, l.textWide+thumbSide+18))
	}
	for _, e := range l.s.library.entries {
		if e.Users {
			l.rows.Add(l.card(e, g))
		}
	}
	folder := folderName(l.s.library.folder)
	l.open.Hint = "Open your folder of blocks: " + folder
	l.folder.SetWidth(l.textWide + thumbSide + 18)
	l.folder.Put(folder)
	l.rows.Refresh()
	l.scroll.Refresh()
}

// wants says in a few words which measures the block still wants of the wearer.
func (l *blockList) wants(e block.Entry, g body.Given) string {
	if e.Err != nil {
		return ""
	}
	needed, taken, estimated := wantsOf(e.Block, g)
	switch {
	case len(e.Block.Wants()) == 0:
		return "needs no measures"
	case len(needed) > 2:
		return fmt.Sprintf("wants %d measures", len(needed))
	case len(needed) > 0:
		words := make([]string, len(needed))
		for i, n := range needed {
			words[i] = wordsOf(e.Block, n)
		}
		return "wants " + strings.Join(words, " and ")
	case estimated > 0 && taken == 0:
		return "all measures are estimated"
	case estimated > 0:
		return wording.Count(taken, "measure") + " taken, the others estimated"
	}
	return "all measures are taken"
}

// drafted reports whether the block has made pieces for the wearer.
func (l *blockList) drafted(e block.Entry) bool {
	p := l.s.desk.Project()
	return e.Err == nil && l.s.derivation(p, p.Wearer(l.s.wearer), e.Block.Name) != nil
}

func (l *blockList) card(e block.Entry, g body.Given) fyne.CanvasObject {
	if e.Err != nil {
		return l.faulty(e)
	}
	lines := control.Stack(1,
		control.NewProse(l.titleOf(e), 13, true, look.Ink, l.textWide),
		control.NewProse(e.Block.Says, 11, false, look.Faint, l.textWide))
	needed, _, _ := wantsOf(e.Block, g)
	colour := fyne.ThemeColorName(look.Faint)
	if len(needed) > 0 {
		colour = look.OchreText
	}
	lines.Add(control.NewProse(l.wants(e, g), 11, len(needed) > 0, colour, l.textWide))
	if l.drafted(e) {
		lines.Add(control.Row(4, control.NewMark(control.Holds, 12), control.NewText("drafted", 11, false, look.MossText)))
	}
	if e.Shadows {
		lines.Add(control.NewProse(e.Says(), 11, false, look.OchreText, l.textWide))
	}
	row := container.NewBorder(nil, nil, control.Inset(0, 2, 9, 0, container.NewVBox(l.thumb(e.Block))), nil, lines)
	name := e.Block.Name
	c := control.NewCard(control.Inset(9, 8, 8, 9, row), e.Block.Title+": "+e.Block.Says, func() { l.s.Choose(name) })
	l.cards[name] = c
	return c
}

// titleOf returns the title of a block; where another has the same, with its file.
func (l *blockList) titleOf(e block.Entry) string {
	for _, other := range l.s.library.entries {
		if other.Err == nil && other.Block != e.Block && other.Block.Title == e.Block.Title {
			return e.Block.Title + " (" + e.File + ")"
		}
	}
	return e.Block.Title
}

// faulty is the card of a file that is no block; pressed, it opens the file.
func (l *blockList) faulty(e block.Entry) fyne.CanvasObject {
	title, lines := e.File, control.Stack(3)
	add := func(text string, colour fyne.ThemeColorName) {
		if text != "" {
			lines.Add(control.NewProse(text, 11, false, colour, l.textWide+thumbSide))
		}
	}
	var at *block.Error
	if errors.As(e.Err, &at) {
		if at.Line > 0 {
			title = fmt.Sprintf("%s, line %d", e.File, at.Line)
		}
		add(at.Key, look.Ink)
		add(at.Formula, look.Level)
		add(wording.Sentence(at.Says)+".", look.PinText)
	} else {
		add(wording.Sentence(e.Err.Error())+".", look.PinText)
	}
	head := control.Row(6, control.NewMark(control.Problem, 14), control.NewText(title, 12.5, true, look.PinText).AtLeast(l.textWide+thumbSide-24))
	return control.NewCard(control.Inset(9, 8, 8, 9, control.Stack(4, head, lines)), "Open this file to mend it", func() {
		l.s.open(l.s.library.path(e))
	}).Coloured(control.Problem.Ground(), control.Problem.Rim())
}

// usual is a body for which most blocks can be drafted, for their small pictures: its
// figures are round ones of an adult.
var usual = body.Given{"stature": 1680, "bust_girth": 920, "waist_girth": 760, "hip_girth": 980, "back_waist_length": 410, "head_girth": 560}

// thumb returns the small picture of a block: its pieces side by side, or an icon where
// it cannot be drafted for a usual body.
func (l *blockList) thumb(b *block.Block) fyne.CanvasObject {
	if img := l.images[b.Text()]; img != nil {
		return img
	}
	drafted, err := b.Draft(usual, nil)
	if err != nil {
		return control.Inset(8, 4, 8, 4, control.NewIcon("draft", look.Chalk, thumbSide-16))
	}
	layer := &sheet.Layer{}
	for i := range drafted.Pieces {
		layer.Things = append(layer.Things, &sheet.Thing{Marks: []paint.Mark{
			sheet.Filled(outlineOf(&drafted.Pieces[i]), paint.Of(paint.Cloth), sheet.Solid(paint.Ink, 1.1)),
		}})
	}
	const fine = 2 // pixels a unit, for sharp screens
	img := canvas.NewImageFromImage(l.thumbs.Picture(&l.palette, thumbSide*fine, thumbSide*fine, fine, 2, layer))
	img.FillMode = canvas.ImageFillContain
	img.SetMinSize(fyne.NewSquareSize(thumbSide))
	l.images[b.Text()] = img
	return img
}

// newBlock asks for a name and copies the chosen block into the user's folder.
func (s *Draft) newBlock() {
	e, ok := s.library.named(s.chosen)
	if !ok {
		s.host.Say("Choose a block to copy first.")
		return
	}
	s.host.AskName("New block from “"+e.Block.Title+"”",
		"Its text is copied into your folder under this name. Change it there in any text editor; what you save is seen here at once.",
		"My "+strings.ToLower(e.Block.Title), func(title string) error {
			name, path, err := s.library.copyOf(e.Block, title)
			if err != nil {
				return err
			}
			s.tried[name] = append([]draft.Setting(nil), s.tried[e.Block.Name]...)
			s.Choose(name)
			s.Update()
			s.host.Say("The new block is " + path + ".")
			s.open(path)
			return nil
		})
}

func (s *Draft) openFolder() { s.open(s.library.folder) }

// open opens a file or folder of the user's in the program that the desktop has for it.
func (s *Draft) open(path string) {
	if err := s.host.OpenPath(path); err != nil {
		s.host.Say(err.Error())
	}
}
