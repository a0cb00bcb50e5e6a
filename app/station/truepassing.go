package station

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// passing says of the opening in hand what has to go through it, and how much that is
// round.
type passing struct {
	t      *Truing
	object fyne.CanvasObject
	what   *control.Choice
	name   *control.Field
	named  fyne.CanvasObject
	girth  *control.Field
	round  fyne.CanvasObject

	opening *draft.Opening
	offers  []desk.Passer
	// other says that something is to go through that is not listed yet.
	other bool
}

func newPassing(t *Truing) *passing {
	c := &passing{t: t}
	c.what = control.NewChoice("What has to go through this opening when the garment is put on", nil, c.choose)
	c.name = control.NewField("What to call it: lantern hand, spines", func(string) error { return nil })
	c.girth = control.NewField("How much it is round at its widest; this is noted with the wearer", c.setGirth)
	c.named = control.LabelledBy(seamLabel, "Call it", c.name.Object())
	c.round = control.LabelledBy(seamLabel, "Is round", c.girth.Object())
	c.object = control.Stack(7, control.Inset(0, 2, 0, 0, control.NewText("What goes through it", 12, true, look.Faint)),
		control.LabelledBy(seamLabel, "Lets pass", c.what.Object()), c.named, c.round)
	return c
}

// show tells of the opening that a proof is about; of another proof nothing.
func (c *passing) show(pr draft.Proof) {
	c.put(c.openingOf(pr))
}

// openingOf returns the opening that a proof is about, nil for none.
func (c *passing) openingOf(pr draft.Proof) *draft.Opening {
	for _, o := range c.t.desk.Slots().AllOpenings(c.t.desk.Project()) {
		if o.Key == pr.Key && len(c.edges(&o)) > 0 && c.t.desk.Project().Wearer(o.Wearer) != nil {
			return &o
		}
	}
	return nil
}

func (c *passing) put(o *draft.Opening) {
	show(c.object, o != nil)
	if o == nil {
		c.opening = nil
		return
	}
	if c.opening == nil || c.opening.Key != o.Key {
		c.other = false
	}
	c.opening = o
	p := c.t.desk.Project()
	said := c.said()
	c.offers = c.t.desk.Passers(p.Wearer(o.Wearer))
	if said != "" && !slices.ContainsFunc(c.offers, func(x desk.Passer) bool { return x.Name == said }) {
		c.offers = slices.Insert(c.offers, 0, desk.Passer{Name: said, Words: desk.BodyOf(said)})
	}
	byName := "by its name"
	if said == "" && o.What != "" {
		byName += ": " + o.What
	}
	words, at := []string{byName}, 0
	for i, x := range c.offers {
		text := x.Words
		if x.Girth > 0 {
			text += ", " + p.Unit.Format(x.Girth)
		}
		if words = append(words, text); x.Name == said {
			at = i + 1
		}
	}
	if words = append(words, "something else…"); c.other {
		at = len(words) - 1
	}
	c.what.Offer(words, at)
	show(c.named, c.other)
	show(c.round, c.other || o.Passes != "" && o.Passes != draft.PassesNothing)
	switch {
	case c.other:
		c.girth.Put("")
	case o.Known:
		c.girth.Put(p.Unit.Format(o.Needs))
	default:
		c.girth.Put("")
	}
}

// edges returns the edges that bound the opening, on both sides of its seams.
func (c *passing) edges(o *draft.Opening) []draft.EdgeRef {
	p := c.t.desk.Project()
	uses := slices.Clone(o.Uses)
	for _, id := range o.Seams {
		if s := p.Seam(id); s != nil {
			uses = slices.Concat(uses, s.A, s.B)
		}
	}
	var out []draft.EdgeRef
	for _, u := range uses {
		ref := draft.EdgeRef{Piece: u.Piece, Edge: u.Edge}
		piece := p.Piece(u.Piece)
		if piece == nil || slices.Contains(out, ref) {
			continue
		}
		if e, i := piece.Edge(u.Edge); i >= 0 && e.Kind != draft.FoldEdge {
			out = append(out, ref)
		}
	}
	return out
}

// said returns what the edges of the opening say that goes through it.
func (c *passing) said() string {
	p := c.t.desk.Project()
	for _, ref := range c.edges(c.opening) {
		if e, i := p.Piece(ref.Piece).Edge(ref.Edge); i >= 0 && e.Passes != "" {
			return e.Passes
		}
	}
	return ""
}

// choose says what goes through.
func (c *passing) choose(k int) {
	if c.opening == nil {
		return
	}
	c.t.trial.drop()
	if c.other = k > len(c.offers); c.other {
		c.put(c.opening)
		c.t.proofs.scroll.Refresh()
		return
	}
	what := ""
	if k > 0 {
		what = c.offers[k-1].Name
	}
	c.t.report(c.say(what, ""))
	c.t.Update()
}

func (c *passing) say(what, fold string) error {
	_, err := desk.RunFolded(c.t.desk, draft.SetPasses, draft.SetPassesArgs{Edges: c.edges(c.opening), What: draft.Passing(what)}, fold)
	return err
}

var errNameWhatPasses = errors.New("first say what to call it")

// setGirth notes how much round it is what goes through, as a part of the wearer.
func (c *passing) setGirth(text string) error {
	if c.opening == nil {
		return nil
	}
	mm, err := c.t.desk.Project().Unit.Parse(text)
	if err != nil {
		return err
	}
	name := strings.TrimSpace(c.name.Text)
	switch {
	case c.other && name == "":
		return errNameWhatPasses
	case !c.other:
		name = c.partName()
	}
	const fold = "note what goes through"
	girth := draft.Length(mm)
	edges, says := c.edges(c.opening), c.other || c.said() != ""
	if _, err := desk.RunFolded(c.t.desk, draft.SetPart, draft.SetPartArgs{Wearer: draft.WearerRef(c.opening.Wearer), Name: name, Girth: &girth}, fold); err != nil {
		return err
	}
	c.other = false
	if says {
		_, err = desk.RunFolded(c.t.desk, draft.SetPasses, draft.SetPassesArgs{Edges: edges, What: draft.Passing(name)}, fold)
	}
	c.t.Update()
	return err
}

// partName is what the part is called whose girth is noted: that part, or what the measure
// goes round.
func (c *passing) partName() string {
	if w := c.t.desk.Project().Wearer(c.opening.Wearer); w != nil {
		for _, part := range w.Parts {
			if part.Name == c.opening.Passes {
				return part.Name
			}
		}
	}
	return desk.BodyOf(c.opening.Passes)
}
