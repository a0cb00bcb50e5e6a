package station

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/bench"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
)

// fitTable lists the stretches that stand for a measure: in the first step what they stand
// for, in the last what is wanted of them and what they have become.
type fitTable struct {
	f      *Fitting
	object fyne.CanvasObject
	title  *control.Text
	says   *control.Text
	heads  *fyne.Container
	words  [fitColumnCount]*control.Text
	list   *control.List
	none   *control.Prose

	rows   []fitRow
	chosen rowKey
	// room is how wide it is, two says that a row takes two lines.
	room float32
	two  bool
	// picking says that a row is being chosen, so that what that picks on the bench leads
	// to no other.
	picking bool
	drawn   []string
}

// How high a row is, in screen units: of one line, and of two.
const (
	fitRowHigh  = 25
	fitRowsHigh = 46
	fitHeadHigh = 36 // of heads of two lines
)

// fitCells lays the cells of a row, or of the heads, in the columns of the step: in two lines
// where they do not fit into one.
type fitCells struct {
	t    *fitTable
	head bool
}

// MinSize implements fyne.Layout.
func (l fitCells) MinSize([]fyne.CanvasObject) fyne.Size {
	switch {
	case l.t.two && l.head:
		return fyne.NewSize(200, fitHeadHigh)
	case l.t.two:
		return fyne.NewSize(200, fitRowsHigh)
	}
	return fyne.NewSize(200, fitRowHigh)
}

// Layout implements fyne.Layout.
func (l fitCells) Layout(o []fyne.CanvasObject, size fyne.Size) {
	if l.t.two {
		l.layTwo(o, size)
		return
	}
	w, _ := l.widths(size.Width)
	layCells(o, w[:], size)
}

// widths returns how wide each column is in so much room, and whether all of them fit.
func (l fitCells) widths(room float32) (w [fitColumnCount]float32, fits bool) {
	w = fitColumnWide[l.t.f.columns()]
	rest := room - seamRowPad - seamRowEnd
	for _, x := range w {
		rest -= x
	}
	fits = rest >= seamNameLeast
	// The measure takes its share of much room, so that its words are not cut short.
	if spare := rest - seamNameMost; spare > 0 && w[fitMeasure] > 0 {
		w[fitMeasure] += spare / 2
		rest -= spare / 2
	}
	w[fitName] = max(rest, 0)
	return w, fits
}

// layTwo lays the stretch with its figures over what it stands for. The piece is named with
// the stretch.
func (l fitCells) layTwo(o []fyne.CanvasObject, size fyne.Size) {
	for i := range fitColumnCount {
		o[i].Hide()
	}
	between := float32(21) // of the middles of the two lines
	if l.head {
		between = 16
	}
	for line, columns := range fitTwoLines[l.t.f.columns()] {
		x, rest := float32(seamRowPad), size.Width-seamRowPad-seamRowEnd
		if line > 0 {
			x += fitColumnWide[stepMade][fitState]
			rest -= fitColumnWide[stepMade][fitState]
		}
		for _, c := range columns {
			rest -= c.wide
		}
		for _, c := range columns {
			wide := c.wide
			if wide == 0 {
				wide = max(rest, 0) // the name or the measure
			}
			cell := o[c.column]
			cell.Show()
			high := min(cell.MinSize().Height, between)
			cell.Move(fyne.NewPos(x, (size.Height-between)/2+float32(line)*between-high/2))
			cell.Resize(fyne.NewSize(wide-6, high))
			x += wide
		}
	}
	for _, over := range o[fitColumnCount:] {
		over.Resize(size)
	}
}

// more returns by how much the table needs more height than usual in so much room: rows of two
// lines take more.
func (t *fitTable) more(wide float32) float32 {
	if _, fits := (fitCells{t: t}).widths(wide); fits {
		return 0
	}
	return 32
}

// fitTableRoom lays the table, its rows in as many lines as they need.
type fitTableRoom struct{ t *fitTable }

// MinSize implements fyne.Layout.
func (fitTableRoom) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// Layout implements fyne.Layout.
func (l fitTableRoom) Layout(o []fyne.CanvasObject, size fyne.Size) {
	l.t.foldTo(size.Width)
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

// foldTo has the rows take two lines where so much room is too little for one.
func (t *fitTable) foldTo(room float32) {
	t.room = room
	if _, fits := (fitCells{t: t}).widths(room); room == 0 || t.two == !fits {
		return
	}
	t.two = !t.two
	t.tell()
	t.heads.Refresh()
	t.list.Refresh()
	t.mark()
}

func newFitTable(f *Fitting) *fitTable {
	t := &fitTable{f: f}
	t.title = control.NewText("", 12.5, true, look.Ink)
	t.says = control.Faint("").AtLeast(10)
	var heads []fyne.CanvasObject
	for c, word := range fitColumnWords {
		text := control.NewText(word, 11.5, false, look.Faint).AtLeast(10)
		if trailing(fitColumn(c)) {
			text.Aligned(fyne.TextAlignTrailing)
		}
		t.words[c] = text
		heads = append(heads, control.Inset(4, 0, 4, 0, text))
	}
	t.heads = container.New(fitCells{t, true}, heads...)
	t.list = control.NewList(func() int { return len(t.rows) }, t.newLine, t.fill, t.pressed)
	t.list.OnKey = t.key
	t.none = control.NewProse("", 12.5, false, look.Faint, 400).Flowing()
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	title := control.Inset(seamRowPad+4, 7, seamRowEnd, 3, container.NewBorder(nil, nil, t.title, nil, control.Inset(10, 1, 0, 0, t.says)))
	t.object = container.New(fitTableRoom{t}, container.NewBorder(control.Stack(0, title, t.heads, line), nil, nil, nil,
		container.NewStack(t.list, control.Inset(seamRowPad+4, 12, seamRowEnd, 0, container.NewVBox(t.none)))))
	return t
}

// trailing reports whether the texts of a column end at its right.
func trailing(c fitColumn) bool {
	switch c {
	case fitWas, fitThen, fitNow, fitTimes, fitEase, fitWants, fitReached, fitOff:
		return true
	}
	return false
}

func (t *fitTable) forget() {
	t.chosen = rowKey{}
	t.drawn = nil
}

// newLine makes the cells of a row.
func (t *fitTable) newLine() fyne.CanvasObject {
	var row []fyne.CanvasObject
	for c := range fitColumnCount {
		if c == fitState {
			row = append(row, newStateCell(control.NewText("", 12.5, false, look.Ink).AtLeast(10)))
			continue
		}
		align := fyne.TextAlignLeading
		if trailing(c) {
			align = fyne.TextAlignTrailing
		}
		row = append(row, control.NewCell(12.5, align))
	}
	return container.New(fitCells{t, false}, row...)
}

// fill puts a stretch into a row.
func (t *fitTable) fill(i widget.ListItemID, line fyne.CanvasObject) {
	if i >= len(t.rows) {
		return
	}
	r := t.rows[i]
	u, step := t.f.desk.Project().Unit, t.f.step
	cells := r.cells(u, step)
	if t.two {
		cells[fitName] = cells[fitPiece] + ", " + cells[fitName]
	}
	mark, _ := stateOf(line)
	mark.Put(r.level)
	for c, o := range line.(*fyne.Container).Objects {
		cell, ok := o.(*control.Cell)
		if !ok {
			continue
		}
		t.enliven(cell, fitColumn(c), r)
		colour := look.Ink
		switch {
		case fitColumn(c) == fitOff && r.contradictory:
			colour = look.PinText
		case fitColumn(c) == fitPiece, fitColumn(c) == fitDrop, t.two && fitColumn(c) == fitMeasure:
			colour = look.Faint
		case fitColumn(c) == fitRule && r.target != nil && !r.target.Given:
			colour = look.Faint
		}
		cell.Put(cells[c], colour)
	}
	box := line.(*fyne.Container)
	box.Layout.Layout(box.Objects, box.Size()) // the columns may be those of another step
}

// enliven lets a cell be changed where it can be.
func (t *fitTable) enliven(cell *control.Cell, c fitColumn, r fitRow) {
	if cell.Dragging() {
		return // its own drag has made this row anew
	}
	cell.OnTap, cell.OnDrag, cell.OnDrop, cell.Hint = nil, nil, nil, ""
	cell.OnRow = func() { t.choose(r.key, true) }
	press := func(hint string, do func()) {
		cell.Hint = hint
		cell.OnTap = func() {
			t.choose(r.key, false)
			do()
		}
	}
	switch made := t.f.step == stepMade; {
	case c == fitMeasure && made:
		press("Which measure of the body it stands for", func() { t.askMeasure(cell, r) })
	case c == fitShare && made:
		press("Which part of the measure it stands for", func() { t.askShare(cell, r) })
	case c == fitEase && made && !r.came:
		press("How much larger it is than that part of the body", func() { t.askEase(cell, r) })
	case c == fitName && made:
		press("What the stretch is called", func() { t.askName(cell, r) })
	case c == fitDrop && made:
		press("Say no longer that it stands for anything", func() { t.dropSpan(r) })
	case c == fitWants && r.target != nil:
		press("Press to type how long it is to be; drag to the right for more, to the left for less", func() { t.askLength(cell, r) })
		if r.target.Known {
			cell.OnDrag = func(by float32) { t.f.trial.drag(r, by) }
			cell.OnDrop = t.f.trial.take
		}
	case c == fitRule && r.target != nil:
		press("By which rule it gets its length", func() { t.askRule(cell, r) })
	case c == fitWeight && r.target != nil:
		press("How much it counts where not everything can be had", func() { t.askWeight(cell, r) })
	}
}

// update shows the stretches as they now stand.
func (t *fitTable) update() {
	t.rows = t.f.spanRows()
	if _, ok := t.row(t.chosen); !ok {
		t.chosen = rowKey{}
	}
	t.tell()
	t.foldTo(t.room)
	u := t.f.desk.Project().Unit
	drawn := []string{u.String(), fmt.Sprint(t.f.columns())}
	for i := range t.rows {
		cells := t.rows[i].cells(u, t.f.step)
		drawn = append(drawn, string(t.rows[i].key.piece), string(t.rows[i].key.span), t.rows[i].level.Icon(), strings.Join(cells[:], "|"))
	}
	if slices.Equal(drawn, t.drawn) {
		return
	}
	again := len(t.drawn) < 2 || t.drawn[1] != drawn[1]
	t.drawn = drawn
	if again {
		t.heads.Refresh()
		if len(t.rows) > 0 {
			t.list.ScrollToTop()
		}
	}
	t.list.Refresh()
	t.mark()
}

// tell says over the table what it lists, and under that why there is nothing.
func (t *fitTable) tell() {
	f := t.f
	u := f.desk.Project().Unit.String()
	switch {
	case f.step == stepMade:
		t.title.Set("What stands for what")
		t.says.Set("in " + u + "; press a word or a figure to change it")
		if slices.ContainsFunc(t.rows, func(r fitRow) bool { return r.came }) {
			t.says.Set("in " + u + ": the pattern as it came, before the fit, and the body that it was made for")
		}
	case f.columns() == stepWhom:
		t.title.Set("What the wearer makes of it")
		t.says.Set("in " + u + "; ≈ is worked out from other measures")
	default:
		t.title.Set("Was, wants, reached")
		t.says.Set("in " + u + "; drag a figure under Wants, or press it to type one")
	}
	t.words[fitName].Set(map[bool]string{false: fitColumnWords[fitName], true: "Piece, stretch"}[t.two])
	show(t.none, len(t.rows) == 0)
	switch {
	case len(f.scope.pieces()) == 0:
		t.none.Put("There are no pieces yet.")
	case f.step == stepMade:
		t.none.Put("Nothing is said yet of what the stretches of the pattern stand for. Take what is suggested at the left, or pick two points or edges on the bench.")
	default:
		t.none.Put("Nothing is said yet of what the stretches of the pattern stand for: see Made for.")
	}
}

// row returns the row with the key.
func (t *fitTable) row(k rowKey) (fitRow, bool) {
	for _, r := range t.rows {
		if r.key == k {
			return r, true
		}
	}
	return fitRow{}, false
}

// mark shows the row in hand as the chosen one.
func (t *fitTable) mark() {
	for i := range t.rows {
		if t.rows[i].key == t.chosen {
			t.list.Put(i)
			return
		}
	}
	t.list.UnselectAll()
}

func (t *fitTable) pressed(i widget.ListItemID) {
	if i < len(t.rows) {
		t.choose(t.rows[i].key, true)
	}
}

// key goes to the next row or the one before.
func (t *fitTable) key(name fyne.KeyName) bool {
	by := map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1}[name]
	if name == fyne.KeyEscape && t.chosen != (rowKey{}) {
		t.putDown()
		return true
	}
	if len(t.rows) == 0 || by == 0 {
		return name == fyne.KeyReturn && t.askChosen()
	}
	at := slices.IndexFunc(t.rows, func(r fitRow) bool { return r.key == t.chosen })
	t.choose(t.rows[min(max(at+by, 0), len(t.rows)-1)].key, true)
	return true
}

// askChosen asks under the head of its column for what is changed most of the stretch in
// hand, and reports whether there is one.
func (t *fitTable) askChosen() bool {
	r, ok := t.row(t.chosen)
	switch {
	case !ok:
		return false
	case t.f.step == stepMade:
		t.askMeasure(t.heads.Objects[fitMeasure], r)
	case r.target != nil && t.f.columns() == stepSee:
		t.askLength(t.heads.Objects[fitWants], r)
	default:
		return false
	}
	return true
}

// choose takes a stretch in hand, and picks it on the bench where that is asked for.
func (t *fitTable) choose(k rowKey, place bool) {
	t.chosen = k
	t.mark()
	if r, ok := t.row(k); ok && place {
		t.picking = true
		t.f.ways.Pick(bench.SpanRefs(k.piece, r.span)...)
		t.picking = false
	}
	t.f.drawOver()
}

// putDown leaves no stretch in hand, so that what is told of one is off the bench.
func (t *fitTable) putDown() {
	if t.chosen != (rowKey{}) {
		t.choose(rowKey{}, false)
	}
}

// follow takes the stretch in hand that is picked on the bench.
func (t *fitTable) follow(picked desk.Picked) {
	if t.picking {
		return
	}
	if putDown(picked) {
		t.putDown()
		return
	}
	for _, r := range t.rows {
		refs := bench.SpanRefs(r.key.piece, r.span)
		if len(refs) == len(picked) && !slices.ContainsFunc(refs, func(x desk.Ref) bool { return !picked.Has(x) }) {
			t.chosen = r.key
			t.mark()
			return
		}
	}
	if len(picked) == 1 && picked[0].Kind == desk.Edge {
		for _, r := range t.rows {
			if r.key.piece == picked[0].Piece && slices.Contains(r.span.Edges, picked[0].Edge) {
				t.chosen = r.key
				t.mark()
				return
			}
		}
	}
}

// args returns what an act that is about a stretch is given, with more.
func (r *fitRow) args(more ...string) map[string]string {
	args := map[string]string{"span": fmt.Sprintf("%q.%q", r.key.piece, r.key.span)}
	for i := 0; i+1 < len(more); i += 2 {
		args[more[i]] = more[i+1]
	}
	return args
}

// mmText writes a length as acts read it.
func mmText(mm float64) string { return fmt.Sprintf("%gmm", math.Round(mm*1e4)/1e4) }
