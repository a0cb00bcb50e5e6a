package tracer

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// step is one of the steps from a picture to pieces. It belongs to the window's
// goroutine. What it shows of the document it reads anew in update: anything may have
// changed, by undo or elsewhere.
type step interface {
	// name is what the list of steps says, says the one sentence on what to do.
	name() string
	says() string
	// panel is what lies under the sentence; it is asked for once.
	panel() fyne.CanvasObject
	// standing says how far the step has come.
	standing() standing
	// entered and left tell that the step is taken up and put away.
	entered()
	left()
	// update shows the document, the picture in hand and what was read of it as they now
	// stand. It is called only while the step is taken up.
	update()
	// layers are laid over the pictures, bottom first.
	layers() []*sheet.Layer
	// picture says how a picture is shown: by other pixels of the same size, nil for its
	// own, and how strongly, 0 to 1.
	picture(pic *draft.Picture) (of *paint.Pyramid, strong float64)
	// press offers a press of the button at a place; what is taken comes to drag and drop.
	press(at geom.Point) bool
	drag(at geom.Point)
	drop(at geom.Point)
	// tapped is told of a click, with the id of the step's own thing under it, if any.
	tapped(id string, at geom.Point)
	// moved is told where the pointer is while no button is down.
	moved(id string, at geom.Point, on bool)
	// viewed tells that the pictures are seen from elsewhere or at another scale.
	viewed()
	// key gets the keys, with the modifiers that are held, and says whether it used them.
	key(k fyne.KeyName, mods fyne.KeyModifier) bool
	// pointer is how the pointer looks over the pictures.
	pointer() desktop.Cursor
	// hint is the line at the foot of the window.
	hint() string
}

// standing is how far a step has come.
type standing struct {
	// done gives it a tick; idle says that there is nothing to do, so that Next passes it
	// by.
	done, idle bool
	// says is a word or two beside its name.
	says string
}

// plain is a step that does nothing, for others to be made of. It holds the room.
type plain struct{ *Room }

func (plain) entered()                       {}
func (plain) left()                          {}
func (plain) layers() []*sheet.Layer         { return nil }
func (plain) press(geom.Point) bool          { return false }
func (plain) drag(geom.Point)                {}
func (plain) drop(geom.Point)                {}
func (plain) viewed()                        {}
func (plain) moved(string, geom.Point, bool) {}
func (plain) pointer() desktop.Cursor        { return desktop.DefaultCursor }
func (plain) picture(*draft.Picture) (*paint.Pyramid, float64) {
	return nil, 1
}
func (plain) key(fyne.KeyName, fyne.KeyModifier) bool { return false }

// tapped takes the picture that was clicked in hand.
func (p plain) tapped(_ string, at geom.Point) { p.chooseAt(at) }
