package station

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
)

// The bars in screen units.
const (
	fullBarHigh   = 8
	fullBarRadius = 2
)

// fullnessBars draws under each side of a seam that is not plain how long that is, both to
// one scale: the fuller side flat, and the other one with what is drawn up to it.
type fullnessBars struct {
	// side are the bars of both sides.
	side [2]*fullBar
	// says is what is drawn up to what, takes what the cloth of a gathered side takes.
	says, takes *control.Prose
}

func newFullnessBars() *fullnessBars {
	return &fullnessBars{
		side:  [2]*fullBar{newFullBar(), newFullBar()},
		says:  control.NewProse("", 12, false, look.Ink, seamCardRoom),
		takes: control.NewProse("", 12, false, look.Faint, seamCardRoom),
	}
}

// put shows the fullness of a seam, or nothing where it has none.
func (b *fullnessBars) put(p *draft.Project, slots *draft.Slots, s *draft.Seam) {
	st, ok := fullnessOf(p, slots, s)
	takes := ""
	if ok {
		longest := max(st.Fuller, st.Other)
		b.side[s.Fuller].put(look.ChalkTint, st.Fuller/longest, st.From/longest, st.Flat/longest)
		b.side[draft.SideB-s.Fuller].put(look.Chalk, st.Other/longest, st.From/longest, st.Drawn/longest)
		b.says.Put(p.Unit.Format(st.Flat) + " " + drawnWords[s.Fullness] + " " + p.Unit.Format(st.Drawn) + ", " + ratioText(st))
		takes = takesWords(st)
		b.takes.Put(takes)
	}
	show(b.side[0].object, ok)
	show(b.side[1].object, ok)
	show(b.says, ok)
	show(b.takes, takes != "")
}

// fullnessOf returns how a seam is drawn up; false where it is plain or sews what is gone.
func fullnessOf(p *draft.Project, slots *draft.Slots, s *draft.Seam) (draft.FullnessState, bool) {
	if s.Fullness == draft.Plain {
		return draft.FullnessState{}, false
	}
	for _, st := range slots.Fullnesses(p) {
		if st.Seam.ID == s.ID {
			longest := max(st.Fuller, st.Other)
			return st, longest > 0 && !math.IsInf(longest, 0)
		}
	}
	return draft.FullnessState{}, false
}

// drawnWords says what is done with the length of the fuller side.
var drawnWords = map[draft.Fullness]string{
	draft.Ease: "eased into", draft.Gathers: "gathered to", draft.Pleats: "laid in pleats to",
}

// ratioText says how full it is and, where that is meant to be another, how full it is meant
// to be.
func ratioText(st draft.FullnessState) string {
	if st.Drawn <= 0 {
		return "for there is no room where it is to lie"
	}
	now, want := fmt.Sprintf("%.2f", st.Ratio), fmt.Sprintf("%.2f", st.Want)
	if now == want || math.IsInf(st.Want, 0) {
		return now + " to 1"
	}
	return now + ", meant " + want
}

// takesWords says how full the cloth of a gathered side may be.
func takesWords(st draft.FullnessState) string {
	if st.Seam.Fullness != draft.Gathers || st.Cloth == nil {
		return ""
	}
	if st.Most <= 1 {
		return st.Cloth.Name + " is too heavy to gather"
	}
	return fmt.Sprintf("%s gathers well from %.1f to %.1f", st.Cloth.Name, st.Least, st.Most)
}

// fullBar is a bar with a stretch of it in colour.
type fullBar struct {
	object *fyne.Container
	// long is its length, from where the stretch begins and wide how long that is, as
	// shares of the room.
	long, from, wide float32
	stretch          *control.Plane
	colour           fyne.ThemeColorName
}

func newFullBar() *fullBar {
	b := &fullBar{stretch: control.NewPlane(look.Chalk, "", fullBarRadius)}
	b.object = container.New(b, control.NewPlane(look.Card, look.Border, fullBarRadius), b.stretch)
	return b
}

func (b *fullBar) put(colour fyne.ThemeColorName, long, from, wide float64) {
	if b.colour != colour {
		b.colour = colour
		b.stretch.SetColours(colour, look.Chalk)
	}
	l, f, w := float32(long), float32(from), float32(wide)
	if l != b.long || f != b.from || w != b.wide {
		b.long, b.from, b.wide = l, f, w
		b.object.Refresh()
	}
}

// MinSize implements fyne.Layout.
func (*fullBar) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(40, fullBarHigh) }

// Layout implements fyne.Layout.
func (b *fullBar) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(fyne.NewSize(size.Width*b.long, size.Height))
	o[1].Move(fyne.NewPos(size.Width*b.from, 0))
	o[1].Resize(fyne.NewSize(size.Width*min(b.wide, max(b.long-b.from, 0)), size.Height))
}
