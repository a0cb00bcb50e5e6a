package station

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
)

// benchOver lays the bench over the tables, which have their share of the height. more, where
// not nil, returns by how much they need more than usual.
type benchOver struct{ more func(wide float32) float32 }

// The tables have this share of the height, within these bounds, in screen units.
const (
	tablesShare          = 0.36
	tablesLow, tablesTop = 210, 400
	benchLeast           = 200 // width and height, so that the window may become small
)

// MinSize implements fyne.Layout. The tables fit themselves to what room there is.
func (benchOver) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(benchLeast, o[0].MinSize().Height+tablesLow)
}

// Layout implements fyne.Layout.
func (l benchOver) Layout(o []fyne.CanvasObject, size fyne.Size) {
	low := float32(tablesLow)
	if l.more != nil {
		low += l.more(size.Width)
	}
	high := float32(math.Round(float64(min(max(size.Height*tablesShare, low), tablesTop)))) // a bench of half a pixel more would be drawn squeezed
	if !o[1].Visible() {
		high = 0
	}
	o[0].Move(fyne.Position{})
	o[0].Resize(fyne.NewSize(size.Width, max(size.Height-high, 0)))
	o[1].Move(fyne.NewPos(0, size.Height-high))
	o[1].Resize(fyne.NewSize(size.Width, high))
}

// tablesRoom lays what is over the tables and the tables: which table, which rows of it, the
// report at the right, and the table. Where they do not fit beside one another the rows and
// the report have a line of their own.
type tablesRoom struct{}

// The room about what is over the tables, in screen units.
const (
	tableHeadX, tableHeadY = 12, 6
	tableHeadGap           = 12
)

// MinSize implements fyne.Layout.
func (tablesRoom) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(benchLeast, tablesLow)
}

// Layout implements fyne.Layout: of tabs, filter, report and table.
func (tablesRoom) Layout(o []fyne.CanvasObject, size fyne.Size) {
	tabs, filter, report, table := o[0], o[1], o[2], o[3]
	high := max(tabs.MinSize().Height, report.MinSize().Height)
	put := func(o fyne.CanvasObject, x, y float32) {
		m := o.MinSize()
		o.Move(fyne.NewPos(x, y+(high-m.Height)/2))
		o.Resize(m)
	}
	y := float32(tableHeadY)
	put(tabs, tableHeadX, y)
	x := tableHeadX + tabs.MinSize().Width + tableHeadGap
	wide := x + report.MinSize().Width + tableHeadX
	if filter.Visible() {
		wide += filter.MinSize().Width + tableHeadGap
	}
	if wide > size.Width {
		x, y = tableHeadX, y+high+tableHeadY
	}
	put(filter, x, y)
	put(report, size.Width-tableHeadX-report.MinSize().Width, y)
	y += high + tableHeadY
	table.Move(fyne.NewPos(0, y))
	table.Resize(fyne.NewSize(size.Width, max(size.Height-y, 0)))
}

// tableAside is a table with, beside it, what can be done about the row in hand. Where there
// is no room for both, what is in hand takes the place of the table, with a way back.
type tableAside struct {
	object       *fyne.Container
	table, aside fyne.CanvasObject
	back         *control.Button
	// inHand says whether a row is.
	inHand bool
}

// asideLeast is the least width of a table that has something beside it, in screen units.
const asideLeast = 260

// newTableAside puts both together; back leaves the row in hand.
func newTableAside(table, aside fyne.CanvasObject, word string, back func()) *tableAside {
	a := &tableAside{table: table, aside: aside}
	a.back = control.NewButton(control.SmallShape, "", word, "Back to the table", back)
	a.object = container.New(a, table, aside, a.back)
	return a
}

// hold tells whether a row is in hand.
func (a *tableAside) hold(on bool) {
	if a.inHand != on {
		a.inHand = on
		a.object.Refresh()
	}
}

// MinSize implements fyne.Layout.
func (*tableAside) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(benchLeast, 100) }

// Layout implements fyne.Layout.
func (a *tableAside) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	both := size.Width >= seamCardWide+asideLeast
	show(a.table, both || !a.inHand)
	show(a.aside, both || a.inHand)
	show(a.back, !both && a.inHand)
	left, top := size.Width, float32(0)
	switch {
	case both:
		left = size.Width - seamCardWide
	case a.inHand:
		left = 0
		m := a.back.MinSize()
		a.back.Move(fyne.NewPos(tableHeadX, 0))
		a.back.Resize(m)
		top = m.Height + tableHeadY
	}
	a.table.Move(fyne.Position{})
	a.table.Resize(fyne.NewSize(max(left, 0), size.Height))
	a.aside.Move(fyne.NewPos(left, top))
	a.aside.Resize(fyne.NewSize(max(size.Width-left, 0), max(size.Height-top, 0)))
}
