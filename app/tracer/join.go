package tracer

import (
	"context"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// pair is a mark that two pictures show: in the one that is laid, and in the other. One
// of the two is nil while only the other was clicked.
type pair struct{ in, other *spot }

func (p *pair) whole() bool { return p.in != nil && p.other != nil }

// waiting is a mark that was clicked and is to go to the middle of what is printed there.
type waiting struct {
	mark    *spot
	read    *reading
	clicked geom.Point
	reach   float64 // px
}

// couple is the two pictures that are joined, the one that is laid first.
type couple struct{ in, other draft.ID }

// joinStep is the step in which sheets are laid together by marks that both show.
type joinStep struct {
	plain
	// pairs are the marks by the pictures that they join.
	pairs map[couple][]*pair
	// to is the picture against which the one in hand is laid.
	to    draft.ID
	marks spots
	snaps bool
	// waits are marks that are not at the middle of what is printed there yet: another one
	// may be clicked before that is known.
	waits []waiting

	all   *fyne.Container
	other *control.Choice
	list  []draft.ID // of the choice
	snap  *control.Check
	rows  *fyne.Container
	told  *fyne.Container
	apply *control.Button
	part  *control.Button
}

func newJoinStep(r *Room) step {
	s := &joinStep{plain: plain{r}, pairs: map[couple][]*pair{}, snaps: true}
	s.marks = spots{r: r, list: s.placed, keep: s.keep, changed: func(*spot, bool) { r.update() }}
	return s
}

// newDocument forgets the marks on pictures of the document before.
func (s *joinStep) newDocument() {
	clear(s.pairs)
	s.to, s.marks.last, s.waits = "", nil, nil
}

func (*joinStep) name() string { return stepJoin }

func (s *joinStep) says() string {
	if len(s.pictures()) < 2 {
		return "There is but one picture; nothing has to be joined."
	}
	return "Click marks that two sheets both show, on one and then on the other; two pairs or more, far apart."
}

func (s *joinStep) hint() string {
	if p := s.half(); p != nil {
		return "Join: click the same mark on the other picture. Backspace takes the first back."
	}
	return "Join: click a mark that both pictures show. Marks can be dragged; the arrow keys move the last by a pixel, with Shift by ten, with Alt by a tenth."
}

// standing: sheets that belong together and are not joined keep it open only where the
// maker began to join.
func (s *joinStep) standing() standing {
	all, joined := s.pictures(), 0
	for _, pic := range all {
		if pic.Joined != nil {
			joined++
		}
	}
	switch {
	case len(all) < 2:
		return standing{idle: true, says: "not needed"}
	case joined > 0:
		return standing{done: true, says: wording.Count(joined, "sheet") + " joined"}
	}
	return standing{says: "if sheets meet"}
}

func (s *joinStep) panel() fyne.CanvasObject {
	s.other = control.NewChoice("The picture that stays where it is; the one in hand is laid against it", nil, func(i int) {
		if i >= 0 && i < len(s.list) {
			s.to = s.list[i]
			s.entered()
			s.Room.update()
		}
	})
	s.snap = control.NewCheck("Go to the middle of printed marks", func(on bool) { s.snaps = on })
	s.snap.Put(true)
	s.rows = control.Stack(4)
	s.told = control.Stack(0)
	s.apply = control.NewButton(control.WordShape, "join", "Join", "Lay the picture in hand against the other by these marks", s.join)
	s.part = control.NewButton(control.QuietShape, "", "Lay them apart", "Move the picture in hand beside the others, so that both show whole", s.layApart)
	s.all = control.Stack(8, control.Labelled("Lay it against", s.other.Object()), s.snap, s.rows, s.told, s.apply, control.Row(0, s.part))
	return s.all
}

// couple returns the two pictures that are joined, or false without.
func (s *joinStep) couple() (in, other *draft.Picture, ok bool) {
	in = s.chosen()
	if in == nil {
		return nil, nil, false
	}
	if other = s.desk.Project().Picture(s.to); other == nil || other == in {
		other = nil
		for _, pic := range s.pictures() {
			if pic != in && (other == nil || in.Joined != nil && in.Joined.To == pic.ID) {
				other = pic
			}
		}
	}
	return in, other, other != nil
}

// given returns the marks of the two pictures.
func (s *joinStep) given() []*pair {
	in, other, ok := s.couple()
	if !ok {
		return nil
	}
	return s.pairs[couple{in.ID, other.ID}]
}

// half returns the pair of which only one mark was clicked, or nil.
func (s *joinStep) half() *pair {
	for _, p := range s.given() {
		if !p.whole() {
			return p
		}
	}
	return nil
}

// keep returns what brings the marks of the two pictures back as they now stand.
func (s *joinStep) keep() func() {
	in, other, ok := s.couple()
	if !ok {
		return func() {}
	}
	key := couple{in.ID, other.ID}
	list := slices.Clone(s.pairs[key])
	was := make([]pair, len(list))
	at := map[*spot]geom.Point{}
	for i, p := range list {
		was[i] = *p
		for _, x := range []*spot{p.in, p.other} {
			if x != nil {
				at[x] = x.at
			}
		}
	}
	return func() {
		for i, p := range list {
			*p = was[i]
		}
		for x, px := range at {
			x.at = px
		}
		s.pairs[key], s.marks.last = list, nil
	}
}

// placed lists the marks that were clicked.
func (s *joinStep) placed() []*spot {
	var list []*spot
	for _, p := range s.given() {
		for _, x := range []*spot{p.in, p.other} {
			if x != nil {
				list = append(list, x)
			}
		}
	}
	return list
}

func (s *joinStep) left() { s.waits = nil }

func (s *joinStep) entered() {
	if in, other, ok := s.couple(); ok {
		s.fitTo(in, other)
	}
}

// picture shows what is not joined faintly.
func (s *joinStep) picture(pic *draft.Picture) (*paint.Pyramid, float64) {
	if in, other, ok := s.couple(); ok && pic != in && pic != other {
		return nil, othersStrong
	}
	return nil, 1
}

func (s *joinStep) update() {
	if s.all == nil {
		return
	}
	in, other, ok := s.couple()
	show(s.all, ok)
	if !ok {
		return
	}
	s.list = s.list[:0]
	var names []string
	at := 0
	for _, pic := range s.pictures() {
		if pic == in {
			continue
		}
		if pic == other {
			at = len(names)
		}
		s.list, names = append(s.list, pic.ID), append(names, pic.Name)
	}
	s.other.Offer(names, at)
	s.updateRows(in, other)
}

// fit returns how the marks lie to each other, an error where that cannot be told.
func (s *joinStep) fit(in, other *draft.Picture) (scan.Join, error) {
	var from, onto []geom.Point
	for _, p := range s.given() {
		if p.whole() {
			from, onto = append(from, in.Place.Apply(p.in.at)), append(onto, other.Place.Apply(p.other.at))
		}
	}
	return scan.JoinMarks(from, onto)
}

// updateRows lists the marks with by how much each is off.
func (s *joinStep) updateRows(in, other *draft.Picture) {
	fit, err := s.fit(in, other)
	list := s.given()
	s.rows.RemoveAll()
	at := 0
	for i, p := range list {
		says, colour := "now on the other picture", look.Faint
		if p.whole() {
			says = ""
			if err == nil && len(fit.Each) > 2 {
				says = "off by " + exactly(fit.Each[at], s.unit())
				if at == fit.Worst && fit.Each[at] > offFine {
					says, colour = says+", the most", look.OchreText
				}
			}
			at++
		}
		s.rows.Add(s.row(i, p, says, colour))
	}
	s.apply.SetOff(err != nil || s.working())
	word := "Join"
	if in.Joined != nil && in.Joined.To == other.ID {
		word = "Join again"
	}
	s.apply.SetWord(word)
	s.told.Objects = []fyne.CanvasObject{s.tells(in, other, fit, err)}
	show(s.part, overlap(in, other) && len(list) == 0)
}

func (s *joinStep) row(i int, p *pair, says string, colour fyne.ThemeColorName) fyne.CanvasObject {
	away := control.NewButton(control.TinyShape, "remove", "", "Take this pair of marks away", func() { s.forget(p) })
	name := control.NewText(fmt.Sprintf("Mark %d", i+1), 12.5, true, look.Ink)
	return container.NewBorder(nil, nil, name, container.NewCenter(away),
		control.Inset(10, 0, 8, 0, control.Centred(control.NewText(says, 12, false, colour).AtLeast(leastText))))
}

// sizesDiffer is by what share two sheets may differ in size before it is told: 1 mm on
// half a metre.
const sizesDiffer = 0.002

// tells says how well the two sheets fit.
func (s *joinStep) tells(in, other *draft.Picture, fit scan.Join, err error) fyne.CanvasObject {
	u := s.unit()
	for _, pic := range []*draft.Picture{in, other} {
		if pic.True == nil {
			return control.Told(control.LookAgain, pic.Name+" is not true to size yet", "Both sheets are made true to size before they are joined.", inner, "", nil,
				control.NewButton(control.SmallShape, "true", "Make it true", "Go to the step True to size", func() {
					s.hand = pic.ID
					s.goTo(stepTrue)
				}))
		}
	}
	pairs := len(s.given())
	switch {
	case pairs == 0 && in.Joined != nil && in.Joined.To == other.ID:
		means, level := worth(in.Joined.Error)
		return control.Told(level, "Joined, off by "+exactly(in.Joined.Error, u), means, inner, "", nil)
	case err != nil && pairs < 2:
		return control.NewProse("The magnifier shows where the click goes.", 12, false, look.Faint, inner)
	case err != nil:
		return control.NewProse(wording.Sentence(err.Error()), 12, false, look.OchreText, inner)
	}
	means, level := worth(fit.RMS)
	says := means
	if len(fit.Each) == 2 {
		says += " A third pair shows a mark that was misplaced."
	}
	if odd := fit.Says(sizesDiffer); odd != "" {
		says, level = wording.Sentence(odd)+". Check how both were made true to size.", max(level, control.LookAgain)
	}
	title := "The marks are off by " + exactly(fit.RMS, u)
	if in.Joined != nil && in.Joined.To == other.ID {
		title = "Joined: the marks are off by " + exactly(fit.RMS, u)
	}
	return control.Told(level, title, says, inner, "", nil)
}

// join lays the picture in hand against the other.
func (s *joinStep) join() {
	in, other, ok := s.couple()
	if !ok {
		return
	}
	args := draft.JoinPicturesArgs{Picture: draft.PictureRef(in.ID), To: draft.PictureRef(other.ID)}
	for _, p := range s.given() {
		if p.whole() {
			args.Marks = append(args.Marks, draft.MarkPair{In: p.in.at, Other: p.other.at})
		}
	}
	if run(s.Room, draft.JoinPictures, args) {
		s.entered()
	}
}

// layApart moves the picture in hand beside the others.
func (s *joinStep) layApart() {
	in := s.chosen()
	if in == nil {
		return
	}
	box := in.Box()
	by := placeFree(s.desk.Project(), box.W(), box.H()).Sub(box.Center())
	if run(s.Room, draft.PlacePicture, draft.PlacePictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(in.ID)}, By: draft.Vector(by)}) {
		s.entered()
	}
}

// overlap reports whether the boxes of two pictures overlap.
func overlap(a, b *draft.Picture) bool {
	p, q := a.Box(), b.Box()
	return p.Min.X < q.Max.X && q.Min.X < p.Max.X && p.Min.Y < q.Max.Y && q.Min.Y < p.Max.Y
}

// tapped places a mark on the picture under the pointer: on the one that lacks the mark
// that was begun, where both lie there.
func (s *joinStep) tapped(_ string, at geom.Point) {
	in, other, ok := s.couple()
	if !ok {
		return
	}
	half := s.half()
	for _, pic := range []*draft.Picture{in, other} {
		if half != nil && (pic == in) == (half.in != nil) {
			continue
		}
		if x := spotAt(pic, at); x != nil && geom.Polygon(pic.Outline()...).Contains(at) {
			s.mark(pic, x, half)
			return
		}
	}
	if half != nil {
		s.say("Click the same mark on " + map[bool]string{true: other.Name, false: in.Name}[half.in != nil] + ".")
		return
	}
	s.chooseAt(at)
}

// mark takes a mark in, after it went to the middle of what is printed there.
func (s *joinStep) mark(pic *draft.Picture, x *spot, half *pair) {
	in, other, _ := s.couple()
	key := couple{in.ID, other.ID}
	s.marks.does("a mark", "", s.keep(), func() {
		if half == nil {
			half = &pair{}
			s.pairs[key] = append(s.pairs[key], half)
		}
		if pic == in {
			half.in = x
		} else {
			half.other = x
		}
	})
	s.marks.last = x
	s.snapTo(pic, x)
	s.Room.update()
}

// snapReach is how far a click may lie off the middle of a mark, in screen units.
const snapReach = 14

// nearMark is how far about a mark that was found, in pixels, its middle is looked for
// once more: a wide reach takes in what is printed beside it.
const nearMark = 15

// centreOf returns the middle of the mark that is printed near a click.
func centreOf(raster *scan.Raster, clicked geom.Point, reach float64) (geom.Point, error) {
	to, err := scan.SnapMark(raster, clicked, reach)
	if err != nil || reach <= nearMark {
		return to, err
	}
	if closer, err := scan.SnapMark(raster, to, nearMark); err == nil {
		to = closer
	}
	return to, nil
}

// snapTo brings a mark to the middle of what is printed near it, where anything is.
func (s *joinStep) snapTo(pic *draft.Picture, x *spot) {
	read := s.read(pic)
	if !s.snaps || read.image == nil || s.host.Modifiers()&fyne.KeyModifierControl != 0 {
		return
	}
	s.waits = append(s.waits, waiting{x, read, x.at, s.reach(snapReach) / pic.Place.ScaleAt(x.at)})
	waits := slices.Clone(s.waits)
	// Where the pictures lie does not matter: marks are places in their pixels.
	s.work("Looking at the mark", nil, func(ctx context.Context, _ func(float64, string)) (func(), error) {
		to, faults := make([]geom.Point, len(waits)), make([]error, len(waits))
		for i, w := range waits {
			raster, err := w.read.raster(ctx)
			if err != nil {
				return nil, err
			}
			to[i], faults[i] = centreOf(raster, w.clicked, w.reach)
		}
		return func() {
			s.waits = nil
			for i, w := range waits {
				s.snapped(w, to[i], faults[i])
			}
			s.Room.update()
		}, nil
	})
}

// snapped brings a mark to the middle that was found, unless it was moved meanwhile.
func (s *joinStep) snapped(w waiting, to geom.Point, err error) {
	switch {
	case w.mark.at != w.clicked:
	case err != nil:
		s.say("The mark stays where you clicked: " + err.Error() + ".")
	default:
		w.mark.at = to
	}
}

// forget takes a pair of marks away.
func (s *joinStep) forget(p *pair) {
	in, other, ok := s.couple()
	if !ok {
		return
	}
	key := couple{in.ID, other.ID}
	s.marks.does("taking marks away", "", s.keep(), func() {
		s.pairs[key] = slices.DeleteFunc(s.pairs[key], func(x *pair) bool { return x == p })
	})
	s.marks.last = nil
	s.Room.update()
}

func (s *joinStep) press(at geom.Point) bool { return s.marks.press(at) }
func (s *joinStep) drag(at geom.Point)       { s.marks.drag(at) }
func (s *joinStep) drop(at geom.Point)       { s.marks.drop(at) }

func (s *joinStep) moved(_ string, at geom.Point, on bool) {
	if _, _, ok := s.couple(); ok && on {
		s.magnify(at)
	}
}

func (s *joinStep) key(k fyne.KeyName, mods fyne.KeyModifier) bool {
	if s.marks.key(k, mods) {
		return true
	}
	if half := s.half(); half != nil && k == fyne.KeyEscape {
		s.forget(half)
		return true
	}
	if k != fyne.KeyBackspace && k != fyne.KeyDelete {
		return false
	}
	list := s.given()
	if len(list) == 0 {
		return false
	}
	s.forget(list[len(list)-1])
	return true
}

func (s *joinStep) pointer() desktop.Cursor { return desktop.CrosshairCursor }

// labelFar is how far the number of a mark lies from it, in screen units.
const labelFar = 20

// aside returns where the number of a mark lies from it, in screen units, y down: square to
// the line to its mate, away from the middle of the other marks, so that it hides neither.
func (s *joinStep) aside(p *pair, in, other *draft.Picture) (dx, dy float64) {
	if !p.whole() {
		return labelFar, 0
	}
	at := in.Place.Apply(p.in.at)
	way := other.Place.Apply(p.other.at).Sub(at)
	var sum geom.Point
	n := 0
	for _, q := range s.given() {
		if q != p && q.in != nil {
			sum, n = sum.Add(in.Place.Apply(q.in.at)), n+1
		}
	}
	out := way.Left().Unit()
	if out == (geom.Point{}) { // the two lie over each other
		out = geom.Pt(1, 0)
	}
	if n > 0 && out.Dot(at.Sub(sum.Mul(1/float64(n)))) < 0 {
		out = out.Mul(-1)
	}
	return labelFar * out.X, -labelFar * out.Y
}

// layers draws the marks with their numbers, and a line from each to its mate.
func (s *joinStep) layers() []*sheet.Layer {
	in, other, ok := s.couple()
	if !ok {
		return nil
	}
	var marks []paint.Mark
	for i, p := range s.given() {
		var at []geom.Point
		dx, dy := s.aside(p, in, other)
		for _, half := range []struct {
			x   *spot
			pic *draft.Picture
		}{{p.in, in}, {p.other, other}} {
			if half.x != nil {
				at = append(at, half.pic.Place.Apply(half.x.at))
				marks = append(marks, spotMark(at[len(at)-1], paint.Chalk, half.x == s.marks.last)...)
				marks = append(marks, plate(at[len(at)-1], dx, dy+4, fmt.Sprint(i+1)))
			}
		}
		if len(at) == 2 {
			marks = append(marks, sheet.Lined(geom.Path{geom.Line(at[0], at[1])}, sheet.Dotted(paint.Chalk, 1.2)))
		}
	}
	if len(marks) == 0 {
		return nil
	}
	return []*sheet.Layer{onLayer(marks...)}
}
