package shell

import (
	"slices"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/draft"
)

// actPlace lays the card where it covers least of what the act changes.
type actPlace struct{ c *actCard }

func (actPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l actPlace) Layout(o []fyne.CanvasObject, size fyne.Size) {
	card := fyne.NewSize(actCardWide, l.c.high(o[0], size))
	o[0].Resize(card)
	o[0].Move(l.c.lie(size, card))
}

// high returns how high the card is: as high as what it holds, and no higher than the bench,
// where the values scroll so that its buttons stay in sight.
func (c *actCard) high(card fyne.CanvasObject, room fyne.Size) float32 {
	high := card.MinSize().Height
	if c.scroll == nil {
		return high
	}
	all := high - c.scroll.MinSize().Height + c.rows.MinSize().Height
	return max(min(all, room.Height-c.s.bench.Covered()-2*actCardClear), high)
}

// actCardSays is the room that is kept under a card for what the act has to say, in
// screen units: five lines.
const actCardSays = 90

// clearance is what a card keeps clear of.
type clearance struct {
	// pieces are those that the act was given, or else those that are picked.
	pieces []draft.ID
	// takes are the kinds of things of which one is to be clicked next, none where nothing is
	// asked of the pointer.
	takes []desk.Kind
}

func (c clearance) same(o clearance) bool {
	return slices.Equal(c.pieces, o.pieces) && slices.Equal(c.takes, o.takes)
}

// clearance returns what the card keeps clear of as the act now stands.
func (c *actCard) clearance() clearance {
	x := clearance{pieces: c.asking.Pieces()}
	if len(x.pieces) == 0 {
		x.pieces = c.s.desk.Picked().Pieces()
	}
	if c.asking.Awaits() {
		x.takes = c.asking.Takes()
	}
	return x
}

// lie returns where the card lies. It keeps its place, and grows downwards, until the act
// is about other pieces, asks for something else, or the bench has another size; while its
// fields have the keys it does not move for anything but to stay in sight. Where the user has
// laid it, it stays.
func (c *actCard) lie(room, card fyne.Size) fyne.Position {
	if c.asking == nil {
		return c.at
	}
	about := c.clearance()
	if !c.moved && (!c.laid || room != c.room || !about.same(c.about) && !c.typing()) {
		free, says := card, float32(0)
		if c.told.Visible() {
			says = c.told.MinSize().Height
		}
		if c.warns.Visible() {
			says += c.warns.MinSize().Height
		}
		free.Height += max(actCardSays-says, 0)
		c.about, c.touch = about, nil
		if len(about.takes) > 0 {
			c.touch = c.s.bench.Touchables(touchStep)
		}
		c.pointer = nil
		if at, on := c.s.bench.Pointer(); on {
			c.pointer = &at
		}
		c.at, c.room = c.place(room, free), room
		c.laid = room.Height > 0
	}
	return c.within(c.at, room, card)
}

// within returns the place nearest to the one at which all of the card is in sight.
func (c *actCard) within(at fyne.Position, room, card fyne.Size) fyne.Position {
	top := c.s.bench.Covered() + actCardClear
	right, low := max(room.Width-card.Width-actCardClear, actCardClear), max(room.Height-card.Height-actCardClear, top)
	return fyne.NewPos(min(max(at.X, actCardClear), right), min(max(at.Y, top), low))
}

// drag lays the card where the user takes it, where it stays for other acts too.
func (c *actCard) drag(by fyne.Delta) {
	c.moved = true
	c.at = c.within(c.card.Position().Add(by), c.object.Size(), c.card.Size())
	c.object.Refresh()
}

// letGo has the card find its place by itself again.
func (c *actCard) letGo() {
	c.moved, c.laid = false, false
	c.object.Refresh()
}

// typing reports whether the keys are at one of the fields.
func (c *actCard) typing() bool {
	on := c.s.win.Canvas().Focused()
	for _, f := range c.fields {
		if f.typed != nil && on == fyne.Focusable(f.typed) {
			return true
		}
	}
	return false
}

// actCardStops is into how many places the ways across and down the bench are parted
// where a card is tried.
const actCardStops = 4

// worthMoving is to which share what the card covers must come down for it to go to another
// place once it has one.
const worthMoving = 0.8

// place returns where the card covers least: it stays where it is unless it covers more
// there than elsewhere, and then lies at the right top if it can.
func (c *actCard) place(room, card fyne.Size) fyne.Position {
	top := c.s.bench.Covered() + actCardClear
	for _, other := range c.s.rightCards() {
		if other.visible() {
			room.Width -= other.is.wide + actCardClear
		}
	}
	right, low := max(room.Width-card.Width-actCardClear, actCardClear), max(room.Height-card.Height-actCardClear, top)
	best := fyne.NewPos(right, top)
	if c.laid && c.at.X <= right && c.at.Y <= low {
		best = c.at
	}
	least := c.covers(best, card)
	if c.laid && best == c.at {
		least *= worthMoving
	}
	try := func(x, y float32) {
		if over := c.covers(fyne.NewPos(x, y), card); over < least {
			best, least = fyne.NewPos(x, y), over
		}
	}
	for _, x := range [...]float32{right, actCardClear} {
		try(x, top)
		try(x, low)
	}
	for i := range actCardStops + 1 {
		for j := range actCardStops + 1 {
			try(actCardClear+(right-actCardClear)*float32(i)/actCardStops, top+(low-top)*float32(j)/actCardStops)
		}
	}
	return best
}

// touchStep is how far apart the places are, in screen units, at which is looked for things
// to click: closer than an edge can be touched wide.
const touchStep = 12

// sparedCounts is what a unit of area counts that the card covers of a piece that it keeps
// clear of, against one of any piece.
const sparedCounts = 8

// hiddenCounts is what a thing that is asked for counts, in units of area, where the card
// covers all of it; one of which half is to be seen can be clicked still, and counts a quarter.
const hiddenCounts = 2e5

// A card that came to lie under the pointer would take the presses meant for the bench:
// pointerClear is how far it keeps from it, in screen units, and pointerCounts what it counts
// where it does not.
const (
	pointerClear  = 12
	pointerCounts = 1e7
)

// covers returns how much the card covers where it lies: of what it keeps clear of, which
// counts more, and of all other pieces.
func (c *actCard) covers(at fyne.Position, card fyne.Size) (area float32) {
	for _, p := range c.s.desk.Project().Pieces {
		pos, size, ok := c.s.bench.Where(p.ID)
		if !ok {
			continue
		}
		over := overlap(at, card, pos, size)
		if slices.Contains(c.about.pieces, p.ID) {
			over *= sparedCounts
		}
		area += over
	}
	if p := c.pointer; p != nil && overlap(at, card, p.SubtractXY(pointerClear, pointerClear), fyne.NewSquareSize(2*pointerClear)) > 0 {
		area += pointerCounts
	}
	for _, places := range c.touch {
		hidden := 0
		for _, p := range places {
			if p.X >= at.X && p.X < at.X+card.Width && p.Y >= at.Y && p.Y < at.Y+card.Height {
				hidden++
			}
		}
		share := float32(hidden) / float32(len(places))
		area += hiddenCounts * share * share
	}
	return area
}

// overlap returns the area that two boxes share.
func overlap(p fyne.Position, a fyne.Size, q fyne.Position, b fyne.Size) float32 {
	w := min(p.X+a.Width, q.X+b.Width) - max(p.X, q.X)
	h := min(p.Y+a.Height, q.Y+b.Height) - max(p.Y, q.Y)
	return max(w, 0) * max(h, 0)
}
