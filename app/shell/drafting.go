package shell

import (
	"fmt"
	"net/url"
	"os"
	"path/filepath"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/station"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
)

// stationDraft is where blocks are drafted.
const stationDraft = "Draft"

// newDraft makes the station where blocks are drafted.
func (s *Shell) newDraft() (*station.Draft, error) {
	return station.NewDraft(s.desk, s.palette(), station.DraftHost{
		Say:       s.Say,
		NewWearer: s.measureNew,
		Measures:  s.showWearer,
		Drafted:   s.showDrafted,
		AskName:   s.askName,
		OpenPath:  s.openPath,
		Folder:    s.blocksDir,
		Trace:     s.trace,
		View:      func() { s.status.view() },
		Pointer:   func(at geom.Point, on bool) { s.status.pointer(at, on) },
		Tried:     func() { s.status.update() },
	})
}

// draftSeat is the station as it sits in the window.
func (s *Shell) draftSeat() *seat {
	d := s.draft
	return &seat{
		name: stationDraft, icon: "draft", hint: "Draft: have a pattern drafted for the wearer from a block (F3)",
		left: d.Left(), centre: d.Centre(), side: d.Side(), focus: d.Focus(), key: d.Key,
		says: d.Says, shown: d.Shown, hidden: d.Hidden, changed: d.Changed, back: d.Back,
		percent: d.Percent, fit: d.Fit, palette: d.SetPalette, fault: d.Fault,
	}
}

// blocksDir returns the folder of the user's own blocks.
func (s *Shell) blocksDir() string {
	if s.BlocksDir != "" {
		return s.BlocksDir
	}
	config, err := os.UserConfigDir()
	if err != nil {
		s.Say("There is no folder to keep blocks in: " + err.Error())
		return ""
	}
	return filepath.Join(config, "hemlet", "blocks")
}

// showDrafted shows the pieces that a block has made.
func (s *Shell) showDrafted(pieces []draft.ID) {
	var refs []desk.Ref
	for _, id := range pieces {
		refs = append(refs, desk.PieceRef(id))
	}
	s.enter(stationShape)
	s.desk.Pick(refs...)
	s.bench.FitPicked()
	s.focusBench()
}

// askName asks for a name; where take says why one cannot be had, the question stays.
func (s *Shell) askName(title, says, propose string, take func(name string) error) {
	field := control.NewField("The name", nil)
	field.Put(propose)
	field.CursorColumn = len([]rune(propose))
	wrong := control.NewProse("", 12, false, look.PinText, askWidth)
	var q *question
	done := func() bool {
		err := take(field.Text)
		if err != nil {
			wrong.Put(wording.Sentence(err.Error()))
		}
		return err == nil
	}
	field.Done = func() {
		if done() {
			q.close()
		}
	}
	body := control.Stack(10, prose(says), control.Wide(askWidth, field.Object()), wrong)
	q = s.ask(title, body, field, answer{word: "Cancel", out: true}, answer{word: "Make it", main: true, do: done})
}

// openPath opens a file or a folder in the program that the desktop has for it; a
// folder that is not there yet is made.
func (s *Shell) openPath(path string) error {
	if filepath.Ext(path) == "" {
		if err := os.MkdirAll(path, 0o755); err != nil {
			return err
		}
	}
	if err := s.app.OpenURL(&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}); err != nil {
		return fmt.Errorf("this desktop opens no files for other programs; look for %s yourself", path)
	}
	return nil
}
