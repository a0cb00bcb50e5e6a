package tracer

import (
	"context"
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/regular"
	"hemlet/geom/trace"
)

// review is the step in which lines are held against the ink before they become pieces,
// and pieces after they were corrected.
type review struct {
	plain
	finds  *finds
	effort effort
	panels *reviewPanel

	// bench has the pieces on the bench reviewed instead of the lines that were found.
	bench bool
	// all is what is reviewed, of which it was made, and places where it is farthest off.
	all    []reviewed
	madeOf reviewedFor
	places []offPlace
	// at is the index of the place that is looked at, -1 for none.
	at int

	// of is the id of the line whose suggestions are shown, shown the index of the one
	// that is previewed, -1 for none; refused is what could not be taken and why.
	of      int
	shown   int
	refused string

	layer   *sheet.Layer
	drawnAs reviewDrawn
}

// reviewed is a line or a piece with its deviation.
type reviewed struct {
	name  string
	line  *line
	path  geom.Path
	off   trace.Deviation
	inner []innerOff
	fault string
}

// innerOff is a line inside with its deviation.
type innerOff struct {
	closed bool
	off    trace.Deviation
}

// reviewedFor is what the reviewed lines were made of.
type reviewedFor struct {
	rev     int
	bench   bool
	project *draft.Project
}

// reviewDrawn is what the layer was drawn from.
type reviewDrawn struct {
	of    reviewedFor
	at    int
	line  int
	shown int
	unit  draft.Unit
	tol   float64
	mm    float64 // of a screen unit
}

// viewed lets figures step aside anew at another scale.
func (v *review) viewed() { v.redraw() }

func newReview(f *finds) *review {
	return &review{plain: plain{f.Room}, finds: f, effort: effort{r: f.Room}, at: -1, shown: -1}
}

func (*review) name() string { return stepReview }

func (v *review) says() string {
	if v.bench {
		return "See how far the pieces on the bench lie from the ink that they came from, after what you have corrected."
	}
	return "See how far the lines lie from the ink, go to the worst places, and put them on the bench."
}

func (*review) hint() string {
	return "Look over: N goes to the next worst place. What is wrong by the ink is corrected on the bench, where the picture lies under the pieces."
}

func (v *review) standing() standing {
	if len(v.pictures()) == 0 {
		return standing{idle: true}
	}
	if n := len(v.finds.onBench()); n > 0 {
		return standing{done: true, says: wording.Count(n, "piece")}
	}
	return standing{}
}

func (v *review) panel() fyne.CanvasObject {
	v.panels = newReviewPanel(v)
	return v.panels.object
}

func (v *review) entered() {
	v.effort.own, v.at, v.shown, v.refused, v.madeOf = nil, -1, -1, "", reviewedFor{}
	v.bench = len(v.finds.taken()) == 0 && len(v.finds.onBench()) > 0
}

func (v *review) update() {
	v.finds.prune()
	if v.bench && len(v.finds.onBench()) == 0 {
		v.bench = false
	}
	v.measure()
	v.suggest()
	if v.panels != nil {
		v.panels.update()
	}
}

// measure holds against the ink what is reviewed, if that has changed.
func (v *review) measure() {
	now := reviewedFor{rev: v.finds.rev, bench: v.bench}
	if v.bench {
		now.project = v.desk.Project()
	}
	if v.madeOf == now {
		return
	}
	v.madeOf, v.at = now, -1
	v.all = []reviewed{}
	if v.bench {
		v.measureBench()
	} else {
		for _, l := range v.finds.taken() {
			x := reviewed{name: l.called(), line: l, path: l.Path, off: l.Off}
			for _, in := range l.Inner {
				x.inner = append(x.inner, innerOff{in.Path.Closed(), in.Off})
			}
			for _, in := range l.Holes {
				x.inner = append(x.inner, innerOff{true, in.Off})
			}
			v.all = append(v.all, x)
		}
	}
	var offs []trace.Deviation
	var owner []int
	for i, x := range v.all {
		offs, owner = append(offs, x.off), append(owner, i)
		for _, in := range x.inner {
			offs, owner = append(offs, in.off), append(owner, i)
		}
	}
	v.places = worstPlaces(offs, v.finds.tol())
	for i := range v.places {
		v.places[i].line = owner[v.places[i].line]
	}
}

// measureBench lists the pieces on the bench, those that were held against the ink as they
// are; the others are held against it aside, and listed then.
func (v *review) measureBench() {
	var others []*laidPiece
	for _, l := range v.finds.onBench() {
		piece := v.desk.Project().Piece(l.id)
		if l.held.of != piece {
			others = append(others, l)
			continue
		}
		v.all = append(v.all, reviewed{name: piece.Name, path: l.held.path, off: l.held.off, fault: l.held.fault})
	}
	if len(others) > 0 {
		v.hold(others)
	}
}

// hold holds pieces against their ink aside.
func (v *review) hold(pieces []*laidPiece) {
	held := make([]heldPiece, len(pieces))
	for i, l := range pieces {
		held[i] = v.finds.toHold(l)
	}
	v.effort.begin("Holding the pieces against the ink", nil, 0, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		for i := range held {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			tell(float64(i)/float64(len(held)), "")
			held[i].review()
		}
		return func() {
			for i, l := range pieces {
				l.held = held[i]
			}
			v.madeOf = reviewedFor{}
		}, nil
	})
}

// take has the pieces on the bench reviewed, or the lines that were found.
func (v *review) take(bench bool) {
	if v.effort.under() {
		v.stop()
	}
	v.bench, v.at, v.effort.own, v.madeOf = bench, -1, nil, reviewedFor{}
	v.Room.update()
}

// worst returns the largest deviation, the index of what has it, and the largest median.
func (v *review) worst() (by float64, at int, median float64) {
	at = -1
	for i, x := range v.all {
		if x.fault != "" {
			continue
		}
		own := x.off.Largest
		for _, in := range x.inner {
			own = math.Max(own, in.off.Largest)
		}
		if at < 0 || own > by {
			by, at = own, i
		}
		median = math.Max(median, x.off.Median)
	}
	return by, at, median
}

// suggest looks for what is nearly regular about lines of which that is not known yet.
func (v *review) suggest() {
	if v.bench || v.effort.own != nil {
		return
	}
	var lines []*line
	var fitted []regular.Outline
	var ups []geom.Point
	for _, l := range v.finds.taken() {
		if !l.offered {
			lines, fitted, ups = append(lines, l), append(fitted, l.fitted()), append(ups, l.up())
		}
	}
	if len(lines) == 0 {
		return
	}
	v.effort.begin("Looking for what is nearly regular", nil, 0, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		found := make([][]regular.Suggestion, len(lines))
		for i, o := range fitted {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			tell(float64(i)/float64(len(lines)), "")
			found[i] = regular.Suggest(o, regular.Options{Up: ups[i]})
		}
		return func() {
			for i, l := range lines {
				l.offer(found[i])
			}
		}, nil
	})
}

// suggested returns the line whose suggestions are shown, nil for none.
func (v *review) suggested() *line {
	lines := v.finds.taken()
	for _, l := range lines {
		if l.id == v.of {
			return l
		}
	}
	if len(lines) > 0 {
		return lines[0]
	}
	return nil
}

// accept takes an offer of a line, or takes it back.
func (v *review) accept(l *line, i int, on bool) {
	var took []int
	for _, t := range l.took {
		if t != i {
			took = append(took, t)
		}
	}
	if on {
		took = append(took, i)
	}
	v.settle(l, took)
}

// acceptAll takes all offers of a line, or none.
func (v *review) acceptAll(l *line, on bool) {
	var took []int
	for i := range l.offers {
		if on {
			took = append(took, i)
		}
	}
	v.settle(l, took)
}

func (v *review) settle(l *line, took []int) {
	v.finds.does("a suggestion", func() {
		refused, err := l.settle(took)
		if err != nil {
			refused = wording.Sentence(err.Error()) + "."
		}
		v.refused = refused
	})
	v.finds.changed()
	v.Room.update()
}

// preview shows what an offer would change, none below 0.
func (v *review) preview(i int) {
	if v.shown != i {
		v.shown = i
		v.redraw()
	}
}

// spotMM is the least that is seen round a worst place, in mm, and spotShare how many times
// the deviation: enough to see where the line goes and how far it is off.
const (
	spotMM    = 8.0
	spotShare = 60
)

// goToPlace looks at a place among the worst, the first one after the last.
func (v *review) goToPlace(i int) {
	if len(v.places) == 0 {
		return
	}
	v.at = i % len(v.places)
	p := v.places[v.at]
	v.sheet.FitTo(geom.RectOf(p.at).Grow(math.Max(spotMM, spotShare*p.by) / 2))
	v.Room.update()
}

func (v *review) key(k fyne.KeyName, _ fyne.KeyModifier) bool {
	switch k {
	case fyne.KeyN:
		v.goToPlace(v.at + 1)
		return true
	case fyne.KeyEscape:
		if v.shown >= 0 {
			v.preview(-1)
			return true
		}
		if v.at >= 0 {
			v.at = -1
			v.sheet.Fit()
			v.Room.update()
			return true
		}
	}
	return false
}

// tapped shows the suggestions of the line that was clicked.
func (v *review) tapped(id string, at geom.Point) {
	for _, l := range v.finds.taken() {
		if l.thing() == id {
			v.of, v.shown, v.refused = l.id, -1, ""
			v.Room.update()
			return
		}
	}
}

// deed is what the step ends in.
func (v *review) deed() (word, lacks string, do func()) {
	if v.bench {
		return "To the bench", "", func() { v.host.Leave(nil) }
	}
	n := len(v.finds.taken())
	if n > 1 {
		word = fmt.Sprintf("Put %d pieces on the bench", n)
	} else {
		word = "Put it on the bench"
	}
	switch {
	case len(v.finds.lines) == 0:
		return word, "There are no lines yet: follow the ink first.", nil
	case n == 0:
		return word, "No outline is ticked: tick in “Follow” those that are to become pieces.", nil
	}
	if v.finds.outdated() {
		return word, "Something was set or moved since the ink was followed: go to “Follow” once more.", nil
	}
	return word, v.finds.made.lacks(), v.put
}

// put makes the pieces and goes to the bench.
func (v *review) put() {
	made, err := v.finds.putOnBench()
	if err != nil {
		v.refused = wording.Sentence(err.Error())
		v.Room.update()
		return
	}
	v.host.Leave(made)
}

// layers draws the lines by how far off they are, the worst places, and the suggestion
// that is previewed.
func (v *review) layers() []*sheet.Layer {
	now := reviewDrawn{v.madeOf, v.at, v.of, v.shown, v.unit(), v.finds.tol(), v.reach(1)}
	if v.layer == nil || v.drawnAs != now {
		v.drawnAs, v.layer = now, v.draw()
	}
	return []*sheet.Layer{v.layer}
}

func (v *review) draw() *sheet.Layer {
	l := &sheet.Layer{Aside: true}
	tol := v.finds.tol()
	box := geom.EmptyRect()
	for _, x := range v.all {
		box = box.Union(x.path.Bounds())
		marks := []paint.Mark{paint.Shape{Path: x.path, Line: over(look.Card, 0.8, 5, noDash)}}
		marks = append(marks, offMarks(x.off, true, tol)...)
		for _, in := range x.inner {
			marks = append(marks, offMarks(in.off, in.closed, tol)...)
		}
		t := &sheet.Thing{Marks: marks}
		if x.line != nil {
			t.ID, t.Solid = x.line.thing(), true
			t.Lit = []paint.Mark{paint.Shape{Path: x.path, Fill: inked(look.Chalk, 0.08)}}
		}
		l.Things = append(l.Things, t)
	}
	if s := v.suggested(); s != nil && !v.bench && v.shown >= 0 && v.shown < len(s.offers) {
		l.Things = append(l.Things, &sheet.Thing{Marks: previewMarks(s, v.shown, v.unit())})
		return l
	}
	l.Things = append(l.Things, &sheet.Thing{Marks: offSigns(v.places, v.at, tol, v.unit(), box.Center(), v.reach(1))})
	return l
}

// previewMarks draws what an offer is about and what it would change: the line as it is
// solid, as it would be dashed.
func previewMarks(l *line, i int, u draft.Unit) []paint.Mark {
	s := l.offers[i]
	var marks []paint.Mark
	edges, corners := edgesOf(l.as.Path, l.as.Corner)
	for _, e := range s.Edges {
		if e >= 0 && e < len(edges) {
			marks = append(marks, paint.Shape{Path: edges[e], Line: over(look.Chalk, 0.45, 9, noDash)})
		}
	}
	if s.Kind == regular.Symmetric || s.Kind == regular.OnFold {
		a, b := s.Axis[0], s.Axis[1]
		far := b.Sub(a).Mul(0.12)
		marks = append(marks, paint.Shape{Path: geom.Path{geom.Line(a.Sub(far), b.Add(far))}, Line: over(look.Level, 1, 2, cutDash)})
	}
	took := append([]int{}, l.took...)
	without := took[:0:0]
	for _, t := range took {
		if t != i {
			without = append(without, t)
		}
	}
	if out, _, err := l.with(append(without, i)); err == nil {
		marks = append(marks,
			paint.Shape{Path: l.as.Path, Line: over(look.Faint, 1, 1.4, noDash)},
			paint.Shape{Path: out.Path, Line: over(look.Chalk, 1, 2, notYet)})
	}
	for _, c := range s.Corners {
		if c >= 0 && c < len(corners) {
			marks = append(marks, paint.Dot{At: corners[c], Kind: paint.Square, Colour: inked(look.Chalk, 1), Large: true})
		}
	}
	return append(marks, paint.Text{
		At: offerAt(s, edges, corners, l), DX: 14, DY: -12, Text: offerTitle(s.Kind), Size: 12, Weight: paint.SemiBold,
		Colour: paint.Of(paint.PlateText), Plate: paint.Of(paint.Plate),
	})
}

// offerAt returns the place at which a suggestion is named.
func offerAt(s regular.Suggestion, edges []geom.Path, corners []geom.Point, l *line) geom.Point {
	switch {
	case len(s.Corners) > 0 && s.Corners[0] < len(corners):
		return corners[s.Corners[0]]
	case len(s.Edges) > 0 && s.Edges[0] < len(edges) && len(edges[s.Edges[0]]) > 0:
		return middleOf(edges[s.Edges[0]])
	}
	return l.as.Path.Bounds().Center()
}
