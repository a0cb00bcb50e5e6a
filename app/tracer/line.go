package tracer

import (
	"fmt"
	"math"
	"slices"

	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/regular"
	"hemlet/geom/trace"
)

// line is an outline that was found or followed by hand, and what is to become of it.
type line struct {
	trace.Outline
	// id is the same for as long as the line is listed.
	id int
	// name is what its piece is to be called, empty for what the project finds.
	name string
	// uses are what the lines inside are to become, by their index, as far as that was said.
	uses []tracing.Use
	// taken says that it is to become a piece.
	taken bool
	// byHand says that it was followed by hand: it stays when the pictures are followed
	// anew.
	byHand bool
	// of are the pictures in which it was followed.
	of []*draft.Picture
	// piece is what it became on the bench, empty before; lay says that it lay there when
	// the document changed last.
	piece draft.ID
	lay   bool
	// as is the outline as it was fitted, before suggestions were taken.
	as trace.Outline
	// offers are what is nearly regular about it, once that was looked for; took are the
	// indices of those that were taken, in that order.
	offers  []regular.Suggestion
	offered bool
	// keeps is what holds already as far as anybody sees: it is not offered, and kept where
	// it goes together with what is taken.
	keeps []regular.Suggestion
	took  []int
}

// worst returns how far the line lies off the ink at most, with all that is drawn inside.
func (l *line) worst() float64 {
	by := l.Off.Largest
	for _, in := range l.Inner {
		by = math.Max(by, in.Off.Largest)
	}
	for _, in := range l.Holes {
		by = math.Max(by, in.Off.Largest)
	}
	return by
}

// called returns the name of the line, or a word for it.
func (l *line) called() string {
	if l.name != "" {
		return l.name
	}
	return fmt.Sprintf("Outline %d", l.id)
}

// thing is the id of the line among what is pointed at.
func (l *line) thing() string { return fmt.Sprintf("line %d", l.id) }

// size says how large the outline is.
func (l *line) size(unit draft.Unit) string {
	b := l.Path.Bounds()
	return unit.FormatBare(b.W()) + " × " + unit.Format(b.H())
}

// made says what the line consists of and how close it is.
func (l *line) made() string {
	says := fmt.Sprintf("%s · off by %.2f mm", wording.Count(len(l.Path), "segment"), l.worst())
	if n := len(l.Inner); n > 0 {
		says += " · " + wording.Count(n, "line") + " inside"
	}
	if n := len(l.Holes); n > 0 {
		says += " · " + wording.Count(n, "hole")
	}
	return says
}

// sameShare is by how much of its size an outline may have moved or grown to count as the
// same one after the pictures were followed anew.
const sameShare = 0.1

// like reports whether two outlines are the same one, followed twice.
func (l *line) like(o trace.Outline) bool {
	a, b := l.Path.Bounds(), o.Path.Bounds()
	far := sameShare * math.Hypot(a.W(), a.H())
	return a.Min.Dist(b.Min) < far && a.Max.Dist(b.Max) < far
}

// take lists a new result: names and ticks of outlines that were listed before stay, and
// so do lines that were followed by hand and those of other pictures, as long as their
// pictures lie where they lay.
func (f *finds) take(last *followed, names map[int]string) {
	var lines []*line
	before := f.lines
	for i, o := range last.traced.Outlines {
		l := &line{Outline: o, as: o, taken: true, name: names[i], of: last.together(o.Sheet)}
		for k, was := range before {
			if was != nil && !was.byHand && was.like(o) {
				l.id, l.name, l.taken, l.piece, l.lay = was.id, was.name, was.taken, was.piece, was.lay
				before = append(append([]*line{}, before[:k]...), before[k+1:]...)
				if len(was.Inner) == len(l.Inner) {
					l.uses = was.uses
				}
				break
			}
		}
		lines = append(lines, l)
	}
	for _, was := range f.lines {
		if (was.byHand || !last.shows(was)) && f.stands(was) {
			lines = append(lines, was)
		}
	}
	f.lines, f.last = lines, last
	f.number()
	f.recognise()
}

// together returns the pictures that were followed together with the one of an index.
func (r *followed) together(sheet int) []*draft.Picture {
	for _, g := range r.groups {
		if sheet < len(g) {
			return g
		}
		sheet -= len(g)
	}
	return nil
}

// shows reports whether a line lies in pictures that the result is of.
func (r *followed) shows(l *line) bool {
	for _, pic := range r.from.pictures {
		if slices.ContainsFunc(l.of, func(p *draft.Picture) bool { return p.ID == pic.ID }) {
			return true
		}
	}
	return false
}

// stands reports whether the pictures of a line still lie where they lay.
func (f *finds) stands(l *line) bool {
	for _, was := range l.of {
		if pic := f.desk.Project().Picture(was.ID); pic == nil || pic.Place != was.Place {
			return false
		}
	}
	return true
}

// bringInSight moves a line into the middle where it is not seen whole; how near one looks stays
// as it is, unless the line is larger than what is seen.
func (f *finds) bringInSight(l *line) {
	box, view := l.Path.Bounds(), f.sheet.View()
	seen := view.Visible()
	switch {
	case seen.Contains(box.Min) && seen.Contains(box.Max):
	case box.W() < seen.W() && box.H() < seen.H():
		f.sheet.LookAt(box.Center(), view.Scale/view.DPR)
	default:
		f.sheet.FitTo(box.Grow(sightMargin * math.Max(box.W(), box.H())))
	}
}

const (
	// sightMargin is what is left free round a line that is brought in sight, as a share of
	// its larger side.
	sightMargin = 0.1
)

// prune drops lines of pictures that are gone or lie elsewhere, but for those that are
// about to be followed anew: they are shown until then.
func (f *finds) prune() {
	now := &followed{from: f.inputs()}
	kept := slices.DeleteFunc(slices.Clone(f.lines), func(l *line) bool { return !f.stands(l) && !now.shows(l) })
	if len(kept) < len(f.lines) {
		f.lines = kept
		f.changed()
	}
}

// does does something to the lines that can be taken back as long as they are those of the
// same result.
func (f *finds) does(what string, do func()) {
	last := f.last
	f.Room.does(doing{what: what, back: f.keep(), holds: func() bool { return f.last == last }}, do)
}

// keep returns what brings the lines back as they now stand.
func (f *finds) keep() func() {
	lines := slices.Clone(f.lines)
	was := make([]line, len(lines))
	for i, l := range lines {
		was[i] = *l
	}
	return func() {
		for i, l := range lines {
			*l = was[i]
		}
		f.lines = lines
		f.changed()
	}
}

// watch ticks lines again whose pieces were taken off the bench, such as by undo, and
// takes the tick from those whose pieces are back.
func (f *finds) watch() {
	for _, l := range f.lines {
		lies := f.lies(l)
		if l.lay != lies {
			l.taken = !lies
			f.changed()
		}
		l.lay = lies
	}
}

// number gives an id to lines that have none.
func (f *finds) number() {
	f.changed()
	most := 0
	for _, l := range f.lines {
		most = max(most, l.id)
	}
	for _, l := range f.lines {
		if l.id == 0 {
			most++
			l.id = most
		}
	}
}

// lineAt returns the smallest line round a place, nil where there is none.
func (f *finds) lineAt(at geom.Point) *line {
	var best *line
	for _, l := range f.lines {
		b := l.Path.Bounds()
		if !b.Contains(at) || !l.Path.Contains(at) {
			continue
		}
		if best == nil || b.W()*b.H() < best.Path.Bounds().W()*best.Path.Bounds().H() {
			best = l
		}
	}
	return best
}
