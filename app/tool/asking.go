package tool

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Asking does any act by hand: it asks for what the act needs step by step, shows what
// the act would make of it, and does it once that is wanted.
type Asking struct {
	hand  *Hand
	asked *Asked
	// had is what was picked when the act was taken up.
	had desk.Picked

	// step is the one that is asked now, len(asked.Steps) once all have been; got holds
	// what each was given.
	step int
	got  [][]taken
	// texts are what the fields hold, as the act reads it; set are those that the hand
	// has set.
	texts map[string]string
	set   map[string]bool

	// trial shows the act; err says why it cannot be done so, nil where it can or where
	// something is still asked for.
	trial   *desk.Gesture
	outcome draft.Outcome
	err     error

	at     Pointer
	stroke *Pointer // the beginning of a stroke under way or of one by two clicks
	drag   *drag

	// OnChange, if set, is told when what is asked or shown has changed.
	OnChange func()
}

// drag is a press while the act is shown: a drag changes the first length.
type drag struct {
	from  geom.Point
	start float64 // the length in mm when it began
	param string
	moved bool
}

// NewAsking returns a tool that does the act.
func NewAsking(h *Hand, asked *Asked) *Asking { return &Asking{hand: h, asked: asked} }

// Asked returns how the act is done.
func (a *Asking) Asked() *Asked { return a.asked }

// Info implements Tool.
func (a *Asking) Info() Info {
	return Info{Name: a.asked.Word, Icon: a.asked.Icon, Key: a.asked.Key, Hint: a.Says()}
}

// Says says what is asked now, and which keys help.
func (a *Asking) Says() string {
	s, asking := a.now()
	if asking && a.Ready() {
		return s.Says + " Enter takes it as it is shown without that."
	}
	if !asking {
		if a.length() != "" {
			return "Enter or Do it takes it as it is shown. Drag to change it, click to take another place, Esc goes back."
		}
		return "Enter or Do it takes it as it is shown. Click to take another place, Esc goes back."
	}
	return a.asks(s)
}

// asks says what a step asks, and how to go on from it.
func (a *Asking) asks(s Step) string {
	says := s.Says
	switch {
	case s.Take == TakeRun && len(a.given()) > 0 && a.runAfter():
		says = "Press Enter, and pick the other side; a click adds an edge to this one."
	case s.Many && len(a.given()) > 0:
		says += " Enter goes on."
	case s.Many:
		says += " Shift takes more than one."
	case s.Optional:
		says += " Enter leaves it out."
	}
	return says
}

// runAfter reports whether the step after the present one takes edges in the order of sewing.
func (a *Asking) runAfter() bool {
	next := a.step + 1
	return next < len(a.asked.Steps) && a.asked.Steps[next].Take == TakeRun
}

// now returns the step that is asked, and whether one is.
func (a *Asking) now() (Step, bool) {
	if a.step < len(a.asked.Steps) {
		return a.asked.Steps[a.step], true
	}
	return Step{}, false
}

// given returns what the present step was given so far.
func (a *Asking) given() []taken {
	if a.step < len(a.got) {
		return a.got[a.step]
	}
	return nil
}

// TakeUp begins, with what is picked already.
func (a *Asking) TakeUp() {
	a.had = a.hand.Desk.Picked()
	a.clear()
	a.fromPicked()
	a.try()
}

// TakeUpAt begins with a thing on the bench and a place of it, as from a menu that was
// opened there.
func (a *Asking) TakeUpAt(r desk.Ref, at geom.Point) {
	a.had = a.hand.Desk.Picked()
	a.clear()
	p := Pointer{At: at, Hit: r, Snap: at}
	if s, asking := a.now(); asking && s.Take == TakeStroke {
		if _, ok := a.hand.edgeAt(r); ok {
			a.stroke = &p
		}
	} else if asking && (s.Take == TakePlace || s.Take == TakeSpot || s.Take == TakeLinePlace) {
		if x, ok := a.hand.take(s.Take, p); ok {
			a.got[0] = []taken{x.split(s.params())}
			a.step++
		}
	} else {
		a.fromPicked()
	}
	a.try()
}

// clear forgets what was given.
func (a *Asking) clear() {
	a.step, a.got = 0, make([][]taken, len(a.asked.Steps))
	a.texts, a.set = map[string]string{}, map[string]bool{}
	a.trial, a.outcome, a.err = nil, draft.Outcome{}, nil
	a.stroke, a.drag = nil, nil
}

// fromPicked gives to the first steps what is picked and fits.
func (a *Asking) fromPicked() {
	rest := append(desk.Picked(nil), a.had...)
	for a.step < len(a.asked.Steps) && !a.asked.Steps[a.step].Optional {
		s := a.asked.Steps[a.step]
		list, left := a.hand.fitting(s, rest)
		if len(list) == 0 {
			return
		}
		rest = left
		if a.asked.Paired && a.step == 0 && len(list) == 2 {
			a.got[0], a.got[1] = list[:1:1], list[1:]
			a.step = 2
			return
		}
		a.got[a.step] = list
		a.step++
	}
}

// fitting returns what of the picked things a step takes, and what is left.
func (h *Hand) fitting(s Step, picked desk.Picked) ([]taken, desk.Picked) {
	var list []taken
	var left desk.Picked
	add := func(x taken, ok bool) bool {
		if ok {
			list = append(list, x)
		}
		return ok
	}
	switch s.Take {
	case TakePoint, TakeDrawn, TakeSpot:
		return nil, picked
	case TakeStroke:
		return h.fittingStroke(s, picked)
	case TakePiece:
		for _, id := range picked.Pieces() {
			add(h.takeRef(TakePiece, desk.PieceRef(id)))
		}
	case TakeSeam:
		for _, seam := range h.Desk.SeamsOf(picked.Of(desk.Edge)) {
			add(taken{texts: []string{pieceText(seam.ID)}, refs: desk.SeamRefs(seam), words: "seam " + desk.Letter(h.Desk.Project(), seam.ID) + ": " + seam.Name}, true)
		}
	default:
		for _, r := range picked {
			if x, ok := h.fit(s, r); !add(x, ok) {
				left = append(left, r)
			}
		}
	}
	if len(list) > 1 && !s.Many {
		// What was picked first comes first; the rest is for the steps after.
		return list[:1], without(picked, list[0].refs)
	}
	return list, left
}

// without returns what is picked besides the refs.
func without(picked desk.Picked, refs []desk.Ref) desk.Picked {
	var left desk.Picked
	for _, r := range picked {
		if !desk.Picked(refs).Has(r) {
			left = append(left, r)
		}
	}
	return left
}

// fit takes one picked thing for a step.
func (h *Hand) fit(s Step, r desk.Ref) (taken, bool) {
	if s.Take != TakePlace {
		return h.takeRef(s.Take, r)
	}
	x, ok := h.placeAtNode(r)
	if !ok {
		return x, false
	}
	x.refs = append(x.refs, r) // it is used up with the point
	return x.split(s.params()), true
}

// placeAtNode returns the place on the outline where a picked point lies.
func (h *Hand) placeAtNode(r desk.Ref) (taken, bool) {
	edge, ok := h.edgeAt(r)
	if !ok || r.Kind != desk.Node {
		return taken{}, false
	}
	piece := h.Desk.Project().Piece(r.Piece)
	n, _, _ := piece.Node(r.Node)
	return h.placeAlong(edge, piece.Place.Affine().Apply(n.At))
}

// fittingStroke takes two picked points of one piece for a stroke.
func (h *Hand) fittingStroke(s Step, picked desk.Picked) ([]taken, desk.Picked) {
	points := picked.Of(desk.Node)
	if len(points) != 2 || points[0].Piece != points[1].Piece {
		return nil, picked
	}
	a, aOn := h.placeAtNode(points[0])
	b, bOn := h.placeAtNode(points[1])
	if !aOn || !bOn {
		return nil, picked
	}
	x, err := joinPlaces(a, b)
	if err != nil {
		return nil, picked
	}
	return []taken{x}, without(picked, points)
}

// Press implements Tool.
func (a *Asking) Press(p Pointer) {
	a.at = p
	s, asking := a.now()
	switch {
	case (a.Ready() || !asking) && a.strokes():
		a.click(p) // a stroke anew
	case a.Ready() || !asking:
		a.drag = &drag{from: p.At, param: a.length()}
		if a.drag.param != "" {
			a.drag.start, _ = draft.ParseLength(a.text(a.drag.param))
		}
		return
	case s.Take == TakeStroke:
		if a.stroke == nil {
			from := p
			a.stroke = &from
			return
		}
		a.endStroke(p)
	default:
		a.give(s, p)
	}
	a.changed()
}

// strokes reports whether the last step is a stroke.
func (a *Asking) strokes() bool {
	n := len(a.asked.Steps)
	return n > 0 && a.asked.Steps[n-1].Take == TakeStroke
}

// give gives what is under the pointer to the step.
func (a *Asking) give(s Step, p Pointer) {
	x, ok := a.hand.take(s.Take, p)
	if !ok {
		a.hand.report(s.Take.lacking())
		return
	}
	if s.Take == TakePlace || s.Take == TakeStroke {
		x = x.split(s.params())
	}
	if s.Take == TakeDrawn || s.Many && p.Keys.Shift || s.Take == TakeRun {
		a.toggle(x)
		return
	}
	if s.Many && len(a.given()) > 0 {
		a.toggle(x)
	} else {
		a.got[a.step] = []taken{x}
	}
	a.goOn()
}

// toggle adds a thing to what the step was given, or takes it out.
func (a *Asking) toggle(x taken) {
	list := a.got[a.step]
	for i, have := range list {
		if len(have.refs) > 0 && have.texts[0] == x.texts[0] {
			a.got[a.step] = append(list[:i:i], list[i+1:]...)
			return
		}
	}
	a.got[a.step] = append(list, x)
}

// goOn goes to the next step, or shows the act once all have been asked.
func (a *Asking) goOn() {
	a.step++
	a.stroke = nil
	a.try()
}

// endStroke takes the stroke that ends at the pointer.
func (a *Asking) endStroke(p Pointer) {
	x, err := a.hand.stroke(*a.stroke, a.hand.strokeEnd(*a.stroke, p))
	a.stroke = nil
	if err != nil {
		a.hand.report(err)
		return
	}
	a.got[a.step] = []taken{x}
	a.goOn()
}

// dragReach is how far, in screen units, the pointer moves before a press is a drag.
const dragReach = 4

// Drag implements Tool.
func (a *Asking) Drag(p Pointer) {
	a.at = p
	d := a.drag
	if d == nil || d.param == "" {
		return
	}
	by := p.At.Sub(d.from)
	if !d.moved && by.Len() < dragReach*p.MM {
		return
	}
	d.moved = true
	way := by.X // to the right and upwards is more
	if math.Abs(by.Y) > math.Abs(by.X) {
		way = by.Y
	}
	step := a.start().Unit.Step()
	mm := d.start + way
	if d.start >= 0 {
		mm = max(mm, 0)
	}
	a.put(d.param, lengthText(math.Round(mm/step)*step))
}

// Release implements Tool.
func (a *Asking) Release(p Pointer) {
	a.at = p
	if d := a.drag; d != nil {
		a.drag = nil
		if !d.moved && len(a.asked.Steps) > 0 {
			a.click(p)
		}
		a.changed()
		return
	}
	if a.stroke != nil && a.stroke.At.Dist(p.At) > dragReach*p.MM {
		a.endStroke(p)
		a.changed()
	}
}

// click gives what is clicked while the act is shown to the step that is asked and may
// be left out, or else another thing to the last step.
func (a *Asking) click(p Pointer) {
	before := p.Hit
	a.drop()
	last := min(a.step, len(a.asked.Steps)-1)
	s := a.asked.Steps[last]
	if a.hand.Touch != nil { // what was hit belongs to what was shown
		p.Hit, p.Snap = a.hand.Under(p, s.Take.kinds()...)
	}
	if a.hand.Catches != nil {
		p.Caught = a.hand.Catch(p, nil)
	}
	if s.Take == TakeStroke || s.Take == TakeDrawn {
		a.step, a.got[last] = last, nil
		from := p
		a.stroke = &from
		if s.Take == TakeDrawn {
			a.stroke = nil
			a.give(s, p)
		}
		return
	}
	if _, ok := a.hand.take(s.Take, p); !ok {
		if before.Kind != desk.Nothing {
			a.hand.report(s.Take.lacking())
		}
		a.try()
		return
	}
	if !s.Many || !p.Keys.Shift {
		a.got[last] = nil
	}
	a.step = last
	a.give(s, p)
	if a.step == last && len(a.got[last]) > 0 && s.Take != TakeDrawn { // Shift added to what was taken
		a.goOn()
	}
}

// Hover implements Tool.
func (a *Asking) Hover(p Pointer) { a.at = p }

// Enter implements Tool: it goes on from a step that has what it needs, or does the
// act.
func (a *Asking) Enter() bool {
	s, asking := a.now()
	switch {
	case a.Ready():
		a.Do()
	case asking && (len(a.given()) > 0 || s.Optional && a.err == nil):
		a.goOn()
	case asking && !s.Optional:
		a.hand.say(a.asked.Word + ": " + s.Says)
	default:
		a.Do()
	}
	a.changed()
	return true
}

var errNothingToDo = errors.New("that changes nothing")

// Do takes what is shown, and reports whether that could be done.
func (a *Asking) Do() bool {
	if !a.Ready() {
		if a.err != nil {
			a.hand.report(a.err)
		}
		return false
	}
	out, trial := a.outcome, a.trial
	given := a.refs() // before the act takes any of it away
	a.trial = nil
	trial.Take(out)
	a.pick(out, given)
	a.had = a.hand.Desk.Picked()
	a.clear()
	if !a.asked.Again {
		a.hand.back()
	}
	return true
}

// pick picks what the act made, and shows it together with what it was made from; or
// else it picks what the act was done to.
func (a *Asking) pick(out draft.Outcome, given []desk.Ref) {
	d := a.hand.Desk
	if made := desk.Made(d.Project(), out.Made); len(made) > 0 {
		d.Pick(made...)
		if a.hand.Show != nil {
			a.hand.Show(append(desk.Picked(given).Pieces(), desk.Picked(made).Pieces()...)...)
		}
		return
	}
	var refs desk.Picked
	for _, r := range given {
		if r.In(d.Project()) && (len(refs) == 0 || r.Kind == refs[0].Kind) {
			refs = append(refs, r)
		}
	}
	if len(refs) > 0 {
		d.Pick(refs...)
	}
}

// refs returns the things that were given, each once.
func (a *Asking) refs() []desk.Ref {
	var refs desk.Picked
	for _, list := range a.got {
		for _, x := range list {
			for _, r := range x.refs {
				if !refs.Has(r) {
					refs = append(refs, r)
				}
			}
		}
	}
	return refs
}

// Cancel implements Tool: it goes one step back, and out of the act from the first.
func (a *Asking) Cancel() bool {
	defer a.changed()
	if a.stroke != nil {
		a.stroke = nil
		return true
	}
	a.drop()
	if list := a.given(); len(list) > 0 {
		a.got[a.step] = list[:len(list)-1]
		return true
	}
	for a.step > 0 {
		a.step--
		if len(a.got[a.step]) > 0 {
			a.got[a.step] = nil
			a.repick()
			a.try()
			return true
		}
	}
	a.hand.back()
	return true
}

// PutDown takes back what is shown: another tool is taken up.
func (a *Asking) PutDown() {
	a.drop()
	a.clear()
	a.changed()
}

// drop takes back what is shown.
func (a *Asking) drop() {
	if trial := a.trial; trial != nil {
		a.trial = nil // so that Changed does not take it for another's doing
		if trial.Live() {
			trial.Cancel()
			a.repick()
		}
	}
	a.err, a.outcome = nil, draft.Outcome{}
}

// repick picks what was picked when the act was taken up, as far as it is there.
func (a *Asking) repick() { a.hand.Desk.Pick(a.had...) }

// Changed tells that the document has changed: when that was done by something else,
// what was given may be gone, and what was shown is.
func (a *Asking) Changed() {
	switch {
	case a.trial != nil && a.trial.Live():
		return
	case a.trial != nil:
		a.trial = nil
		a.clear()
		a.hand.back()
		return
	}
	for i, list := range a.got {
		if a.gone(list) {
			a.step = min(a.step, i)
			for k := i; k < len(a.got); k++ {
				a.got[k] = nil
			}
			return
		}
	}
}

// gone reports whether the project no longer holds any of the things.
func (a *Asking) gone(list []taken) bool {
	for _, x := range list {
		for _, r := range x.refs {
			if !r.In(a.hand.Desk.Project()) {
				return true
			}
		}
	}
	return false
}

// Dragging reports whether a drag or a stroke is under way.
func (a *Asking) Dragging() bool { return a.drag != nil || a.stroke != nil }

func (a *Asking) changed() {
	if a.OnChange != nil {
		a.OnChange()
	}
}

// try shows what the act makes of what was given, or notes why it makes nothing.
func (a *Asking) try() {
	if !a.Enough() {
		a.drop()
		return
	}
	if err := a.lacking(); err != nil {
		a.drop()
		a.err = err
		return
	}
	project := a.start()
	out, err := a.asked.Act.DoText(project, a.args(project))
	if err == nil && out.Project == project {
		err = errNothingToDo
	}
	if err != nil {
		a.drop()
		a.err = plainError(a.asked, err)
		return
	}
	if a.trial == nil || !a.trial.Live() {
		a.trial = a.hand.Desk.Try()
	}
	a.err, a.outcome = nil, out
	a.trial.Show(out.Step, out.Project)
}

// lacking says which value has to be set before the act can be shown.
func (a *Asking) lacking() error {
	for _, f := range a.Fields() {
		if f.Needed && a.text(f.Name) == "" {
			return fmt.Errorf("%s is still to be set", strings.ToLower(f.Label))
		}
	}
	return nil
}

// Enough reports whether all was given that the act needs from the pointer.
func (a *Asking) Enough() bool {
	for i := a.step; i < len(a.asked.Steps); i++ {
		if !a.asked.Steps[i].Optional {
			return false
		}
	}
	return true
}

// plainError takes the act's name off an error, for the card says it already.
func plainError(asked *Asked, err error) error {
	title := strings.ToLower(asked.Act.Info().Title) + ": "
	if says, ok := strings.CutPrefix(err.Error(), title); ok {
		return errors.New(says)
	}
	return err
}

// start returns the project on which the act is done.
func (a *Asking) start() *draft.Project {
	if a.trial != nil && a.trial.Live() {
		return a.trial.Start()
	}
	return a.hand.Desk.Project()
}

// args returns the arguments as the act reads them.
func (a *Asking) args(project *draft.Project) map[string]string {
	args := map[string]string{}
	maps.Copy(args, a.asked.Always)
	for i, list := range a.got {
		s := a.asked.Steps[i]
		if len(list) == 0 {
			continue
		}
		if s.Take == TakeDrawn {
			args[s.Param] = drawnText(list)
			continue
		}
		for k, name := range s.params() {
			texts := make([]string, len(list))
			for j, x := range list {
				texts[j] = x.texts[k]
			}
			args[name] = strings.Join(texts, ";")
		}
	}
	begin := a.begin(project)
	for _, name := range a.asked.Fields {
		text := a.texts[name]
		if !a.set[name] {
			text = begin[name]
		}
		if text != "" {
			args[name] = text
		}
	}
	return args
}

// drawnText writes the places of a drawn line as path data.
func drawnText(list []taken) string {
	var b strings.Builder
	for i, x := range list {
		if i == 0 {
			b.WriteString("M")
		} else {
			b.WriteString(" L")
		}
		b.WriteString(figure(x.at.X) + " " + figure(x.at.Y))
	}
	return b.String()
}

// begin returns what the fields begin with.
func (a *Asking) begin(project *draft.Project) map[string]string {
	if a.asked.Begin == nil {
		return nil
	}
	return a.asked.Begin(a.givenIn(project))
}

// givenIn returns what was given so far.
func (a *Asking) givenIn(project *draft.Project) Given {
	given := Given{Project: project, has: map[string]bool{}}
	for i, list := range a.got {
		for _, x := range list {
			given.Refs = append(given.Refs, x.refs...)
		}
		for _, name := range a.asked.Steps[i].params() {
			given.has[name] = len(list) > 0
		}
	}
	for name := range a.set {
		given.has[name] = a.texts[name] != ""
	}
	return given
}
