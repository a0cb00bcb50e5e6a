package station

import (
	"cmp"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// seamTable lists the seams with what their sides measure and how they stand.
type seamTable struct {
	t      *Truing
	object fyne.CanvasObject
	list   *control.List
	heads  [seamColumnCount]*control.Button
	top    *fyne.Container // of the heads
	none   *control.Prose
	// two says that a row takes two lines.
	two bool

	// all are the seams of the project, rows those that are listed.
	all, rows []seamRow
	filter    seamFilter
	by        seamColumn
	backward  bool
	// chosen is the seam in hand, empty for none.
	chosen draft.ID
	// picking says that a row is being chosen, so that what that picks on the bench leads
	// to no other.
	picking bool
	drawn   []string
	unit    draft.Unit
}

// Widths of the columns in screen units; the name takes what is left, and at least so
// much before the last columns give way.
var seamColumnWide = [seamColumnCount]float32{
	columnState: 112, columnLetter: 50, columnA: 62, columnB: 62, columnDiff: 60, columnRatio: 106, columnLimit: 64,
}

const (
	seamNameLeast = 96
	// With more room than this for the name the sides are named beside it.
	seamNameMost, seamSidesLeast = 170, 150
	seamRowHigh                  = 25
	seamRowPad                   = 12
	seamRowEnd                   = 18 // with the bar that scrolls
)

// seamCells lays the cells of a row, or of the heads, in columns: in two lines where they do
// not fit into one.
type seamCells struct {
	// two says that the rows take two lines, nil for never.
	two  *bool
	head bool
}

// How high a row of two lines and their heads are, in screen units, and how far the middles of
// the lines are apart.
const (
	seamRowsHigh, seamHeadsHigh       = 46, 38
	seamLinesApart, seamHeadLineApart = 21, 16
)

// MinSize implements fyne.Layout.
func (l seamCells) MinSize([]fyne.CanvasObject) fyne.Size {
	switch {
	case l.two == nil || !*l.two:
		return fyne.NewSize(200, seamRowHigh)
	case l.head:
		return fyne.NewSize(200, seamHeadsHigh)
	}
	return fyne.NewSize(200, seamRowsHigh)
}

// seamsFold reports whether the columns do not fit into one line of the room. What is allowed
// may give way, so that rows keep their height beside the card of a seam, which says it.
func seamsFold(room float32) bool {
	w := seamCells{}.widths(room)
	return w[columnRatio] == 0
}

// widths returns how wide each column is; 0 for one that has given way.
func (seamCells) widths(room float32) [seamColumnCount]float32 {
	w := seamColumnWide
	if wordless(room) {
		w[columnState], w[columnA], w[columnB], w[columnDiff] = seamMarkWide, seamFigureLeast, seamFigureLeast, seamFigureLeast
	}
	rest := giveWay(w[:], room, int(columnLimit), int(columnRatio), int(columnA), int(columnB))
	if w[columnName] = rest; rest > seamNameMost+seamSidesLeast {
		w[columnName], w[columnSides] = seamNameMost, rest-seamNameMost
	}
	return w
}

// seamMarkWide is how wide the state of a seam is without its word, whose mark has a form of
// its own; it goes without where the room is less than seamRoomLeast, in screen units.
const seamMarkWide, seamRoomLeast = 44, 560

// seamFigureLeast is how wide a column of lengths is there.
const seamFigureLeast = 54

func wordless(room float32) bool { return room < seamRoomLeast }

// giveWay takes the columns away, in this order, that leave a name less than its least
// width in a row of the room, and returns what is left for the name.
func giveWay(w []float32, room float32, order ...int) float32 {
	rest := room - seamRowPad - seamRowEnd
	for _, x := range w {
		rest -= x
	}
	for _, c := range order {
		if rest < seamNameLeast {
			rest += w[c]
			w[c] = 0
		}
	}
	return max(rest, 0)
}

// Layout implements fyne.Layout.
func (l seamCells) Layout(o []fyne.CanvasObject, size fyne.Size) {
	w := l.widths(size.Width)
	if l.two != nil && *l.two {
		l.layTwo(o, w, size)
		return
	}
	layCells(o, w[:], size)
	putWord(o[columnState], !wordless(size.Width))
}

// layTwo lays what is sewn to what, with the ratio and what is allowed, under the seam and its
// lengths.
func (l seamCells) layTwo(o []fyne.CanvasObject, w [seamColumnCount]float32, size fyne.Size) {
	apart := float32(seamLinesApart)
	if l.head {
		apart = seamHeadLineApart
	}
	put := func(c seamColumn, line, x, wide float32) {
		cell := o[c]
		cell.Show()
		high := min(cell.MinSize().Height, apart)
		cell.Move(fyne.NewPos(x, (size.Height-apart)/2+line*apart-high/2))
		cell.Resize(fyne.NewSize(wide-6, high))
	}
	w[columnA], w[columnB] = max(w[columnA], seamFigureLeast), max(w[columnB], seamFigureLeast)
	w[columnName] = max(size.Width-seamRowPad-seamRowEnd-w[columnState]-w[columnLetter]-w[columnA]-w[columnB]-w[columnDiff], 0)
	x := float32(seamRowPad)
	for _, c := range []seamColumn{columnState, columnLetter, columnName, columnA, columnB, columnDiff} {
		put(c, 0, x, w[c])
		x += w[c]
	}
	left := seamRowPad + w[columnState] + w[columnLetter]
	ratio := seamColumnWide[columnRatio]
	limit := max(w[columnDiff], seamColumnWide[columnLimit])
	put(columnSides, 1, left, x-left-ratio-limit)
	put(columnRatio, 1, x-ratio-limit, ratio)
	put(columnLimit, 1, x-limit, limit)
	for _, over := range o[seamColumnCount:] {
		over.Resize(size)
	}
	putWord(o[columnState], !wordless(size.Width))
}

// seamTableRoom lays the table, its rows in as many lines as they need.
type seamTableRoom struct{ s *seamTable }

// MinSize implements fyne.Layout.
func (seamTableRoom) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// Layout implements fyne.Layout.
func (l seamTableRoom) Layout(o []fyne.CanvasObject, size fyne.Size) {
	l.s.foldTo(size.Width)
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

// foldTo has the rows take two lines where so much room is too little for one.
func (s *seamTable) foldTo(room float32) {
	if fold := seamsFold(room); room > 0 && fold != s.two {
		s.two = fold
		s.top.Refresh()
		s.list.Refresh()
		s.mark()
	}
}

// more returns by how much the table needs more height than usual in so much room.
func (s *seamTable) more(wide float32) float32 {
	if seamsFold(wide) {
		return seamRowHigh
	}
	return 0
}

// putWord shows the word of a state beside its mark, or not.
func putWord(cell fyne.CanvasObject, on bool) {
	box, ok := cell.(*fyne.Container)
	if !ok {
		return
	}
	for _, o := range box.Objects {
		if word, ok := innermost(o).(*control.Text); ok {
			show(word, on)
		}
	}
}

// layCells lays cells beside one another in columns of the widths; one without width is
// away.
func layCells(o []fyne.CanvasObject, widths []float32, size fyne.Size) {
	for _, over := range o[len(widths):] {
		over.Resize(size)
	}
	x := float32(seamRowPad)
	for i, w := range widths {
		cell := o[i]
		show(cell, w > 0)
		if w > 0 {
			high := cell.MinSize().Height
			cell.Move(fyne.NewPos(x, (size.Height-high)/2))
			cell.Resize(fyne.NewSize(w-6, high))
			x += w
		}
	}
}

// headShape is that of the heads of the columns.
var headShape = control.Shape{Size: fyne.NewSize(20, 20), Text: 11.5, Radius: 5, Beside: true, Close: true}

func newSeamTable(t *Truing) *seamTable {
	s := &seamTable{t: t, by: columnLetter}
	var heads []fyne.CanvasObject
	for c := range seamColumnCount {
		b := control.NewButton(headShape, "", seamColumnWords[c], seamColumnHints[c], func() { s.sortBy(c) })
		b.Colour = look.Faint
		s.heads[c] = b
		side := control.Row(0, b)
		if c >= columnA {
			side = control.Row(0, control.Spring(), b)
		}
		heads = append(heads, side)
	}
	s.top = container.New(seamCells{&s.two, true}, heads...)
	s.list = control.NewList(func() int { return len(s.rows) }, s.newLine, s.fill, s.pressed)
	s.list.OnKey = s.key
	s.none = control.NewProse("", 12.5, false, look.Faint, 400)
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	s.object = container.New(seamTableRoom{s}, container.NewBorder(control.Stack(0, s.top, line), nil, nil, nil,
		container.NewStack(s.list, control.Inset(seamRowPad, 14, seamRowPad, 0, container.NewVBox(s.none)))))
	s.markHead()
	return s
}

// newLine makes the cells of a row.
func (s *seamTable) newLine() fyne.CanvasObject {
	var row []fyne.CanvasObject
	for c := range seamColumnCount {
		text := control.NewText("", 12.5, c == columnLetter, look.Ink).AtLeast(10)
		if c >= columnA {
			text.Aligned(fyne.TextAlignTrailing)
		}
		if c != columnState {
			row = append(row, text)
			continue
		}
		row = append(row, newStateCell(text))
	}
	return hinting(container.New(seamCells{two: &s.two}, row...))
}

// hinting lays over the cells of a row what says a text whole that is cut short, under the
// pointer.
func hinting(cells *fyne.Container) *fyne.Container {
	cells.Add(control.NewWhole(cells.Objects...))
	return cells
}

// newStateCell makes the cell that says how something stands: a mark and a word.
func newStateCell(word *control.Text) fyne.CanvasObject {
	mark := control.Inset(0, 0, 7, 0, control.Centred(control.NewMark(control.Holds, 15)))
	return container.NewBorder(nil, nil, mark, nil, control.Centred(word))
}

// stateOf returns the mark and the word of a row.
func stateOf(line fyne.CanvasObject) (*control.Mark, *control.Text) {
	cell := line.(*fyne.Container).Objects[columnState].(*fyne.Container)
	var mark *control.Mark
	var text *control.Text
	for _, o := range cell.Objects {
		switch x := innermost(o).(type) {
		case *control.Mark:
			mark = x
		case *control.Text:
			text = x
		}
	}
	return mark, text
}

// innermost returns what a row of containers that hold one thing each holds.
func innermost(o fyne.CanvasObject) fyne.CanvasObject {
	for {
		c, ok := o.(*fyne.Container)
		if !ok || len(c.Objects) != 1 {
			return o
		}
		o = c.Objects[0]
	}
}

// fill puts a seam into a row.
func (s *seamTable) fill(i widget.ListItemID, line fyne.CanvasObject) {
	if i >= len(s.rows) {
		return
	}
	r := s.rows[i]
	cells := r.cells(s.t.desk.Project().Unit)
	mark, word := stateOf(line)
	mark.Put(r.level)
	word.Set(r.word)
	word.SetColour(r.level.Colour())
	for c, o := range line.(*fyne.Container).Objects {
		if text, ok := o.(*control.Text); ok {
			text.Set(cells[c])
			if seamColumn(c) == columnDiff {
				text.SetColour(offColour(r))
			}
		}
	}
}

// offColour is that of how far a seam is off: a seam that holds may have findings of
// another kind.
func offColour(r seamRow) fyne.ThemeColorName {
	if r.level == control.Problem && r.err == nil && !r.state.Holds {
		return look.PinText
	}
	return look.Ink
}

// update shows the seams as they now stand.
func (s *seamTable) update() {
	p := s.t.desk.Project()
	s.all = seamRowsOf(p, s.t.desk.Slots(), s.t.desk.Report())
	s.rows = sorted(s.all, s.filter, s.by, s.backward)
	if s.chosen != "" && p.Seam(s.chosen) == nil {
		s.chosen = ""
	}
	s.t.filter.Word(int(offSeams), filterWord(offSeams, s.all))
	s.t.filter.Word(int(fullSeams), filterWord(fullSeams, s.all))
	s.sayNone(len(p.Seams))
	drawn := s.texts(p.Unit)
	if slices.Equal(drawn, s.drawn) && s.unit == p.Unit {
		return
	}
	s.drawn, s.unit = drawn, p.Unit
	s.list.Refresh()
	s.mark()
}

// texts returns what the rows show, to tell whether anything has changed.
func (s *seamTable) texts(u draft.Unit) []string {
	var out []string
	for _, r := range s.rows {
		cells := r.cells(u)
		out = append(out, string(r.seam.ID), r.level.Icon())
		out = append(out, cells[:]...)
	}
	return out
}

func filterWord(f seamFilter, rows []seamRow) string {
	n := 0
	for _, r := range rows {
		if f.keeps(r) {
			n++
		}
	}
	return seamFilterWords[f] + " " + count(n)
}

// sayNone says why no seam is listed.
func (s *seamTable) sayNone(all int) {
	show(s.none, len(s.rows) == 0)
	switch {
	case all == 0:
		s.none.Put("No edges are sewn together yet. “Not sewn yet” lists the edges that want a partner.")
	case s.filter == offSeams:
		s.none.Put("Every seam holds.")
	default:
		s.none.Put("No seam is eased, gathered or pleated.")
	}
}

// setFilter lists other seams.
func (s *seamTable) setFilter(f seamFilter) {
	s.t.trial.drop()
	s.filter = f
	s.drawn = nil
	s.update()
	s.list.ScrollToTop()
	s.mark()
}

// sortBy lists the seams in the order of a column, or the other way round where they are
// in it already.
func (s *seamTable) sortBy(c seamColumn) {
	s.t.trial.drop()
	s.backward = s.by == c && !s.backward
	s.by = c
	s.drawn = nil
	s.markHead()
	s.update()
	s.mark()
}

// markHead shows at the heads by which column the seams are sorted and which way: up from
// the least, or down from the most.
func (s *seamTable) markHead() {
	for c, b := range s.heads {
		word := seamColumnWords[c]
		if seamColumn(c) == s.by {
			word += map[bool]string{false: " ↑", true: " ↓"}[s.backward != s.by.largestFirst()]
		}
		b.SetWord(word)
	}
}

// mark shows the row of the seam in hand as the chosen one.
func (s *seamTable) mark() {
	for i, r := range s.rows {
		if r.seam.ID == s.chosen {
			s.list.Put(i)
			return
		}
	}
	s.list.UnselectAll()
}

// pressed takes the seam of a row in hand and shows it on the bench.
func (s *seamTable) pressed(i widget.ListItemID) {
	if i < len(s.rows) {
		s.choose(s.rows[i].seam.ID, true)
	}
}

// key goes to the next row or the one before.
func (s *seamTable) key(name fyne.KeyName) bool {
	by := map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1}[name]
	if name == fyne.KeyEscape && s.chosen != "" {
		s.choose("", false)
		return true
	}
	if by == 0 || len(s.rows) == 0 {
		return false
	}
	at := slices.IndexFunc(s.rows, func(r seamRow) bool { return r.seam.ID == s.chosen })
	at = min(max(at+by, 0), len(s.rows)-1)
	s.choose(s.rows[at].seam.ID, true)
	return true
}

// choose takes a seam in hand, and shows it on the bench where that is asked for.
func (s *seamTable) choose(id draft.ID, place bool) {
	s.t.trial.drop()
	if s.chosen != id {
		s.t.seam.scroll.ScrollToTop()
	}
	s.chosen = id
	s.mark()
	if seam := s.t.desk.Project().Seam(id); seam != nil && place {
		s.picking = true
		s.t.ways.Show(desk.SeamRefs(seam)...)
		s.picking = false
	}
	s.t.seam.update()
}

// putDown reports whether what is picked says that nothing is in hand any more: nothing, or
// the piece alone to which Escape leads from an edge.
func putDown(picked desk.Picked) bool {
	return len(picked) == 0 || len(picked) == 1 && picked[0].Kind == desk.Piece
}

// follow takes the seam in hand that the picked edges are sewn in, of several the one that
// stands worst.
func (s *seamTable) follow(picked desk.Picked) {
	if s.picking {
		return
	}
	if putDown(picked) {
		s.chosen = ""
		s.mark()
		return
	}
	seams := s.t.desk.SeamsOf(picked.Of(desk.Edge))
	if len(seams) == 0 || slices.ContainsFunc(seams, func(x *draft.Seam) bool { return x.ID == s.chosen }) {
		return
	}
	gravest := slices.MaxFunc(seams, func(a, b *draft.Seam) int { return cmp.Compare(s.row(a.ID).level, s.row(b.ID).level) })
	s.chosen = gravest.ID
	s.mark()
}
