package tracer

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft/tracing"
	"hemlet/geom/trace"
)

// followPanel is the panel of the step.
type followPanel struct {
	w      *ways
	object fyne.CanvasObject

	blocked *fyne.Container
	why     *control.Prose
	whole   *control.Pill
	scope   *fyne.Container
	manner  *control.Pill
	says    *control.Prose
	tol     *control.Field
	gap     *control.Field
	gapRow  *fyne.Container
	least   *control.Field
	small   *control.Check
	frame   *control.Button
	all     *control.Button
	state   *control.Prose
	again   *control.Button
	hand    *control.Button
	more    *control.Button
	rare    *fyne.Container
	list    *lineList
	left    *control.Prose
	grain   *control.Prose
	usual   *fyne.Container
	guided  *handPanel
	// unfolded says that the settings are shown that are seldom needed.
	unfolded bool
}

func newFollowPanel(w *ways) *followPanel {
	p := &followPanel{w: w}
	p.why = control.NewProse("", 12.5, false, look.OchreText, inner)
	p.blocked = control.Stack(8, p.why, control.Row(0, control.NewButton(control.QuietShape, "", "Make it true to size", "Go to the step True to size", func() { w.goTo(stepTrue) })))
	p.whole = control.NewPill("Which pictures are followed", []string{"the one in hand", "all pictures"}, func(i int) {
		w.finds.every = i == 1
		w.Room.update()
	})
	p.scope = control.Stack(4, control.Row(0, p.whole))
	p.manner = control.NewPill("What of the ink is the line: of drawn lines the middle of the pen; of a piece that is cut out and laid on a dark table its edge", []string{"drawn lines", "edges of shapes"}, func(i int) {
		w.finds.manner = mannerSaid
		w.set(func(s *tracing.Settings) { s.Manner = [2]trace.Manner{trace.Drawn, trace.Filled}[i] })
	})
	p.says = faintly("")
	p.buildFields()
	p.state = control.NewProse("", 12.5, false, look.Ink, inner)
	p.again = control.NewButton(control.SmallShape, "", "Follow it again", "Go on where it was stopped", func() {
		w.effort.own, w.of = nil, inputs{}
		w.Room.update()
	})
	p.hand = control.NewButton(control.QuietShape, "draw", "Follow by hand…", "Lead the line along the ink from click to click: for sizes drawn over one another, faint lines, or a part of a shape", func() { w.byHand(true) })
	p.list = newLineList(w)
	p.left = faintly("")
	p.grain = control.NewProse("", 12.5, false, look.OchreText, inner)
	p.guided = newHandPanel(w)
	p.more = control.NewButton(control.QuietShape, "", "More settings", "How close the line stays to the ink, gaps, the smallest piece, small marks, and reading only a part", func() {
		p.unfolded = !p.unfolded
		p.update()
	})
	p.rare = control.Stack(8,
		control.LabelledBy(labelWide, "As close as", p.tol.Object()),
		p.gapRow,
		control.LabelledBy(labelWide, "Smallest piece", p.least.Object()),
		p.small,
		control.Row(8, p.frame, p.all))
	p.usual = control.Stack(8,
		p.scope, control.LabelledBy(labelWide, "The line is", control.Row(0, p.manner)), p.says,
		control.Row(8, p.hand, p.more), p.rare,
		control.Tall(1, control.NewPlane(look.Border, "", 0)),
		p.state, p.again, p.grain, p.list.object, p.left,
	)
	p.object = control.Stack(8, p.blocked, p.usual, p.guided.object)
	return p
}

// Bounds of what may be set, in mm.
const (
	leastTol, mostTol = 0.02, 2.0
	mostGap           = 20.0
	leastSide         = 1.0
	mostSide          = 500.0
)

func (p *followPanel) buildFields() {
	w := p.w
	p.tol = control.NewField("How close the fitted line stays to the ink: the wider, the fewer points. A fifth of a millimetre is the width of a sharp pencil", p.length(leastTol, mostTol, func(s *tracing.Settings, mm float64) { s.Tol = mm }))
	p.gap = control.NewField("Breaks in a line up to this width are bridged; 0 bridges none", p.length(0, mostGap, func(s *tracing.Settings, mm float64) {
		if s.Gap = mm; mm == 0 {
			s.Gap = -1 // none, where 0 would stand for the usual one
		}
	}))
	p.gapRow = control.LabelledBy(labelWide, "Bridge gaps to", p.gap.Object())
	p.least = control.NewField("Outlines smaller than this across are no pieces", p.length(leastSide, mostSide, func(s *tracing.Settings, mm float64) { s.Least = mm * mm }))
	p.small = control.NewCheck("Keep small marks", func(on bool) { w.set(func(s *tracing.Settings) { s.KeepSmall = on }) })
	p.frame = control.NewButton(control.SmallShape, "", "Read only a part…", "Drag a box round what is to be read", func() { w.frame(true) })
	p.all = control.NewButton(control.SmallShape, "", "Read all", "Read the whole picture again", func() { w.frame(false) })
}

// length returns what takes a length between two bounds in mm into the settings.
func (p *followPanel) length(least, most float64, put func(s *tracing.Settings, mm float64)) func(string) error {
	return func(text string) error {
		u := p.w.unit()
		mm, err := u.Parse(text)
		if err != nil {
			return err
		}
		if !(mm >= least && mm <= most) {
			return errors.New("between " + plainLength(least, u) + " and " + plainLength(most, u))
		}
		p.w.set(func(s *tracing.Settings) { put(s, mm) })
		return nil
	}
}

func (p *followPanel) update() {
	w, s := p.w, p.w.finds.settings
	known, why := w.finds.isTrue(w.chosen())
	blocked := len(w.finds.groups()) == 0
	if blocked && known {
		why = "There is no picture to follow yet."
	}
	p.why.Put(why)
	show(p.blocked, blocked && w.guiding == nil)
	show(p.usual, !blocked && w.guiding == nil)
	show(p.guided.object, w.guiding != nil)
	p.guided.update()
	show(p.scope, len(w.finds.group(w.chosen())) < len(w.pictures()))
	p.whole.Put(index(w.finds.every))
	p.manner.Put(index(s.Manner == trace.Filled))
	looked := ""
	if w.finds.manner == mannerLooked {
		looked = "So it looks: "
	}
	p.says.Put(wording.Sentence(looked + []string{
		"the middle of the pen line is followed.",
		"the edge of the shape is followed.",
	}[index(s.Manner == trace.Filled)]))
	u := w.unit()
	p.tol.Put(plainLength(w.finds.tol(), u))
	p.gap.Put(plainLength(math.Max(s.Gap, 0), u))
	p.more.SetChosen(p.unfolded)
	show(p.rare, p.unfolded || w.framing)
	show(p.gapRow, s.Manner == trace.Drawn)
	p.least.Put(plainLength(math.Sqrt(s.Least), u))
	p.small.Put(s.KeepSmall)
	show(p.small, s.Manner == trace.Drawn)
	show(p.all, w.cropped() || w.framing)
	p.frame.SetChosen(w.framing)
	p.putState()
	p.list.update()
	p.object.Refresh()
}

// updateHand shows a line on its way.
func (p *followPanel) updateHand() { p.guided.update() }

// putState says what was found and what it means.
func (p *followPanel) putState() {
	w := p.w
	show(p.again, w.effort.stopped() && w.of.same(w.finds.inputs()))
	p.left.Put("")
	if w.finds.last != nil && !w.finds.stale() {
		p.left.Put(strings.Join(w.finds.last.leftOut, " "))
	}
	says := w.finds.grainSays()
	p.grain.Put(says)
	show(p.grain, says != "" && !w.faint())
	show(p.left, p.w.finds.last != nil && len(w.finds.last.leftOut) > 0 && !w.finds.stale())
	switch {
	case w.effort.fault != "":
		p.state.PutAs(wording.Sentence(w.effort.fault)+".", look.PinText)
	case w.effort.stopped():
		p.state.PutAs("It was stopped. What is shown greyed is as it was before.", look.OchreText)
	case w.effort.under() && w.finds.last != nil:
		p.state.PutAs("Following the ink anew; what is shown greyed is as it was before.", look.Faint)
	case w.finds.last == nil:
		p.state.PutAs("The ink is being followed …", look.Faint)
	case len(w.finds.lines) == 0:
		p.state.PutAs("No outline was found.", look.OchreText)
	default:
		p.state.PutAs(w.finds.verdict(), look.Ink)
	}
}

// verdict says in a sentence how many outlines there are and how close they are.
func (f *finds) verdict() string {
	by, at := largest(f.lines)
	if at < 0 {
		return "No outline was found."
	}
	where := ""
	if len(f.lines) > 1 {
		where = " (" + f.lines[at].called() + ")"
	}
	return fmt.Sprintf("%s, off the ink by at most %.2f mm%s: %s.", wording.Count(len(f.lines), "outline"), by, where, offMeans(by, f.tol()))
}

// lineList lists the lines.
type lineList struct {
	w      *ways
	object *fyne.Container
	more   *control.Prose
	rows   []*lineRow
}

// lineRow is one line in the list.
type lineRow struct {
	of   *line
	card *control.Card
	tick *control.Check
	name *control.Field
	size *control.Text
	says *control.Text
	away *control.Button
	uses *useRows
	// about and inside hold what is said of a line, and the lines inside it.
	about, inside *fyne.Container
}

// mostRows bounds the rows of the list: more than anyone names in one go.
const mostRows = 60

func newLineList(w *ways) *lineList {
	return &lineList{w: w, object: control.Stack(4), more: faintly("")}
}

func (l *lineList) update() {
	lines := l.w.finds.lines
	show(l.object, len(lines) > 0)
	if !l.lists(lines) {
		l.object.RemoveAll()
		l.rows = nil
		for _, x := range lines[:min(len(lines), mostRows)] {
			r := l.newRow(x)
			l.rows = append(l.rows, r)
			l.object.Add(r.card)
		}
		if n := len(lines) - mostRows; n > 0 {
			l.more.Put(fmt.Sprintf("… and %d more, which are named on the bench. Click one in the picture and press Space to leave it out.", n))
			l.object.Add(l.more)
		}
	}
	for _, r := range l.rows {
		l.fill(r)
	}
	l.object.Refresh()
}

func (l *lineList) lists(lines []*line) bool {
	if len(l.rows) != min(len(lines), mostRows) {
		return false
	}
	for i, r := range l.rows {
		if r.of != lines[i] {
			return false
		}
	}
	return true
}

func (l *lineList) newRow(x *line) *lineRow {
	w := l.w
	r := &lineRow{of: x, uses: newUseRows(w)}
	r.tick = control.NewCheck("", func(on bool) {
		w.tick(x, on)
		w.lookAt(x)
	})
	r.name = control.NewField("What the piece is to be called; empty leaves it to the bench", func(text string) error {
		x.name = strings.TrimSpace(text)
		w.finds.changed()
		w.Room.update() // the sums name it too
		return nil
	})
	r.name.PlaceHolder = fmt.Sprintf("Outline %d", x.id)
	r.size = control.NewText("", 11.5, false, look.Ink).AtLeast(leastText).Aligned(fyne.TextAlignTrailing)
	r.says = control.NewText("", 11.5, false, look.Faint).AtLeast(leastText)
	r.away = control.NewButton(control.TinyShape, "remove", "", "Take this line, which was followed by hand, out of the list", func() { w.dropLine(x) })
	show(r.away, x.byHand)
	line := container.NewBorder(nil, nil, r.tick, control.Row(4, control.Wide(104, control.Centred(r.size)), r.away), r.name.Object())
	r.name.OnFocus = func(on bool) {
		if on {
			w.lookAt(x)
			w.side.reveal(r.card)
		}
	}
	r.name.Done = func() { l.step(r, 1) }
	r.name.OnTab = func(back bool) bool { return l.step(r, map[bool]int{false: 1, true: -1}[back]) }
	r.about = control.Inset(34, 0, 0, 2, r.says)
	r.inside = control.Inset(34, 2, 0, 2, r.uses.object)
	r.card = control.NewCard(control.Inset(4, 2, 8, 2, control.Stack(0, line, r.about, r.inside)), "Look at this outline in the picture", func() {
		w.lookAt(x)
	})
	return r
}

// step brings the keys to the name of the row that comes by so many after another, and
// reports whether there is one.
func (l *lineList) step(from *lineRow, by int) bool {
	i := slices.Index(l.rows, from) + by
	if i < 0 || i >= len(l.rows) {
		return false
	}
	l.w.host.Focus(l.rows[i].name)
	return true
}

func (l *lineList) fill(r *lineRow) {
	x := r.of
	r.tick.Put(x.taken)
	r.name.Put(x.name)
	r.size.Set(x.size(l.w.unit()))
	says := x.made()
	if x.byHand {
		says = "by hand · " + says
	}
	if l.w.finds.lies(x) {
		says = "on the bench · " + says
	}
	r.says.Set(says)
	looked := x.id == l.w.picked
	coarse := x.worst() > l.w.finds.tol()
	r.says.SetColour(map[bool]fyne.ThemeColorName{false: look.Faint, true: look.OchreText}[coarse])
	show(r.about, looked || coarse || x.byHand || l.w.finds.lies(x))
	r.uses.update(x)
	show(r.inside, looked && len(x.Inner) > 0)
	colour := look.Ink
	if l.w.faint() || !x.taken {
		colour = look.Faint
	}
	r.size.SetColour(colour)
	r.card.SetChosen(looked)
}
