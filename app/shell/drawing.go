package shell

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/geom"
)

// bringing is a set of drawings that is about to become pieces.
type bringing struct {
	s        *Shell
	paths    []string
	drawings []*intake.Drawing
	line     draft.DrawnLine
	// unitMM is how large a unit of the file is where the file does not say.
	unitMM    float64
	allowance float64
	// anew says that they begin a project of their own; then, where not nil, is called once
	// they are in.
	anew  bool
	then  func()
	seen  *control.Prose
	field *control.Field
}

// usualAllowance is what the question proposes, in mm: the middle of what puppets
// are given (common practice, no source).
const usualAllowance = 6

// The preferences that keep what was last said of a drawing: the allowance in mm, and
// what its lines are.
const (
	prefAllowance = "drawing allowance"
	prefLine      = "drawing line"
	stitchWord    = "stitching line"
	cutWord       = "cut line"
)

// unnamedPiece is what the only piece of a drawing is called that names none.
const unnamedPiece = "Piece 1"

// askDrawing asks for a drawing and brings it in.
func (f *files) askDrawing() {
	f.s.chooseFile("Bring in a drawing", "Go on", drawingEndings, func(path string) { f.bringIn([]string{path}) })
}

// bringIn reads the drawings and asks what their lines are.
func (f *files) bringIn(paths []string) { f.bring(paths, false) }

func (f *files) bring(paths []string, anew bool) { f.bringThen(paths, anew, nil) }

// bringThen brings drawings in, into a project of their own if anew, and then calls then.
func (f *files) bringThen(paths []string, anew bool, then func()) {
	prefs := f.s.app.Preferences()
	b := &bringing{s: f.s, paths: paths, anew: anew, then: then, allowance: prefs.FloatWithFallback(prefAllowance, usualAllowance)}
	if prefs.String(prefLine) == cutWord {
		b.line = draft.CutDrawn
	}
	b.read(0, b.ask, func() {})
}

// read reads the files off the window's goroutine, where they do not say it in a
// unit of so many mm, and then calls done; or else out, where they could not be
// read or were not to be.
func (b *bringing) read(unitMM float64, done, out func()) {
	ctx, cancel := context.WithCancel(context.Background())
	wait := b.s.ask("Reading "+filepath.Base(b.paths[0])+" …", nil, nil, answer{word: "Stop", out: true, do: func() bool {
		cancel()
		return true
	}})
	paths := b.paths
	go func() {
		drawings, err := readDrawings(ctx, paths, unitMM)
		control.OnMain(func() {
			stopped := ctx.Err() != nil
			var silent *intake.UnitError
			cancel()
			wait.close()
			switch {
			case stopped:
				out()
			case errors.As(err, &silent):
				b.askUnit(silent, done, out)
			case err != nil:
				out()
				b.s.tell("This could not be read", err.Error())
			default:
				b.drawings, b.unitMM = drawings, unitMM
				done()
			}
		})
	}()
}

func readDrawings(ctx context.Context, paths []string, unitMM float64) ([]*intake.Drawing, error) {
	var out []*intake.Drawing
	for _, path := range paths {
		d, err := readDrawing(ctx, path, unitMM)
		if err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
}

// readDrawing reads one drawing. unitMM counts only where the file itself does not
// say how large it is, so that of several drawings those that do keep their size.
func readDrawing(ctx context.Context, path string, unitMM float64) (*intake.Drawing, error) {
	d, err := readAs(ctx, path, 0)
	var silent *intake.UnitError
	if unitMM > 0 && (errors.As(err, &silent) || err == nil && d.Scale.Assumed) {
		return readAs(ctx, path, unitMM)
	}
	return d, err
}

func readAs(ctx context.Context, path string, unitMM float64) (*intake.Drawing, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return intake.Read(ctx, filepath.Base(path), f, intake.Options{UnitMM: unitMM})
}

// askUnit asks in which unit drawings are that cannot be read without one, and reads
// them again.
func (b *bringing) askUnit(silent *intake.UnitError, done, out func()) {
	words := make([]string, len(fileUnits))
	for i, u := range fileUnits {
		words[i] = u.short
	}
	unit := unitOf(silent.LikelyMM())
	pill := control.NewPill("What one unit of the drawing is; the left and right keys change it", words, func(i int) { unit = i })
	pill.Put(unit)
	says := "Nothing in the file says how large one unit of it is. Its other settings are metric, or it has none."
	if silent.Inches {
		says = "Nothing in the file says how large one unit of it is. Its other settings are those of inches."
	}
	b.s.ask("What is "+b.title()+" drawn in?",
		control.Stack(12, prose(says+" The next step shows how large it comes out, and the unit can still be changed there."), control.Labelled("One unit is", control.Row(0, pill))), pill,
		answer{word: "Cancel", out: true, do: func() bool { out(); return true }},
		answer{word: "Read", main: true, do: func() bool {
			b.s.later(func() { b.read(fileUnits[unit].mm, done, out) })
			return true
		}})
}

// unitOf returns the place in fileUnits of a unit of so many mm, -1 for none.
func unitOf(mm float64) int {
	for i, u := range fileUnits {
		if d := u.mm - mm; d < 1e-9 && d > -1e-9 {
			return i
		}
	}
	return -1
}

// fileUnits are the units that a silent file may be in.
var fileUnits = []struct {
	short, word string
	mm          float64
}{
	{"mm", "millimetres", 1}, {"cm", "centimetres", 10}, {"in", "inches", draft.MMPerInch},
	{"pt", "points, 72 an inch", draft.MMPerInch / 72}, {"px", "pixels, 96 an inch", draft.MMPerInch / 96},
}

// ask shows what was read and asks what its lines are.
func (b *bringing) ask() {
	unit := b.s.desk.Project().Unit
	b.seen = control.NewProse("", 12.5, false, look.Faint, askWidth)
	line := control.NewPill("What the closed lines of the drawing are", []string{stitchWord, cutWord}, func(i int) {
		b.line = draft.DrawnLine(i)
		b.update()
	})
	line.Put(int(b.line))
	b.field = control.NewField("Cloth left outside the stitching line on every edge", func(text string) error {
		mm, err := unit.Parse(text)
		if err == nil {
			b.allowance = mm
			b.update()
		}
		return err
	})
	b.field.Put(unit.Format(b.allowance))
	rows := control.Stack(10, control.Labelled("The lines are", control.Row(0, line)), control.Labelled("Allowance", b.field.Object()))
	if b.silent() {
		words := make([]string, len(fileUnits))
		for i, u := range fileUnits {
			words[i] = u.word
		}
		var choice *control.Choice
		choice = control.NewChoice("What one unit of the drawing is; the file does not say", words, func(i int) {
			b.read(fileUnits[i].mm, b.update, func() { choice.Put(b.unitIndex()) })
		})
		choice.Put(b.unitIndex())
		rows.Add(control.Labelled("It is drawn in", choice.Object()))
	}
	rows.Add(b.seen)
	b.update()
	var q *question
	b.field.Done = func() {
		if b.take() {
			q.close()
		}
	}
	q = b.s.ask("Bring in "+b.title(), rows, b.field,
		answer{word: "Cancel", out: true},
		answer{word: "Bring in", main: true, do: b.take})
}

func (b *bringing) title() string {
	if len(b.paths) == 1 {
		return "“" + filepath.Base(b.paths[0]) + "”"
	}
	return fmt.Sprintf("%d drawings", len(b.paths))
}

// silent reports whether a file does not say how large it is.
func (b *bringing) silent() bool {
	for _, d := range b.drawings {
		if d.Scale.Assumed {
			return true
		}
	}
	return b.unitMM != 0
}

func (b *bringing) unitIndex() int {
	mm := b.unitMM
	if mm == 0 && len(b.drawings) > 0 {
		mm = b.drawings[0].Scale.MM
	}
	return unitOf(mm)
}

// update says what the drawings hold.
func (b *bringing) update() {
	outlines, warnings, err := b.outlines()
	if err != nil {
		b.seen.Put(err.Error())
		return
	}
	box := geom.EmptyRect()
	for _, o := range outlines {
		box = box.Union(o.Path.Bounds())
	}
	u := b.s.desk.Project().Unit
	text := fmt.Sprintf("%s, %s wide and %s high together.", wording.Count(len(outlines), "piece"), u.Format(box.W()), u.Format(box.H()))
	if b.line == draft.CutDrawn {
		text += " The allowance is taken off inside the drawn lines."
	} else {
		text += " The allowance is added outside the drawn lines."
	}
	for i, w := range warnings {
		if i == 4 {
			text += fmt.Sprintf("\nand %d more remarks", len(warnings)-i)
			break
		}
		text += "\n" + wording.Sentence(w)
	}
	b.seen.Put(text)
}

func (b *bringing) outlines() ([]draft.Outline, []string, error) {
	var all []draft.Outline
	var says []string
	for _, d := range b.drawings {
		outlines, warnings, err := d.Outlines(b.line)
		if err != nil {
			return nil, nil, err
		}
		if len(outlines) == 1 && outlines[0].Name == unnamedPiece {
			outlines[0].Name = strings.TrimSuffix(d.Name, filepath.Ext(d.Name))
		}
		all = append(all, outlines...)
		for _, w := range append(append([]intake.Warning(nil), d.Warnings...), warnings...) {
			says = append(says, plainly(w))
		}
	}
	return all, says, nil
}

// plainly says a warning without the markup of the file; where it can help to find
// the place, the line of the file comes last.
func plainly(w intake.Warning) string {
	if w.Where.Line <= 1 {
		return w.Says
	}
	return fmt.Sprintf("%s (line %d of the file)", w.Says, w.Where.Line)
}

// remember keeps what was said of the drawing for the next one.
func (b *bringing) remember() {
	prefs := b.s.app.Preferences()
	prefs.SetFloat(prefAllowance, b.allowance)
	word := stitchWord
	if b.line == draft.CutDrawn {
		word = cutWord
	}
	prefs.SetString(prefLine, word)
}

// take makes the pieces.
func (b *bringing) take() bool {
	if !b.field.Settle() {
		return false
	}
	outlines, _, err := b.outlines()
	if err != nil {
		b.seen.Put(err.Error())
		return false
	}
	d := b.s.desk
	args := draft.ImportOutlinesArgs{Outlines: outlines, Line: draft.DrawnLine(b.line), Allowance: b.allowance}
	onto, nameless := d.Project(), len(d.Project().Pieces) == 0 && d.Path() == ""
	if b.anew {
		onto, nameless = b.s.blank(), true
	}
	out, err := draft.ImportOutlines.Do(onto, args)
	if err == nil && nameless {
		name := strings.TrimSuffix(filepath.Base(b.paths[0]), filepath.Ext(b.paths[0]))
		if named, nameErr := draft.RenameProject.Do(out.Project, draft.RenameProjectArgs{Name: name}); nameErr == nil {
			out.Project = named.Project
		}
	}
	if err != nil {
		b.seen.Put(wording.Sentence(err.Error()))
		return false
	}
	b.remember()
	if b.anew {
		b.s.files.fresh()
	}
	d.Commit(out.Step, out.Project, "")
	b.s.enter(stationShape)
	d.Pick(desk.PieceRef(out.Made))
	b.s.bench.Fit()
	if len(out.Says) > 0 {
		b.s.Say(strings.Join(out.Says, " "))
	}
	if b.then != nil {
		b.then()
	}
	return true
}
