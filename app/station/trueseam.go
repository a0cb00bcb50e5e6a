package station

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// Widths beside the table of seams, in screen units.
const (
	seamCardWide = 292
	seamCardRoom = seamCardWide - 2*12 - 8
	seamLabel    = 92
	walkWide     = 110 // the buttons at the top
)

// seamCard says of the seam in hand what its sides are, and lets it be mended and meant
// otherwise.
type seamCard struct {
	t      *Truing
	object fyne.CanvasObject
	scroll *container.Scroll
	none   *control.Prose
	body   *fyne.Container
	// all makes every seam fit, notch notches those that have no notches.
	all, notch fyne.CanvasObject

	title *control.Prose
	mark  *control.Mark
	state *control.Prose
	sides [2]*control.Prose
	full  *fullnessBars
	walk  *control.Button
	joins *control.Button
	// down puts the seam down.
	down     *control.Button
	gives    *control.Choice
	way      *control.Choice
	match    *fyne.Container
	deeds    *fyne.Container
	fuller   *control.Choice
	ratio    *control.Field
	fullness *control.Choice
	opens    *control.Check
	lap      *control.Field
	lapRow   fyne.CanvasObject
	// giving and by are how the seam is made to fit: which side gives, and in which way.
	giving draft.Side
	both   bool
	by     int
	// offered is what the deeds were made for.
	offered string
	// meant heads the fields that say how the seam is meant.
	meant fyne.CanvasObject
	// laid is how what the card shows was last laid out.
	laid seamLaid
}

// seamLaid tells when what the card shows has to be laid out anew: text alone that takes
// the room of other text, as at every step of a drag, leaves all in its place.
type seamLaid struct {
	seam       draft.ID
	all, notch bool
	offered    string
	size       fyne.Size
}

// matchWay is a way in which the sides of a seam are made to fit.
type matchWay struct {
	word string
	// act does it, with these arguments besides the seam.
	act  string
	args map[string]string
	// sided says that a side can be told to give.
	sided bool
}

// matchWays are the ways that are offered, as far as there are the acts for them.
var matchWays = []matchWay{
	{"moving an end", "match-seam", map[string]string{"way": "end"}, true},
	{"bending between its ends", "match-seam", map[string]string{"way": "bend"}, true},
	{"spreading along it", "match-seam", map[string]string{"way": "spread"}, true},
	{"taking it up as a dart", "take-up", map[string]string{"as": "dart"}, false},
	{"taking it up as ease", "take-up", map[string]string{"as": "ease"}, false},
	{"taking it up as gathers", "take-up", map[string]string{"as": "gathers"}, false},
}

// offeredWays returns the ways for which there are acts.
func offeredWays() []matchWay {
	return slices.DeleteFunc(slices.Clone(matchWays), func(w matchWay) bool { return !known(w.act) })
}

// known reports whether there is an act of the name.
func known(act string) bool {
	_, err := draft.ActNamed(act)
	return err == nil
}

func newSeamCard(t *Truing) *seamCard {
	c := &seamCard{t: t, both: true}
	c.none = control.NewProse("Press a seam to see both its sides on the bench, and what can be done about it.", 12, false, look.Faint, seamCardRoom)
	head, sides := c.newHead(), c.newSides()
	c.match = c.newMatch()
	c.deeds = control.Stack(6)
	c.meant = control.Inset(0, 2, 0, 0, control.NewText("As it is meant", 12, true, look.Faint))
	c.body = control.Stack(7, append([]fyne.CanvasObject{head, sides, c.match, c.deeds, c.meant}, c.newMeant()...)...)
	c.all = t.trial.newDeeds(nil, []deed{deedOf(draft.Mend{Title: "Make all seams fit together, with the least change", Act: matchAll})}, seamCardRoom, deedsAtRest)
	c.notch = t.trial.newDeeds(nil, []deed{deedOf(draft.Mend{Title: "Put matching notches on all seams that want some", Act: "notch-seams"})}, seamCardRoom, deedsAtRest)
	c.scroll = container.NewVScroll(control.Inset(12, 4, 12, 12, control.Stack(10, c.none, c.all, c.notch, c.body)))
	c.object = container.NewBorder(nil, nil, control.Upright(), nil, c.scroll)
	return c
}

// newHead is the name of the seam, how it stands, and what it is looked at with.
func (c *seamCard) newHead() fyne.CanvasObject {
	c.title = control.NewProse("", 13, true, look.Ink, seamCardRoom-24-walkWide)
	c.mark = control.NewMark(control.Holds, 16)
	c.state = control.NewProse("", 12, true, look.MossText, seamCardRoom-24-walkWide)
	c.walk = control.NewButton(control.SmallShape, "walk", "Walk it", "Roll one side along the other, stitch by stitch, and see where both end", func() { c.t.ways.Walk(c.t.seams.chosen) })
	show(c.walk, c.t.ways.Walk != nil)
	c.joins = control.NewButton(control.SmallShape, "smooth", "See its joins", "Lay the pieces together at the ends of the seam, and see how hem, neck or armhole run on across it", c.t.seeJoins)
	c.down = control.NewButton(control.SmallShape, "close", "All seams", "Put this seam down, and see what can be done to all of them", func() { c.t.seams.choose("", false) })
	mark := control.Inset(0, 1, 8, 0, container.NewVBox(c.mark))
	return container.NewBorder(nil, nil, mark, container.NewVBox(c.walk, c.joins, c.down), control.Stack(2, c.title, c.state))
}

// newSides tells what either side sews, with bars for its length.
func (c *seamCard) newSides() fyne.CanvasObject {
	for i := range c.sides {
		c.sides[i] = control.NewProse("", 12, false, look.Ink, seamCardRoom)
	}
	c.full = newFullnessBars()
	return control.Stack(3, c.sides[0], c.full.side[0].object, c.sides[1], c.full.side[1].object, c.full.says, c.full.takes)
}

// newMatch asks in which way the sides are made to fit, and which of them may change.
func (c *seamCard) newMatch() *fyne.Container {
	var ways []string
	for _, w := range offeredWays() {
		ways = append(ways, w.word)
	}
	c.gives = control.NewChoice("Which side gives, so that the other one stays as it is", nil, func(i int) {
		c.both, c.giving = i == 0, draft.Side(max(i-1, 0))
		c.again()
	})
	c.way = control.NewChoice("In which way the sides are made to fit", ways, func(i int) {
		c.by = i
		c.again()
	})
	c.way.Put(0)
	return control.Stack(7, control.LabelledBy(seamLabel, "Fit it by", c.way.Object()), control.LabelledBy(seamLabel, "May change", c.gives.Object()))
}

// newMeant is what the seam is meant to be: its fullness, whether it opens, and whether it is
// there at all.
func (c *seamCard) newMeant() []fyne.CanvasObject {
	c.fuller = control.NewChoice("Which of the two sides is the longer one, of which the extra length is taken in", nil, c.setFuller)
	c.ratio = control.NewField("How much longer the fuller side is meant to be: 1 plain, 1.03 eased, 1.5 gathered", c.setRatio)
	c.fullness = control.NewChoice("What becomes of the extra length of the fuller side", fullnessWords(), c.setFullness)
	c.opens = control.NewCheck("Opens: buttons, hooks, ties", func(on bool) { c.t.report(c.edit(draft.EditSeamArgs{Opens: &on})) })
	c.lap = control.NewField("By how much the two sides lie over each other when it is closed", c.setLap)
	c.lapRow = control.LabelledBy(seamLabel, "Lap", c.lap.Object())
	apart := control.NewButton(control.SmallShape, "", "Take apart", "Take this seam apart; the edges stay as they are", c.takeApart)
	return []fyne.CanvasObject{
		control.LabelledBy(seamLabel, "Fuller side", c.fuller.Object()),
		control.LabelledBy(seamLabel, "Fuller by", c.ratio.Object()),
		control.LabelledBy(seamLabel, "Fullness", c.fullness.Object()),
		c.opens, c.lapRow,
		control.Row(6, control.Spring(), apart),
	}
}

func fullnessWords() []string {
	var out []string
	for _, f := range draft.Fullnesses() {
		out = append(out, f.String())
	}
	return out
}

// seam returns the seam in hand, or nil.
func (c *seamCard) seam() *draft.Seam { return c.t.desk.Project().Seam(c.t.seams.chosen) }

// update shows the seam in hand as it now stands.
func (c *seamCard) update() {
	s := c.seam()
	c.t.beside.hold(s != nil)
	show(c.none, s == nil)
	show(c.body, s != nil)
	c.offerAll(s == nil)
	if s != nil {
		c.tell(s)
		c.offer(s)
	}
	laid := seamLaid{c.t.seams.chosen, c.all.Visible(), c.notch.Visible(), c.offered, c.scroll.Content.MinSize()}
	if c.laid == laid {
		return
	}
	same, was := c.laid.seam == laid.seam, c.meant.Position().Y
	c.laid = laid
	c.scroll.Refresh()
	if by := c.meant.Position().Y - was; same && was > 0 && by != 0 {
		// What is offered above has changed: the field that was typed into stays in place.
		c.scroll.Offset.Y = max(c.scroll.Offset.Y+by, 0)
		c.scroll.Refresh()
	}
}

// offerAll offers what is done to all seams at once, where none is in hand: to make them
// fit, where several do not, and to notch them, where they do.
func (c *seamCard) offerAll(on bool) {
	off := 0
	for _, r := range c.t.seams.all {
		if r.err == nil && !r.state.Holds {
			off++
		}
	}
	show(c.all, on && off > 1 && known(matchAll))
	show(c.notch, on && off <= 1 && len(c.t.desk.Project().UnnotchedSeams()) > 1)
}

// matchAll is the act that makes many seams fit together.
const matchAll = "match-seams"

// tell says what the sides measure and how the seam stands.
func (c *seamCard) tell(s *draft.Seam) {
	p := c.t.desk.Project()
	u := p.Unit
	row := c.t.seams.row(s.ID)
	c.title.Put(row.letter + " · " + s.Name)
	c.mark.Put(row.level)
	show(c.joins, len(c.t.joints(s.ID)) > 0)
	c.state.PutAs(c.stands(p, row), row.level.Colour())
	for i, run := range []draft.Run{s.A, s.B} {
		length := [2]float64{row.state.A, row.state.B}[i]
		words := [2]string{"a", "b"}[i] + ": " + draft.SideName(p, run)
		if row.err == nil {
			words += ", " + u.Format(length)
		}
		c.sides[i].Put(words)
	}
	c.full.put(p, c.t.desk.Slots(), s)
	names := []string{draft.SideName(p, s.A), draft.SideName(p, s.B)}
	given := 0
	if !c.both {
		given = int(c.giving) + 1
	}
	c.gives.Offer([]string{"both, as they can", "a: " + names[0], "b: " + names[1]}, given)
	show(c.match, row.err == nil && !row.state.Holds && len(c.way.Options) > 0)
	show(c.lapRow, s.Opens)
	c.fuller.Offer([]string{"a: " + draft.SideName(p, s.A), "b: " + draft.SideName(p, s.B)}, int(s.Fuller))
	c.ratio.Put("× " + strconv.FormatFloat(s.Ratio, 'g', 5, 64))
	c.fullness.Put(int(s.Fullness))
	c.opens.Put(s.Opens)
	c.lap.Put(u.Format(s.Lap))
}

// row returns a seam as the table shows it.
func (s *seamTable) row(id draft.ID) seamRow {
	for _, r := range s.all {
		if r.seam.ID == id {
			return r
		}
	}
	return seamRow{err: errSeamGone}
}

// stands says in a few words how the seam stands.
func (c *seamCard) stands(p *draft.Project, r seamRow) string {
	switch {
	case r.err != nil:
		return r.err.Error()
	case r.state.Holds && r.level == control.Holds:
		return "holds"
	case r.state.Holds:
		return r.word
	}
	text := r.state.Off(p).Says(p.Unit)
	if r.level == control.Note {
		text += ", you live with it"
	}
	return text
}

// offer makes the deeds for the seam anew where they would be others.
func (c *seamCard) offer(s *draft.Seam) {
	deeds, key := c.deedsFor(s)
	if key == c.offered {
		return
	}
	c.offered = key
	c.deeds.Objects = nil
	if len(deeds) > 0 {
		c.deeds.Add(c.t.trial.newDeeds(c, deeds, seamCardRoom, deedsAtRest))
	}
	c.deeds.Refresh()
}

// again makes the deeds anew after another way was chosen.
func (c *seamCard) again() {
	c.t.trial.drop()
	c.offered = ""
	c.update()
}

// fit returns the mend that makes the seam fit as it was chosen.
func (c *seamCard) fit(s *draft.Seam) draft.Mend {
	way := offeredWays()[c.by]
	args := maps.Clone(way.args)
	args["seam"] = string(s.ID)
	if way.sided {
		args["gives"] = "both"
		if !c.both {
			args["gives"] = c.giving.String()
		}
	}
	return draft.Mend{Title: "Make it fit so", Act: way.act, Args: args}
}

// asItIs returns the mend that takes the lengths that there are for what is meant.
func asItIs(seam draft.ID) draft.Mend {
	return draft.Mend{Title: "Take these lengths as meant", Act: "ratio-as-it-is", Args: map[string]string{"seam": string(seam)}}
}

// deedsFor returns what can be done about a seam, with what tells it apart from what could
// be done before.
func (c *seamCard) deedsFor(s *draft.Seam) (deeds []deed, key string) {
	row := c.t.seams.row(s.ID)
	key = fmt.Sprint(s.ID, row.word, len(s.Marks))
	if row.err != nil {
		return nil, key
	}
	if !row.state.Holds {
		if len(c.way.Options) > 0 {
			deeds = append(deeds, deedOf(c.fit(s)))
		}
		deeds = append(deeds, deedOf(asItIs(s.ID)))
	}
	if len(s.Marks) == 0 && known("notch-seam") {
		deeds = append(deeds, deedOf(draft.Mend{Title: "Put matching notches on both sides", Act: "notch-seam", Args: map[string]string{"seam": string(s.ID)}}))
	}
	return deeds, key
}

// edit changes the seam in hand, and shows it as it is where that cannot be done.
func (c *seamCard) edit(args draft.EditSeamArgs) error {
	args.Seam = draft.SeamRef(c.t.seams.chosen)
	err := desk.Run(c.t.desk, draft.EditSeam, args)
	if err != nil {
		c.update()
	}
	return err
}

func (c *seamCard) setFuller(k int) {
	side := draft.Side(k)
	c.t.report(c.edit(draft.EditSeamArgs{Fuller: &side}))
}

func (c *seamCard) setRatio(text string) error {
	ratio, err := draft.ParseNumber(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "×")))
	if err != nil {
		return err
	}
	return c.edit(draft.EditSeamArgs{Ratio: &ratio})
}

func (c *seamCard) setFullness(k int) {
	f := draft.Fullness(k)
	args := draft.EditSeamArgs{Fullness: &f}
	if s := c.seam(); s != nil {
		one, some := 1.0, usualRatio(f)
		switch {
		case f == draft.Plain:
			args.Ratio = &one
		case s.Ratio == 1:
			args.Ratio = &some
		}
	}
	c.t.report(c.edit(args))
}

// usualRatio is where a fullness starts from (common practice, no source).
func usualRatio(f draft.Fullness) float64 {
	return map[draft.Fullness]float64{draft.Plain: 1, draft.Ease: 1.02, draft.Gathers: 1.5, draft.Pleats: 3}[f]
}

func (c *seamCard) setLap(text string) error {
	mm, err := c.t.desk.Project().Unit.Parse(text)
	if err != nil {
		return err
	}
	lap := draft.Length(mm)
	return c.edit(draft.EditSeamArgs{Lap: &lap})
}

func (c *seamCard) takeApart() {
	c.t.report(desk.Run(c.t.desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(c.t.seams.chosen)}}))
}
