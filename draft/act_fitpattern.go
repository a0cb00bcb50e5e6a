package draft

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"hemlet/geom"
)

// groupFit is the heading under which the acts of fitting are listed.
const groupFit = "Fit"

// FitPatternArgs are the arguments of FitPattern.
type FitPatternArgs struct {
	Pieces []PieceRef `arg:"pieces,optional" says:"the pieces; without it, the whole pattern"`
	Wearer WearerRef  `arg:"wearer" says:"the wearer to whom it is fitted"`
	Ease   FitEase    `arg:"ease" says:"scaled: ease grows and shrinks with the body; kept: it stays as many mm as it was" default:"scaled"`
	Keep   FitKeep    `arg:"keep" says:"what gives least between the measured stretches: the style, the widths or the lengths" default:"style"`
	Free   bool       `arg:"free" says:"pieces of a block are fitted by their measured stretches as well, and follow the block no more" default:"no"`
	// PlanOnly leaves the pieces as they are: only what is to be solved is wanted.
	PlanOnly bool `arg:"-"`
}

// FitPattern re-shapes a pattern for another body: stretches that stand for measures get the
// lengths that the wearer asks for, seams stay true, folds and straight edges stay, and
// between all that the shapes change as little as can be. The pattern as it was is kept, so
// that it is fitted anew when a measure changes. Pieces of a block are drafted for the
// wearer instead, unless they are to be free of it; what is made from another piece follows
// that.
var FitPattern = register(Info{
	Name: "fit-pattern", Title: "Fit a pattern to a wearer", Group: groupFit,
	Says: "Re-shapes a pattern for another body by the stretches that stand for its measures; seams stay true, and it follows the wearer's measures from then on.",
}, fitPattern)

func fitPattern(p *Project, a FitPatternArgs) (Outcome, error) {
	w := p.Wearer(ID(a.Wearer))
	if w == nil {
		return Outcome{}, fmt.Errorf("wearer %s %w", a.Wearer, errGone)
	}
	c := &fitCall{p: p, args: a, wearer: w, out: Outcome{Project: p, unit: p.Unit, subject: labelOf(w.Name, w.ID)}}
	if err := c.sort(); err != nil {
		return Outcome{}, err
	}
	for _, d := range c.fits {
		c.again(d)
	}
	for _, d := range c.blocks {
		c.useWearer(d)
	}
	if len(c.pieces) > 0 {
		if err := c.begin(); err != nil {
			return Outcome{}, err
		}
	}
	if c.out.Project == p {
		return Outcome{}, fmt.Errorf("it is fitted to %s so already", labelOf(w.Name, w.ID))
	}
	return c.out, nil
}

// fitCall is one call of FitPattern.
type fitCall struct {
	p      *Project
	args   FitPatternArgs
	wearer *Wearer
	out    Outcome
	// pieces are those that are fitted for the first time; fits and blocks are those whose
	// pieces follow them already.
	pieces       []*Piece
	fits, blocks []*Derivation
}

// sort tells what is to be done of the pieces that are named, or of the whole pattern.
func (c *fitCall) sort() error {
	named := make(map[ID]bool, len(c.args.Pieces))
	for _, r := range c.args.Pieces {
		piece := c.p.Piece(ID(r))
		if piece == nil {
			return fmt.Errorf("piece %s %w", r, errGone)
		}
		if err := mayGive(piece); err != nil {
			return err
		}
		named[piece.ID] = true
	}
	for _, piece := range c.p.Pieces {
		if len(named) > 0 && !named[piece.ID] || piece.Ghost > 0 {
			continue
		}
		if piece.Locked {
			c.out.say("%s is locked and stays as it is.", piece.label())
			continue
		}
		c.take(piece)
	}
	if len(c.pieces)+len(c.fits)+len(c.blocks) == 0 {
		if len(named) > 0 {
			return errors.New("these pieces are made from others and follow those; fit what they are made from")
		}
		return errors.New("there is no piece to fit")
	}
	return nil
}

// take tells what is to be done of one piece.
func (c *fitCall) take(piece *Piece) {
	add := func(list *[]*Derivation, d *Derivation) {
		if !slices.Contains(*list, d) {
			*list = append(*list, d)
		}
	}
	var d *Derivation
	if piece.Derived != nil {
		d = c.p.Derivation(piece.Derived.Derivation)
	}
	switch {
	case d == nil:
		c.pieces = append(c.pieces, piece)
	case d.Kind == fitKind:
		add(&c.fits, d)
	case d.Kind == blockKind && c.args.Free:
		c.pieces = append(c.pieces, piece)
	case d.Kind == blockKind:
		add(&c.blocks, d)
	}
}

// again lets a fit that is there be for the wearer.
func (c *fitCall) again(d *Derivation) {
	next := *d
	next.Inputs = withWearer(c.out.Project, d.Inputs, c.wearer.ID)
	next.Settings = withFitSetting(next.Settings, fitEaseSetting, c.args.Ease.String())
	next.Settings = withFitSetting(next.Settings, fitKeepSetting, c.args.Keep.String())
	c.out.Made = d.ID
	if !slices.Equal(next.Inputs, d.Inputs) || !slices.Equal(next.Settings, d.Settings) {
		c.out.Project = c.out.Project.withDerivation(&next)
	}
}

// useWearer lets a block be drafted for the wearer.
func (c *fitCall) useWearer(d *Derivation) {
	next := *d
	next.Inputs = withWearer(c.out.Project, d.Inputs, c.wearer.ID)
	if !slices.Equal(next.Inputs, d.Inputs) {
		c.out.Project = c.out.Project.withDerivation(&next)
		c.out.say("%s is drafted anew, for its pieces follow a block.", c.out.Project.derivationLabel(&next))
	}
}

// withWearer returns the inputs of a derivation with another wearer.
func withWearer(p *Project, inputs []ID, wearer ID) []ID {
	list := []ID{wearer}
	for _, in := range inputs {
		if p.Wearer(in) == nil {
			list = append(list, in)
		}
	}
	return list
}

// withDerivation returns p with the derivation of the same id replaced.
func (p *Project) withDerivation(d *Derivation) *Project {
	q := p.shallow()
	q.Derivations = slices.Clone(p.Derivations)
	for i := range q.Derivations {
		if q.Derivations[i].ID == d.ID {
			q.Derivations[i] = d
		}
	}
	return q
}

// begin fits pieces for the first time.
func (c *fitCall) begin() error {
	p := c.out.Project
	ids := p.newIDs()
	d := &Derivation{ID: ids.make(kindDerivation), Kind: fitKind, Inputs: []ID{c.wearer.ID}, Settings: []Setting{
		{fitEaseSetting, c.args.Ease.String()}, {fitKeepSetting, c.args.Keep.String()},
	}}
	next := p.shallow()
	next.Pieces, next.Origins = slices.Clone(p.Pieces), slices.Clip(p.Origins)
	origins := make(map[ID]ID) // by the derivation that the pieces followed
	d.Source = &Source{}
	for i, piece := range next.Pieces {
		if !slices.Contains(c.pieces, piece) {
			continue
		}
		source := piece.asSource()
		source.Place = Placement{}
		d.Source.Pieces = append(d.Source.Pieces, source)
		d.Roles = append(d.Roles, string(piece.ID))
		q := piece.clone()
		if q.Origin == "" && piece.Derived != nil {
			q.Origin = c.originOfBlock(next, ids, piece.Derived.Derivation, origins)
		}
		q.Derived = &Derived{Derivation: d.ID, Role: string(piece.ID), Base: source.Edges, Rest: restOf(source)}
		next.Pieces[i] = q
	}
	d.Source.Seams = p.seamsWithin(c.pieces)
	next.Derivations = append(slices.Clip(p.Derivations), d)
	next.dropIdle(p)
	next.NextID = ids.next
	d.Inputs = next.fitInputs(d)
	if c.args.PlanOnly {
		c.out.Project = next
		return nil
	}
	made := next.fittedOf(d)
	if made.err != nil {
		return made.err
	}
	next = next.apart(next, d, made.result.Scale)
	c.out.Project, c.out.Made = next, d.ID
	if err := redraft(p, &c.out, d); err != nil {
		return err
	}
	c.out.Project = c.out.Project.laidClear(d)
	c.tell(made)
	return nil
}

// originOfBlock returns the origin of pieces that were drafted: they were made for the
// wearer for whom they were drafted, over what that one wore, and their block reads what
// nobody took.
func (c *fitCall) originOfBlock(next *Project, ids *idSource, derivation ID, known map[ID]ID) ID {
	if id, ok := known[derivation]; ok {
		return id
	}
	d := c.p.Derivation(derivation)
	w := c.p.WearerOf(d)
	if w == nil {
		return ""
	}
	o := &Origin{ID: ids.make(kindOrigin), Name: c.p.derivationLabel(d), Line: StitchDrawn, Under: slices.Clone(w.Under)}
	if b := draftFor(d, w).block; b != nil {
		o.Estimates = ownEstimates(b)
	}
	given := w.Given()
	for _, name := range slices.Sorted(maps.Keys(given)) {
		o.Measures = append(o.Measures, OriginMeasure{name, toGrid(given[name])})
	}
	next.Origins = append(next.Origins, o)
	known[derivation] = o.ID
	return o.ID
}

// apart moves the pieces that follow a fit in the project fits on the bench: towards the
// middle of all of them as they shrink, or away from it as they grow, so that they lie to
// each other as they did.
func (p *Project) apart(fits *Project, d *Derivation, scale float64) *Project {
	box := geom.EmptyRect()
	centre := func(q *Piece) geom.Point { return q.Place.Affine().Apply(q.DrawnPath().Bounds().Center()) }
	own := make(map[ID]bool)
	for _, q := range fits.PiecesOf(d) {
		if now := p.Piece(q.ID); now != nil {
			own[q.ID], box = true, box.Union(geom.Rect{Min: centre(now), Max: centre(now)})
		}
	}
	next := p.shallow()
	next.Pieces = slices.Clone(p.Pieces)
	for i, q := range next.Pieces {
		if own[q.ID] {
			moved := q.clone()
			moved.Place.At = moved.Place.At.Add(centre(q).Sub(box.Center()).Mul(scale - 1))
			next.Pieces[i] = moved
		}
	}
	return next
}

// laidClear moves the pieces of a fit on the bench by as little as can be so that none lies on
// another: allowances stay as wide as they were.
func (p *Project) laidClear(d *Derivation) *Project {
	var room benchRoom
	for _, q := range p.Pieces {
		if p.FitOf(q) != d && !q.Hidden {
			room.take(q)
		}
	}
	next := p.shallow()
	next.Pieces = slices.Clone(p.Pieces)
	for i, q := range next.Pieces {
		if p.FitOf(q) == d {
			next.Pieces[i] = q.clone()
			room.settle(next.Pieces[i])
		}
	}
	return next
}

// tell says what the fit could not do, and what it had to assume.
func (c *fitCall) tell(made *fitMade) {
	if n := len(made.missed(made.task.targets)); n > 0 {
		c.out.say("%s cannot be had as wanted; the table of the fit says which, and by how much.", counted(n, "target"))
	}
	none := 0
	for i := range made.task.targets {
		if t := &made.task.targets[i]; !t.Known && t.Why != "" {
			none++
		}
	}
	if none > 0 {
		c.out.say("Nothing is wanted of %s; the table of the fit says why.", counted(none, "measured length"))
	}
}
