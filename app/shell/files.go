package shell

import (
	"errors"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/tracer"
	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
)

// files opens, saves and brings in.
type files struct {
	s *Shell
	// stamp is what the file was when it was read or written.
	stamp *store.Stamp
	// told is what the file was when a change by another program was last told of.
	told *store.Stamp
	// looking says that the file is being looked at.
	looking bool
	// opening counts the documents that were opened.
	opening     int
	recent      *fyne.MenuItem
	recentAfter *command
	keeper      keeper
}

// The ending of a project file, and those of drawings.
const projectEnding = ".hemlet"

var drawingEndings = []string{".svg", ".svgz", ".dxf"}

func newFiles(s *Shell) *files {
	f := &files{s: s}
	f.keeper.failed = f.failedJournal
	return f
}

// guard does something that would drop the document, after asking whether to save
// it.
func (f *files) guard(then func()) {
	if !f.s.desk.Dirty() {
		f.keepUnit()
		then()
		return
	}
	name := f.s.desk.Project().Name
	f.s.ask("Save “"+name+"” first?", prose("It has changes that are in no file yet."), nil,
		answer{word: "Cancel", out: true},
		answer{word: "Drop changes", hint: "Go on without saving", do: func() bool {
			f.s.later(then)
			return true
		}},
		answer{word: "Save", main: true, do: func() bool {
			f.s.later(func() { f.save(then) })
			return true
		}})
}

// keepUnit writes a unit that is another than the file says, where nothing else has
// changed: nobody needs to be asked for that. Where it cannot be written, it is left.
func (f *files) keepUnit() {
	p, path := f.s.desk.Project(), f.s.desk.Path()
	if path == "" || f.stamp == nil || !f.s.desk.UnitChanged() {
		return
	}
	if stamp, err := store.Save(path, p, f.stamp); err == nil {
		f.stamp = &stamp
		f.s.desk.MarkSaved(p, path)
		f.keepPast(path, stamp)
	}
}

// new begins an empty project.
func (f *files) new() {
	f.guard(func() {
		f.fresh()
		f.s.enter(stationStart)
	})
}

// fresh puts an empty project on the desk.
func (f *files) fresh() {
	f.stamp = nil
	f.opened(f.s.blank(), "")
}

// open asks for a project file and opens it.
func (f *files) open() {
	f.guard(func() {
		f.s.chooseFile("Open a project", "Open", []string{projectEnding}, func(path string) { f.Open(path) })
	})
}

// Open opens a project file. It reports whether that could be done; the document
// that lay open is untouched where it could not.
func (f *files) Open(path string) bool {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	p, stamp, err := store.Load(path)
	if err != nil {
		f.s.tell("This could not be opened", err.Error())
		return false
	}
	f.stamp = &stamp
	f.opened(p, path)
	f.recallPast(path, stamp)
	f.remember(path)
	return true
}

// opened puts a project on the desk.
func (f *files) opened(p *draft.Project, path string) {
	f.opening++
	f.s.enter(stationShape)
	f.s.sampleOpen = false
	f.s.desk.Open(p, path)
	f.startJournal()
	f.s.focusBench()
}

// save saves the project and does then, if there is anything to do.
func (f *files) save(then func()) {
	if f.s.desk.Path() == "" {
		f.saveAs(then)
		return
	}
	f.write(f.s.desk.Path(), f.stamp, then)
}

// saveAs asks for a name and saves the project under it.
func (f *files) saveAs(then func()) {
	name := f.s.desk.Path()
	if name == "" {
		name = fileName(f.s.desk.Project().Name) + projectEnding
	}
	f.s.chooseTarget("Save the project", "Save", name, []string{projectEnding}, func(path string) {
		if path == f.s.desk.Path() {
			f.write(path, f.stamp, then)
			return
		}
		f.replacing(path, func() { f.write(path, nil, then) })
	})
}

// fileName returns the name without what no file name may hold.
func fileName(name string) string {
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '-'
		}
		return r
	}, strings.TrimSpace(name))
	if name == "" {
		return "pattern"
	}
	return name
}

// replacing asks before something is written over a file.
func (f *files) replacing(path string, then func()) {
	if !exists(path) {
		then()
		return
	}
	f.s.ask("Replace “"+filepath.Base(path)+"”?", prose("There is a file of this name already. What is in it is lost if you replace it."), nil,
		answer{word: "Cancel", out: true, main: true},
		answer{word: "Replace", do: func() bool {
			f.s.later(then)
			return true
		}})
}

// write saves the project to the path.
func (f *files) write(path string, seen *store.Stamp, then func()) {
	f.s.desk.DropTrial()
	f.s.nameByFile(path)
	p := f.s.desk.Project()
	stamp, err := store.Save(path, p, seen)
	switch {
	case errors.Is(err, store.ErrChangedOutside):
		f.changedOutside(path, then)
		return
	case err != nil:
		f.s.tell("This could not be saved", err.Error()+"\nThe project is as it was; save it under another name or in another place.")
		return
	}
	f.stamp = &stamp
	home, homeErr := f.s.pictureHome()
	f.s.desk.MarkSaved(p, path)
	if homeErr == nil {
		f.takeAlong(p, home, path)
	}
	f.keeper.noteSaved(path)
	f.keepPast(path, stamp)
	f.remember(path)
	f.s.Say("Saved " + filepath.Base(path) + ".")
	if then != nil {
		then()
	}
}

// changedOutside asks what to do where saving would undo what another program did.
func (f *files) changedOutside(path string, then func()) {
	f.s.ask("“"+filepath.Base(path)+"” was changed elsewhere", prose("Another program, or another window, has written this file since it was opened here. Replacing it would undo what was done there; opening it drops what was done here."), nil,
		answer{word: "Cancel", out: true},
		answer{word: "Open the new one", hint: "Drop what was changed here and open the file as it now is", do: func() bool {
			f.s.later(func() { f.Open(path) })
			return true
		}},
		answer{word: "Replace it", hint: "Write this project over the file", do: func() bool {
			f.s.later(func() { f.write(path, nil, then) })
			return true
		}},
		answer{word: "Save as…", main: true, do: func() bool {
			f.s.later(func() { f.saveAs(then) })
			return true
		}})
}

// watchEvery is how often the file of the document is looked at.
const watchEvery = 3 * time.Second

// watch looks at the file of the document every now and then, off the window's
// goroutine, and tells where another program has changed it. It never returns.
func (f *files) watch() {
	for range time.Tick(watchEvery) {
		control.OnMain(f.look)
	}
}

// look has the file of the document compared with what it was, unless a question is
// in the way.
func (f *files) look() {
	path, seen := f.s.desk.Path(), f.stamp
	if path == "" || seen == nil || f.s.question != nil || f.looking {
		return
	}
	f.looking = true
	go func() {
		now, changed := store.Now(path, *seen)
		control.OnMain(func() {
			f.looking = false
			if changed && f.stamp == seen && f.s.desk.Path() == path && f.s.question == nil {
				f.tellChanged(path, now)
			}
		})
	}()
}

// tellChanged tells, once for every state of the file, that another program has
// changed it.
func (f *files) tellChanged(path string, now store.Stamp) {
	if f.told != nil && f.told.Hash == now.Hash {
		return
	}
	f.told = &now
	text := "Another program, or another window, has written this file."
	if f.s.desk.Dirty() {
		text += " What was changed here and not saved is dropped if you open the new one."
	}
	f.s.ask("“"+filepath.Base(path)+"” was changed elsewhere", prose(text), nil,
		answer{word: "Keep mine", out: true, hint: "Go on with what is here; saving it asks again", do: func() bool {
			f.s.desk.MarkUnsaved()
			f.note()
			return true
		}},
		answer{word: "Open the new one", main: true, hint: "Open the file as it now is", do: func() bool {
			f.s.later(func() { f.Open(path) })
			return true
		}})
}

// close closes the window, after asking.
func (f *files) close() {
	f.guard(func() {
		f.dropJournal()
		f.s.win.Close()
	})
}

// dropped opens what was dropped on the window.
func (f *files) dropped(pos fyne.Position, uris []fyne.URI) {
	if f.s.question != nil {
		f.s.Say("Answer the question first, then drop the files again.")
		return
	}
	var drawings, pictures []string
	var scans bool // of which a picture is not laid under
	for _, u := range uris {
		path := u.Path()
		switch {
		case hasEnding(path, []string{projectEnding}):
			f.guard(func() { f.Open(path) })
			return
		case hasEnding(path, drawingEndings):
			drawings = append(drawings, path)
		case hasEnding(path, intake.PictureEndings()):
			pictures = append(pictures, path)
		case hasEnding(path, []string{tracer.PDFEnding}):
			pictures, scans = append(pictures, path), true
		default:
			f.s.tell("This cannot be brought in", filepath.Base(path)+" is neither a project ("+projectEnding+") nor a drawing ("+strings.Join(drawingEndings, ", ")+") nor a picture ("+strings.Join(pictureEndings(), ", ")+").")
			return
		}
	}
	switch {
	case len(pictures) == 0:
	case scans || f.s.station != stationShape:
		f.s.traceFiles(pictures)
	default:
		f.layUnder(pictures, f.s.bench.PlaceAt(pos))
	}
	if len(drawings) > 0 {
		f.bringIn(drawings)
	}
}

// prefRecent is the preference that keeps the files that were used last.
const (
	prefRecent = "recent"
	mostRecent = 8
)

// lastUsed lists the files that were used last, the latest first.
func (f *files) lastUsed() []string { return f.s.app.Preferences().StringList(prefRecent) }

// remember puts a file first among those that were used last.
func (f *files) remember(path string) {
	list := []string{path}
	for _, p := range f.lastUsed() {
		if p != path && len(list) < mostRecent {
			list = append(list, p)
		}
	}
	f.s.app.Preferences().SetStringList(prefRecent, list)
	if f.recent != nil {
		f.recent.ChildMenu = f.recentMenu()
		f.s.menu.Refresh()
	}
}

func (f *files) recentMenu() *fyne.Menu {
	m := fyne.NewMenu("")
	for _, path := range f.lastUsed() {
		m.Items = append(m.Items, fyne.NewMenuItem(filepath.Base(path)+"  ·  "+filepath.Dir(path), func() {
			f.guard(func() { f.Open(path) })
		}))
	}
	if len(m.Items) == 0 {
		none := fyne.NewMenuItem("Nothing yet", nil)
		none.Disabled = true
		m.Items = append(m.Items, none)
	}
	return m
}
